"""Raceways: how much they hold, how they bend, and the smallest one that will do."""
