"""How often one conductor counts in a box: what several rules of box fill multiply by."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class Conductors(Record):
    """How often a conductor counts that ends in a box, passes, loops in it, or never leaves it."""

    cite: str
    confidence: str
    ends: Decimal
    passes: Decimal
    looped: Decimal
    loop_times: Decimal
    """A loop this many times the least free conductor counts as looped."""
    inside: Decimal


CONDUCTORS = Table("box_fill.conductors", Conductors, __file__)
