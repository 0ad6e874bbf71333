"""Rules about what a dwelling loads its service with."""
