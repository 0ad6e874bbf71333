"""Random jobs that a sheet can hold: every form of box, everything that may be in one, every kind of run.

``jobs()`` builds jobs in which everything that counts is known, for the naive second reading; ``jobs(unknowns=True)``
also leaves out facts of every kind; ``jobs(extras=True)`` adds the lines that no count needs. Each is a job that
``read_job(write_job(job))`` gives back. All choices are made by the bytes of a few draws, eight times as fast as a draw
for each; what fails still shrinks, line by line and to the first of every list of options.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any, TypeVar

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from ampleroom.editions import OFFERED, READINGS
from ampleroom.job.cables import makeup
from ampleroom.job.model import (
    USUAL_KIND,
    Apart,
    Barrier,
    Base,
    BondingJumper,
    Box,
    Cable,
    Carries,
    Circuit,
    Clamps,
    Device,
    DistributionBlock,
    Dwelling,
    Electrode,
    Entry,
    Equipment,
    Fitting,
    FixtureWires,
    Item,
    Job,
    Kind,
    Leads,
    Load,
    MarkedFor,
    Module,
    Mounting,
    Note,
    Panel,
    Part,
    Pigtails,
    Raceway,
    Rated,
    ReadingChoice,
    Room,
    Route,
    Run,
    RunRaceway,
    RunRoute,
    SpaceShare,
    Stop,
    TerminalBlock,
    Through,
    Uncounted,
    Wires,
    Wireway,
)
from ampleroom.job.passing import with_passed_boxes
from ampleroom.job.trade import COLORS, GROUND_COLORS, INSULATIONS, RANK, ROOMS
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import replace

LONG = int(os.environ.get("AMPLEROOM_LONG", "0"))
"""1: a long run, 50,000 jobs a test, other ones every time; a larger number: so many. The usual run takes few, and
always the same."""


def examples(few: int) -> settings:
    """So many jobs in a usual run."""
    many = 50_000 if LONG == 1 else LONG
    return settings(
        max_examples=many or few, derandomize=not many, deadline=None, suppress_health_check=list(HealthCheck)
    )


T = TypeVar("T")
Place = tuple[str, str]
"""A box, panel or piece of equipment, and the space of it if it has spaces."""


CHUNK = st.binary(min_size=48, max_size=48)


class Dice:
    """The choices of one line of a job, made by the bytes of one draw; past the last, the first option of each.

    A line's bytes are its own, so one that shrinks away leaves the others as they are. ``unknowns``: whether a fact may
    be one that nobody knows.
    """

    def __init__(self, draw: Callable[[st.SearchStrategy[bytes]], bytes], unknowns: bool = False) -> None:
        self.draw = draw
        self.unknowns = unknowns
        self.bytes = iter(draw(CHUNK))

    def line(self) -> Dice:
        """Dice for one line more."""
        return Dice(self.draw, self.unknowns)

    def whole(self, low: int, high: int) -> int:
        options = high - low + 1
        byte = next(self.bytes, 0)
        if options <= 256:
            return low + byte * options // 256
        return low + (byte * 256 + next(self.bytes, 0)) * options // 65536

    def pick(self, options: Sequence[T]) -> T:
        return options[self.whole(0, len(options) - 1)]

    def chance(self, one_in: int) -> bool:
        return self.whole(1, one_in) == one_in

    def some(self, most: int, make: Callable[[Dice], T]) -> list[T]:
        return [make(self.line()) for _ in range(self.whole(0, most))]

    def maybe(self, known: T, may: bool = True) -> Maybe[T]:
        """A fact, or, one time in five where facts may be unknown, that nobody knows it."""
        return UNKNOWN if self.unknowns and may and self.chance(5) else known

    def tenths(self, low: int, high: int) -> Decimal:
        return Decimal(self.whole(low, high)) / 10

    def eighths(self, low: int, high: int) -> Decimal:
        return Decimal(self.whole(low, high)) / 8

    def volume(self) -> Decimal:
        """A marked volume, in3: mostly a quarter, so that many boxes come out exactly full."""
        if self.chance(6):
            return self.pick((Decimal("20.3"), Decimal("0.0001"), Decimal("12.4999")))
        return self.tenths(10, 900) if self.chance(3) else Decimal(self.whole(1, 240)) / 4


EDITIONS: tuple[int, ...] = tuple(OFFERED)

# ---- small things --------------------------------------------------------------------------------------------------

COUNTED = ("14", "12", "10", "8", "6", "16", "18")
ODD = ("20", "22", "24", "4", "3", "1/0", "250")
SIZES = ("14", "12", "10") * 3 + COUNTED * 2 + ODD
THIN = ("18", "16", "16", "14", "20")
WORDS = (
    "sail",
    "loft",
    "at",
    "for",
    "the",
    "long",
    "bench,",
    "#12",
    "x",
    "12/2",
    "2-gang",
    "through",
    "north",
    "rope-walk",
)
COUNTS = (1, 1, 1, 2, 3, 5)
MATERIALS = ("", "metal", "plastic")
STANDARD = {
    "octagon": ("4 x 1-1/4", "4 x 1-1/2", "4 x 2-1/8"),
    "square": ("4 x 1-1/4", "4 x 1-1/2", "4 x 2-1/8", "4-11/16 x 1-1/4", "4-11/16 x 1-1/2", "4-11/16 x 2-1/8"),
    "device": (
        *("3 x 2 x 1-1/2", "3 x 2 x 2", "3 x 2 x 2-1/4", "3 x 2 x 2-1/2", "3 x 2 x 2-3/4", "3 x 2 x 3-1/2"),
        *("4 x 2-1/8 x 1-1/2", "4 x 2-1/8 x 1-7/8", "4 x 2-1/8 x 2-1/8"),
    ),
    "masonry": ("3-3/4 x 2 x 2-1/2", "3-3/4 x 2 x 3-1/2"),
    "fs": ("single cover", "multiple cover"),
    "fd": ("single cover", "multiple cover"),
}
SHAPES = tuple(STANDARD)
FACES = {"octagon": ("4",), "square": ("4", "4-11/16"), "device": ("3 x 2", "4 x 2-1/8"), "masonry": ("3-3/4 x 2",)}


def text(dice: Dice) -> str:
    return " ".join(dice.pick(WORDS) for _ in range(dice.whole(1, 3)))


def label(dice: Dice) -> str:
    return text(dice) if dice.chance(4) else ""


def length(dice: Dice) -> Decimal:
    return dice.eighths(1, 96)


# ---- what a box is -------------------------------------------------------------------------------------------------

FORMS = ("marked", "standard", "standard", "marked", "measured", "unmarked", "conduit body")
BODIES = ("lb", "ll", "lr", "c", "t", "tb", "x", "e", "lf", "capped-elbow", "service-elbow")


def base(dice: Dice) -> Base:
    material: Any = dice.pick(MATERIALS)
    match dice.pick(FORMS):
        case "standard":
            shape = dice.pick(SHAPES)
            size = dice.maybe(dice.pick(STANDARD[shape]))
            face = dice.pick(FACES[shape]) if size is UNKNOWN and shape in FACES else ""
            marked = dice.maybe(dice.volume()) if dice.chance(6) else None
            by_gang = shape in ("masonry", "fs", "fd") and dice.chance(2)
            joined, wide = (1, dice.whole(1, 4)) if by_gang else (ganged(dice), None)
            return Base("standard", shape, size, face, marked, (), joined, wide, None, material)
        case "marked":
            depth = dice.maybe(length(dice)) if dice.chance(3) else None
            marked = dice.maybe(dice.volume())
            return Base("marked", "", "", "", marked, (), ganged(dice), gangs(dice), depth, material)
        case "measured":
            sides = (length(dice), length(dice), length(dice))
            volume = dice.maybe(dice.volume()) if dice.chance(6) else None
            return Base("measured", volume=volume, inside=sides, depth=sides[2], material=material)
        case "unmarked":
            return Base("unmarked", gangs=gangs(dice), material=material)
        case _:
            shape = dice.pick(BODIES)
            return Base(
                "conduit body",
                shape,
                volume=dice.maybe(dice.volume()) if dice.chance(2) else None,
                raceway=dice.pick(("", "emt", "rmc")),
                trade_size=dice.pick(("1/2", "3/4", "1", "1-1/4", "2")),
                short_radius=shape in ("capped-elbow", "service-elbow") or dice.chance(4),
                area=length(dice) if dice.chance(3) else None,
                material=material,
                **measured(dice),
            )


def measured(dice: Dice) -> dict[str, Any]:
    """The inside measures of a conduit body, which are seldom written."""
    if not dice.chance(4):
        return {}
    sides = (length(dice), length(dice), length(dice))
    return {"inside": sides, "depth": sides[2]}


def marked_for(dice: Dice) -> MarkedFor:
    if dice.chance(4):
        return MarkedFor(dice.maybe(None))
    insulation = dice.pick(("", "thhn", "xhhw"))
    return MarkedFor(Wires(dice.whole(1, 5), dice.pick(("6", "4", "1/0", "4/0")), "insulated", insulation))


def ganged(dice: Dice) -> int:
    return dice.whole(2, 4) if dice.chance(6) else 1


def gangs(dice: Dice) -> int | None:
    return dice.whole(1, 4) if dice.chance(3) else None


PARTS = ("extension ring", "plaster ring", "raised cover", "domed cover")


def part(dice: Dice) -> Part:
    kind = dice.pick(PARTS)
    shape = size = ""
    if kind == "extension ring" and dice.chance(2):
        shape = dice.pick(SHAPES[:4])
        size = dice.pick(STANDARD[shape])
    volume = dice.maybe(dice.volume()) if dice.chance(2) else None
    depth = dice.maybe(length(dice)) if dice.chance(3) else None
    return Part(kind, volume, shape, size, depth, dice.pick(MATERIALS))  # type: ignore[arg-type]


def division(dice: Dice, box: Base | None) -> tuple[list[Barrier], list[SpaceShare]]:
    """Barriers and the spaces they make: shared out by shares, by volumes or by gangs."""
    names = ("left", "right", "top")[: dice.pick((2, 2, 3))]
    number = len(names)
    barriers = [barrier(dice) for _ in range(number - 1)]
    has = (box.gangs or (box.ganged if box.ganged > 1 else None)) if box else None
    match dice.pick(("share", "volume") if has is not None and has < number else ("share", "volume", "gangs")):
        case "gangs":
            first = [dice.whole(1, 1 if has is None else (has - number) // number + 1) for _ in names[1:]]
            each = [*first, dice.whole(1, 4) if has is None else has - sum(first)]
            return barriers, [SpaceShare(name, gangs=n) for name, n in zip(names, each, strict=True)]
        case "share":
            bottom = dice.pick((2, 3, 4, 5, 8, 12)[number - 2 :])
            first = [dice.whole(1, max(1, (bottom - 1) // number)) for _ in names[1:]]
            each = [*first, bottom - sum(first)]
            return barriers, [SpaceShare(name, share=(n, bottom)) for name, n in zip(names, each, strict=True)]
        case _:
            return barriers, [SpaceShare(name, volume=dice.volume()) for name in names]


def barrier(dice: Dice) -> Barrier:
    return Barrier(dice.pick(("metal", "plastic")), dice.tenths(1, 40) if dice.chance(3) else None)


def mounting(dice: Dice) -> Mounting:
    hole = (length(dice), length(dice)) if dice.chance(3) else None
    way: Any = dice.pick(("", "new-work", "old-work", "surface", "masonry"))
    return Mounting(way, length(dice) if dice.chance(3) else None, hole, dice.chance(2), dice.chance(2))


# ---- what is in it -------------------------------------------------------------------------------------------------


def clamps(dice: Dice) -> Clamps:
    way = dice.pick(("inside", "outside", "none", "tabs", "push-in", "assembly"))
    return Clamps("assembly", dice.tenths(1, 40)) if way == "assembly" else Clamps(dice.maybe(way))


DEVICE_NAMES = (
    *("switch", "3-way switch", "dimmer", "duplex receptacle", "gfci receptacle"),
    *("smart switch", "timer", "fan control", "blank", "device", "range receptacle", "locking receptacle"),
)
WIDTHS = (Decimal("1.75"), Decimal(2), Decimal("2.1"), Decimal("4.5"))


def device(dice: Dice) -> Device:
    names = tuple(dice.pick(DEVICE_NAMES) for _ in range(dice.pick((1, 1, 2))))
    size = dice.maybe(dice.pick(SIZES))
    pigtail = ""
    if names == ("blank",) and dice.chance(2):
        return Device(names, UNKNOWN, dice.pick(COUNTS), label=label(dice))  # a plate
    if dice.chance(5):
        pigtail = dice.pick([other for other in COUNTED if size is UNKNOWN or RANK[other] <= RANK[size]] or [str(size)])
    return Device(
        names,
        size,
        dice.pick(COUNTS),
        dice.maybe(dice.whole(1, 3)) if dice.chance(3) else 1,
        dice.maybe(dice.pick(WIDTHS)) if dice.chance(3) else None,
        dice.maybe(length(dice)) if dice.chance(4) else None,
        pigtail,
        (dice.pick(COUNTS), dice.pick(COUNTED)) if dice.chance(4) else None,
        dice.pick((15, 20, 30)) if dice.chance(5) else None,
        dice.pick((120, 240)) if dice.chance(5) else None,
        label(dice),
    )


ROLES = ("insulated", "insulated", "ground", "isolated ground")


def room(dice: Dice) -> Room:
    near: Any = dice.pick(("", "counter", "sink", "tub", "away"))
    return Room(dice.maybe(dice.pick(tuple(ROOMS.values()))), near, dice.chance(3))


def side_entry(dice: Dice) -> Entry:
    center = dice.maybe(length(dice)) if dice.chance(2) else None
    return Entry("side", center=center, clear=dice.maybe(length(dice)) if dice.chance(2) else None)


def wire_groups(dice: Dice, sizes: Sequence[str] = SIZES) -> tuple[Wires, ...]:
    return tuple(wire_group(dice, sizes) for _ in range(dice.whole(1, 3)))


def wire_group(dice: Dice, sizes: Sequence[str]) -> Wires:
    insulation = dice.pick(INSULATIONS) if dice.chance(4) else ""
    color = dice.pick(COLORS) if dice.chance(4) else ""
    role: Any = "ground" if color in GROUND_COLORS else dice.pick(ROLES)
    return Wires(dice.maybe(dice.whole(1, 5)), dice.maybe(dice.pick(sizes)), role, insulation, color)


CONTENTS: dict[str, Callable[[Dice], Item]] = {
    "device": device,
    "one more device": device,
    "fitting": lambda dice: Fitting(dice.pick(("stud", "hickey")), dice.pick(COUNTS)),
    "module": lambda dice: Module(
        dice.maybe(dice.pick(SIZES)), dice.tenths(1, 90) if dice.chance(2) else None, dice.pick(COUNTS), label(dice)
    ),
    "block": lambda dice: TerminalBlock(dice.maybe(dice.pick(SIZES)), dice.pick(COUNTS)),
    "distribution block": lambda dice: DistributionBlock(
        (length(dice), length(dice), length(dice)) if dice.chance(2) else (),
        length(dice) if dice.chance(2) else None,
        dice.pick(COUNTS),
    ),
    "fixture wires": lambda dice: FixtureWires(wire_groups(dice, THIN), dice.maybe(dice.pick(("", "domed", "flat")))),
    "leads": lambda dice: Leads(wire_groups(dice, THIN), label(dice)),
    "pigtails": lambda dice: Pigtails(dice.pick(COUNTS), dice.pick(SIZES), dice.chance(2)),
    "jumper": lambda dice: BondingJumper(dice.maybe(dice.pick(SIZES)), dice.pick(COUNTS)),
    "carries": lambda dice: Carries(dice.pick(("luminaire", "fan", "equipment")), weight(dice)),
    "rated": lambda dice: Rated(dice.pick(("luminaire", "fan")), weight(dice)),
    "uncounted": lambda dice: Uncounted(
        dice.pick(("wire connectors", "ground screw", "blank cover")), dice.pick(COUNTS)
    ),
    "rear entry": lambda dice: Entry("rear"),
    "side entry": side_entry,
    "marking": marked_for,
}
CONTENT_MAKERS = tuple(CONTENTS.values())


def weight(dice: Dice) -> Decimal | None:
    return Decimal(dice.whole(1, 140)) / 2 if dice.chance(2) else None


def content(dice: Dice) -> Item:
    """One line of what is in a box besides clamps."""
    return dice.pick(CONTENT_MAKERS)(dice)


def inside(dice: Dice, most: int = 4, with_clamps: bool = True) -> list[Item]:
    """What is written of one space: its clamps, at most once, and the rest."""
    lines = dice.some(most, content)
    if with_clamps and not (dice.unknowns and dice.chance(4)):
        lines.insert(dice.whole(0, len(lines)), clamps(dice.line()))
    return lines


def room_is_unknown(box: Base | None, items: Sequence[Item]) -> bool:
    """Whether nobody can bound the room: no base, no marking, or a part whose marking nobody read."""
    if box is None or box.volume is UNKNOWN or any(isinstance(item, Part) and item.volume is UNKNOWN for item in items):
        return True
    if box.form == "standard":
        return box.volume is None and (box.size is UNKNOWN or box.material == "plastic")
    if box.form == "measured" and box.volume is None:
        return box.inside[0] * box.inside[1] * box.inside[2] <= 100 or box.material == "plastic"
    return box.form == "unmarked"


def box_items(dice: Dice) -> tuple[Item, ...]:
    """Everything under one box: what it is, how it is divided, what is in it."""
    itself = None if dice.unknowns and dice.chance(10) else base(dice)
    top: list[Item] = [itself] if itself else []
    is_body = itself is not None and itself.form == "conduit body"
    if not is_body and dice.chance(3):
        top += dice.some(2, part)
    if dice.chance(5):
        top.append(mounting(dice.line()))
    if dice.chance(5):
        top.append(room(dice.line()))
    if is_body or not dice.chance(4):
        return (*top, *inside(dice))
    barriers, spaces = division(dice, itself)
    top += barriers
    if dice.chance(3):
        top.append(content(dice.line()))
    for space in spaces:
        top += [space, *inside(dice, 2)]
    return tuple(top)


# ---- runs ----------------------------------------------------------------------------------------------------------

CABLES = ("nm-b", "nm-b", "nm-b", "uf-b", "mc", "ac", "mc-ap", "ser", "old", "?")


CABLE_SIZES = ("14", "14", "12", "12", "10", "8", "6", "4")
LOW_VOLTAGE_SIZES = ("22", "18", "20", "16", "14")


def cable(dice: Dice, sizes: Sequence[str] = CABLE_SIZES) -> Cable:
    kind = dice.pick(CABLES)
    of = dice.pick(("2", "2", "3", "4", "2/2", "3/3", *(("?",) if dice.unknowns else ())))
    size = dice.maybe(dice.pick(sizes))
    ground = dice.maybe(dice.pick(("none", "18", "16", "14", "12", "10"))) if dice.chance(3) else None
    found = Cable(kind, size, of, ground)
    says_too_little = makeup(found) is None or (not dice.unknowns and ground is None and kind in ("old", "?"))
    return found._replace(ground=dice.pick(("none", "16", "10"))) if says_too_little else found


LOOPS = tuple(map(Decimal, ("12", "8.5", "11.99", "12.25", "12.75", "13", "17.5", "30")))


def through(dice: Dice, places: Sequence[Place]) -> Through:
    name, space = dice.pick(places)
    match dice.pick(("straight", "loop", "measured loop", "landed")):
        case "measured loop":
            return Through(name, space, "loop", dice.maybe(dice.pick(LOOPS)))
        case slack:
            return Through(name, space, slack)  # type: ignore[arg-type]


def run(dice: Dice, places: Sequence[Place], job: Job) -> Run:
    """A run along some of these places; every stop differs from the one before, and none is also passed unbroken."""
    ends: list[Place | None] = [*places, None, ("P", "")]
    stops: list[Stop] = []
    for _ in range(dice.pick((2, 2, 2, 3, 4))):
        last = (stops[-1].name, stops[-1].space) if stops else None
        end = dice.pick([end for end in ends if end is None or end != last])
        stops.append(Stop(UNKNOWN) if end is None else Stop(*end))
    rest = [place for place in places if place not in {(stop.name, stop.space) for stop in stops}]
    passed = tuple(dice.some(2, lambda dice: through(dice, rest))) if rest and dice.chance(2) else ()
    low_voltage = dice.chance(7)
    wires: tuple[Wires, ...]
    if dice.chance(2):
        count = dice.maybe(dice.pick(COUNTS))
        found: Cable | None = cable(dice, LOW_VOLTAGE_SIZES if low_voltage else CABLE_SIZES)
        wires = (Wires(1, dice.pick(COUNTED), "isolated ground"),) if dice.chance(6) else ()
    else:
        count, found = 1, None
        wires = wire_groups(dice, LOW_VOLTAGE_SIZES if low_voltage else SIZES)
    feet = dice.maybe(length(dice)) if dice.chance(3) else None
    circuit = dice.pick(job.circuits).name if job.circuits and dice.chance(2) else ""
    load = Decimal(dice.pick(("180", "750.5", "1500"))) if circuit and "+" not in circuit and dice.chance(3) else None
    return Run(
        tuple(stops),
        passed,
        count,
        found,
        wires,
        feet,
        circuit,
        raceways_of_run(dice, job) if dice.chance(2) else (),
        tuple(RunRoute(route.name) for route in dice.some(2, lambda dice: dice.pick(job.routes))) if job.routes else (),
        dice.chance(5),
        low_voltage,
        "aluminum" if dice.chance(6) else "copper",
        dice.chance(5),
        label(dice),
        found is not None and found.kind == USUAL_KIND and not job.usual_cable and dice.chance(2),
        spaced=dice.chance(8),
        sets=2 if dice.chance(3) and may_be_sets(found, count, wires) else 1,
        tap=dice.chance(9),
        load=load,
    )


def may_be_sets(found: Cable | None, count: Maybe[int], wires: tuple[Wires, ...]) -> bool:
    """Whether a run may be two conductors a phase: an even number of cables, or of single conductors."""
    if found is not None:
        return count is not UNKNOWN and count % 2 == 0
    counts = [group.count for group in wires if group.role == "insulated"]
    known = [each for each in counts if each is not UNKNOWN]
    return len(known) == len(counts) and sum(known) % 2 == 0 and sum(known) >= 4


def raceways_of_run(dice: Dice, job: Job) -> tuple[RunRaceway, ...]:
    """Raceways and wireways a run lies in, in some order: each of the job's once, and such as have no name."""
    named = (
        {raceway.name: raceway for raceway in dice.some(2, lambda dice: dice.pick((*job.raceways, *job.wireways)))}
        if job.raceways or job.wireways
        else {}
    )
    unnamed = RunRaceway("", dice.pick(("emt", "rmc")), dice.maybe(dice.pick(("3/4", "1-1/4"))))
    return (*map(RunRaceway, named), *((unnamed,) if dice.chance(4) else ()))


# ---- the whole job -------------------------------------------------------------------------------------------------

NAMES = ("J1", "S1", "W-2", "north_wall", "l0ft", "B.4")
JUDGED = tuple(reading for reading in READINGS.values() if reading.judged)
OPEN = tuple(reading for reading in JUDGED if reading.is_open)


def readings(dice: Dice) -> tuple[ReadingChoice, ...]:
    """Some disputed points, read one way or another."""
    chosen: dict[str, str] = {}
    for _ in range(dice.whole(0, 6)):
        reading = dice.pick(OPEN + OPEN + JUDGED)
        chosen[reading.name] = dice.pick(tuple(reversed(reading.choices)))
    return tuple(ReadingChoice(name, choice) for name, choice in chosen.items())


def places_of(job: Job) -> list[Place]:
    """Every box, or each space of it, that a run may stop in."""
    found: list[Place] = []
    for box in job.boxes:
        spaces = [item.name for item in job.items(box) if isinstance(item, SpaceShare)]
        found += [(box.name, space) for space in spaces] or [(box.name, "")]
    return found


@st.composite
def jobs(
    draw: Callable[[st.SearchStrategy[bytes]], bytes],
    unknowns: bool = False,
    extras: bool = False,
    most_boxes: int = 3,
    most_runs: int = 5,
) -> Job:
    """A random job; see the head of this module."""
    return job_of(Dice(draw, unknowns), extras, most_boxes, most_runs)


def job_of(dice: Dice, extras: bool, most_boxes: int, most_runs: int) -> Job:
    job = Job(edition=dice.pick(EDITIONS), readings=readings(dice), panels=(Panel("P"),))
    if dice.chance(4):
        job = replace(job, kinds=(Kind("usual", box_items(dice.line()), label(dice)),))
    names = NAMES[: dice.whole(1, most_boxes)]
    job = replace(job, boxes=tuple(box(dice.line(), name, job) for name in names))
    if extras:
        job = with_extras(dice.line(), job)
    places = places_of(job)
    runs = dice.some(most_runs, lambda dice: run(dice, places, job))
    return replace(job, runs=tuple([with_passed_boxes(each, job) for each in runs]))


def box(dice: Dice, name: str, job: Job) -> Box:
    if job.kinds and dice.chance(2):
        return Box(name, label(dice), "usual", tuple(inside(dice, 2, with_clamps=False)))
    if dice.unknowns and dice.chance(12):
        return Box(name, label(dice), UNKNOWN, tuple(inside(dice)))
    return Box(name, label(dice), "", box_items(dice))


def amount(dice: Dice) -> Decimal:
    return Decimal(dice.whole(1, 400))


def circuit(dice: Dice) -> Circuit:
    amperes = dice.maybe(dice.pick((15, 20, 30))) if dice.chance(2) else None
    load = dice.maybe(amount(dice)) if dice.chance(2) else None
    rare: dict[str, Any] = {
        "phases": dice.pick((None, 1, 3)),
        "serves": dice.pick(("", "range", "water heater", "dwelling")),
        "horsepower": dice.pick(("", "5", "1/2", "1-1/2")),
        "mca": dice.pick((None, Decimal("22.4"))),
        "mocp": dice.pick((None, 35)),
        "terminals": dice.pick((None, 60, 75)),
        "gfci": dice.pick((None, True, False)),
        "afci": dice.pick((None, True, False)),
        "spaces": dice.pick(((), ("1",), ("2", "4"), ("5a", "7b"), UNKNOWN)),
        "electrodes": dice.pick(((), (Electrode("rod", "6"), Electrode("water", "2", "aluminum")))),
    }
    said = rare if dice.chance(3) else {}
    volts, continuous, on = dice.pick((None, 120, 240)), dice.chance(2), dice.pick(("", "P"))
    return Circuit("", amperes, volts, load=load, continuous=continuous, panel=on, label=label(dice), **said)


def raceway(dice: Dice, ends: Sequence[str]) -> Raceway:
    size = dice.maybe(dice.pick(("1/2", "1-1/4")))
    feet = dice.maybe(length(dice)) if dice.chance(2) else None
    bends = dice.pick(((), (90,), (90, 90), (90, 45, 90), (30,)))
    return Raceway(
        "", (dice.pick(ends), dice.pick(ends)), dice.pick(("emt", "pvc-40")), size, feet, bends, False, dice.chance(6)
    )


def wireway(dice: Dice, ends: Sequence[str]) -> Wireway:
    """A wireway or gutter: two places it joins, one it is at, or none."""
    sides = (dice.maybe(Decimal(dice.pick((4, 6)))), dice.maybe(Decimal(dice.pick((4, 6)))))
    known = [side for side in sides if side is not UNKNOWN]
    return Wireway(
        "",
        dice.pick(("wireway", "gutter")),
        dice.pick(((), (dice.pick(ends),), (dice.pick(ends), dice.pick(ends)))),
        sides,
        dice.maybe(length(dice)) if dice.chance(2) else None,
        dice.maybe(dice.pick((Decimal(0), Decimal("1.5")))) if dice.chance(2) else None,
        dice.pick((None, Decimal(0), *known)),
        (),
        dice.chance(6),
        label(dice),
    )


def route(dice: Dice) -> Route:
    feet = length(dice) if dice.chance(2) else None
    ambient = amount(dice) if dice.chance(2) else None
    above = length(dice) if dice.chance(2) else None
    spaced = dice.pick((None, True, False))
    return Route("", feet, ambient, dice.chance(2), dice.chance(2), above, spaced, label(dice))


def load(dice: Dice) -> Load:
    kind = dice.pick(("range", "sewing table", "capstan motor"))
    return Load(kind, amount(dice), dice.pick(COUNTS), dice.pick(("", "1")), label(dice))


def panel(dice: Dice) -> Panel:
    volts, phases = dice.pick(((), (120, 240), (208,))), dice.pick((None, 1, 3))
    return Panel(
        *("P", volts, phases, dice.pick((None, 100, 200)), dice.pick((None, 125)), dice.pick((None, 60, 75))),
        *(dice.pick((None, 8)), label(dice)),
    )


def entries(dice: Dice, raceways: Sequence[Raceway]) -> list[Item]:
    """The walls some raceways come in by, and how far the first two are apart."""
    lines: list[Item] = [
        Entry(dice.pick(("left", "right", "top", "bottom", "rear")), raceway.name, dice.pick((1, 1, 2)))
        for raceway in raceways
        if dice.chance(3)
    ]
    if len(raceways) > 1 and dice.chance(4):
        lines.append(Apart(raceways[0].name, raceways[1].name, dice.maybe(length(dice))))
    return lines


def named(records: Sequence[Any], prefix: str) -> tuple[Any, ...]:
    return tuple(replace(record, name=f"{prefix}{number}") for number, record in enumerate(records, 1))


def with_extras(dice: Dice, job: Job) -> Job:
    """The lines that no count of room and fill needs."""
    ends = ("P", *(box.name for box in job.boxes))
    raceways = named(dice.some(2, lambda dice: raceway(dice, ends)), "R")
    wireways = dice.some(2, lambda dice: wireway(dice, ends))
    wireways.sort(key=lambda each: each.form == "gutter")  # a workbook has a tab for each form
    return replace(
        job,
        boxes=tuple([replace(box, items=(*box.items, *entries(dice, raceways))) for box in job.boxes]),
        title=label(dice),
        address=label(dice),
        permit=label(dice),
        contractor=label(dice),
        phase=dice.pick(("", "rough-in", "final")),
        usual_cable=dice.pick(("", "mc", "nm-b")),
        cables_together=dice.pick((None, None, 1, 4)),
        notes=tuple(Note(note) for note in dice.some(2, text)),
        dwelling=Dwelling(amount(dice), label(dice)) if dice.chance(2) else None,
        panels=(panel(dice.line()),),
        equipment=(Equipment("E1", label(dice), dice.pick(("", "garage", "living room"))),) if dice.chance(2) else (),
        circuits=named(dice.some(2, circuit), ""),
        raceways=raceways,
        wireways=named(wireways, "W"),
        routes=named(dice.some(2, route), "way"),
        loads=tuple(dice.some(2, load)),
    )
