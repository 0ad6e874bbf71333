"""Move: a second raceway beside an overfull one, for some of its circuits."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.edit import AddAfter, AddRaceway, Change, PutRun
from ampleroom.job.model import Entry, Raceway, Run
from ampleroom.record import replace
from ampleroom.remedy.raceway_in_place import RacewayInPlace
from ampleroom.remedy.remedy import Disturbance, Move
from ampleroom.rules.raceway.filled import Subject
from ampleroom.rules.raceway.sizes import bore_rows
from ampleroom.sizing.raceway import size_of_kind
from ampleroom.where import NOWHERE

MOST_GROUPS = 12
"""Of so many circuits at most each is tried for a raceway of its own."""


def second_raceway(placed: RacewayInPlace) -> Iterator[Move]:
    """As few circuits as will do go to a raceway of the same kind between the same places. All conductors of a circuit
    stay together, its ground with them; so runs of one circuit, and all runs without one, go together. Where a ground
    lies in a run of its own, or only some runs have one, none is offered: both raceways would need it.
    """
    if not placed.fill_fails or not placed.is_named or placed.bodies or has_shared_ground(placed.subject.runs):
        return
    groups = circuits_in(placed.subject.runs)
    if not 2 <= len(groups) <= MOST_GROUPS:
        return
    name = free_name(placed)
    if name is None:
        return
    seen: set[frozenset[int]] = set()
    for moved in splits(placed, groups):
        key = frozenset(map(id, moved))
        if key not in seen:
            seen.add(key)
            move = beside(placed, name, moved)
            if move is not None:
                yield move


def circuits_in(runs: tuple[Run, ...]) -> list[tuple[Run, ...]]:
    """Runs that have to stay in one raceway, together: those that share a circuit, and those that name none."""
    groups: list[tuple[set[str], list[Run]]] = []
    for run in runs:
        names = {name.casefold() for name in run.circuit.split("+")}
        joined = [group for group in groups if group[0] & names]
        groups = [group for group in groups if group not in joined]
        merged = [*(other for group in joined for other in group[1]), run]
        groups.append((names.union(*(group[0] for group in joined)), merged))
    return [tuple(run for run in runs if any(run is other for other in group)) for _, group in groups]


def has_shared_ground(runs: tuple[Run, ...]) -> bool:
    """Whether some runs lean on the ground of others: some have one and some do not, or one is a ground alone."""
    grounded = [run.cable is not None or any(wires.role != "insulated" for wires in run.wires) for run in runs]
    alone = any(run.cable is None and all(wires.role != "insulated" for wires in run.wires) for run in runs)
    return alone or (any(grounded) and not all(grounded))


def splits(placed: RacewayInPlace, groups: list[tuple[Run, ...]]) -> Iterator[tuple[Run, ...]]:
    """Which runs to move: as few circuits as leave a raceway that passes, from the largest and from the smallest."""
    raceway = placed.raceway

    def size_alone(group: tuple[Run, ...]) -> int:
        sized = size_of_kind(Subject(raceway, group), raceway.kind, placed.job, placed.book)
        sizes = [row.size for row in bore_rows(raceway.kind, placed.book)]
        return sizes.index(sized.certain) if sized.certain else len(sizes)

    by_size = sorted(groups, key=size_alone)
    for ordered in (list(reversed(by_size)), by_size):
        for number in range(1, len(ordered)):
            moved = tuple([run for group in ordered[:number] for run in group])
            left = tuple([run for run in placed.subject.runs if not any(run is other for other in moved)])
            if placed.report_as(Subject(raceway, left)).verdict.is_allowed:
                yield moved
                break


def free_name(placed: RacewayInPlace) -> str | None:
    """``R1b``, ``R1c`` ...: the first no raceway has; None where all are taken."""
    taken = {raceway.name.casefold() for raceway in placed.job.raceways}
    names = (placed.raceway.name + letter for letter in "bcdefghijklmnopqrstuvwxyz")
    return next((name for name in names if name.casefold() not in taken), None)


def beside(placed: RacewayInPlace, name: str, moved: tuple[Run, ...]) -> Move | None:
    """The smallest raceway beside it that holds the runs moved; None where the stock file has none that does."""
    raceway = placed.raceway
    sized = size_of_kind(Subject(raceway, moved), raceway.kind, placed.job, placed.book)
    sizes = [row.size for row in bore_rows(raceway.kind, placed.book)]
    if not sized.certain:
        return None
    stocked_sizes = [
        size for size in sizes[sizes.index(sized.certain) :] if placed.stock.length(f"{raceway.kind} {size}")
    ]
    if not stocked_sizes:
        return None
    size = stocked_sizes[0]
    parts = placed.parts(name, size, moved, placed.length)
    stocked = placed.stock.length(f"{raceway.kind} {size}")
    assert parts is not None  # the stock has its length
    assert stocked is not None
    new = replace(raceway, name=name, size=size, at=NOWHERE)
    change: Change = (AddRaceway(new, raceway.name), *(PutRun(lying_in(name, run, raceway), run) for run in moved))
    change += entries_beside(placed, name)
    named = [f"circuit {run.circuit}" if run.circuit else "the run without a circuit" for run in moved]
    what = f"put {stocked.name} beside it as {name} for {', '.join(dict.fromkeys(named))}"
    rates = tuple([rate._replace(length_of=raceway.name) for rate in parts.rates])
    detail = f"{raceway.name} stays; the conductors of a circuit stay together, with their ground."
    return Move(
        raceway.name,
        what,
        change,
        parts.buys,
        parts.minutes,
        Disturbance.NOTHING,
        notes=(f"there is room for {name} beside it, and a way into both its ends", *parts.notes),
        rates=rates,
        details=(detail,),
    )


def lying_in(name: str, run: Run, raceway: Raceway) -> Run:
    """A run that lies in another raceway instead."""
    raceways = tuple(replace(each, name=name) if each.name == raceway.name else each for each in run.raceways)
    return replace(run, raceways=raceways)


def entries_beside(placed: RacewayInPlace, name: str) -> Change:
    """An entry line for the second raceway behind each of the first one's: it comes in by the same wall and row."""
    steps: Change = ()
    for box in placed.job.boxes:
        if box.name in placed.raceway.ends:
            for item in box.items:
                if isinstance(item, Entry) and item.raceway == placed.raceway.name:
                    steps += (AddAfter(box.name, (replace(item, raceway=name, at=NOWHERE),), item),)
    return steps
