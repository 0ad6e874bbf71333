"""What is in a cable: its conductors with their colors, the ground, and its outside size where a data sheet was
seen.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class CableRow(Record):
    """One cable; its outside in inches, 0 where no data sheet was seen."""

    kind: str
    size: str
    of: str
    """Its insulated conductors: ``2``, ``2/2``."""
    colors: str
    ground: str
    """A size, ``armor``, or ``?``."""
    width: Decimal = Decimal(0)
    height: Decimal = Decimal(0)
    confidence: str = ""
    """Empty: as sure as the table."""


class Cables(Record):
    """Every cable whose make-up is known."""

    cite: str
    confidence: str
    rows: tuple[CableRow, ...]


CABLES = Table("cables.cable", Cables, __file__, CableRow)
