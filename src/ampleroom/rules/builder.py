"""Putting the spaces of a box together: what is written under it, the runs that meet there, unknown facts as an outlook takes them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from typing import Any

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
    Leads,
    Module,
    Mounting,
    Part,
    Pigtails,
    Raceway,
    Rated,
    Run,
    SpaceShare,
    Stop,
    TerminalBlock,
    Through,
    Wires,
    is_blank_plate,
)
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.quantities import NO_LIMIT, measured_room
from ampleroom.record import replace
from ampleroom.rules.meetings import Meeting, run_name
from ampleroom.rules.outlook import Outlook, Question
from ampleroom.rules.space import (
    Count,
    Entering,
    How,
    Loose,
    Ring,
    SettledDevice,
    Sized,
    Space,
    depth_of,
    exactly,
    is_unmeasured,
)
from ampleroom.where import Where

THINNEST_GROUND = "14"
"""What the least branch circuit has; a thinner one is written as such."""


class SpaceBuilder:
    """Puts the spaces of one box together under one outlook."""

    def __init__(
        self,
        box: Box,
        items: tuple[Item, ...],
        meetings: Iterable[Meeting],
        book: CodeBook,
        outlook: Outlook,
        raceways: Iterable[Raceway] = (),
    ) -> None:
        self.box = box
        self.items = items
        self.meetings = meetings
        self.book = book
        self.outlook = outlook
        self.raceways = tuple(raceways)
        self.is_body = any(isinstance(item, Base) and item.form == "conduit body" for item in items)

    def spaces(self) -> list[Space]:
        """One space, or one for each side of the box's barriers."""
        shares, sides = self.sides()
        return [self.space(share, items, shares) for share, items in sides]

    def space_number(self, index: int) -> Space:
        """One of ``spaces`` alone, by its number from 0: the others are not put together for it."""
        shares, sides = self.sides()
        share, items = sides[index]
        return self.space(share, items, shares)

    def sides(self) -> tuple[tuple[SpaceShare, ...], list[tuple[SpaceShare | None, tuple[Item, ...]]]]:
        """The sides of the box, and each with the lines that describe it; without a barrier one pair with no side."""
        shares = tuple(item for item in self.items if isinstance(item, SpaceShare))
        if not shares:
            return shares, [(None, self.items)]
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
        return shares, [(share, (*common, *inside[share.name])) for share in shares]

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
            raceways=self.raceways,
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
        return measured_room(base.inside)

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
            if row is not None:
                return row["volume"], base.size
            known = base.volume is not None or base.material == "plastic"  # then the table has no say
            return Decimal(0) if known else self.marking(base, NOT_IN_TABLE.format(self.book.year)), base.size
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
        if not rows:
            return self.marking(base, NOT_IN_TABLE.format(self.book.year)), ""
        row = self.outlook.take(question, rows[-1], rows[0])
        return row["volume"], row["size"]

    def ring_room(self, part: Part) -> Decimal | None:
        if part.volume is UNKNOWN:
            question = Question(f"the volume marked in the {part.kind} of {self.box.name}", part.at)
            return self.outlook.take(question, NO_LIMIT, Decimal(0))
        return part.volume

    # ---- conductors ------------------------------------------------------------------------------------------------

    def entering(self, side: str) -> Iterator[Entering]:
        arrived: set[int] = set()
        for run, met in self.meetings:
            if met.space != side:
                continue
            onward = id(met) in arrived
            arrived.add(id(met))
            how, readings = self.becomes(met)
            lands = isinstance(met, Stop) or met.slack != "straight"
            times = self.alike(run)
            confidence = "two sources"
            if run.cable is not None and (inside := makeup(run.cable)) is not None:
                confidence = inside.confidence
            for wires in self.conductors(run):
                is_ground_unknown = wires.size is UNKNOWN and wires.role != "insulated" and not run.low_voltage
                leaned = readings
                if wires.size is not UNKNOWN:
                    size = wires.size
                    if wires.count is UNKNOWN and run.cable is not None and run.cable.ground is UNKNOWN:
                        size = self.ground_size(run, size, size)
                        leaned = (*readings, "unknown-ground")
                elif is_ground_unknown and (thickest := thickest_in(run)):
                    size = self.ground_size(run, thickest)
                    leaned = (*readings, "unknown-ground")
                else:
                    size = self.size_in(run)
                count = exactly(wires.count) if wires.count is not UNKNOWN else self.count_in(run, wires)
                if count:
                    yield Entering(
                        count if times is ONE else times and count * times,  # none of any number is none
                        size,
                        wires.role,
                        how,
                        run,
                        run.low_voltage,
                        leaned,
                        confidence,
                        lands,
                        self.insulation(wires, run) if self.is_body else wires.insulation,
                        met,
                        onward,
                    )

    def alike(self, run: Run) -> Count:
        """How many such runs there are."""
        if run.count is not UNKNOWN:
            return exactly(run.count)
        what = run.cable.name if run.cable else "wires"
        return self.outlook.take(Question(f"how many {what} there are alike", run.at), ONE, NO_LIMIT)

    def count_in(self, run: Run, wires: Wires) -> Count:
        """How many of some wires come in, which the sheet does not say; of a cable's ground, whether there is one."""
        if wires.role == "ground" and run.cable is not None:
            question = Question(f"whether {run_name(run, self.box.name)} has a ground, and its size", run.at)
            return self.outlook.take(question, exactly(0), ONE)
        question = Question(f"how many {size_text(wires.size)} come in", run.at)
        return self.outlook.take(question, exactly(0), NO_LIMIT)

    def conductors(self, run: Run) -> tuple[Wires, ...]:
        """Every conductor of one run; of a cable of unknown size, what is in one of the size it is taken for."""
        if run.cable is not None and run.cable.size is UNKNOWN:
            settled = run.cable._replace(size=self.size_in(run))
            if makeup(settled) is not None:
                return conductors_of(replace(run, cable=settled))
        return conductors_of(run)

    def insulation(self, wires: Wires, run: Run) -> str:
        """How a conductor in a conduit body is insulated, where its thickness counts: a ground may be bare or not."""
        if wires.role != "ground" or wires.insulation or run.cable is not None:
            return wires.insulation  # a cable counts as one conductor, by its outside
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
        if met.loop is None:  # nobody measured it, or it lands on a terminal
            return ("looped" if self.book.reading("unmeasured-loop") == "twice" else "passes"), ("unmeasured-loop",)
        if met.loop is UNKNOWN:
            question = Question(f"how long the loop is that passes {self.box.name}", met.at)
            return self.outlook.take(question, "passes", "looped"), ()
        twelve, by_depth = self.long_loops()
        goes_by_depth = self.book.reading("loop-threshold") == "by-depth"
        least = by_depth if goes_by_depth else twelve
        if goes_by_depth and met.loop >= least and (unmeasured := self.unmeasured_depth()) is not None:
            return self.outlook.take(unmeasured, "passes", "looped"), ("loop-threshold",)
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

    def unmeasured_depth(self) -> Question | None:
        """The depth to measure where a ring or cover, or the box itself by a ``?``, may be deeper than is known."""
        base = next((item for item in self.items if isinstance(item, Base)), None)
        if base is None or (self.depth_under_a_small_opening() is None and base.depth is not UNKNOWN):
            return None
        for part in self.items:
            if isinstance(part, Part) and is_unmeasured(part):
                return Question(f"how deep the {part.kind} of {self.box.name} is", part.at)
        return Question(f"how deep {self.box.name} is", base.at) if base.depth is UNKNOWN else None

    def depth_under_a_small_opening(self) -> Decimal | None:
        """Inside depth, inches; None where it is not known, or where the opening is so large that a hand goes in."""
        base = next((item for item in self.items if isinstance(item, Base)), None)
        under = self.book["reminders.free_conductor"]["opening_under"]
        if base is not None and base.inside and min(base.inside[:2]) >= under:
            return None
        return depth_of(
            base, str(base.size) if base else "", [item for item in self.items if isinstance(item, Part)], self.book
        )

    def size_in(self, run: Run) -> str:
        """The size of a run's conductors, which the sheet does not say."""
        text = f"the size of {run_name(run, self.box.name)}: taken up to #6, as #4 and larger go by pull-box distances"
        question = Question(text, run.at)
        if run.cable is None or run.cable.size is not UNKNOWN:
            return self.any_size(question)
        possible = sizes_of(run.cable)
        counted = [size for size in possible if size in self.book["box_fill.conductor_room"]["rows"]] or possible
        return self.outlook.take(question, possible[0], counted[-1])

    def ground_size(self, run: Run, thickest: str, thinnest: str = THINNEST_GROUND) -> str:
        """The size of a ground nobody knows, beside conductors of known sizes: what such a circuit can have."""
        question = Question(f"the size of the ground of {run_name(run, self.box.name)}", run.at)
        if self.book.reading("unknown-ground") == "any-size":
            return self.any_size(question)
        thin, thick = sorted((thinnest, thickest), key=RANK.__getitem__)
        return thin if thin == thick else self.outlook.take(question, thin, thick)

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
            count = exactly(wires.count) if wires.count is not UNKNOWN else self.loose_count(wires, at)
            yield Loose(count, size, wires.role, canopy, label, is_lead)

    def loose_count(self, wires: Wires, at: Where) -> Count:
        question = Question(f"how many {size_text(wires.size)} there are", at)
        return self.outlook.take(question, exactly(0), NO_LIMIT)

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
        return self.outlook.take(Question(f"how many gangs the {name} needs, one or two", device.at), *POSSIBLE_GANGS)

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


def thickest_in(run: Run) -> str:
    """The thickest insulated conductor pulled in a run; none where one of them is not known."""
    sizes = [wires.size for wires in conductors_of(run) if wires.role == "insulated"]
    known = [size for size in sizes if size is not UNKNOWN]
    return max(known, key=RANK.__getitem__) if known and len(known) == len(sizes) else ""


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
    Device: {
        "devices": lambda builder, group, met: tuple(
            [builder.device(device, met) for device in group if not is_blank_plate(device)]
        ),
        "blanks": lambda builder, group, met: tuple([device for device in group if is_blank_plate(device)]),
    },
    Module: {"modules": lambda builder, group, met: tuple([builder.sized(item, "the module", met) for item in group])},
    TerminalBlock: {
        "blocks": lambda builder, group, met: tuple([builder.sized(item, "the block", met) for item in group])
    },
    Mounting: {"mounting": lambda builder, group, _: group[0]},
    Carries: {"carries": as_written},
    Rated: {"rated": as_written},
    Entry: {
        "rear_entry": lambda builder, group, _: any(entry.wall == "rear" and not entry.raceway for entry in group),
        "side_entries": lambda builder, group, _: tuple([entry for entry in group if entry.wall != "rear"]),
    },
}
"""How each kind of line under a box becomes a field of its space."""

ONE = exactly(1)
NOT_IN_TABLE = ": the {} table has no such box"
ONLY_MARKED = ": a nonmetallic box counts by its marking alone"
POSSIBLE_GANGS: tuple[int, int] = (1, 2)
"""A device of unknown width needs one gang at best and two at worst; wider ones are written as such."""
