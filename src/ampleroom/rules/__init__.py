"""The rules, one folder a topic, one file a rule. ``RULES`` has them in the order an answer shows them."""

from ampleroom.rules.box_depth import depth, side_entry
from ampleroom.rules.box_fill import (
    clamps,
    conductors,
    devices,
    fittings,
    fixture_wires,
    grounds,
    low_voltage,
    terminal_blocks,
)
from ampleroom.rules.box_room import barriers, base, parts
from ampleroom.rules.conduit_body import passing, splices
from ampleroom.rules.on_the_spot import entries, large_conductors, old_wiring, ratings, reminders
from ampleroom.rules.registry import Rule, registered

__all__ = ["RULES", "Rule"]

IN_ORDER = (
    *(conductors, fixture_wires, low_voltage, clamps, fittings, devices, grounds, terminal_blocks),
    *(base, parts, barriers, splices, passing, depth, side_entry, large_conductors, ratings, reminders, entries),
    *(old_wiring,),
)

RULES: dict[str, Rule] = {rule.name: rule for module in IN_ORDER for rule in registered(module.__name__)}
