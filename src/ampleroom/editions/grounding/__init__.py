"""Sizes of equipment grounding conductors and of grounding electrode conductors."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class EquipmentRow(Record):
    """The thinnest equipment grounding conductor behind a device of up to so many amperes."""

    up_to: Decimal
    copper: str
    aluminum: str
    confidence: str = ""
    """Empty: as sure as the table."""


class Equipment(Record):
    """Equipment grounding conductors, the least rating first."""

    cite: str
    confidence: str
    rows: tuple[EquipmentRow, ...]


class ElectrodeRow(Record):
    """The thinnest grounding electrode conductor of a service whose largest conductor is no thicker than this."""

    copper_up_to: str
    """A size, or ``all``."""
    aluminum_up_to: str
    copper: str
    aluminum: str
    confidence: str = ""
    """Empty: as sure as the table."""


class Electrode(Record):
    """Grounding electrode conductors, the thinnest service first; and what is enough to nothing but a rod, a pipe or a
    plate (``rod_...``), or to nothing but an electrode encased in concrete (``encased_...``).
    """

    cite: str
    confidence: str
    rod_copper: str
    rod_aluminum: str
    encased_copper: str
    rows: tuple[ElectrodeRow, ...]


class Increase(Record):
    """How a ground grows with conductors that are thicker than they need be."""

    cite: str
    confidence: str
    where_it_lies: bool
    """Whether what they need is told where they lie, heat and company counted, and not by the table alone."""


class Path(Record):
    """What may be an equipment ground without a wire, by kind of raceway and of cable."""

    cite: str
    confidence: str
    raceways: tuple[str, ...]
    armor: tuple[str, ...]
    flexible: tuple[str, ...]
    """Only under terms of length, breaker and fittings, which no sheet says."""


EQUIPMENT = Table("grounding.equipment", Equipment, __file__, EquipmentRow)
ELECTRODE = Table("grounding.electrode", Electrode, __file__, ElectrodeRow)
INCREASE = Table("grounding.increase", Increase, __file__)
PATH = Table("grounding.path", Path, __file__)
