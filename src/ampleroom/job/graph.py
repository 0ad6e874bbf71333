"""Who meets whom on a job: the runs at a place, the wires in a raceway, the tree of a circuit. Kept with it as
``job.graph``.

Every part is worked out when somebody first asks for it, in one pass over the job, and all of it is in the order of the
sheet. What it holds are the job's own records, so that a fact is still known by its place in the sheet: two cables from
P to J1 are two, though they are alike. An end nobody found is a place of its own, met by that run alone.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from decimal import Decimal
from functools import cached_property
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, TypeAlias

from ampleroom.job.model import (
    Box,
    Circuit,
    Device,
    Equipment,
    Item,
    Panel,
    Raceway,
    Room,
    Route,
    Run,
    RunRaceway,
    Stop,
    Through,
    Wireway,
    items_of_kinds,
)
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record

if TYPE_CHECKING:
    from ampleroom.job.carrying import Carried
    from ampleroom.job.model import Job

RunAtBox: TypeAlias = tuple[Run, Stop | Through]
"""A run, and where it ends in a box, or another place, or passes it."""
Node: TypeAlias = str | int
"""A place by its name; an end nobody found by the ``id`` of its stop."""


class Stretch(Record):
    """A raceway or a route, and the runs that share it."""

    kind: str
    """``raceway`` or ``route``."""
    name: str
    runs: tuple[Run, ...]


class Branch(Record):
    """A run of a circuit from one of its stops to the next, led from the side of the panel."""

    run: Run
    start: int
    """The number of the stop nearer to the panel."""
    end: int
    before: int | None
    """The number of the branch it goes on from, in ``CircuitTree.branches``; None: it begins at the panel."""

    @property
    def start_stop(self) -> Stop:
        """The stop nearer to the panel."""
        return self.run.stops[self.start]

    @property
    def end_stop(self) -> Stop:
        """The stop it leads to."""
        return self.run.stops[self.end]


class CircuitTree(Record):
    """A circuit from its panel outward, by the runs that say they belong to it."""

    circuit: str
    source: str | None
    """The panel it is fed from; None where the sheet leaves that open. Then all its runs are ``apart``."""
    branches: tuple[Branch, ...] = ()
    """Each leads to a place no branch led to before; those near the panel first."""
    back: tuple[Branch, ...] = ()
    """Branches to a place reached before: a second cable beside the first, or a loop."""
    apart: tuple[Run, ...] = ()
    """Runs of the circuit that no branch reaches: a run between is missing, or does not say its circuit."""

    def path(self, branch: int) -> tuple[Branch, ...]:
        """The branches from the panel to the end of one, by its number in ``branches``."""
        way: list[Branch] = []
        branch_index: int | None = branch
        while branch_index is not None:
            way.append(self.branches[branch_index])
            branch_index = self.branches[branch_index].before
        return tuple(reversed(way))

    @property
    def last(self) -> tuple[int, ...]:
        """The numbers of the branches from which none goes on."""
        going_on = {branch.before for branch in self.branches}
        return tuple(index for index in range(len(self.branches)) if index not in going_on)


class Graph:
    """Who meets whom on a job. Build it by ``job.graph``, which keeps it; of one place alone by
    ``job.graph_at(place)``.

    It holds the records of the job and not the job, so that a job that is tried and thrown away is freed at once.
    """

    def __init__(self, job: Job, runs: tuple[Run, ...] | None = None) -> None:
        self._runs = job.runs if runs is None else runs
        self._raceways = job.raceways
        self._wireways = job.wireways
        self._kinds = job.kinds
        self._circuits = job.circuits
        self._panels = job.panels
        self._routes = job.routes
        self._boxes = job.boxes
        self._equipment = job.equipment
        self._unnamed: dict[object, tuple[Run, ...]] | None = None
        self.cables_together = job.cables_together
        """How many cables lie bundled at most where no route says otherwise; None: not written."""

    # ---- places ----------------------------------------------------------------------------------------------------

    @cached_property
    def runs_at(self) -> dict[str, list[RunAtBox]]:
        """By the name of a place, the runs that end there or pass it. One that ends there and goes on is met twice."""
        met: dict[str, list[RunAtBox]] = {}
        for run in self._runs:
            last = len(run.stops) - 1
            for index, stop in enumerate(run.stops):
                if stop.name is not UNKNOWN:
                    met.setdefault(stop.name, []).append((run, stop))
                    if 0 < index < last:
                        met[stop.name].append((run, stop))
            for passed in run.through:
                met.setdefault(passed.name, []).append((run, passed))
        return met

    @cached_property
    def raceways_at(self) -> dict[str, list[Raceway]]:
        """By the name of a place, the raceways that end there, and those that a run is in there.

        A run that names one raceway is taken to be in it at each of its places. Of several, each is only where it ends:
        the run does not say in which of them it comes to a place between.
        """
        met: dict[str, dict[str, Raceway]] = {}
        for raceway in self._raceways:
            for end in raceway.ends:
                met.setdefault(end, {})[raceway.name] = raceway
        for run in self._runs:
            if len(run.raceways) == 1 and (only := self.raceways.get(run.raceways[0].name)) is not None:
                for place in run.place_names:
                    if place is not UNKNOWN:
                        met.setdefault(place, {})[only.name] = only
        return {place: list(raceways.values()) for place, raceways in met.items()}

    @cached_property
    def open_ends(self) -> tuple[tuple[Run, Stop], ...]:
        """Every end of a run that nobody found."""
        return tuple([(run, stop) for run in self._runs for stop in run.stops if stop.name is UNKNOWN])

    @cached_property
    def items_of_kinds(self) -> dict[str, tuple[Item, ...]]:
        """What stands under each ``kind`` of box in the sheet, by the kind's name; of two of one name the first."""
        return items_of_kinds(self._kinds)

    def items(self, box: Box) -> tuple[Item, ...]:
        """The lines that describe a box: those of its kind, then its own."""
        if not box.kind or box.kind is UNKNOWN:
            return box.items
        return self.items_of_kinds.get(box.kind, ()) + box.items

    # ---- raceways and routes ---------------------------------------------------------------------------------------

    @cached_property
    def raceways(self) -> dict[str, Raceway]:
        """The raceways of the job by their names; of two of one name the first."""
        return {raceway.name: raceway for raceway in reversed(self._raceways)}

    @cached_property
    def runs_in(self) -> dict[str, tuple[Run, ...]]:
        """By the name of a raceway, the runs in it. A raceway with no name (``in emt 3/4``) holds its one run alone."""
        return gathered((raceway.name, run) for run in self._runs for raceway in run.raceways if raceway.name)

    @cached_property
    def runs_in_wireways(self) -> dict[str, tuple[tuple[Run, int], ...]]:
        """By the name of a wireway or gutter, every run that comes into it, and how many lengths of it lie there.

        A run comes in where it stops or passes, where it says so (``in W1``), and where a raceway it lies in ends at
        the wireway. One that stops there and goes on lies there twice: what comes and what leaves.
        """
        lying: dict[str, list[tuple[Run, int]]] = {wireway.name: [] for wireway in self._wireways}
        names = {name.casefold(): name for name in lying}
        ending = {
            raceway.name: [names[end.casefold()] for end in raceway.ends if end.casefold() in names]
            for raceway in self._raceways
        }
        for run in self._runs if lying else ():
            lengths: dict[str, int] = {}
            last = len(run.stops) - 1
            for number, stop in enumerate(run.stops):
                if stop.name in lying:
                    lengths[stop.name] = lengths.get(stop.name, 0) + (2 if 0 < number < last else 1)
            for passed in run.through:
                if passed.name in lying:
                    lengths[passed.name] = lengths.get(passed.name, 0) + 1
            for raceway in run.raceways:
                for name in (raceway.name, *ending.get(raceway.name, ())):
                    if name in lying:
                        lengths.setdefault(name, 1)
            for name, number in lengths.items():
                lying[name].append((run, number))
        return {name: tuple(runs) for name, runs in lying.items()}

    @cached_property
    def runs_along(self) -> dict[str, tuple[Run, ...]]:
        """By the name of a route, the runs that go along it, each once."""
        return gathered((name, run) for run in self._runs for name in dict.fromkeys([r.name for r in run.routes]))

    def company(self, run: Run) -> Iterator[Stretch]:
        """The stretches a run lies in, and who shares each: its raceways in order, then its routes. The run is in
        all.
        """
        for raceway in run.raceways:
            yield Stretch("raceway", raceway.name, self.runs_in[raceway.name] if raceway.name else (run,))
        for name in dict.fromkeys([route.name for route in run.routes]):
            yield Stretch("route", name, self.runs_along[name])

    @cached_property
    def wireways(self) -> dict[str, Wireway]:
        """The wireways and gutters of the job by their names; of two of one name the first."""
        return {wireway.name: wireway for wireway in reversed(self._wireways)}

    def runs_in_unnamed(self, key: object, key_of: Callable[[Run, RunRaceway], object]) -> tuple[Run, ...]:
        """The runs in raceways without a name that have this key; the keys are worked out once."""
        if self._unnamed is None:
            lists: dict[object, list[Run]] = {}
            for run in self._runs:
                for lain_in in run.raceways:
                    if not lain_in.name:
                        lists.setdefault(key_of(run, lain_in), []).append(run)
            self._unnamed = {each: tuple(runs) for each, runs in lists.items()}
        return self._unnamed.get(key, ())

    @cached_property
    def boxes(self) -> dict[str, Box]:
        """The boxes of the job by their names; of two of one name the first."""
        return {box.name: box for box in reversed(self._boxes)}

    @cached_property
    def rooms(self) -> dict[str, Room]:
        """By the name of a box or a piece of equipment, its line that says its room. Without those of which no line
        does.
        """
        said = {box.name: item for box in self._boxes for item in self.items(box) if isinstance(item, Room)}
        return said | {each.name: Room(each.room, at=each.at) for each in self._equipment if each.room}

    @cached_property
    def equipment(self) -> dict[str, Equipment]:
        """The equipment of the job by name; of two of one name the first."""
        return {each.name: each for each in reversed(self._equipment)}

    @cached_property
    def receptacles(self) -> dict[str, int]:
        """By the name of every box, how many receptacles its lines name; a duplex is two."""
        return {box.name: sum(map(receptacles_on, self.items(box))) for box in self._boxes}

    @cached_property
    def receptacles_fed(self) -> dict[str, int | None]:
        """By the name of a circuit in lower case, how many receptacles are in the boxes its runs meet. None: they meet
        no box and all their ends are known, so they feed none.
        """
        fed: dict[str, int | None] = {}
        for circuit, runs in self.runs_of.items():
            stops = {stop.name for run in runs for stop in run.stops}
            boxes = [str(name) for name in stops if name in self.receptacles]
            is_known = not boxes and UNKNOWN not in stops
            fed[circuit] = None if is_known else sum(self.receptacles[box] for box in boxes)
        return fed

    @cached_property
    def loose_cables(self) -> tuple[Run, ...]:
        """The runs of which the sheet says neither what they lie in nor along which route they go, nor that they are
        kept apart: any of them may lie bundled with any other. Low-voltage ones carry nothing that heats.
        """
        return tuple([run for run in self._runs if not (run.raceways or run.routes or run.spaced or run.low_voltage)])

    @cached_property
    def loose_carrying(self) -> tuple[int | None, ...]:
        """Of each such cable how many of its conductors carry current, the most first; None where that is not known."""
        from ampleroom.job.carrying import carrying_of

        counts: list[int | None] = []
        for run in self.loose_cables:
            count = carrying_of(run, self)
            counts += [None] if count is None or run.count is UNKNOWN else [count] * run.count
        return tuple(sorted(counts, key=lambda count: (count is not None, -(count or 0))))

    def carried_by(self, runs: tuple[Run, ...]) -> Carried:
        """What all runs of a raceway or route carry; each of them asks, and it is worked out once."""
        from ampleroom.job.carrying import carried_by

        carried = self._carried.get(id(runs))
        if carried is None:
            carried = self._carried[id(runs)] = (runs, carried_by(runs, self))
        return carried[1]

    @cached_property
    def _carried(self) -> dict[int, tuple[tuple[Run, ...], Carried]]:
        """What was asked for so far, by the identity of the runs, which are kept beside it."""
        return {}

    @cached_property
    def is_loose_known(self) -> bool:
        """Whether it is known of all of them."""
        return None not in self.loose_carrying[:1]  # what is not known stands first

    @cached_property
    def loose_sums(self) -> tuple[int, ...]:
        """The sums of the first of them: none, one, two ... Only where all are known."""
        return tuple(accumulate((count or 0 for count in self.loose_carrying), initial=0))

    @cached_property
    def routes(self) -> dict[str, Route]:
        """The routes of the job by their names; of two of one name the first."""
        return {route.name: route for route in reversed(self._routes)}

    @cached_property
    def circuits(self) -> dict[str, Circuit]:
        """The circuits of the job by their names in lower case; of two of one name the first."""
        return {circuit.name.casefold(): circuit for circuit in reversed(self._circuits)}

    @cached_property
    def panels(self) -> dict[str, Panel]:
        """The panels of the job by their names; of two of one name the first."""
        return {panel.name: panel for panel in reversed(self._panels)}

    @cached_property
    def unsaid_ends(self) -> tuple[tuple[Run, RunRaceway, str], ...]:
        """Ends of raceways where a run in them neither stops nor passes, as the sheet says it: the run, the raceway,
        the place.

        A run with ends nobody found may well end there: as many such places are not told of it.
        """
        unsaid: list[tuple[Run, RunRaceway, str]] = []
        for run in self._runs:
            if run.raceways:
                ends = list(self._ends_off_the_path(run))
                if len({place for _, _, place in ends}) > sum(stop.name is UNKNOWN for stop in run.stops):
                    unsaid += ends
        return tuple(unsaid)

    def _ends_off_the_path(self, run: Run) -> Iterator[tuple[Run, RunRaceway, str]]:
        places = {*run.place_names, *(wireway.name for wireway in self._wireways)}  # it is counted in those anyway
        for raceway in run.raceways:
            described = self.raceways.get(raceway.name)
            if described is not None:
                for place in dict.fromkeys(described.ends):
                    if place not in places:
                        yield run, raceway, place

    @cached_property
    def parted_raceways(self) -> tuple[tuple[Run, RunRaceway, RunRaceway], ...]:
        """Where single wires go from one raceway to the next and the two do not end at one place. A cable may lie open
        there.
        """
        return tuple(
            [
                (run, first, second)
                for run in self._runs
                if run.cable is None
                for first, second in pairwise(run.raceways)
                if first.name in self.raceways
                and second.name in self.raceways
                and not {*self.raceways[first.name].ends} & {*self.raceways[second.name].ends}
            ]
        )

    # ---- circuits --------------------------------------------------------------------------------------------------

    @cached_property
    def runs_of(self) -> dict[str, tuple[Run, ...]]:
        """By the name of a circuit in lower case, the runs that say they belong to it; ``1+3`` belongs to both."""
        pairs = ((name, run) for run in self._runs if run.circuit for name in dict.fromkeys(run.circuit.split("+")))
        return gathered((name.casefold(), run) for name, run in pairs)

    @cached_property
    def loads_placed(self) -> dict[str, Decimal]:
        """By the name of a circuit in lower case, the sum of the loads written at its places, VA. A circuit without any
        is not in it. Each of a circuit's runs asks.
        """
        sums: dict[str, Decimal] = {}
        for name, runs in self.runs_of.items():
            loads = [run.load for run in runs if run.load is not None]
            if loads:
                sums[name] = sum(loads, Decimal(0))
        return sums

    def source_of(self, circuit: str) -> str | None:
        """The panel that feeds a circuit: the one its line names, the only one its runs reach, or the job's only one.

        None where the sheet leaves it open.
        """
        name = circuit.casefold()
        if name not in self._sources:
            self._sources[name] = self._panels_written.get(name) or self._source_reached(name)
        return self._sources[name]

    @cached_property
    def _sources(self) -> dict[str, str | None]:
        """What feeds each circuit somebody asked for: every one of its runs asks."""
        return {}

    def _source_reached(self, circuit: str) -> str | None:
        if len(self._panels) == 1:
            return self._panels[0].name
        runs = self.runs_of.get(circuit, ())
        reached = {str(stop.name) for run in runs for stop in run.stops if stop.name in self._panel_names}
        return reached.pop() if len(reached) == 1 else None

    @cached_property
    def _panel_names(self) -> frozenset[str]:
        return frozenset([panel.name for panel in self._panels])

    @cached_property
    def _panels_written(self) -> dict[str, str]:
        """The panel each circuit's own line names, by the circuit's name in lower case."""
        return {circuit.name.casefold(): circuit.panel for circuit in reversed(self._circuits)}

    @cached_property
    def feeders(self) -> dict[str, Circuit]:
        """By the name of a panel, the circuit that feeds it from another panel; of several the first."""
        fed: dict[str, Circuit] = {}
        for circuit in self._circuits:
            source = self.source_of(circuit.name)
            for run in self.runs_of.get(circuit.name.casefold(), ()) if source is not None else ():
                for stop in run.stops:
                    if stop.name in self._panel_names and stop.name != source:
                        fed.setdefault(str(stop.name), circuit)
        return fed

    def tree(self, circuit: str) -> CircuitTree:
        """A circuit from its panel outward, whichever way round its runs are written."""
        runs = self.runs_of.get(circuit.casefold(), ())
        source = self.source_of(circuit)
        pieces_at: dict[Node, list[tuple[Run, int, int]]] = {}
        for run in runs:
            for index in range(len(run.stops) - 1):
                pieces_at.setdefault(node_of(run.stops[index]), []).append((run, index, index + 1))
                pieces_at.setdefault(node_of(run.stops[index + 1]), []).append((run, index + 1, index))
        branches: list[Branch] = []
        back: list[Branch] = []
        walked: set[tuple[int, int]] = set()
        reached: set[Node] = set()
        waiting: deque[tuple[Node, int | None]] = deque()
        if source is not None:
            reached.add(source)
            waiting.append((source, None))
        while waiting:
            node, before = waiting.popleft()
            for run, start, end in pieces_at.get(node, ()):
                if (id(run), min(start, end)) in walked:
                    continue
                walked.add((id(run), min(start, end)))
                further = node_of(run.stops[end])
                if further in reached:
                    back.append(Branch(run, start, end, before))
                else:
                    reached.add(further)
                    waiting.append((further, len(branches)))
                    branches.append(Branch(run, start, end, before))
        connected = {run for run, _ in walked}
        apart = tuple([run for run in runs if id(run) not in connected])
        return CircuitTree(circuit, source, tuple(branches), tuple(back), apart)


def node_of(stop: Stop) -> Node:
    """Where conductors meet at a stop: at its place, or where nobody found it at that stop alone."""
    return id(stop) if stop.name is UNKNOWN else stop.name


SINGLE_RECEPTACLES = ("single", "range", "dryer", "locking")
"""Before ``receptacle``: one, where the usual one is a duplex. Common practice, no source."""
LARGE_RECEPTACLE = 30
"""From so many amperes on a receptacle is a single one."""


def receptacles_on(item: Item) -> int:
    """How many receptacles a line under a box puts in it."""
    if not isinstance(item, Device):
        return 0
    count = 0
    for name in item.names:
        if is_receptacle(name):
            count += 1 if is_single(name, item.amperes) else 2
    return count * item.count


def is_single(name: str, amperes: int | None) -> bool:
    """Whether a receptacle takes one plug: ``dryer receptacle``, or one of many amperes. The usual one is a duplex."""
    return not {*name.split()}.isdisjoint(SINGLE_RECEPTACLES) or (amperes or 0) >= LARGE_RECEPTACLE


def is_receptacle(name: str) -> bool:
    """Whether a device of that name takes a plug: ``gfci receptacle``, or a bare ``gfci``."""
    words = name.split()
    return words[-1] in ("receptacle", "outlet") or words == ["gfci"]


def gathered(pairs: Iterator[tuple[str, Run]]) -> dict[str, tuple[Run, ...]]:
    """Runs by name, in the order they come."""
    lists: dict[str, list[Run]] = {}
    for name, run in pairs:
        lists.setdefault(name, []).append(run)
    return {name: tuple(runs) for name, runs in lists.items()}


__all__ = ["Branch", "CircuitTree", "Graph", "RunAtBox", "Stretch"]
