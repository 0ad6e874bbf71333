"""The volume one conductor takes in a box, by its size: what most counts are multiplied by."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class ConductorRoom(Record):
    """The allowance of one conductor in in3 by its size, thin to thick."""

    cite: str
    confidence: str
    rows: dict[str, Decimal]


CONDUCTOR_ROOM = Table("box_fill.conductor_room", ConductorRoom, __file__)
