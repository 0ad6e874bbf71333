"""Conduit bodies: what may pass through one, and what may be spliced in it."""
