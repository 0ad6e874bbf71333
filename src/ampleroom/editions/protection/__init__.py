"""Breakers and fuses: their ratings, and what they and the circuit ask of a wire. Amperes."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Cited, Table
from ampleroom.record import Record


class Standard(Record):
    """The standard ratings of breakers and fuses, and those of fuses alone."""

    cite: str
    confidence: str
    ratings: tuple[int, ...]
    fuses: tuple[int, ...]


class NextSize(Record):
    """Up to which rating the next standard size above an ampacity protects the wire."""

    cite: str
    confidence: str
    up_to: Decimal


class SmallRow(Record):
    """The most that may protect one small wire, whatever its ampacity."""

    material: str
    """``copper``, or ``aluminum``, which is copper-clad aluminum too."""
    size: str
    most: Decimal
    continuous: Decimal | None = None
    """The most it may carry of a continuous load, behind a device listed for it; ``None`` where none is stated."""
    confidence: str = ""
    """Empty: as sure as the table."""


class Small(Record):
    """The small wires."""

    cite: str
    confidence: str
    rows: tuple[SmallRow, ...]


class Terminals(Record):
    """Which ampacity column unmarked terminals allow, degrees Celsius: up to so many amperes, or marked for wire up to
    such a size, ``small``; else ``large``.
    """

    cite: str
    confidence: str
    small_amperes: Decimal
    small_size: str
    small: Decimal
    large: Decimal


class Continuous(Record):
    """The percent of a continuous load that the wire and the device are sized for."""

    cite: str
    confidence: str
    percent: Decimal


class ReceptacleRow(Record):
    """The ratings of receptacles that a circuit of one rating may have, where it has more than one."""

    circuit: Decimal
    ratings: tuple[int, ...]
    confidence: str = ""
    """Empty: as sure as the table."""


class Receptacles(Record):
    """Receptacles by the rating of their circuit."""

    cite: str
    confidence: str
    cord_loads: dict[str, Decimal]
    """The most that one cord may draw, by the rating of its receptacle: ``"20"``."""
    rows: tuple[ReceptacleRow, ...]


class BranchRow(Record):
    """The thinnest wire of a branch circuit of one rating."""

    rating: Decimal
    material: str
    wire: str
    tap: str = ""
    """The thinnest tap from it; empty where none is stated."""
    confidence: str = ""
    """Empty: as sure as the table."""


class Branch(Record):
    """Branch circuits by rating and material."""

    cite: str
    confidence: str
    rows: tuple[BranchRow, ...]


class DwellingRow(Record):
    """The size of a service or main feeder of one rating."""

    rating: Decimal
    copper: str
    aluminum: str
    confidence: str = ""
    """Empty: as sure as the table."""


class DwellingService(Record):
    """Single-phase services and feeders that carry the whole load of a dwelling."""

    cite: str
    confidence: str
    percent: Decimal | None
    """The percent of the rating that is enough of an ampacity; ``None`` where only the sizes are stated."""
    least: Decimal
    """The least rating it holds for; ``most``: the greatest."""
    most: Decimal
    rows: tuple[DwellingRow, ...]
    """None at all where only the percent is stated."""


STANDARD = Table("protection.standard", Standard, __file__)
NEXT_SIZE = Table("protection.next_size", NextSize, __file__)
SMALL = Table("protection.small", Small, __file__, SmallRow)
TERMINALS = Table("protection.terminals", Terminals, __file__)
CONTINUOUS = Table("protection.continuous", Continuous, __file__)
RECEPTACLES = Table("protection.receptacles", Receptacles, __file__, ReceptacleRow)
SINGLE_RECEPTACLE = Table("protection.single_receptacle", Cited, __file__)
"""One single receptacle alone on a circuit has no less than the rating of that."""
BRANCH = Table("protection.branch", Branch, __file__, BranchRow)
DWELLING = Table("protection.dwelling_service", DwellingService, __file__, DwellingRow)
