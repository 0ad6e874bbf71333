"""How much of its volts a circuit should lose in its wires at most: advice of the code book, and no requirement."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class DropAdvice(Record):
    """The most that is advised at the farthest outlet, percent of the circuit's volts: in the circuit itself, and in
    all from the source.
    """

    cite: str
    confidence: str
    percent: Decimal
    in_all: Decimal


BRANCH_DROP = Table("voltage_drop.branch", DropAdvice, __file__)
FEEDER_DROP = Table("voltage_drop.feeder", DropAdvice, __file__)
