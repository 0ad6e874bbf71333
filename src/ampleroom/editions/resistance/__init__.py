"""Resistance and reactance of conductors, ohms in 1,000 feet."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class ResistanceRow(Record):
    """One conductor against direct current at 75 C; copper without coating, with it, and aluminum."""

    size: str
    stranding: str
    """``solid`` or ``stranded``."""
    circular_mils: Decimal
    copper: Decimal
    coated: Decimal
    aluminum: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class Resistances(Record):
    """Every conductor by size and stranding."""

    cite: str
    confidence: str
    rows: tuple[ResistanceRow, ...]


class ImpedanceRow(Record):
    """Three single conductors of one size in conduit, 60 Hz, 75 C, to neutral; ``None`` where none is printed.

    ``x_...`` is the reactance; ``copper_...`` and ``aluminum_...`` the resistance to alternating current, and
    ``z_copper_...`` and ``z_aluminum_...`` the effective impedance at the power factor of the table: each in conduit of
    PVC, of aluminum and of steel.
    """

    size: str
    x_pvc: Decimal
    """In aluminum conduit too."""
    x_steel: Decimal
    copper_pvc: Decimal
    copper_aluminum: Decimal
    copper_steel: Decimal
    z_copper_pvc: Decimal
    z_copper_aluminum: Decimal
    z_copper_steel: Decimal
    aluminum_pvc: Decimal | None = None
    aluminum_aluminum: Decimal | None = None
    aluminum_steel: Decimal | None = None
    z_aluminum_pvc: Decimal | None = None
    z_aluminum_aluminum: Decimal | None = None
    z_aluminum_steel: Decimal | None = None
    confidence: str = ""
    """Empty: as sure as the table."""


class Impedances(Record):
    """Every size, and the power factor of the effective impedances."""

    cite: str
    confidence: str
    power_factor: Decimal
    rows: tuple[ImpedanceRow, ...]


class Temperature(Record):
    """By how much resistance grows, as a share of it, for each degree Celsius above ``base``."""

    cite: str
    confidence: str
    base: Decimal
    copper: Decimal
    aluminum: Decimal


class TradeConstants(Record):
    """What the trade reckons voltage drop with: ohms of one foot times its circular mils, of warm wire."""

    cite: str
    confidence: str
    copper: Decimal
    aluminum: Decimal


RESISTANCE = Table("resistance.direct", Resistances, __file__, ResistanceRow)
IMPEDANCE = Table("resistance.impedance", Impedances, __file__, ImpedanceRow)
TEMPERATURE = Table("resistance.temperature", Temperature, __file__)
TRADE_CONSTANTS = Table("resistance.trade", TradeConstants, __file__)
