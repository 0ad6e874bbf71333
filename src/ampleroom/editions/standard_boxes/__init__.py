"""Metal boxes of the standard trade sizes."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class StandardBox(Record):
    """One box of a standard trade size; lengths in inches, volume in in3."""

    shape: str
    size: str
    """The trade size in the table's own words: ``4 x 1-1/2``."""
    depth: Decimal
    volume: Decimal
    per_gang: bool = False
    """Whether the volume is that of one gang."""
    confidence: str = ""
    """Empty: as sure as the table."""
    printed: tuple[int, ...] = ()
    """How many of each of the printed sizes the book's own table says it holds."""


class StandardBoxes(Record):
    """Every box of a standard trade size."""

    cite: str
    confidence: str
    rows: tuple[StandardBox, ...]
    printed_sizes: tuple[str, ...] = ()
    """The conductor sizes the book's table has a column for."""


STANDARD_BOXES = Table("box_room.standard", StandardBoxes, __file__, StandardBox)
