"""Depth: how deep a box must be behind what it holds."""
