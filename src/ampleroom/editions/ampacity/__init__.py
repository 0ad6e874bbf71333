"""What insulated conductors may carry, and what corrects it for heat around them and for company. Amperes, degrees
Celsius, percent.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class AmpacityRow(Record):
    """One conductor: its ampacity by the temperature of its insulation or terminals; ``None`` where none is printed."""

    material: str
    """``copper``, or ``aluminum``, which is copper-clad aluminum too."""
    size: str
    at_60: Decimal | None = None
    at_75: Decimal | None = None
    at_90: Decimal | None = None
    confidence: str = ""
    """Empty: as sure as the table."""


class Ampacities(Record):
    """Every conductor by material and size."""

    cite: str
    confidence: str
    rows: tuple[AmpacityRow, ...]


class AmbientRow(Record):
    """The factors up to one temperature of the air around, the coolest first; ``None`` where the insulation may not be
    used."""

    up_to: Decimal
    at_60: Decimal | None = None
    at_75: Decimal | None = None
    at_90: Decimal | None = None
    confidence: str = ""
    """Empty: as sure as the table."""


class Ambient(Record):
    """Factors by the temperature of the air around."""

    cite: str
    confidence: str
    least: Decimal | None
    """The lowest temperature the first row holds for; ``None`` where it has no end below."""
    rows: tuple[AmbientRow, ...]
    """None at all where nobody here saw the table of that edition."""


class AdjustmentRow(Record):
    """The percent of the ampacity that is kept, up to so many current-carrying conductors; ``None``: of any number."""

    up_to: Decimal | None
    percent: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class Adjustment(Record):
    """Percents by the number of current-carrying conductors."""

    cite: str
    confidence: str
    free: Decimal
    """So many need no adjustment."""
    rows: tuple[AdjustmentRow, ...]


class Bundle(Record):
    """How long a nipple, and cables bundled or stacked, may be without adjustment, inches."""

    cite: str
    confidence: str
    longest_nipple: Decimal
    longest_bundle: Decimal


class RooftopRow(Record):
    """The degrees Celsius added up to one height above a roof, inches."""

    up_to: Decimal
    adds: Decimal
    is_under: bool = False
    """Whether only heights under ``up_to`` are meant, not that height itself."""
    confidence: str = ""
    """Empty: as sure as the table."""


class Rooftop(Record):
    """What the sun adds to the temperature around a raceway or cable above a roof; higher up it adds nothing."""

    cite: str
    confidence: str
    exempt: tuple[str, ...]
    """The insulation types it adds nothing to."""
    raceways_only: bool
    rows: tuple[RooftopRow, ...]


class Lowest(Record):
    """How far past its end the higher ampacity of a run may be used: the lesser of these feet, and this percent of the
    length that has it.
    """

    cite: str
    confidence: str
    feet: Decimal
    percent: Decimal


COLUMNS = (Decimal(60), Decimal(75), Decimal(90))
"""The columns of the table of ampacities, degrees C."""
USUAL_AMBIENT = Decimal(30)
"""Degrees C around a wire for which the table holds."""

AMPACITY = Table("ampacity.conductors", Ampacities, __file__, AmpacityRow)
AMBIENT = Table("ampacity.ambient", Ambient, __file__, AmbientRow)
AMBIENT_40 = Table("ampacity.ambient_40", Ambient, __file__, AmbientRow)
ADJUSTMENT = Table("ampacity.adjustment", Adjustment, __file__, AdjustmentRow)
BUNDLE = Table("ampacity.bundle", Bundle, __file__)
ROOFTOP = Table("ampacity.rooftop", Rooftop, __file__, RooftopRow)
LOWEST = Table("ampacity.lowest", Lowest, __file__)
