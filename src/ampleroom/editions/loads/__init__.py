"""Loads of a dwelling at its service or feeder: what each counts for, by the standard and the other methods. VA unless
said otherwise.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Cited, Table
from ampleroom.record import Record


class Lighting(Record):
    """Lighting and general receptacles, VA a square foot of floor."""

    cite: str
    confidence: str
    va_per_ft2: Decimal


class Tier(Record):
    """Up to so much, or so many, a percent; ``None``: without end."""

    up_to: Decimal | None
    percent: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class Tiers(Record):
    """Percents by tiers, each of what is over the one before, the least first."""

    cite: str
    confidence: str
    rows: tuple[Tier, ...]


class SmallCircuits(Record):
    """The circuits of small appliances and of the laundry: VA of each, and how many there are at least."""

    cite: str
    confidence: str
    va: Decimal
    small_appliance: Decimal
    laundry: Decimal


class Appliances(Record):
    """Appliances fastened in place: of ``quantity`` and more ``percent`` counts; those of less than ``least_watts`` are
    not among them.
    """

    cite: str
    confidence: str
    quantity: Decimal
    percent: Decimal
    least_watts: Decimal


class Dryers(Record):
    """Clothes dryers: VA each at least, and the percent by how many there are."""

    cite: str
    confidence: str
    least: Decimal
    rows: tuple[Tier, ...]


class CookingRow(Record):
    """Up to so many appliances: percents of their nameplates in columns A and B, and kW in all in column C with
    ``c_each`` more for each of them.
    """

    up_to: Decimal | None
    a: Decimal
    b: Decimal
    c: Decimal
    c_each: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class Cooking(Record):
    """Household cooking appliances by kilowatts: over ``over`` they count here, column A below ``b_from``, column B up
    to ``b_up_to``, column C up to ``c_up_to``, and so many percent of it more for each kilowatt up to ``most``.
    """

    cite: str
    confidence: str
    over: Decimal
    b_from: Decimal
    b_up_to: Decimal
    c_up_to: Decimal
    percent_for_each: Decimal
    most: Decimal
    rows: tuple[CookingRow, ...]


class Neutral(Record):
    """What counts on the neutral: ``cooking`` percent of ranges and dryers, and ``percent`` of what is over ``over``
    amperes.
    """

    cite: str
    confidence: str
    cooking: Decimal
    over: Decimal
    percent: Decimal


class Charging(Record):
    """Charging of electric vehicles, VA at least."""

    cite: str
    confidence: str
    least: Decimal


class Optional(Record):
    """The optional method for one dwelling whose service has so many amperes at least."""

    cite: str
    confidence: str
    least_amperes: Decimal
    charging_apart: bool
    """Whether charging stands beside the tiers, in full."""
    rows: tuple[Tier, ...]


class OptionalHeat(Record):
    """Heat and cooling by the optional method, percent: ``few`` of heaters with less than ``controls`` separate
    controls, else ``many``.
    """

    cite: str
    confidence: str
    cooling: Decimal
    heat_pump: Decimal
    beside_a_heat_pump: Decimal
    controls: Decimal
    few: Decimal
    many: Decimal
    storage: Decimal


class Metered(Record):
    """The percent of a greatest demand that was measured."""

    cite: str
    confidence: str
    percent: Decimal


class Apartments(Record):
    """The percent of all connected load of so many dwellings under one service."""

    cite: str
    confidence: str
    least_units: Decimal
    rows: tuple[Tier, ...]


class LeastService(Record):
    """The least rating of the service of a one-family dwelling."""

    cite: str
    confidence: str
    amperes: Decimal


LIGHTING = Table("loads.lighting", Lighting, __file__)
LIGHTING_DEMAND = Table("loads.lighting_demand", Tiers, __file__, Tier)
SMALL_CIRCUITS = Table("loads.small_circuits", SmallCircuits, __file__)
APPLIANCES = Table("loads.appliances", Appliances, __file__)
DRYERS = Table("loads.dryers", Dryers, __file__, Tier)
COOKING = Table("loads.cooking", Cooking, __file__, CookingRow)
NEUTRAL = Table("loads.neutral", Neutral, __file__)
HEAT_OR_COOLING = Table("loads.heat_or_cooling", Cited, __file__)
CHARGING = Table("loads.charging", Charging, __file__)
OPTIONAL = Table("loads.optional", Optional, __file__, Tier)
OPTIONAL_HEAT = Table("loads.optional_heat", OptionalHeat, __file__)
EXISTING = Table("loads.existing", Tiers, __file__, Tier)
METERED = Table("loads.metered", Metered, __file__)
APARTMENTS = Table("loads.apartments", Apartments, __file__, Tier)
LEAST_SERVICE = Table("loads.least_service", LeastService, __file__)
