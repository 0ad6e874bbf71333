"""Putting the spaces of a box together: what is written under it, the runs that meet there, unknown facts as assumed.

One file a topic: ``volume``, ``conductors`` (what comes in by runs), ``box_wires`` (wires written under the box) and
``contents`` (devices and clamps); ``ask`` is how each of them asks for a fact nobody knows.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from operator import attrgetter
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph, RunAtBox
from ampleroom.job.model import (
    Barrier,
    Base,
    BondingJumper,
    Box,
    Clamps,
    Device,
    Entry,
    FixtureWires,
    Item,
    Leads,
    Module,
    Mounting,
    Part,
    Raceway,
    Room,
    SpaceShare,
    Stop,
    TerminalBlock,
    Through,
    is_blank_plate,
)
from ampleroom.job.moved import content_id
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.builder.ask import Asker
from ampleroom.rules.builder.box_wires import fixture_wires, jumpers, leads
from ampleroom.rules.builder.conductors import entering
from ampleroom.rules.builder.contents import clamps, device, sized
from ampleroom.rules.builder.volume import base_room, ring_room
from ampleroom.rules.space import Entering, Ring, Space


class SpaceBuilder:
    """Puts the spaces of one box together, each under any assumption."""

    __slots__ = ("book", "box", "raceways", "runs", "shares", "sides")

    def __init__(
        self,
        box: Box,
        items: tuple[Item, ...],
        runs: Iterable[RunAtBox],
        book: CodeBook,
        raceways: Iterable[Raceway] = (),
    ) -> None:
        self.box = box
        self.runs = runs
        self.book = book
        self.raceways = tuple(raceways)
        self.shares = tuple([item for item in items if isinstance(item, SpaceShare)])
        self.sides = sides_of(items, self.shares)
        """What is written of the whole box, or of each side of its barriers."""

    def alike(self, side_index: int) -> int:
        """A number that this side has in common with all of equal contents that were judged by the same book."""
        known = self.book.alike
        contents = self.contents(side_index)
        entry = known.get(contents)
        if entry is None:  # what its records are known by holds as long as they live, so they are kept
            entry = known[contents] = (len(known), (self.sides[side_index][1], self.raceways))
        return entry[0]

    def contents(self, side_index: int) -> Hashable:
        """What is in one side, and the runs that come in as far as they bear on it: equal for sides alike.

        Runs say a side by its name, so the names of the sides and their order belong to it. A run that ends here and
        goes on is met twice.
        """
        met: list[Hashable] = []
        before: object = None
        for run, at in self.runs:
            met.append((run is before, bearing(run), type(at), at.space, *slack_of(at)))
            before = run
        return (
            side_index,
            self.shares,
            tuple([content_id(item) for item in self.sides[side_index][1]]),
            tuple(met),
            tuple([id(raceway) for raceway in self.raceways]),
        )

    def spaces(self, assumption: Assumption) -> list[Space]:
        """One space, or one for each side of the box's barriers."""
        return [self.space(side_index, assumption) for side_index in range(len(self.sides))]

    def space(self, side_index: int, assumption: Assumption) -> Space:
        """The whole box, or one side of it by its number."""
        share, items = self.sides[side_index]
        side = share.name if share else ""
        asker = Asker(self.box, side, items, self.book, assumption)
        groups: dict[type, list[Any]] = {}
        for item in items:
            groups.setdefault(type(item), []).append(item)
        base: Base | None = groups[Base][0] if Base in groups else None
        room, size = base_room(base, asker)
        met = tuple(entering(self.runs, asker))
        written: Clamps | None = groups[Clamps][0] if Clamps in groups else None
        settled = {
            field: settle(group, met, asker)
            for kind, group in groups.items()
            for field, settle in SETTLED.get(kind, {}).items()
        }
        return Space(
            self.box,
            asker.place,
            base,
            room,
            size,
            share,
            self.shares,
            met,
            clamps(written, met, base, asker),
            written is not None and written.way is not UNKNOWN,
            raceways=self.raceways,
            written=groups,
            **settled,
        )


def builder_of(box: Box, graph: Graph, book: CodeBook) -> SpaceBuilder:
    """What puts together the spaces of a box of a job, from the job's graph."""
    name = box.name
    return SpaceBuilder(box, graph.items(box), graph.runs_at.get(name, ()), book, graph.raceways_at.get(name, ()))


bearing: Callable[[Any], tuple[Any, ...]] = attrgetter(
    "cable", "wires", "count", "low_voltage", "material", "in_insulation"
)
"""What of a run bears on the contents of a box; not where it comes from."""


def slack_of(at: Stop | Through) -> tuple[Any, ...]:
    """Slack and loop of a conductor that passes through; nothing for one that ends."""
    return (at.slack, at.loop) if isinstance(at, Through) else ()


def sides_of(
    items: tuple[Item, ...], shares: tuple[SpaceShare, ...]
) -> list[tuple[SpaceShare | None, tuple[Item, ...]]]:
    """The lines of the whole box; of a divided one those of each side, with what all sides share."""
    if not shares:
        return [(None, items)]
    inside: dict[str, list[Item]] = {share.name: [] for share in shares}
    common: list[Item] = []
    current = common
    for item in items:
        if isinstance(item, SpaceShare):
            current = inside[item.name]
        elif isinstance(item, Base | Part | Barrier | Mounting | Room):
            common.append(item)
        else:
            current.append(item)
    return [(share, (*common, *inside[share.name])) for share in shares]


Settle = Callable[[list[Any], tuple[Entering, ...], Asker], Any]


SETTLED: dict[type, dict[str, Settle]] = {
    Part: {"rings": lambda group, met, asker: tuple([Ring(part, ring_room(part, asker)) for part in group])},
    FixtureWires: {"fixture_wires": lambda group, met, asker: tuple(fixture_wires(group, asker))},
    Leads: {"leads": lambda group, met, asker: tuple(leads(group, asker))},
    BondingJumper: {"jumpers": lambda group, met, asker: tuple(jumpers(group, asker))},
    Device: {
        "devices": lambda group, met, asker: tuple(
            [device(item, met, asker) for item in group if not is_blank_plate(item)]
        ),
        "blanks": lambda group, met, asker: tuple([item for item in group if is_blank_plate(item)]),
    },
    Module: {"modules": lambda group, met, asker: tuple([sized(item, "the module", met, asker) for item in group])},
    TerminalBlock: {
        "blocks": lambda group, met, asker: tuple([sized(item, "the block", met, asker) for item in group])
    },
    Mounting: {"mounting": lambda group, met, asker: group[0]},
    Entry: {
        "rear_entry": lambda group, met, asker: any(entry.wall == "rear" and not entry.raceway for entry in group),
        "side_entries": lambda group, met, asker: tuple([entry for entry in group if entry.wall != "rear"]),
    },
}
"""How a kind of line under a box becomes a field of its space, where a fact of it may be unknown or rules ask for a
part of it."""
