"""Records of the lines under a box: what it is, what is on it, what is in it."""

from __future__ import annotations

from decimal import Decimal
from typing import Literal

from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import Record, TupleRecord, aside
from ampleroom.where import NOWHERE, Where


def written_at() -> Where:
    """The default of a field that says where a record was written: nowhere, and no part of comparison."""
    where: Where = aside(NOWHERE)
    return where


class Base(Record):
    """The box itself: a standard size, a marked volume, inside measurements, or a conduit body."""

    form: Literal["standard", "marked", "measured", "unmarked", "conduit body"]
    shape: str = ""
    """square, octagon, device, masonry, fs, fd; for a conduit body its type: lb, c, t ..."""
    size: Maybe[str] = ""
    """The trade size as the book's table names it (``4 x 1-1/2``); ``UNKNOWN`` depth: the face alone stands in
    ``face``."""
    face: str = ""
    volume: Maybe[Decimal] | None = None
    """The marked volume, or for inside measurements their product; in3. None: nothing is marked."""
    inside: tuple[Decimal, ...] = ()
    """Inside length, width and depth, inches; of a conduit body its length first, from one end hub to the other end."""
    ganged: int = 1
    """How many such boxes are joined to one."""
    gangs: int | None = None
    depth: Maybe[Decimal] | None = None
    material: Literal["", "metal", "plastic"] = ""
    raceway: str = ""
    """For a conduit body: the kind of raceway it is on."""
    trade_size: str = ""
    short_radius: bool = False
    area: Decimal | None = None
    """For a conduit body: its cross-section, in2."""
    at: Where = written_at()


class Part(Record):
    """What is put on a box and may add room: an extension ring, a plaster ring, a raised or domed cover."""

    kind: Literal["extension ring", "plaster ring", "raised cover", "domed cover"]
    volume: Maybe[Decimal] | None = None
    """Marked volume, in3. None: not marked."""
    shape: str = ""
    size: str = ""
    """The standard size an unmarked metal ring has, if it has one."""
    depth: Maybe[Decimal] | None = None
    """How far it brings the device forward, inches. None: not written, so not known but for a ring of a standard
    size."""
    material: Literal["", "metal", "plastic"] = ""
    at: Where = written_at()


class Barrier(Record):
    """A barrier that divides a box."""

    material: Literal["metal", "plastic"]
    volume: Decimal | None = None
    """Its own marked volume, in3."""
    at: Where = written_at()


class SpaceShare(Record):
    """One side of a barrier, and its share of the box: so many gangs, a fraction, or a volume of its own."""

    name: str
    gangs: int | None = None
    share: tuple[int, int] | None = None
    volume: Decimal | None = None
    at: Where = written_at()


class Mounting(Record):
    """How the box sits: new-work, old-work, surface or masonry; how deep the wall is; whether the finish is up."""

    way: Literal["", "new-work", "old-work", "surface", "masonry"] = ""
    cavity: Decimal | None = None
    hole: tuple[Decimal, Decimal] | None = None
    finished: bool = False
    existing: bool = False
    """It was there before: nothing to buy."""
    at: Where = written_at()


class Clamps(Record):
    """inside, outside, none, tabs (molded spring tabs), push-in (connectors that grip inside), assembly (holds the
    termination).
    """

    way: Maybe[str]
    volume: Decimal = Decimal(0)
    """For an assembly: what of it stays inside the box, in3."""
    at: Where = written_at()


class Fitting(Record):
    """A luminaire stud or a hickey."""

    kind: Literal["stud", "hickey"]
    count: int = 1
    at: Where = written_at()


class Device(Record):
    """What sits on one yoke or strap, with the largest conductor connected to it."""

    names: tuple[str, ...]
    """Two names: a combination device, both on one yoke."""
    size: Maybe[str] = UNKNOWN
    count: int = 1
    gangs: Maybe[int] = 1
    """Gangs it needs for mounting. The reader takes a range, a dryer or a 30 A receptacle of no written width as
    UNKNOWN."""
    width: Maybe[Decimal] | None = None
    projects: Maybe[Decimal] | None = None
    """How far its body reaches behind the mounting plane, inches; None: not written, and not judged."""
    pigtail: str = ""
    """The size of the thinner pigtail that feeds it, if one does."""
    leads: tuple[int, str] | None = None
    amperes: int | None = None
    volts: int | None = None
    label: str = ""
    at: Where = written_at()


def is_blank_plate(device: Device) -> bool:
    """A blank plate: no yoke with anything on it. A blank with a wire, leads or a body written is a device like any
    other.
    """
    plain = (device.size, device.pigtail, device.leads, device.projects) == (UNKNOWN, "", None, None)
    return plain and all(name.split()[-1] == "blank" for name in device.names)


class Module(Record):
    """A control module with no yoke, behind a device."""

    size: Maybe[str] = UNKNOWN
    volume: Decimal | None = None
    count: int = 1
    label: str = ""
    at: Where = written_at()


class TerminalBlock(Record):
    """A terminal block, with the largest conductor on it."""

    size: Maybe[str] = UNKNOWN
    count: int = 1
    at: Where = written_at()


class Wires(TupleRecord):
    """So many like conductors. ``role`` says what they are for."""

    count: Maybe[int]  # type: ignore[assignment]  # a tuple's own count() is of no use here
    size: Maybe[str]
    role: Literal["insulated", "ground", "isolated ground"] = "insulated"
    insulation: str = ""
    color: str = ""


class FixtureWires(Record):
    """Wires of a luminaire that end in the box; from a domed canopy the book gives relief, from a flat one it does
    not.
    """

    wires: tuple[Wires, ...]
    canopy: Maybe[Literal["", "domed", "flat"]] = ""
    at: Where = written_at()


class Leads(Record):
    """Leads of equipment mounted outside the box or serving as its cover."""

    wires: tuple[Wires, ...]
    label: str = ""
    at: Where = written_at()


class Pigtails(Record):
    """Conductors no part of which leaves the box."""

    count: int
    size: str
    ground: bool = False
    at: Where = written_at()


class BondingJumper(Record):
    """An equipment bonding jumper that enters the box."""

    size: Maybe[str]
    count: int = 1
    at: Where = written_at()


class Uncounted(Record):
    """What takes no room in the count: wire connectors, ground screws, a blank cover. Kept, and said to count for
    nothing.
    """

    kind: Literal["wire connectors", "ground screw", "blank cover"]
    count: int = 1
    at: Where = written_at()


class Carries(Record):
    """What hangs on the box: a luminaire, a fan, small equipment; pounds where known."""

    kind: Literal["luminaire", "fan", "equipment"]
    pounds: Decimal | None = None
    at: Where = written_at()


class Rated(Record):
    """What the box is listed to carry."""

    kind: Literal["luminaire", "fan"]
    pounds: Decimal | None = None
    at: Where = written_at()


class Entry(Record):
    """Where a raceway enters a pull box, or that wiring enters the centre of the rear wall or a side wall beside a
    device.
    """

    wall: Literal["left", "right", "top", "bottom", "rear", "side"]
    raceway: str = ""
    row: int = 1
    center: Maybe[Decimal] | None = None
    """Of an entry in a side wall: how far its middle lies behind the device's mounting plane, inches."""
    clear: Maybe[Decimal] | None = None
    """Of an entry in a side wall: what is left between the device and the wall of the box, inches."""
    at: Where = written_at()


class Apart(Record):
    """How far apart two raceways enter a pull box, inches, as measured there."""

    one: str
    other: str
    distance: Maybe[Decimal]
    at: Where = written_at()


class Room(Record):
    """The room or place a box is in, for the protection the code asks for there."""

    name: Maybe[str]
    """One of ``ROOMS`` of ``job.trade``."""
    near: Literal["", "counter", "sink", "tub", "away"] = ""
    """What its receptacles are for or near to: a kitchen or bar counter, a sink, a tub or shower, none of them."""
    protected: bool = False
    """Whether its receptacles are fed through a ground-fault device upstream: from its load terminals."""
    at: Where = written_at()


class MarkedFor(Record):
    """What a conduit body or a smaller pull box is listed and marked for: so many conductors of 4 AWG and larger.

    Several lines are several markings; one that covers what it holds is enough.
    """

    wires: Maybe[Wires] | None = None
    """The most conductors, and their largest size; an empty insulation: the marking names none. None: it was looked at
    and has no such marking. UNKNOWN: nobody read it."""
    at: Where = written_at()


class DistributionBlock(Record):
    """A power distribution block: its terminals feed several conductors from one."""

    smallest: tuple[Decimal, ...] = ()
    """Length, width and depth of the smallest box its instructions name, inches; empty where nobody read them."""
    clear: Decimal | None = None
    """How far it is from its terminals to the wall they face, inches; None where nobody measured."""
    count: int = 1
    at: Where = written_at()


Item = (
    Base
    | Part
    | Barrier
    | SpaceShare
    | Mounting
    | Clamps
    | Fitting
    | Device
    | Module
    | TerminalBlock
    | FixtureWires
    | Leads
    | Pigtails
    | BondingJumper
    | Uncounted
    | Carries
    | Rated
    | Entry
    | Apart
    | MarkedFor
    | DistributionBlock
    | Room
)
"""One line under a box."""
