"""Box fill: what everything in a box takes of its volume."""

from ampleroom.editions.tables import Cited, Table
from ampleroom.rules.box.fill import (
    clamps,
    conductors,
    devices,
    fittings,
    fixture_wires,
    grounds,
    low_voltage,
    modules,
    terminal_blocks,
)

IN_ORDER = (
    *(conductors, fixture_wires, low_voltage, clamps, fittings),
    *(devices, modules, grounds, terminal_blocks),
)
"""The rules in the order a worksheet shows them. A new one is a folder here and a name in this list."""

VERDICT = Table("box_fill.verdict", Cited, __file__)
"""The test itself: box fill against box volume."""
