"""Reminders: what a count cannot see, said beside it with its numbers."""

from ampleroom.rules.reminders import (
    cable_clamp,
    class_2,
    covers,
    depth,
    distribution_block,
    free_conductor,
    metal_entry,
    old_wiring,
    side_entry,
    support,
)

IN_ORDER = (
    *(side_entry, free_conductor, covers, support, depth, metal_entry, cable_clamp, class_2, old_wiring),
    distribution_block,
)
"""The rules in the order an answer shows them. A new one is a folder here and a name in this list."""
