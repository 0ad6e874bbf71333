"""By which raceway each large conductor comes into a box and by which it leaves, as far as the sheet says."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from ampleroom.editions import CodeBook
from ampleroom.job.model import Entry, Run, Stop
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.allowance import is_large
from ampleroom.rules.box.pull_box.distances import SIDES, Pull, PullEntry, Wall
from ampleroom.rules.space import Entering, Space
from ampleroom.worksheet import OpenFact

ANY_WALL = f"write: entry NAME {', '.join((*SIDES, 'rear')[:-1])} or rear"
"""What to write where a raceway's wall is missing."""


class Pulls(NamedTuple):
    """What is pulled through a box, and what the sheet leaves out of it."""

    entries: tuple[PullEntry, ...]
    """The raceways whose trade size the sheet has."""
    walls: tuple[Wall | None, ...]
    """The wall of each; None where the sheet does not have it, and then ``PullEntry.wall`` is not to be looked at."""
    pulls: tuple[Pull, ...]
    wall_questions: tuple[OpenFact, ...]
    """For each raceway without a wall, which it is."""
    questions: tuple[OpenFact, ...]
    """What else has to be known before any distance can be judged."""


def large_conductors(space: Space, book: CodeBook) -> list[Entering]:
    """The insulated conductors of 4 AWG and larger that come into a space by runs."""
    return [each for each in space.entering if each.role == "insulated" and each.count and is_large(each.size, book)]


def pulls_through(space: Space, book: CodeBook) -> Pulls:
    """The raceways of a space with their walls, and the pulls of its large conductors from one to another."""
    here = space.box.name
    coming = {raceway.name: raceway for raceway in space.raceways if here in raceway.ends}
    coming = coming or {raceway.name: raceway for raceway in space.raceways}
    written = {entry.raceway: entry for entry in space.of(Entry) if entry.raceway}
    thickest: dict[str, str] = {}
    pairs: dict[tuple[str, str, bool], None] = {}
    questions: list[OpenFact] = []
    for each in large_conductors(space, book):
        names = [lain_in.name for lain_in in each.run.raceways if lain_in.name in coming]
        questions += missing_raceways(each, names, space)
        for name in names:
            thickest[name] = max(thickest.get(name, each.size), each.size, key=RANK.__getitem__)
        if len(names) == 2 and goes_on(each):
            pairs[names[0], names[1], isinstance(each.met, Stop)] = None
    if space.share is not None:  # a raceway of another side of the barrier is none of this side's
        own = {name for each in space.entering for name in raceway_names(each.run)} | set(written)
        coming = {name: raceway for name, raceway in coming.items() if name in own}
    if book.reading("small-in-row") == "not-counted":
        coming = {name: raceway for name, raceway in coming.items() if name in thickest}
    entries: list[PullEntry] = []
    walls: list[Wall | None] = []
    wall_questions: list[OpenFact] = []
    for name, raceway in coming.items():
        entry = written.get(name)
        if entry is None:
            question = f"the wall of {space.subject} that {name} comes in by"
            wall_questions.append(OpenFact(question, Decimal(0), ANY_WALL.replace("NAME", name), raceway.at))
        if raceway.size is UNKNOWN:
            questions.append(OpenFact(f"the trade size of {name}", Decimal(0), "every distance goes by it", raceway.at))
        else:
            walls.append(entry.wall if entry else None)  # type: ignore[arg-type]  # no raceway's entry is a plain "side"
            size, row = trade_inches(raceway.size), entry.row if entry else 1
            entries.append(PullEntry(name, size, walls[-1] or "left", row, thickest.get(name, "")))
    numbers = {entry.name: number for number, entry in enumerate(entries)}
    pulls = [
        Pull(numbers[one], numbers[other], is_spliced)
        for one, other, is_spliced in pairs
        if one in numbers and other in numbers
    ]
    return Pulls(tuple(entries), tuple(walls), tuple(pulls), tuple(wall_questions), tuple(dict.fromkeys(questions)))


def goes_on(each: Entering) -> bool:
    """Whether conductors pass, or end here and go on in the same run."""
    return not isinstance(each.met, Stop) or each.met not in (each.run.stops[0], each.run.stops[-1])


def raceway_names(run: Run) -> Iterator[str]:
    """The names of the raceways a run lies in."""
    return (lain_in.name for lain_in in run.raceways if lain_in.name)


def missing_raceways(each: Entering, names: list[str], space: Space) -> Iterator[OpenFact]:
    """What is missing where a run does not say by which raceway its large conductors come in, or leave."""
    wanted = 2 if goes_on(each) else 1
    if len(names) == wanted:
        return
    own_name = each.own_name(space.box.name)
    if each.run.cable is not None and not each.run.raceways:
        question = f"the raceway that {own_name} would need, for a cable is judged by it"
        settles = "write the cable in a raceway of that size, and its entry line"
    elif len(names) > wanted:
        question = f"which of {', '.join(names)} {own_name} comes in by"
        settles = "name its raceways in order, and end each at its boxes"
    else:
        question = f"the raceway{'s' if wanted > 1 else ''} {own_name} comes in {'and leaves ' * (wanted > 1)}by"
        settles = "give each raceway a line with a name, and write after the wires: in R1, R2"
    yield OpenFact(question, Decimal(0), settles, each.run.at)


def trade_inches(size: str) -> Decimal:
    """A trade size as a number of inches: ``1-1/4`` is 1.25."""
    whole, _, part = size.rpartition("-") if "/" in size else (size, "", "")
    top, _, bottom = part.partition("/")
    return Decimal(whole or 0) + (Decimal(top) / Decimal(bottom) if part else 0)
