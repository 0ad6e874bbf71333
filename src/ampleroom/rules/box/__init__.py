"""Boxes: their volume and fill, their depth, what comes in at their sides, what they carry."""
