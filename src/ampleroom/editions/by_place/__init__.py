"""Protection by place: where a dwelling is asked for ground-fault and arc-fault protection, and for which appliances.

Rooms are named as a sheet has them: ``ROOMS`` of ``ampleroom.job.trade``.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions.tables import Table
from ampleroom.record import Record


class GroundFaultRow(Record):
    """One room, and which of its receptacles: ``all`` of them, or those for its ``counter``."""

    room: str
    receptacles: str
    confidence: str = ""
    """Empty: as sure as the table."""


class GroundFault(Record):
    """Receptacles of a dwelling that have ground-fault protection."""

    cite: str
    confidence: str
    volts: Decimal
    """The most volts of a receptacle it holds for; of one phase, and at most 150 to ground."""
    amperes: tuple[int, ...]
    """The ratings of receptacles it holds for; none: all."""
    feet: Decimal
    """So near to a sink a receptacle has it in any room but those of ``but_near_sinks``."""
    but_near_sinks: tuple[str, ...]
    """Rooms whose sinks do not count."""
    near_tubs: bool
    """Whether it has it as near to a tub or shower."""
    outlets_in: tuple[str, ...]
    """Rooms in which the outlets of lights have it too."""
    rows: tuple[GroundFaultRow, ...]


class ArcFault(Record):
    """Branch circuits of a dwelling that have arc-fault protection."""

    cite: str
    confidence: str
    volts: Decimal
    amperes: tuple[int, ...]
    """The ratings of the circuits it holds for."""
    devices: bool
    """Whether a device in such a room is enough, such as a switch; else an outlet is."""
    rooms: tuple[str, ...]


class ApplianceRow(Record):
    """An appliance whose outlet has ground-fault protection wherever it stands, as a sheet says what a circuit
    serves.
    """

    serves: str
    name: str
    cite: str = ""
    """Where it stands if not where the table does."""
    confidence: str = ""
    """Empty: as sure as the table."""


class Appliances(Record):
    """Appliances with ground-fault protection, by cord or wired in, of at most so many amperes and volts to ground."""

    cite: str
    confidence: str
    amperes: Decimal
    to_ground: Decimal
    rows: tuple[ApplianceRow, ...]


class Outdoors(Record):
    """What is wired in at such a place and has ground-fault protection; lights are left out."""

    cite: str
    confidence: str
    amperes: Decimal
    """Of circuits up to so many, of one phase."""
    rooms: tuple[str, ...]
    hvac: str
    """Until when listed heating and cooling equipment is let off; empty where it is not."""


class Replacement(Record):
    """What a receptacle has that replaces another."""

    cite: str
    confidence: str
    arc_fault: bool
    """Whether arc-fault protection is asked for where a new one would have it."""


class Extension(Record):
    """Circuits of such rooms that are extended or changed."""

    cite: str
    confidence: str
    asked: bool
    """Whether the edition has a sentence on it."""
    feet: Decimal
    """So much more wire without an outlet or device leaves a circuit as it is; 0: none does."""


GROUND_FAULT = Table("by_place.ground_fault", GroundFault, __file__, GroundFaultRow)
ARC_FAULT = Table("by_place.arc_fault", ArcFault, __file__)
APPLIANCES = Table("by_place.appliances", Appliances, __file__, ApplianceRow)
OUTDOORS = Table("by_place.outdoors", Outdoors, __file__)
REPLACEMENT = Table("by_place.replacement", Replacement, __file__)
EXTENSION = Table("by_place.extension", Extension, __file__)
