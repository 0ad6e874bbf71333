"""Move: a second wireway or gutter beside an overfull one, for some of its circuits."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.edit import AddWireway, Change, PutRaceway, PutRun, PutWireway
from ampleroom.job.model import Raceway, Run, Wireway
from ampleroom.record import replace
from ampleroom.remedy.moves.second_raceway import MOST_GROUPS, circuits_in, has_shared_ground
from ampleroom.remedy.remedy import Disturbance, Move
from ampleroom.remedy.wireway_in_place import WirewayInPlace, ending_at, with_section
from ampleroom.rules.wireway.filled import Subject
from ampleroom.where import NOWHERE


def second_wireway(placed: WirewayInPlace) -> Iterator[Move]:
    """As few circuits as will do go to a second one beside it. All conductors of a circuit stay together, and all that
    lie in one raceway that ends at it: that raceway ends at the second one then. What ends in it is spliced there and
    stays. Where circuits share a ground, none is offered.
    """
    if not placed.section_fails or has_shared_ground(placed.subject.runs):
        return
    groups = groups_in(placed)
    may_go = [group for group in groups if not any(ends_in(run, placed.wireway) for run in group)]
    if len(groups) < len(("one", "other")) or not may_go or len(groups) > MOST_GROUPS:
        return
    name = free_name(placed)
    if name is None:
        return
    seen: set[frozenset[int]] = set()
    for moved in splits(placed, may_go, len(groups)):
        key = frozenset(map(id, moved))
        if key not in seen:
            seen.add(key)
            move = beside(placed, name, moved)
            if move is not None:
                yield move


def ends_in(run: Run, wireway: Wireway) -> bool:
    """Whether a run stops in it, so that it is spliced or tapped there."""
    return any(stop.name == wireway.name for stop in run.stops)


def lies_in(run: Run, raceway: Raceway) -> bool:
    """Whether a run names a raceway."""
    return any(each.name == raceway.name for each in run.raceways)


def groups_in(placed: WirewayInPlace) -> list[tuple[Run, ...]]:
    """Runs that have to stay together: those of one circuit, and those of one raceway that ends at it."""
    groups = circuits_in(placed.subject.runs)
    for raceway in ending_at(placed.wireway, placed.job):
        joined = [group for group in groups if any(lies_in(run, raceway) for run in group)]
        if joined:
            rest = [group for group in groups if group not in joined]
            groups = [*rest, tuple([run for group in joined for run in group])]
    return groups


def splits(placed: WirewayInPlace, groups: list[tuple[Run, ...]], all_groups: int) -> Iterator[tuple[Run, ...]]:
    """Which runs to move: as few groups as leave a wireway that passes, from the fullest and from the least full."""
    by_area = sorted(groups, key=lambda group: wires_in(group, placed))
    for ordered in (by_area[::-1], by_area):
        for number in range(1, min(len(ordered), all_groups - 1) + 1):
            moved = tuple([run for group in ordered[:number] for run in group])
            if placed.passes_as(with_runs(placed.subject, moved, keep=False)):
                yield moved
                break


def wires_in(group: tuple[Run, ...], placed: WirewayInPlace) -> int:
    """The place of the smallest section of the stock file that would hold these runs alone."""
    alone = with_runs(placed.subject, group, keep=True)
    for place, (_, inside) in enumerate(placed.sections):
        if placed.passes_as(alone._replace(wireway=with_section(placed.wireway, inside))):
            return place
    return len(placed.sections)


def with_runs(subject: Subject, runs: tuple[Run, ...], keep: bool) -> Subject:
    """It with these runs alone, or with all but these."""
    here = [
        (run, lengths)
        for run, lengths in zip(subject.runs, subject.lengths, strict=True)
        if any(run is other for other in runs) is keep
    ]
    return subject._replace(runs=tuple([run for run, _ in here]), lengths=tuple([lengths for _, lengths in here]))


def free_name(placed: WirewayInPlace) -> str | None:
    """``W1b``, ``W1c`` ...: the first that no place and no raceway has; None where all are taken."""
    taken = placed.job.place_names | {raceway.name.casefold() for raceway in placed.job.raceways}
    names = (placed.wireway.name + letter for letter in "bcdefghijklmnopqrstuvwxyz")
    return next((name for name in names if name.casefold() not in taken), None)


def beside(placed: WirewayInPlace, name: str, moved: tuple[Run, ...]) -> Move | None:
    """The smallest one beside it that holds the runs moved; None where the stock file has none that does."""
    wireway = placed.wireway
    alone = with_runs(placed.subject, moved, keep=True)
    raceways = [raceway for raceway in ending_at(wireway, placed.job) if any(lies_in(run, raceway) for run in moved)]
    names = {raceway.name for raceway in raceways}
    gone = tuple([apart for apart in wireway.apart if {apart.one, apart.other} <= names])
    as_now = replace(wireway, name=name, splices=None, apart=gone, at=NOWHERE)
    tried = ((stocked, with_section(as_now, inside)) for stocked, inside in placed.sections)
    passing = ((stocked, new) for stocked, new in tried if placed.passes_as(alone._replace(wireway=new)))
    stocked, new = next(passing, (None, as_now))
    if stocked is None:
        return None
    change: Change = (AddWireway(new, wireway.name),)
    if gone:
        kept = tuple([apart for apart in wireway.apart if apart not in gone])
        change += (PutWireway(replace(wireway, apart=kept), wireway),)
    change += tuple([PutRaceway(ending(raceway, wireway.name, name), raceway) for raceway in raceways])
    change += tuple([PutRun(lying(run, wireway.name, name), run) for run in moved if names_it(run, wireway.name)])
    parts = placed.parts(stocked, name, wireway.name)
    named = [f"circuit {run.circuit}" if run.circuit else "the run without a circuit" for run in moved]
    detail = f"{wireway.name} stays; the conductors of a circuit stay together, with their ground."
    notes = [f"there is room for {name} beside it, and a way into both its ends"]
    if raceways:
        notes.append(f"{', '.join(raceway.name for raceway in raceways)} can be brought into it instead")
    notes += [f"{name} has no splices", "covers, ends and supports are on hand"]
    return Move(
        wireway.name,
        f"put {stocked.name} beside it as {name} for {', '.join(dict.fromkeys(named))}",
        change,
        parts.buys,
        parts.minutes,
        Disturbance.NOTHING,
        notes=tuple(notes),
        rates=parts.rates,
        details=(detail,),
    )


def names_it(run: Run, name: str) -> bool:
    """Whether the line of a run names the wireway, and not only a raceway that ends there."""
    return any(each.name == name for each in (*run.raceways, *run.through))


def lying(run: Run, old: str, new: str) -> Run:
    """A run that lies in another wireway instead."""
    raceways = tuple([replace(each, name=new) if each.name == old else each for each in run.raceways])
    through = tuple([replace(each, name=new) if each.name == old else each for each in run.through])
    return replace(run, raceways=raceways, through=through)


def ending(raceway: Raceway, old: str, new: str) -> Raceway:
    """A raceway that ends at another wireway instead."""
    ends = tuple([new if end.casefold() == old.casefold() else end for end in raceway.ends])
    return replace(raceway, ends=ends)


__all__ = ["second_wireway"]
