"""What only the whole sheet can tell: names used and not given, given twice, parts that do not go together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import islice, pairwise
from types import MappingProxyType
from typing import Any, TypeVar

from ampleroom.errors import nearest
from ampleroom.job.cables import makeup
from ampleroom.job.lookalikes import drawn, letters_apart
from ampleroom.job.model import (
    Apart,
    Barrier,
    Base,
    Box,
    Circuit,
    Clamps,
    Device,
    Entry,
    Equipment,
    Item,
    Job,
    Kind,
    Mounting,
    Panel,
    Part,
    Raceway,
    Room,
    Route,
    Run,
    RunRaceway,
    RunRoute,
    SpaceShare,
    Stop,
    Through,
    Wireway,
)
from ampleroom.job.nicknames import BOXES
from ampleroom.job.passing import passed_between, said_in
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import one_of
from ampleroom.record import replace
from ampleroom.where import Where

FaultAt = Callable[[Where, str, str], None]
Named = TypeVar("Named", RunRaceway, RunRoute)
MOST_SIDES = 20
"""Sides a box may have: as many as gangs. Every side lists every barrier, so a thousand would make a million lines."""
ADDED = {
    "place": "box {name}",
    "kind": "kind {name}",
    "raceway": "raceway {name} P > J1 emt 3/4",
    "route": "route {name} 24 ft",
    "circuit": "circuit {name} 20 A",
    "panel": "panel {name}",
}
"""The line that would give a name that is not there."""
COMPARED = 200_000
"""After so many names were compared with mistyped ones, no nearest name is searched: in a large job it would take
minutes."""


def checked_names(job: Job, fault: FaultAt, broken: Mapping[type, Iterable[Any]] = MappingProxyType({})) -> Job:
    """The job with every name spelled as it was given, after telling all that does not go together.

    ``broken``: records by their type of which no more than the name could be read. Their names are known.
    """
    return Names(job, fault, broken).checked()


def checked_run(job: Job, run: Run, fault: FaultAt) -> Run:
    """One more run for a job whose names are already in order."""
    if not job.twice():
        # Of a large job only the boxes it names are looked at. A name that is not there needs all: which are near?
        near = dict.fromkeys(map(job.box_or_none, (str(name) for name in run.place_names if name is not UNKNOWN)))
        faults: list[str] = []
        few = Names(
            replace(job, boxes=tuple(filter(None, near)), raceways=(), circuits=()),
            lambda where, message, hint: faults.append(message),
        )
        checked = few.run(run)
        few.tell_missing()
        if not faults:
            return checked
    names = Names(replace(job, raceways=(), circuits=()), fault)
    checked = names.run(run)
    names.tell_missing()
    return checked


class Names:
    """The names of a job, and what does not go together in it: each fault is told to ``fault`` with its place and
    hint.
    """

    def __init__(self, job: Job, fault: FaultAt, broken: Mapping[type, Iterable[Any]] = MappingProxyType({})) -> None:
        self.job = job
        self.fault = fault
        self.missing: dict[tuple[str, str], tuple[Where, str, list[int]]] = {}
        """Names that are not there, and every line that uses one: told once each."""
        self.compared = 0
        self.places = self.register(job.places(), "place")
        self.kinds = self.register(job.kinds, "kind")
        self.raceways = self.register(job.raceways, "raceway")
        self.lain_in: dict[str, Raceway | Wireway] = dict(self.raceways)
        """What a run may lie in: raceways, wireways and gutters."""
        for wireway in job.wireways:
            raceway = self.lain_in.setdefault(wireway.name.casefold(), wireway)
            if isinstance(raceway, Raceway):
                where = wireway.at._replace(first=1, last=1)
                message = f"{wireway.name} is already a raceway, on line {raceway.at.line}"
                fault(where, message, "give one of them another name")
        self.routes = self.register(job.routes, "route")
        self.circuits = self.register(job.circuits, "circuit")
        self.panels = {panel.name.casefold(): panel for panel in (*job.panels, *broken.get(Panel, ()))}
        for kind, names in (
            (Box, self.places),
            (Panel, self.places),
            (Equipment, self.places),
            (Kind, self.kinds),
            (Raceway, self.raceways),
            (Wireway, self.places),
            (Route, self.routes),
            (Circuit, self.circuits),
        ):
            for record in broken.get(kind, ()):
                names.setdefault(record.name.casefold(), record)
                if kind in (Raceway, Wireway):
                    self.lain_in.setdefault(record.name.casefold(), record)
        self.broken_boxes = {box.name for box in broken.get(Box, ())}
        self.spaces: dict[str, dict[str, str]] = {}
        """The sides of each box asked so far, by its name."""

    def register(self, records: Iterable[Any], kind: str) -> dict[str, Any]:
        """Records by name, upper and lower case alike; a second of the same name is a fault."""
        known: dict[str, Any] = {}
        for record in records:
            key = record.name.casefold()
            if key in known:
                hint = "give one of them another name"
                self.fault(
                    record.at._replace(first=1, last=1),
                    f"{kind} {record.name} is already on line {known[key].at.line}",
                    hint,
                )
            else:
                known[key] = record
        return known

    def checked(self) -> Job:
        """The job with every name as it was given; all that does not go together is told."""
        job = self.job
        once: dict[str, int] = {}
        for reading in job.readings:
            if reading.name in once:
                self.fault(
                    reading.at,
                    f"reading {reading.name} is already on line {once[reading.name]}",
                    "keep one of them",
                )
            once.setdefault(reading.name, reading.at.line)
        for kind in job.kinds:
            self.check_items(kind, kind.items)
        boxes = tuple(self.box(box) for box in job.boxes)
        runs = tuple(self.run(run) for run in job.runs)
        for raceway in job.raceways:
            for end in raceway.ends:
                self.known(end, self.places, "place", raceway.at)
        for wireway in job.wireways:
            self.check_wireway(wireway)
        for circuit in job.circuits:
            if circuit.panel:
                self.known(circuit.panel, self.panels, "panel", circuit.at)
            elif circuit.spaces and len(self.panels) != 1:
                names = " or ".join(f"on {name}" for name in first_few(panel.name for panel in self.panels.values()))
                hint = f"write {names}" if names else "add a line for it, such as: panel P 120/240 V 40 spaces"
                self.fault(circuit.at, f"which panel is the space of circuit {circuit.name} in?", hint)
        self.tell_missing()
        return replace(job, boxes=boxes, runs=runs)

    def check_wireway(self, wireway: Wireway) -> None:
        """Tells what does not go together in the line of a wireway or gutter."""
        for end in wireway.ends:
            self.known(end, self.places, "place", wireway.at)
        pairs: set[frozenset[str]] = set()
        for apart in wireway.apart:
            for raceway in (apart.one, apart.other):
                self.known(raceway, self.raceways, "raceway", apart.at)
            pair = frozenset((apart.one.casefold(), apart.other.casefold()))
            if pair in pairs:
                message = f"how far {apart.one} and {apart.other} are apart is written twice"
                self.fault(apart.at, message, "keep one of them")
            pairs.add(pair)

    def tell_missing(self) -> None:
        """Each name that is not there, once."""
        for (kind, _), (where, name, lines) in self.missing.items():
            names = {"place": self.places, "kind": self.kinds, "raceway": self.lain_in, "route": self.routes}
            known = names.get(kind, self.circuits if kind == "circuit" else self.panels)
            hint = self.missing_hint(name, known, kind)
            if lines:
                hint += f" Also on line{'s' if len(lines) > 1 else ''} {', '.join(map(str, lines[:6]))}"
                hint += f" and {len(lines) - 6} more" if len(lines) > 6 else ""
            self.fault(where, f"there is no {kind} {name!r}", hint)

    def missing_hint(self, name: str, known: dict[str, Any], kind: str) -> str:
        """What to write instead of a name that is not there: one that looks the same, else the nearest ones."""
        if kind == "raceway" and isinstance(wireway := self.places.get(name.casefold()), Wireway):
            return (
                f"{wireway.name} is a {wireway.form}: give the raceway or nipple that joins it here a line of its own"
            )
        close: list[str] = []
        if self.compared < COMPARED:
            self.compared += len(known)
            twin = next((record.name for record in known.values() if drawn(record.name) == drawn(name)), None)
            if twin is not None:
                return f"{twin} looks like it but has other letters ({letters_apart(twin, name)}); write {twin}"
            close = nearest(name, (record.name for record in known.values()))
        if kind == "place" and name.casefold() in NO_PLACE:
            return "write ? for an end not found yet"
        if kind == "place" and name.casefold() == "panel" and self.panels:
            return f"write {' or '.join(first_few(panel.name for panel in self.panels.values()))}"
        if close:
            return f"did you mean {' or '.join(close)}?"
        if kind == "kind" and (name.casefold() in BOXES or any(letter.isdigit() for letter in name)):
            return "write what the box is on the line below, such as: square 4 x 1-1/2, or marked 18 in3"
        if kind == "raceway" and name.casefold() in STRETCHES:
            return f"write by {name} for where it runs, and a line: route {name}"
        return f"add a line for it, such as: {ADDED[kind].format(name=name)}"

    def known(self, name: str, names: dict[str, Any], kind: str, where: Where) -> str:
        """The name as it was given, or a fault with the nearest ones."""
        record = names.get(name.casefold())
        if record is not None:
            return str(record.name)
        places = self.missing.setdefault((kind, name.casefold()), (where, name, []))
        if places[0] is not where and where.line not in (places[0].line, *places[2][-1:]):
            places[2].append(where.line)
        return name

    # ---- boxes -----------------------------------------------------------------------------------------------------

    def spaces_of(self, box: Box) -> dict[str, str]:
        """The sides of a box as they are named, by their names in lower case; the first of two alike."""
        names: dict[str, str] = {}
        for item in self.all_items(box):
            if isinstance(item, SpaceShare):
                names.setdefault(item.name.casefold(), item.name)
        return names

    def sides(self, place: str) -> dict[str, str]:
        """The sides of a place by its name; none where it is no box."""
        if place not in self.spaces:
            box = self.places.get(place.casefold())
            self.spaces[place] = self.spaces_of(box) if isinstance(box, Box) else {}
        return self.spaces[place]

    def all_items(self, box: Box) -> tuple[Item, ...]:
        """The lines that describe a box: those of its kind, then its own."""
        if not box.kind or box.kind is UNKNOWN:
            return box.items
        kind = self.kinds.get(box.kind.casefold())
        return (kind.items if kind else ()) + box.items

    def box(self, box: Box) -> Box:
        """A box with the name of its kind as it was given."""
        if box.kind and box.kind is not UNKNOWN:
            box = replace(box, kind=self.known(box.kind, self.kinds, "kind", box.at._replace(first=2, last=2)))
        items = self.all_items(box)
        self.check_items(box, items)
        if box.kind is UNKNOWN and (base := next((item for item in items if isinstance(item, Base)), None)):
            self.fault(
                base.at,
                f"box {box.name} has a ? for its kind, and a description too",
                "take out the ? or this line",
            )
        return box

    def check_items(self, owner: Box | Kind, items: tuple[Item, ...]) -> None:
        """Tells what does not go together among the lines of a box or a kind."""
        self.at_most_one(items, Base, f"the size of {owner.name}")
        self.at_most_one(items, Mounting, f"the mounting of {owner.name}")
        self.at_most_one(items, Room, f"the room of {owner.name}")
        space = ""
        clamps: dict[str, Clamps] = {}
        lines: dict[frozenset[str], Where] = {}
        for item in items:
            if isinstance(item, SpaceShare):
                space = item.name
            elif isinstance(item, Clamps):
                if space in clamps:
                    self.fault(
                        item.at,
                        f"clamps are already on line {clamps[space].at.line}",
                        "keep one line: all clamps inside a box count once",
                    )
                clamps[space] = item
            elif isinstance(item, Device):
                if item.pigtail and item.size is not UNKNOWN and RANK[item.pigtail] > RANK[item.size]:
                    self.fault(
                        item.at,
                        "the pigtail is larger than the conductors it comes from",
                        "write the largest conductor first, then: pigtail #14",
                    )
            elif isinstance(item, Entry) and item.raceway:
                self.known(item.raceway, self.raceways, "raceway", item.at)
            elif isinstance(item, Apart):
                pair = frozenset((item.one, item.other))
                self.once(lines, pair, f"how far {item.one} and {item.other} are apart", item.at)
                for raceway in (item.one, item.other):
                    self.known(raceway, self.raceways, "raceway", item.at)
        self.check_spaces(owner, items)
        base = next((item for item in items if isinstance(item, Base)), None)
        if base and base.form == "conduit body":
            for item in items:
                if isinstance(item, Part | Barrier):
                    self.fault(
                        item.at,
                        "a conduit body takes no ring, cover or barrier",
                        "write it as a box, or take out this line",
                    )

    def once(self, lines: dict[frozenset[str], Where], names: frozenset[str], fact: str, at: Where) -> None:
        """Tells a line that says of the same raceways what another of its box says; ``lines`` keeps those looked at."""
        if names in lines:
            self.fault(at, f"{fact} is already on line {lines[names].line}", "keep one of them")
        lines.setdefault(names, at)

    def at_most_one(self, items: tuple[Item, ...], kind: type, fact: str) -> None:
        """Tells every line of a class after the first; ``fact`` is what it says twice."""
        lines = [item for item in items if isinstance(item, kind)]
        for again in lines[1:]:
            self.fault(again.at, f"{fact} is already on line {lines[0].at.line}", "keep one of them")

    def check_spaces(self, owner: Box | Kind, items: tuple[Item, ...]) -> None:
        """Tells where barriers and the sides they make do not go together."""
        spaces = [item for item in items if isinstance(item, SpaceShare)]
        barriers = [item for item in items if isinstance(item, Barrier)]
        if not spaces and not barriers:
            return
        if not spaces:
            self.fault(
                barriers[0].at,
                "the sides of this barrier are missing",
                "write a line for each side under it, such as: space left 1/2",
            )
        if spaces and not barriers:
            self.fault(spaces[0].at, "the barrier of this space is missing", "write above it: barrier metal")
        if len(spaces) == 1:
            self.fault(
                spaces[0].at, "the other side of the barrier is missing", "name it too, even if nothing is in it"
            )
        for several, name in ((spaces, "sides"), (barriers, "barriers")):
            if len(several) > MOST_SIDES:
                self.fault(
                    several[MOST_SIDES].at,
                    f"{owner.name} has {len(several)} {name}; the most is {MOST_SIDES}",
                    "write it as several boxes",
                )
                break
        names: dict[str, int] = {}
        for space in spaces:
            if space.name.casefold() in names:
                self.fault(
                    space.at,
                    f"space {space.name} is already on line {names[space.name.casefold()]}",
                    "give it another name",
                )
            names[space.name.casefold()] = space.at.line
        if len(spaces) == 1:
            return
        ways = {"gangs" if space.gangs is not None else "share" if space.share else "volume" for space in spaces}
        if len(ways) > 1:
            self.fault(
                spaces[-1].at,
                "the sides of this box are measured in different ways",
                "write all in gangs, all in shares or all in in3",
            )
        elif ways == {"share"}:
            from fractions import Fraction

            total = sum((Fraction(*space.share) for space in spaces if space.share), Fraction(0))
            if total != 1:
                self.fault(
                    spaces[-1].at,
                    f"the shares of {owner.name} add up to {total}, not to 1",
                    "write shares such as 1/3 and 2/3",
                )
        elif ways == {"gangs"}:
            gangs = sum(space.gangs or 0 for space in spaces)
            base = next((item for item in items if isinstance(item, Base)), None)
            has = (base.gangs or (base.ganged if base.ganged > 1 else None)) if base else None
            if has and gangs != has:
                self.fault(
                    spaces[-1].at,
                    f"the spaces have {gangs} gangs, the box has {has}",
                    "give every gang to one space",
                )

    # ---- runs ------------------------------------------------------------------------------------------------------

    def run(self, run: Run) -> Run:
        """A run with every name in it as it was given."""
        stops = tuple(self.stop(stop) for stop in run.stops)
        through = tuple(self.passed(passed) for passed in said_in(run))
        for stop, next_stop in pairwise(stops):
            if stop.name is not UNKNOWN and stop.name == next_stop.name and stop.space == next_stop.space:
                self.fault(
                    next_stop.at, f"the run goes from {stop.name} to itself", "write ? if nobody found the other end"
                )
        ends = {(stop.name, stop.space) for stop in stops}
        for passed in through:
            if (passed.name, passed.space) in ends:
                self.fault(
                    passed.at,
                    f"the run both ends at {passed.name} and passes through it",
                    "keep it as an end or after 'through', not both",
                )
        if run.cable is not None and makeup(run.cable) is None:
            hint = f"write its ground: {run.cable.name}, ground #10 (or: no ground)"
            self.fault(run.at, f"{run.cable.name} is not in the table of cables", hint)
        circuit, raceways, routes = run.circuit, run.raceways, run.routes
        if circuit and self.circuits:
            circuit = "+".join(self.known(part, self.circuits, "circuit", run.at) for part in circuit.split("+"))
        if raceways:
            raceways = tuple([self.named(each, self.lain_in, "raceway") if each.name else each for each in raceways])
            named = replace(run, stops=stops, through=through, raceways=raceways)
            between = passed_between(named, self.raceways, self.places, lambda box: bool(self.sides(box.name)))
            through = (*through, *between)
        if routes:
            routes = tuple([self.named(route, self.routes, "route") for route in routes])
        if (
            stops == run.stops
            and through == run.through
            and (circuit, raceways, routes) == (run.circuit, run.raceways, run.routes)
        ):
            return run
        return replace(run, stops=stops, through=through, circuit=circuit, raceways=raceways, routes=routes)

    def named(self, part: Named, names: dict[str, Any], kind: str) -> Named:
        """A part of a run that names a record, with the name as it was given."""
        name = self.known(part.name, names, kind, part.at)
        return part if name == part.name else replace(part, name=name)

    def stop(self, stop: Stop) -> Stop:
        """A stop with its place and side as they were given."""
        if stop.name is UNKNOWN:
            return stop
        name = self.known(stop.name, self.places, "place", stop.at)
        space = self.space(name, stop.space, stop.at)
        return stop if name == stop.name and space == stop.space else replace(stop, name=name, space=space)

    def passed(self, passed: Through) -> Through:
        """A place passed, with its name and side as they were given."""
        name = self.known(passed.name, self.places, "place", passed.at)
        space = self.space(name, passed.space, passed.at)
        return passed if name == passed.name and space == passed.space else replace(passed, name=name, space=space)

    def space(self, place: str, space: str, where: Where) -> str:
        """A side of a box as it was given; told where the box has none of that name, or one must be said."""
        if place in self.broken_boxes:
            return space
        spaces = self.sides(place)
        if not space:
            if spaces:
                self.fault(
                    where,
                    f"{place} has a barrier: which side?",
                    "write " + " or ".join(f"{place}/{name}" for name in first_few(spaces.values())),
                )
            return space
        name = spaces.get(space.casefold())
        if name is not None:
            return name
        close: list[str] = []
        if self.compared < COMPARED:
            self.compared += len(spaces)
            close = nearest(space, spaces.values())
        hint = (
            f"did you mean {place}/{close[0]}?"
            if close
            else one_of([f"{place}/{name}" for name in first_few(spaces.values())] or [place])
        )
        self.fault(where, f"{place} has no space {space!r}", hint)
        return space


NO_PLACE = ("unknown", "unk", "tbd", "outside", "somewhere", "elsewhere", "light", "lights", "fixture", "load")
"""Words for a far end that is no place of the sheet."""
STRETCHES = ("attic", "crawl", "crawlspace", "basement", "ceiling", "wall", "walls", "slab", "floor", "joists", "studs")
"""Words for where a run lies that name no raceway."""


def first_few(names: Iterable[str]) -> list[str]:
    """As many as a box may have; of a box with more, which is a fault of its own, the first."""
    return list(islice(names, MOST_SIDES))
