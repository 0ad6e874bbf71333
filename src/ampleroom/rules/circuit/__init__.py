"""Circuits: what their wires may carry where they lie, what protects them, and what they are asked to carry."""
