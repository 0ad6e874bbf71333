"""The job: frozen records, one a line of the sheet. Places (boxes, panels, equipment) joined by runs.

Units: volumes in in3, box lengths in inches, run lengths in feet, all exact decimals. A fact nobody knows is ``UNKNOWN``.
``at`` says where a record was written and takes no part in comparison, so a job read back equals the job written.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Literal, NamedTuple

from ampleroom.editions.amendments import Amendments
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import Record, aside, once
from ampleroom.where import NOWHERE, Where

if TYPE_CHECKING:
    from ampleroom.job.graph import Graph
    from ampleroom.job.sheet import Sheet


def _at() -> Where:
    where: Where = aside(NOWHERE)
    return where


# ---- what a box is -------------------------------------------------------------------------------------------------


class Base(Record):
    """The box itself: a standard size, a marked volume, inside measurements, or a conduit body."""

    form: Literal["standard", "marked", "measured", "unmarked", "conduit body"]
    shape: str = ""
    """square, octagon, device, masonry, fs, fd; for a conduit body its type: lb, c, t ..."""
    size: Maybe[str] = ""
    """The trade size as the book's table names it (``4 x 1-1/2``); ``UNKNOWN`` depth: the face alone stands in ``face``."""
    face: str = ""
    volume: Maybe[Decimal] | None = None
    """The marked volume, or for inside measurements their product; in3. None: nothing is marked."""
    inside: tuple[Decimal, ...] = ()
    """Inside length, width and depth, inches."""
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
    at: Where = _at()


class Part(Record):
    """What is put on a box and may add room: an extension ring, a plaster ring, a raised or domed cover."""

    kind: Literal["extension ring", "plaster ring", "raised cover", "domed cover"]
    volume: Maybe[Decimal] | None = None
    """Marked volume, in3. None: not marked."""
    shape: str = ""
    size: str = ""
    """The standard size an unmarked metal ring has, if it has one."""
    depth: Maybe[Decimal] | None = None
    """How far it brings the device forward, inches. None: not written, so not known but for a ring of a standard size."""
    material: Literal["", "metal", "plastic"] = ""
    at: Where = _at()


class Barrier(Record):
    material: Literal["metal", "plastic"]
    volume: Decimal | None = None
    """Its own marked volume, in3."""
    at: Where = _at()


class SpaceShare(Record):
    """One side of a barrier, and its share of the box: so many gangs, a fraction, or a volume of its own."""

    name: str
    gangs: int | None = None
    share: tuple[int, int] | None = None
    volume: Decimal | None = None
    at: Where = _at()


class Mounting(Record):
    """How the box sits: new-work, old-work, surface or masonry; how deep the wall is; whether the finish is up."""

    way: Literal["", "new-work", "old-work", "surface", "masonry"] = ""
    cavity: Decimal | None = None
    hole: tuple[Decimal, Decimal] | None = None
    finished: bool = False
    existing: bool = False
    """It was there before: nothing to buy."""
    at: Where = _at()


# ---- what is in a box ----------------------------------------------------------------------------------------------


class Clamps(Record):
    """inside, outside, none, tabs (molded spring tabs), push-in (connectors that grip inside), assembly (holds the termination)."""

    way: Maybe[str]
    volume: Decimal = Decimal(0)
    """For an assembly: what of it stays inside the box, in3."""
    at: Where = _at()


class Fitting(Record):
    kind: Literal["stud", "hickey"]
    count: int = 1
    at: Where = _at()


class Device(Record):
    """What sits on one yoke or strap, with the largest conductor connected to it."""

    names: tuple[str, ...]
    """Two names: a combination device, both on one yoke."""
    size: Maybe[str] = UNKNOWN
    count: int = 1
    gangs: Maybe[int] = 1
    """Gangs it needs for mounting. The reader takes a range, a dryer or a 30 A receptacle of no written width as UNKNOWN."""
    width: Maybe[Decimal] | None = None
    projects: Maybe[Decimal] | None = None
    """How far its body reaches behind the mounting plane, inches; None: not written, and not judged."""
    pigtail: str = ""
    """The size of the thinner pigtail that feeds it, if one does."""
    leads: tuple[int, str] | None = None
    amperes: int | None = None
    volts: int | None = None
    label: str = ""
    at: Where = _at()


def is_blank_plate(device: Device) -> bool:
    """A blank plate: no yoke with anything on it. A blank with a wire, leads or a body written is a device like any other."""
    plain = (device.size, device.pigtail, device.leads, device.projects) == (UNKNOWN, "", None, None)
    return plain and all(name.split()[-1] == "blank" for name in device.names)


class Module(Record):
    """A control module with no yoke, behind a device."""

    size: Maybe[str] = UNKNOWN
    volume: Decimal | None = None
    count: int = 1
    label: str = ""
    at: Where = _at()


class TerminalBlock(Record):
    size: Maybe[str] = UNKNOWN
    count: int = 1
    at: Where = _at()


class Wires(NamedTuple):
    """So many like conductors. ``role`` says what they are for."""

    count: Maybe[int]  # type: ignore[assignment]  # a tuple's own count() is of no use here
    size: Maybe[str]
    role: Literal["insulated", "ground", "isolated ground"] = "insulated"
    insulation: str = ""
    color: str = ""


class FixtureWires(Record):
    """Wires of a luminaire that end in the box; from a domed canopy the book gives relief, from a flat one it does not."""

    wires: tuple[Wires, ...]
    canopy: Maybe[Literal["", "domed", "flat"]] = ""
    at: Where = _at()


class Leads(Record):
    """Leads of equipment mounted outside the box or serving as its cover."""

    wires: tuple[Wires, ...]
    label: str = ""
    at: Where = _at()


class Pigtails(Record):
    """Conductors no part of which leaves the box."""

    count: int
    size: str
    ground: bool = False
    at: Where = _at()


class BondingJumper(Record):
    """An equipment bonding jumper that enters the box."""

    size: Maybe[str]
    count: int = 1
    at: Where = _at()


class Uncounted(Record):
    """What takes no room in the count: wire connectors, ground screws, a blank cover. Kept, and said to count for nothing."""

    what: Literal["wire connectors", "ground screw", "blank cover"]
    count: int = 1
    at: Where = _at()


class Carries(Record):
    """What hangs on the box: a luminaire, a fan, small equipment; pounds where known."""

    what: Literal["luminaire", "fan", "equipment"]
    pounds: Decimal | None = None
    at: Where = _at()


class Rated(Record):
    """What the box is listed to carry."""

    what: Literal["luminaire", "fan"]
    pounds: Decimal | None = None
    at: Where = _at()


class Entry(Record):
    """Where a raceway enters a pull box, or that wiring enters the centre of the rear wall or a side wall beside a device."""

    wall: Literal["left", "right", "top", "bottom", "rear", "side"]
    raceway: str = ""
    row: int = 1
    center: Maybe[Decimal] | None = None
    """Of an entry in a side wall: how far its middle lies behind the device's mounting plane, inches."""
    clear: Maybe[Decimal] | None = None
    """Of an entry in a side wall: what is left between the device and the wall of the box, inches."""
    at: Where = _at()


Item = (
    Base | Part | Barrier | SpaceShare | Mounting | Clamps | Fitting | Device | Module | TerminalBlock
    | FixtureWires | Leads | Pigtails | BondingJumper | Uncounted | Carries | Rated | Entry
)  # fmt: skip
"""One line under a box."""


# ---- places --------------------------------------------------------------------------------------------------------


class Kind(Record):
    """A kind of box used again and again: what it is, said once."""

    name: str
    items: tuple[Item, ...] = ()
    description: str = ""
    at: Where = _at()


class Box(Record):
    """A box at a place. ``kind`` UNKNOWN: which box goes here is still to be chosen."""

    name: str
    description: str = ""
    kind: Maybe[str] = ""
    items: tuple[Item, ...] = ()
    at: Where = _at()


class Panel(Record):
    name: str
    volts: tuple[int, ...] = ()
    phases: int | None = None
    main: int | None = None
    bus: int | None = None
    terminals: int | None = None
    description: str = ""
    at: Where = _at()


class Equipment(Record):
    """Something a run ends in that is no box of ours: a kiln, a water heater, a luminaire with its own wiring space."""

    name: str
    description: str = ""
    at: Where = _at()


# ---- what joins them -----------------------------------------------------------------------------------------------


class Stop(Record):
    """A place where a run's conductors end. An unknown name: the far end was not found."""

    name: Maybe[str]
    space: str = ""
    at: Where = _at()


class Through(Record):
    """A place a run's conductors pass unbroken: straight, with slack of a length, or landed on a terminal on the way."""

    name: str
    space: str = ""
    slack: Literal["straight", "loop", "landed"] = "straight"
    loop: Maybe[Decimal] | None = None
    """The loop's whole length, inches; None: slack, not measured."""
    at: Where = _at()


class Cable(NamedTuple):
    """A cable by its trade name: ``12/2 nm-b``. ``ground`` is what the sheet says of it, None where it says nothing."""

    kind: str
    size: Maybe[str]
    of: str
    ground: Maybe[str] | None = None
    """A size, ``none``, or UNKNOWN."""

    @property
    def name(self) -> str:
        return f"{self.size}/{self.of} {self.kind}"


class RunRaceway(Record):
    """A raceway a run lies in: by its ``name``, or by its kind and trade size where it has none (``in emt 3/4``)."""

    name: str = ""
    kind: str = ""
    size: Maybe[str] = ""
    at: Where = _at()


class RunRoute(Record):
    """A route a run goes along, by its name."""

    name: str
    at: Where = _at()


class Run(Record):
    """Conductors from stop to stop: a cable, or wires pulled in raceways. Length in feet."""

    stops: tuple[Stop, ...]
    through: tuple[Through, ...] = ()
    count: Maybe[int] = 1
    cable: Cable | None = None
    wires: tuple[Wires, ...] = ()
    """Wires pulled singly; beside a cable, what the sheet adds to it (an isolated ground)."""
    length: Maybe[Decimal] | None = None
    circuit: str = ""
    raceways: tuple[RunRaceway, ...] = ()
    """The raceways it lies in, in order from its first stop; each once."""
    routes: tuple[RunRoute, ...] = ()
    """The routes it goes along, in order."""
    in_insulation: bool = False
    low_voltage: bool = False
    material: Literal["copper", "aluminum"] = "copper"
    existing: bool = False
    """It was there before: nothing to buy."""
    label: str = ""
    kind_assumed: bool = False
    """Neither the run nor the job says which kind of cable: it is taken as ``USUAL_KIND``, and the answer says so."""
    at: Where = _at()

    @once
    def place_names(self) -> tuple[Maybe[str], ...]:
        """The names of all places where it ends, then of those it passes."""
        return tuple([place.name for place in (*self.stops, *self.through)])

    @once
    def stop_numbers(self) -> dict[str, int]:
        """For every place where it ends, the number of its first stop there, from 0; an unknown end is ``"?"``."""
        numbers: dict[str, int] = {}
        for number, stop in enumerate(self.stops):
            numbers.setdefault("?" if stop.name is UNKNOWN else stop.name, number)
        return numbers

    @once
    def stop_numbers_by_identity(self) -> dict[int, int]:
        """For every stop itself, as ``id(stop)``, its number from 0: a run may stop twice at one place."""
        return {id(stop): number for number, stop in enumerate(self.stops)}


USUAL_KIND = "nm-b"
"""The cable meant where nobody says which. Common practice, no source."""
PANEL_END = "?panel"
"""The far end of a home run while it is read: the job's panel."""


class Raceway(Record):
    name: str
    ends: tuple[str, str]
    kind: str
    size: Maybe[str]
    length: Maybe[Decimal] | None = None
    bends: tuple[int, ...] = ()
    """Degrees of each bend."""
    at: Where = _at()


class Route(Record):
    """A stretch of building several runs share: what it does to their heat. Ambient in degrees C, length in feet."""

    name: str
    length: Decimal | None = None
    ambient: Decimal | None = None
    in_insulation: bool = False
    sealed: bool = False
    rooftop: Decimal | None = None
    description: str = ""
    at: Where = _at()


class Circuit(Record):
    name: str
    amperes: Maybe[int] | None = None
    volts: int | None = None
    load: Maybe[Decimal] | None = None
    """VA."""
    continuous: bool = False
    panel: str = ""
    label: str = ""
    at: Where = _at()


class Dwelling(Record):
    area: Decimal
    """Square feet."""
    description: str = ""
    at: Where = _at()


class Load(Record):
    """A load for the service calculation, VA."""

    kind: str
    va: Decimal
    count: int = 1
    circuit: str = ""
    label: str = ""
    at: Where = _at()


class ReadingChoice(Record):
    name: str
    choice: str
    at: Where = _at()


class Note(Record):
    text: str
    at: Where = _at()


class Job(Record):
    """A whole job. ``sheet`` is the text it was read from, kept so that an edit touches only its own line."""

    title: str = ""
    address: str = ""
    permit: str = ""
    contractor: str = ""
    phase: Literal["", "rough-in", "final"] = ""
    """Which inspection the paper is for."""
    edition: int | None = None
    amendments: Amendments | None = None
    amendments_file: str = ""
    usual_cable: str = ""
    """The kind of cable meant where a run names none."""
    readings: tuple[ReadingChoice, ...] = ()
    notes: tuple[Note, ...] = ()
    dwelling: Dwelling | None = None
    kinds: tuple[Kind, ...] = ()
    boxes: tuple[Box, ...] = ()
    panels: tuple[Panel, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    raceways: tuple[Raceway, ...] = ()
    routes: tuple[Route, ...] = ()
    loads: tuple[Load, ...] = ()
    runs: tuple[Run, ...] = ()
    sheet: Sheet | None = aside(None)

    @property
    def file(self) -> str:
        return self.sheet.file if self.sheet else ""

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was taken as meant though the sheet does not say it, and what is written but counts for nothing."""
        from ampleroom.job.assumptions import assumptions_of

        return assumptions_of(self)

    @once
    def graph(self) -> Graph:
        """Who meets whom on the job: built once and kept with it."""
        from ampleroom.job.graph import Graph

        return Graph(self)

    def graph_at(self, place: str) -> Graph:
        """Who meets whom at one place, by its name as it is written: of a graph already built all, else only what concerns it.

        After a tap in a large job one box is asked for, and its runs are a few of thousands.
        """
        from ampleroom.job.graph import Graph

        built: Graph | None = getattr(self, "kept_graph", None)
        return built or Graph(self, tuple([run for run in self.runs if place in run.place_names]))

    def items(self, box: Box) -> tuple[Item, ...]:
        """The lines that describe a box: those of its kind, then its own."""
        if not box.kind or box.kind is UNKNOWN:
            return box.items
        return self._items_of_kinds.get(box.kind, ()) + box.items

    @once
    def _items_of_kinds(self) -> dict[str, tuple[Item, ...]]:
        """The lines of every kind by its name; of two of one name the first."""
        return {kind.name: kind.items for kind in reversed(self.kinds)}

    def box(self, name: str) -> Box:
        """The box of that name, upper and lower case alike."""
        from ampleroom.errors import NameUnknown

        box = self.box_or_none(name)
        if box is not None:
            return box
        raise NameUnknown("box", name, (box.name for box in self.boxes))

    def box_or_none(self, name: str) -> Box | None:
        """The box of that name, upper and lower case alike; None where there is none."""
        return self._boxes.get(name.casefold())

    def twice(self) -> tuple[str, ...]:
        """Names that more than one place has: in a sheet half written, for a finished one has none."""
        if len(self.place_names) == len(self.boxes) + len(self.panels) + len(self.equipment):
            return ()
        names: dict[str, list[str]] = {}
        for place in self.places():
            names.setdefault(place.name.casefold(), []).append(place.name)
        return tuple(same[0] for same in names.values() if len(same) > 1)

    @once
    def _boxes(self) -> dict[str, Box]:
        """Every box by its name in lower case; of two of one name the first."""
        return {box.name.casefold(): box for box in reversed(self.boxes)}

    @once
    def place_names(self) -> frozenset[str]:
        """The names of all places, in lower case."""
        return frozenset([place.name.casefold() for place in self.places()])

    @once
    def box_names(self) -> frozenset[str]:
        """The names of all boxes as they are written."""
        return frozenset([box.name for box in self.boxes])

    def places(self) -> Iterator[Box | Panel | Equipment]:
        yield from self.boxes
        yield from self.panels
        yield from self.equipment
