"""The rules, one folder a topic, one file a rule; imported in the order an answer shows them."""

from ampleroom.rules.box_fill import conductors, fixture_wires, low_voltage  # noqa: I001  (their order is the answer's)
from ampleroom.rules.box_fill import clamps, fittings, devices, grounds, terminal_blocks
from ampleroom.rules.box_room import base, parts, barriers
from ampleroom.rules.conduit_body import splices, passing
from ampleroom.rules.box_depth import depth
from ampleroom.rules.on_the_spot import large_conductors, reminders, old_wiring
from ampleroom.rules.registry import RULES, Rule

__all__ = ["RULES", "Rule"]

_ALL = (conductors, fixture_wires, low_voltage, clamps, fittings, devices, grounds, terminal_blocks)
_ALL += (base, parts, barriers, splices, passing, depth, large_conductors, reminders, old_wiring)
