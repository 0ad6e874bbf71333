"""What to look at on a wireway or gutter."""
