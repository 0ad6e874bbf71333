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


EQUIPMENT = Table("grounding.equipment", Equipment, __file__, EquipmentRow)
ELECTRODE = Table("grounding.electrode", Electrode, __file__, ElectrodeRow)
