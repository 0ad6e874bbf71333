"""What one space holds: a box, or one side of a barrier in it, with every fact settled one way or another.

The rules weigh a ``Space``. Facts nobody knows were taken by an ``Outlook``, at their best or at their worst.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from ampleroom.editions import CodeBook
from ampleroom.job.cables import conductors_of, makeup, sizes_of
from ampleroom.job.model import (
    Barrier,
    Base,
    BondingJumper,
    Box,
    Carries,
    Clamps,
    Device,
    Entry,
    Fitting,
    FixtureWires,
    Item,
    Job,
    Leads,
    Module,
    Mounting,
    Part,
    Pigtails,
    Rated,
    Run,
    SpaceShare,
    Stop,
    TerminalBlock,
    Through,
    Wires,
)
from ampleroom.job.trade import RANK, SIZES, size_text
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import replace
from ampleroom.rules.outlook import Outlook, Question
from ampleroom.where import Where

How = Literal["ends", "passes", "looped"]
Count = Decimal
"""How many; ``NO_LIMIT`` where nobody counted them."""


@lru_cache(maxsize=256)
def exactly(count: int) -> Count:
    return Decimal(count)


class Entering(NamedTuple):
    """Like conductors of one run that come into the space, and what becomes of them there."""

    count: Count  # type: ignore[assignment]  # a tuple's own count() is of no use here
    size: str
    role: Literal["insulated", "ground", "isolated ground"]
    how: How
    run: Run
    low_voltage: bool = False
    readings: tuple[str, ...] = ()
    """The disputed points that decide whether its slack counts twice."""
    confidence: str = "two sources"
    lands: bool = True
    """Whether it may be connected to a device here: it ends, or passes with slack."""
    insulation: str = ""
    """As written; of a ground in a conduit body ``bare`` or ``thickest``, as settled."""


class Ring(NamedTuple):
    """A ring or cover, settled: its marked room, or the standard size it has unmarked."""

    part: Part
    room: Decimal | None


class SettledDevice(NamedTuple):
    device: Device
    size: str
    why_size: str
    gangs: int
    width: Decimal | None
    thickest: str
    """The largest conductor on it, whether or not a pigtail decides by which size it counts."""


class Sized(NamedTuple):
    """A module or a terminal block with the size of its largest conductor."""

    item: Module | TerminalBlock
    size: str


class Loose(NamedTuple):
    """Fixture wires, leads, jumpers: conductors written under the box and not by a run."""

    count: Count  # type: ignore[assignment]
    size: str
    role: Literal["insulated", "ground", "isolated ground"]
    canopy: str = ""
    label: str = ""
    is_lead: bool = False
    """Of equipment outside the box or serving as its cover."""


class Space(NamedTuple):
    """One volume that is judged alone. ``subject`` is its name: ``J1``, ``J1/left``."""

    box: Box
    subject: str
    base: Base | None
    base_room: Decimal
    """Marked, measured or standard room of one box as settled; NO_LIMIT or 0 where nobody knows it."""
    base_size: str
    """The trade size as settled, where the box is a standard one."""
    share: SpaceShare | None
    all_shares: tuple[SpaceShare, ...]
    entering: tuple[Entering, ...]
    clamps: Clamps | None
    """None: no cable comes in, so nothing needs a clamp."""
    clamps_written: bool
    rings: tuple[Ring, ...] = ()
    barriers: tuple[Barrier, ...] = ()
    fixture_wires: tuple[Loose, ...] = ()
    leads: tuple[Loose, ...] = ()
    jumpers: tuple[Loose, ...] = ()
    pigtails: tuple[Pigtails, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    devices: tuple[SettledDevice, ...] = ()
    modules: tuple[Sized, ...] = ()
    blocks: tuple[Sized, ...] = ()
    mounting: Mounting | None = None
    carries: tuple[Carries, ...] = ()
    rated: tuple[Rated, ...] = ()
    rear_entry: bool = False

    @property
    def largest(self) -> str | None:
        """The thickest conductor in the space: entering, passing, grounds, fixture wires, pigtails, what is on a device;
        None: there is none."""
        sizes = [entering.size for entering in self.entering]
        for group in (self.fixture_wires, self.leads, self.jumpers, self.pigtails):
            if group:
                sizes += [conductors.size for conductors in group]
        for settled in self.devices:
            sizes += [settled.thickest, settled.device.leads[1]] if settled.device.leads else [settled.thickest]
        for sized in (*self.modules, *self.blocks):
            sizes.append(sized.size)
        return largest(sizes)

    @property
    def is_conduit_body(self) -> bool:
        return self.base is not None and self.base.form == "conduit body"


# ---- what comes into each box --------------------------------------------------------------------------------------

Meeting = tuple[Run, Stop | Through]


def meetings_by_place(job: Job) -> dict[str, list[Meeting]]:
    """For every place the runs that end there or pass it, in the order of the sheet."""
    found: dict[str, list[Meeting]] = {}
    for run in job.runs:
        last = len(run.stops) - 1
        for number, stop in enumerate(run.stops):
            if stop.name is not UNKNOWN:
                found.setdefault(stop.name, []).append((run, stop))
                if 0 < number < last:  # a run that goes on from here ends here twice
                    found[stop.name].append((run, stop))
        for passed in run.through:
            found.setdefault(passed.name, []).append((run, passed))
    return found


def run_name(run: Run, here: str) -> str:
    """``12/2 nm-b from P``, as a worksheet names it from one of its places."""
    if run.cable is not None:
        what = run.cable.name
    else:
        what = ", ".join(f"{wires.count} x {size_text(wires.size)}" for wires in run.wires)
    return f"{what} {direction(run.stops, here)}"


def direction(stops: tuple[Stop, ...], here: str) -> str:
    """``from P``, ``to J2``, or where it passes on: seen from one of a run's places."""
    names = ["?" if stop.name is UNKNOWN else stop.name for stop in stops]
    if here not in names:
        return "passing on " + " > ".join(names)
    at = names.index(here)
    word, far = ("to", names[at + 1]) if at == 0 else ("from", names[at - 1])
    return "whose far end is not known" if far == "?" else f"{word} {far}"


# ---- putting a space together --------------------------------------------------------------------------------------


class SpaceBuilder:
    """Puts the spaces of one box together under one outlook."""

    def __init__(
        self, box: Box, items: tuple[Item, ...], meetings: Iterable[Meeting], book: CodeBook, outlook: Outlook
    ) -> None:
        self.box = box
        self.items = items
        self.meetings = meetings
        self.book = book
        self.outlook = outlook
        self.is_body = any(isinstance(item, Base) and item.form == "conduit body" for item in items)

    def spaces(self) -> list[Space]:
        """One space, or one for each side of the box's barriers."""
        shares = tuple(item for item in self.items if isinstance(item, SpaceShare))
        if not shares:
            return [self.space(None, self.items, shares)]
        inside: dict[str, list[Item]] = {share.name: [] for share in shares}
        common: list[Item] = []
        current = common
        for item in self.items:
            if isinstance(item, SpaceShare):
                current = inside[item.name]
            elif isinstance(item, Base | Part | Barrier | Mounting):
                common.append(item)
            else:
                current.append(item)
        return [self.space(share, (*common, *inside[share.name]), shares) for share in shares]

    def space(self, share: SpaceShare | None, items: tuple[Item, ...], shares: tuple[SpaceShare, ...]) -> Space:
        groups: dict[type, list[Any]] = {}
        for item in items:
            groups.setdefault(type(item), []).append(item)
        side = share.name if share else ""
        base: Base | None = groups[Base][0] if Base in groups else None
        base_room, base_size = self.base_room(base)
        entering = tuple(self.entering(side))
        clamps: Clamps | None = groups[Clamps][0] if Clamps in groups else None
        settled = {
            field: settle(self, group, entering)
            for kind, group in groups.items()
            for field, settle in SETTLED.get(kind, {}).items()
        }
        return Space(
            self.box,
            f"{self.box.name}/{side}" if side else self.box.name,
            base,
            base_room,
            base_size,
            share,
            shares,
            entering,
            self.clamps(clamps, entering, base),
            clamps is not None and clamps.way is not UNKNOWN,
            **settled,
        )

    # ---- room ------------------------------------------------------------------------------------------------------

    def base_room(self, base: Base | None) -> tuple[Decimal, str]:
        name = self.box.name
        if base is None:
            what = f"which box {name} is, or the volume marked in it"
            return self.outlook.take(Question(what, self.box.at), NO_LIMIT, Decimal(0)), ""
        if base.form == "unmarked":
            what = f"the volume of {name}: no marking was found, so ask the authority or put in a box that is marked"
            return self.outlook.take(Question(what, base.at), NO_LIMIT, Decimal(0)), ""
        if base.form == "standard":
            return self.standard_room(base)
        if base.volume is UNKNOWN:
            return self.marking(base), ""
        if base.form == "measured" and base.volume is None:
            return self.measured_room(base), ""
        return base.volume if base.volume is not None else Decimal(0), ""

    def marking(self, base: Base, why: str = "") -> Decimal:
        """The volume nobody has read."""
        return self.outlook.take(Question(f"the volume marked in {self.box.name}{why}", base.at), NO_LIMIT, Decimal(0))

    def measured_room(self, base: Base) -> Decimal:
        """Length times width times depth, where that may be credited."""
        room = base.inside[0] * base.inside[1] * base.inside[2]
        if base.material == "plastic":
            return self.marking(base, ONLY_MARKED)
        if room <= self.book["box_room.measured"]["larger_than"]:
            return self.marking(base, ": measured inside, a box this small is not credited")
        return room

    def standard_room(self, base: Base) -> tuple[Decimal, str]:
        room, size = self.table_room(base)
        if base.volume is UNKNOWN:
            return self.marking(base), size
        if base.volume is None and base.material == "plastic":
            return self.marking(base, ONLY_MARKED), size
        return room, size

    def table_room(self, base: Base) -> tuple[Decimal, str]:
        """What the table gives a trade size, and that size."""
        if base.size is not UNKNOWN:
            row = self.book.standard_box(base.shape, base.size)
            assert row is not None  # the reader takes only sizes the table has
            return row["volume"], base.size
        rows = [row for row in self.book["box_room.standard"]["rows"] if row["shape"] == base.shape]
        rows = [row for row in rows if not base.face or row["size"].rpartition(" x ")[0] == base.face]
        rows.sort(key=lambda row: row["volume"])
        name = self.box.name
        what = (
            f"how deep {name} is: {base.shape} {base.face}"
            if base.face
            else f"which cover {name} has, single or multiple"
        )
        question = Question(what, base.at)
        row = self.outlook.take(question, rows[-1], rows[0])
        return row["volume"], row["size"]

    def ring_room(self, part: Part) -> Decimal | None:
        if part.volume is UNKNOWN:
            question = Question(f"the volume marked in the {part.kind} of {self.box.name}", part.at)
            return self.outlook.take(question, NO_LIMIT, Decimal(0))
        return part.volume

    # ---- conductors ------------------------------------------------------------------------------------------------

    def entering(self, side: str) -> Iterator[Entering]:
        for run, met in self.meetings:
            if met.space != side:
                continue
            how, readings = self.becomes(met)
            lands = isinstance(met, Stop) or met.slack != "straight"
            times = self.count(
                run.count, f"how many {run.cable.name if run.cable else 'wires'} there are alike", run.at, 1
            )
            confidence = "two sources"
            if run.cable is not None and (inside := makeup(run.cable)) is not None:
                confidence = inside.confidence
            for wires in self.conductors(run):
                ground_may_be_missing = wires.role == "ground" and wires.count is UNKNOWN and run.cable is not None
                size = self.size(wires.size, run)
                if ground_may_be_missing:
                    question = Question(f"whether {run_name(run, self.box.name)} has a ground, and its size", run.at)
                    count = self.outlook.take(question, exactly(0), exactly(1))
                else:
                    count = self.count(wires.count, f"how many {size_text(wires.size)} come in", run.at, 0)
                if count:
                    yield Entering(
                        count * times if times is not ONE else count,
                        size,
                        wires.role,
                        how,
                        run,
                        run.low_voltage,
                        readings,
                        confidence,
                        lands,
                        self.insulation(wires, run),
                    )

    def conductors(self, run: Run) -> tuple[Wires, ...]:
        """Every conductor of one run; of a cable of unknown size, what is in one of the size it is taken for."""
        if run.cable is not None and run.cable.size is UNKNOWN:
            settled = run.cable._replace(size=self.size(UNKNOWN, run))
            if makeup(settled) is not None:
                return conductors_of(replace(run, cable=settled))
        return conductors_of(run)

    def insulation(self, wires: Wires, run: Run) -> str:
        """How a conductor is insulated. In a conduit body, where its thickness counts, a ground may be bare or not."""
        if wires.role != "ground" or wires.insulation or not self.is_body:
            return wires.insulation
        if wires.color == "bare":
            return "bare"
        question = Question(f"whether the ground of {run_name(run, self.box.name)} is bare, or its insulation", run.at)
        return self.outlook.take(question, "bare", "thickest")

    def becomes(self, met: Stop | Through) -> tuple[How, tuple[str, ...]]:
        """Whether conductors end here, pass, or loop long enough to count twice; and the readings that decided it."""
        if isinstance(met, Stop):
            return "ends", ()
        if met.slack == "straight":
            return "passes", ()
        if met.slack == "landed" or met.loop is None:
            return ("looped" if self.book.reading("unmeasured-loop") == "twice" else "passes"), ("unmeasured-loop",)
        if met.loop is UNKNOWN:
            question = Question(f"how long the loop is that passes {self.box.name}", met.at)
            return self.outlook.take(question, "passes", "looped"), ()
        twelve, by_depth = self.long_loops()
        least = by_depth if self.book.reading("loop-threshold") == "by-depth" else twelve
        disputed = twelve <= met.loop < by_depth
        return ("looped" if met.loop >= least else "passes"), (("loop-threshold",) if disputed else ())

    def long_loops(self) -> tuple[Decimal, Decimal]:
        """From how many inches on a loop counts twice: by the free length alone, and where the depth is reckoned in."""
        least = self.book["reminders.free_conductor"]
        times = int(self.book["box_fill.conductors"]["loop_times"])
        length = Decimal(least["length"])
        depth = self.depth_under_a_small_opening()
        deep = length if depth is None else max(length, depth + least["outside"])
        return length * times, deep * times

    def depth_under_a_small_opening(self) -> Decimal | None:
        """Inside depth, inches; None where it is not known, or where the opening is so large that a hand goes in."""
        base = next((item for item in self.items if isinstance(item, Base)), None)
        under = self.book["reminders.free_conductor"]["opening_under"]
        if base is not None and base.inside and min(base.inside[:2]) >= under:
            return None
        return depth_of(
            base, str(base.size) if base else "", [item for item in self.items if isinstance(item, Part)], self.book
        )

    def count(self, count: Maybe[int], what: str, at: Where, least: int) -> Count:
        if count is UNKNOWN:
            return self.outlook.take(Question(what, at), exactly(least), NO_LIMIT)
        return ONE if count == 1 else exactly(count)

    def size(self, size: Maybe[str], run: Run) -> str:
        if size is not UNKNOWN:
            return size
        if run.cable is not None and run.cable.size is UNKNOWN:
            possible = sizes_of(run.cable)
            counted = [size for size in possible if size in self.book["box_fill.conductor_room"]["rows"]] or possible
            question = Question(f"the size of {run_name(run, self.box.name)}", run.at)
            return self.outlook.take(question, possible[0], counted[-1])
        return self.any_size(Question(f"the size of {run_name(run, self.box.name)}", run.at))

    def any_size(self, question: Question) -> str:
        """Anything the allowance table has a row for."""
        sizes: list[str] = sorted(self.book["box_fill.conductor_room"]["rows"], key=RANK.__getitem__)
        return self.outlook.take(question, sizes[0], sizes[-1])

    def loose(
        self, groups: tuple[Wires, ...], at: Where, canopy: str = "", label: str = "", *, is_lead: bool = False
    ) -> Iterator[Loose]:
        for wires in groups:
            size = wires.size
            if size is UNKNOWN:
                size = self.any_size(Question(f"the size of the wires on line {at.line}", at))
            count = self.count(wires.count, f"how many {size_text(wires.size)} there are", at, 0)
            yield Loose(count, size, wires.role, canopy, label, is_lead)

    def fixture_wires(self, fixture: FixtureWires) -> Iterator[Loose]:
        canopy: str
        if fixture.canopy is UNKNOWN:
            question = Question(f"whether the canopy over {self.box.name} is domed", fixture.at)
            canopy = self.outlook.take(question, "domed", "flat")
        else:
            canopy = fixture.canopy
        return self.loose(fixture.wires, fixture.at, canopy)

    def all_loose(self, items: list[FixtureWires] | list[Leads]) -> Iterator[Loose]:
        for item in items:
            if isinstance(item, FixtureWires):
                yield from self.fixture_wires(item)
            else:
                yield from self.loose(item.wires, item.at, label=item.label, is_lead=True)

    def jumper(self, jumper: BondingJumper) -> Loose:
        return next(self.loose((Wires(jumper.count, jumper.size, "ground"),), jumper.at))

    # ---- what is in it ---------------------------------------------------------------------------------------------

    def clamps(self, written: Clamps | None, entering: tuple[Entering, ...], base: Base | None) -> Clamps | None:
        if written is not None and written.way is not UNKNOWN:
            return written
        if written is None:
            has_cable = any(met.run.cable is not None for met in entering)
            if not has_cable or (base is not None and base.form == "conduit body"):
                return None
        at = written.at if written is not None else self.box.at
        way = self.outlook.take(Question(f"whether cables are clamped inside {self.box.name}", at), "outside", "inside")
        return Clamps(way, at=at)

    def sized(self, item: Module | TerminalBlock, what: str, entering: tuple[Entering, ...]) -> Sized:
        return Sized(item, self.connected(item.size, item.at, what, entering)[0])

    def device(self, device: Device, entering: tuple[Entering, ...]) -> SettledDevice:
        name = " + ".join(device.names)
        size, why = self.connected(device.size, device.at, f"the {name}", entering)
        thickest = size
        if device.pigtail:
            if self.book.reading("pigtailed-device") == "pigtail-size":
                size, why = device.pigtail, f"by the {size_text(device.pigtail)} pigtail that lands on it"
            else:
                why = f"by the {size_text(size)} splice that feeds its {size_text(device.pigtail)} pigtail"
        return SettledDevice(device, size, why, self.gangs(device, name), self.width(device, name), thickest)

    def gangs(self, device: Device, name: str) -> int:
        if device.gangs is not UNKNOWN:
            return device.gangs
        return self.outlook.take(Question(f"how many gangs the {name} needs", device.at), *POSSIBLE_GANGS)

    def width(self, device: Device, name: str) -> Decimal | None:
        if device.width is not UNKNOWN:
            return device.width
        limit = Decimal(self.book["box_fill.devices"]["single_gang_in"])
        return self.outlook.take(Question(f"how wide the {name} is", device.at), limit, limit + 1)

    def connected(self, size: Maybe[str], at: Where, what: str, entering: tuple[Entering, ...]) -> tuple[str, str]:
        """The largest conductor connected to a device, and how that is known: as written, or from what ends here."""
        if size is not UNKNOWN:
            return size, f"by {size_text(size)}, the largest conductor on it"
        landing = landing_sizes(entering)
        if len(landing) == 1:
            only = next(iter(landing))
            return only, f"by {size_text(only)}, as all that ends here is {size_text(only)}"
        question = Question(f"the largest conductor on {what} in {self.box.name}", at, 1)
        if not landing:
            return self.any_size(question), "by a size nobody gave"
        ordered = sorted(landing, key=RANK.__getitem__)
        found = self.outlook.take(question, ordered[0], ordered[-1])
        return found, f"by {size_text(found)}, one of the sizes that end here"


def landing_sizes(entering: tuple[Entering, ...]) -> set[str]:
    """The sizes the largest conductor on a device may have. A ground thinner than all that is insulated is never it."""
    landing = [met for met in entering if met.lands and not met.low_voltage]
    insulated = {met.size for met in landing if met.role == "insulated"}
    thinnest = min((RANK[size] for size in insulated), default=-1)
    return insulated | {met.size for met in landing if RANK[met.size] > thinnest}


Settle = Callable[[SpaceBuilder, list[Any], tuple[Entering, ...]], Any]


def as_written(builder: SpaceBuilder, group: list[Any], entering: tuple[Entering, ...]) -> tuple[Any, ...]:
    return tuple(group)


SETTLED: dict[type, dict[str, Settle]] = {
    Part: {"rings": lambda builder, group, _: tuple([Ring(part, builder.ring_room(part)) for part in group])},
    Barrier: {"barriers": as_written},
    FixtureWires: {"fixture_wires": lambda builder, group, _: tuple(builder.all_loose(group))},
    Leads: {"leads": lambda builder, group, _: tuple(builder.all_loose(group))},
    BondingJumper: {"jumpers": lambda builder, group, _: tuple([builder.jumper(jumper) for jumper in group])},
    Pigtails: {"pigtails": as_written},
    Fitting: {"fittings": as_written},
    Device: {"devices": lambda builder, group, met: tuple([builder.device(device, met) for device in group])},
    Module: {"modules": lambda builder, group, met: tuple([builder.sized(item, "the module", met) for item in group])},
    TerminalBlock: {
        "blocks": lambda builder, group, met: tuple([builder.sized(item, "the block", met) for item in group])
    },
    Mounting: {"mounting": lambda builder, group, _: group[0]},
    Carries: {"carries": as_written},
    Rated: {"rated": as_written},
    Entry: {"rear_entry": lambda builder, group, _: any(entry.wall == "rear" and not entry.raceway for entry in group)},
}
"""How each kind of line under a box becomes a field of its space."""

ONE = exactly(1)
ONLY_MARKED = ": a nonmetallic box counts by its marking alone"
POSSIBLE_GANGS: tuple[int, int] = (1, 2)
"""A device of unknown width needs one gang at best and two at worst; wider ones are written as such."""


def depth_of(base: Base | None, size: str, parts: Iterable[Part], book: CodeBook) -> Decimal | None:
    """Inside depth with its rings and covers, inches; None where the box's own is not known."""
    if base is None:
        return None
    own: Decimal | None = None
    if base.depth is not None and base.depth is not UNKNOWN:
        own = base.depth
    elif base.form == "standard":
        own = standard_depth(base.shape, size, book)
    if own is None:
        return None
    for part in parts:
        own += part.depth if part.depth is not None else standard_depth(part.shape, part.size, book) or 0
    return own


def standard_depth(shape: str, size: str, book: CodeBook) -> Decimal | None:
    row = book.standard_box(shape, size)
    return Decimal(row["depth"]) if row else None


def largest(sizes: Iterable[str]) -> str | None:
    """The thickest of some sizes."""
    return max(sizes, key=RANK.__getitem__, default=None)


__all__ = [
    "NO_LIMIT",
    "SIZES",
    "Entering",
    "Loose",
    "Meeting",
    "Ring",
    "SettledDevice",
    "Space",
    "SpaceBuilder",
    "depth_of",
    "largest",
    "meetings_by_place",
]
