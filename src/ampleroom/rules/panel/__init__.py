"""What is judged of a panel: its circuits in their spaces."""
