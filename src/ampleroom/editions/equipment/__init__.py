"""Fixed equipment: what its circuit is sized to, percent of the current on its nameplate."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class OfNameplate(Record):
    """A percent of the nameplate current."""

    cite: str
    confidence: str
    percent: Decimal


class WaterHeater(Record):
    """Storage water heaters of at most so many gallons: the circuit and its wire are rated for this percent."""

    cite: str
    confidence: str
    gallons: Decimal
    percent: Decimal


class Appliance(Record):
    """One appliance without a motor that draws more than ``over`` amperes: the percent its breaker or fuse may have, or
    the next standard size up.
    """

    cite: str
    confidence: str
    over: Decimal
    percent: Decimal


class Range(Record):
    """A household range of so many kilowatts or more: the least amperes of its circuit."""

    cite: str
    confidence: str
    kilowatts: Decimal
    amperes: Decimal


class RangeDemand(Record):
    """What one household range counts for on its circuit, by the kilowatts on its nameplate. Over ``over`` and up to
    ``part_up_to`` a percent of them; up to ``base_up_to`` the ``base``; up to ``most`` the base and so many percent of
    it more for each kilowatt.
    """

    cite: str
    confidence: str
    over: Decimal
    part_up_to: Decimal
    percent: Decimal
    base_up_to: Decimal
    base: Decimal
    percent_for_each: Decimal
    most: Decimal


class MajorFraction(Record):
    """So much of a kilowatt, and more, counts as a whole one."""

    cite: str
    confidence: str
    kilowatts: Decimal


WATER_HEATER = Table("equipment.water_heater", WaterHeater, __file__)
APPLIANCE = Table("equipment.appliance", Appliance, __file__)
SPACE_HEAT = Table("equipment.space_heat", OfNameplate, __file__)
CHARGING = Table("equipment.charging", OfNameplate, __file__)
AIR_CONDITIONER = Table("equipment.air_conditioner", OfNameplate, __file__)
"""Of the ampacity and the device marked on it: the 125 percent is in them, and the caps of small wires do not apply."""
COMPRESSOR = Table("equipment.compressor", OfNameplate, __file__)
"""The wire of one hermetic motor-compressor, by the larger of rated-load and branch-selection current."""
COMPRESSOR_DEVICE = Table("equipment.compressor_device", OfNameplate, __file__)
COMPRESSOR_WILL_NOT_START = Table("equipment.compressor_will_not_start", OfNameplate, __file__)
RANGE = Table("equipment.range", Range, __file__)
RANGE_DEMAND = Table("equipment.range_demand", RangeDemand, __file__)
MAJOR_FRACTION = Table("equipment.major_fraction", MajorFraction, __file__)
