"""What no count can see: said as reminders, to be looked at on the spot."""
