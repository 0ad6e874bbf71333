"""Which ampacity column each cable is judged by, and where it is bundled or lies in thermal insulation. Degrees Celsius
of the columns.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class CableHeat(Record):
    """One kind of cable."""

    kind: str
    cite: str
    """The section of this kind."""
    starts: Decimal
    """The column that correction and adjustment start from."""
    ends: Decimal | None = None
    """The column the result may not pass; ``None``: as the terminals allow."""
    insulated_ends: Decimal | None = None
    """The column it may not pass in thermal insulation; ``None``: as elsewhere."""
    insulated_up_to: str = ""
    """The largest size that holds for; empty: every size."""
    bundled_over: Decimal | None = None
    """More cables than this, touching each other in thermal insulation, are adjusted; ``None``: not stated."""
    in_openings: bool = False
    """Whether as many are adjusted also in one sealed opening of a frame."""
    no_relief_in_openings: bool = False
    """Whether the short stretch of ``ampacity.lowest`` is of no help there."""
    no_relief_in_insulation: bool = False
    """Whether it is of no help in thermal insulation."""
    confidence: str = ""
    """Empty: as sure as the table."""


class CablesHeat(Record):
    """Every kind of cable whose ampacity the code states."""

    cite: str
    confidence: str
    rows: tuple[CableHeat, ...]


class Armored(Record):
    """Armored and metal-clad cable without a jacket: of up to so many current-carrying conductors of this copper size
    each, up to ``most`` current-carrying conductors together need no adjustment.
    """

    cite: str
    confidence: str
    conductors: Decimal
    size: str
    most: Decimal
    percent_over: Decimal | None
    """The percent that more of them keep; ``None``: by the table of adjustment."""


CABLES_HEAT = Table("cables_heat.cable", CablesHeat, __file__, CableHeat)
ARMORED = Table("cables_heat.armored", Armored, __file__)
