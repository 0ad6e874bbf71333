"""The whole job: all its records, and what is asked of all of them."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from ampleroom.editions.amendments import Amendments
from ampleroom.job.model.box_lines import Item, written_at
from ampleroom.job.model.places import Box, Equipment, Kind, Panel, items_of_kinds
from ampleroom.job.model.runs import Circuit, Raceway, Route, Run, Wireway
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.record import Record, aside, once
from ampleroom.where import Where

if TYPE_CHECKING:
    from ampleroom.job.graph import Graph
    from ampleroom.job.sheet import Sheet


class Dwelling(Record):
    """A dwelling, or several under one service, for the load of its service."""

    area: Maybe[Decimal]
    """Square feet, of all dwellings together."""
    description: str = ""
    service: Maybe[int] | None = None
    """The rating of its service, amperes. None: not written."""
    volts: int | None = None
    """Between the two hots of its service. None: as its panel has it."""
    units: int = 1
    small_appliance: int | None = None
    """How many circuits of small appliances there are in all; None: as many as the code asks for."""
    laundry: int | None = None
    """How many laundry circuits."""
    existing: bool = False
    """Whether it stands already, so that what is new is added to what there is."""
    metered: Decimal | None = None
    """The greatest demand of a year, measured, amperes."""
    at: Where = written_at()


class Load(Record):
    """A load of a dwelling, VA each."""

    kind: str
    va: Maybe[Decimal]
    count: int = 1
    circuit: str = ""
    label: str = ""
    volts: int | None = None
    controls: int | None = None
    """Of heat: how many separate controls."""
    new: bool = False
    """Whether it is added to a dwelling that stands."""
    at: Where = written_at()


class ReadingChoice(Record):
    """A disputed point and the way it is read on this job."""

    name: str
    choice: str
    at: Where = written_at()


class Note(Record):
    """A remark that stays with the job."""

    text: str
    at: Where = written_at()


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
    cables_together: int | None = None
    """How many cables lie bundled at most where no route says otherwise; 1: they are kept apart. None: not written."""
    readings: tuple[ReadingChoice, ...] = ()
    notes: tuple[Note, ...] = ()
    dwelling: Dwelling | None = None
    kinds: tuple[Kind, ...] = ()
    boxes: tuple[Box, ...] = ()
    panels: tuple[Panel, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    raceways: tuple[Raceway, ...] = ()
    wireways: tuple[Wireway, ...] = ()
    routes: tuple[Route, ...] = ()
    loads: tuple[Load, ...] = ()
    runs: tuple[Run, ...] = ()
    sheet: Sheet | None = aside(None)

    @property
    def file(self) -> str:
        """The name of the file the job was read from; empty for none."""
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
        """Who meets whom at one place, by its name as it is written: of a graph already built all, else only what
        concerns it.

        After a tap in a large job one box is asked for, and its runs are a few of thousands.
        """
        from ampleroom.job.graph import Graph

        built: Graph | None = getattr(self, "kept_graph", None)
        return built or Graph(self, tuple([run for _, run in self.runs_at(place)]))

    def runs_at(self, place: str) -> tuple[tuple[int, Run], ...]:
        """The runs that end at a place or pass it, by its name as it is written; each with its place among all runs."""
        met = self._runs_at.get(place)
        if met is None:
            met = tuple([(index, run) for index, run in enumerate(self.runs) if place in run.place_names])
            self._runs_at[place] = met
        return met

    @once
    def _runs_at(self) -> dict[str, tuple[tuple[int, Run], ...]]:
        """The runs at each place asked so far."""
        return {}

    def items(self, box: Box) -> tuple[Item, ...]:
        """The lines that describe a box: those of its kind, then its own."""
        if not box.kind or box.kind is UNKNOWN:
            return box.items
        return self._items_of_kinds.get(box.kind, ()) + box.items

    @once
    def _items_of_kinds(self) -> dict[str, tuple[Item, ...]]:
        """The lines of every kind by its name; of two of one name the first."""
        return items_of_kinds(self.kinds)

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
        if len(self.place_names) == sum(map(len, (self.boxes, self.panels, self.equipment, self.wireways))):
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

    def places(self) -> Iterator[Box | Panel | Equipment | Wireway]:
        """Every place: boxes, then panels, equipment and wireways, each in the order of the sheet."""
        yield from self.boxes
        yield from self.panels
        yield from self.equipment
        yield from self.wireways
