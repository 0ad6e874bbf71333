"""How full a raceway may be, the bores of raceways, and the sizes of wires in them. Areas in in2, diameters in
inches.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class RacewayFill(Record):
    """The most of a bore that conductors may take, in percent: of one conductor, of two, of more."""

    cite: str
    confidence: str
    one: Decimal
    two: Decimal
    more: Decimal


class Rounding(Record):
    """From which decimal on a count of conductors of one size is rounded up."""

    cite: str
    confidence: str
    up_from: Decimal


class CableInRaceway(Record):
    """As how many conductors a cable counts, each as thick as its wider side."""

    cite: str
    confidence: str
    counts: Decimal


class Bore(Record):
    """The inside of one raceway: diameter in inches, whole area in in2."""

    kind: str
    size: str
    diameter: Decimal
    area: Decimal
    at_60: Decimal
    """The printed column of a nipple, in2; ``at_53``, ``at_31``, ``at_40``: of one, two and more than two
    conductors."""
    at_53: Decimal
    at_31: Decimal
    at_40: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class Bores(Record):
    """Every raceway by kind and trade size."""

    cite: str
    confidence: str
    rows: tuple[Bore, ...]


class Metric(Record):
    """A trade size and its metric designator: ``3/4`` and ``21``. Neither is a measure."""

    size: str
    metric: str


class Metrics(Record):
    """Every trade size of raceways."""

    cite: str
    confidence: str
    rows: tuple[Metric, ...]


class Wire(Record):
    """One conductor with what is around it: area in in2, diameter in inches."""

    size: str
    area: Decimal
    diameter: Decimal
    types: str = ""
    """Its insulation types, parted by spaces: ``thhn thwn``; of a bare one none."""
    confidence: str = ""
    """Empty: as sure as the table."""


class WireSizes(Record):
    """Every conductor by size and insulation."""

    cite: str
    confidence: str
    rows: tuple[Wire, ...]


class Nipple(Record):
    """Up to how many inches a raceway is a nipple, and to what percent it may be filled."""

    cite: str
    confidence: str
    longest: Decimal
    percent: Decimal


class Support(Record):
    """How far apart a wiring method is supported, and how far from a box or an end at most, in feet."""

    kind: str
    every: Decimal
    within: Decimal
    confidence: str = ""
    """Empty: as sure as the table."""


class Supports(Record):
    """Every wiring method by kind."""

    cite: str
    confidence: str
    rows: tuple[Support, ...]


class Insulation(Record):
    """How hot an insulation may get, in degrees C."""

    kind: str
    dry: Decimal
    """In dry and damp places."""
    wet: Decimal
    """In wet places; 0: it is not for those."""
    confidence: str = ""
    """Empty: as sure as the table."""


class Insulations(Record):
    """Every insulation by kind."""

    cite: str
    confidence: str
    rows: tuple[Insulation, ...]


RACEWAY_FILL = Table("raceways.fill", RacewayFill, __file__)
ROUNDING = Table("raceways.rounding", Rounding, __file__)
CABLE_IN_RACEWAY = Table("raceways.cable", CableInRaceway, __file__)
METRIC_SIZES = Table("raceways.metric", Metrics, __file__, Metric)
"""The metric designator of each trade size, the same for all kinds."""
BORES = Table("raceways.bore", Bores, __file__, Bore)
INSULATED_WIRES = Table("raceways.insulated", WireSizes, __file__, Wire)
BARE_WIRES = Table("raceways.bare", WireSizes, __file__, Wire)
COMPACT_WIRES = Table("raceways.compact", WireSizes, __file__, Wire)
NIPPLE = Table("raceways.nipple", Nipple, __file__)
SUPPORTS = Table("raceways.support", Supports, __file__, Support)
INSULATIONS = Table("raceways.insulations", Insulations, __file__, Insulation)
