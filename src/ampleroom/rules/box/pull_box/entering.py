"""By which raceway each large conductor comes into a box and by which it leaves, as far as the sheet says."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import combinations

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.job.model import Entry, Raceway, Run, Stop
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord
from ampleroom.rules.allowance import is_large
from ampleroom.rules.box.pull_box.distances import SIDES, Pull, PullEntry, Wall
from ampleroom.rules.runs_at_box import direction
from ampleroom.rules.space import Entering, Space
from ampleroom.worksheet import OpenFact

INSULATED = ("insulated", "isolated ground")
"""The conductors that must be insulated: the distances are for them. Another ground may be bare."""
MOST_PAIRED = 8
"""Of so many raceways by which large conductors stop every two are looked at. More pairs than that nobody would
measure."""
ANY_WALL = f"write: entry NAME {', '.join((*SIDES, 'rear')[:-1])} or rear"
"""What to write where a raceway's wall is missing."""


class Pulls(TupleRecord):
    """What is pulled through a box, and what the sheet leaves out of it."""

    entries: tuple[PullEntry, ...]
    """The raceways whose trade size the sheet has."""
    walls: tuple[Wall | None, ...]
    """The wall of each; None where the sheet does not have it, and then ``PullEntry.wall`` is not to be looked at."""
    pulls: tuple[Pull, ...]
    wall_questions: tuple[OpenFact, ...]
    """For each raceway of large conductors without a wall, which it is."""
    questions: tuple[OpenFact, ...]
    """What else has to be known before any distance can be judged."""
    row_wall_questions: tuple[OpenFact, ...]
    """For each raceway of smaller conductors without a wall, which it is. It matters where a row is added up."""
    row_questions: tuple[OpenFact, ...]
    """What else has to be known before a row can be added up: raceways of smaller conductors."""
    too_many_stop: bool
    """Whether large conductors stop in the box by more than ``MOST_PAIRED`` raceways: no two of them are then taken as
    a pair."""


def large_conductors(space: Space, book: CodeBook) -> list[Entering]:
    """The conductors of 4 AWG and larger that come into a space by runs, of those that must be insulated."""
    return [each for each in space.entering if each.role in INSULATED and each.count and is_large(each.size, book)]


def unread_sizes(space: Space, book: CodeBook) -> Iterator[OpenFact]:
    """The size of single wires in a raceway that nobody read and that may be large. Cables of unknown size are of those
    that have an allowance.
    """
    from_size = book[PULL_BOX].from_size
    seen: set[int] = set()
    for each in space.entering:
        run = each.run
        if id(run) in seen or run.cable is not None or not run.raceways or run.low_voltage:
            continue
        seen.add(id(run))
        for wires in run.wires:
            if wires.size is UNKNOWN and wires.role in INSULATED and wires.count != 0:
                if not may_be_large(wires.insulation, book):
                    continue
                question = f"whether wires {direction(run, space.box.name, each.met, each.onward)} are "
                question += f"{size_text(from_size)} or larger"
                settles = "if they are, the box goes by pull-box distances; write their size"
                yield OpenFact(question, Decimal(0), settles, run.at)
                break


def may_be_large(insulation: str, book: CodeBook) -> bool:
    """Whether conductors of an insulation come in sizes that belong to pull boxes; of one not written, of any."""
    from ampleroom.rules.raceway.sizes import sizes_with  # its tables are read only where a size is not known

    return any(is_large(size, book) for size in sizes_with(insulation, book))


def pulls_through(space: Space, book: CodeBook) -> Pulls:
    """The raceways of a space with their walls, and the pulls of its large conductors from one to another."""
    coming = raceways_coming(space)
    questions: list[OpenFact] = []
    written: dict[str, Entry] = {}
    for line in space.of(Entry):
        if line.raceway in written:
            question = f"which of its two entry lines {line.raceway} comes in by"
            questions.append(OpenFact(question, Decimal(0), "keep one of them", line.at))
        elif line.raceway:
            written[line.raceway] = line
    thickest: dict[str, str] = {}
    pairs: dict[tuple[str, str, bool], None] = {}
    stopping: dict[str, bool] = {}
    large = large_conductors(space, book)
    for each in large:
        names = [lain_in.name for lain_in in each.run.raceways if lain_in.name in coming]
        questions += missing_raceways(each, names, space)
        for name in names:
            thickest[name] = max(thickest.get(name, each.size), each.size, key=RANK.__getitem__)
        if isinstance(each.met, Stop):
            for name in names:
                stopping[name] = stopping.get(name, False) or not goes_on(each)
        if len(names) == 2 and goes_on(each):
            pairs[names[0], names[1], isinstance(each.met, Stop)] = None
    row_questions: list[OpenFact] = []
    if book.reading("small-in-row") == "not-counted":
        coming = {name: raceway for name, raceway in coming.items() if name in thickest}
    else:
        row_questions += small_raceways_missing(space, large, coming)
        row_questions += entries_of_other_boxes(space, coming)
        if space.share is not None:  # a raceway of another side of the barrier is none of this side's
            own = {name for each in space.entering for name in raceway_names(each.run)} | set(written)
            coming = {name: raceway for name, raceway in coming.items() if name in own}
    entries: list[PullEntry] = []
    walls: list[Wall | None] = []
    wall_questions: list[OpenFact] = []
    row_wall_questions: list[OpenFact] = []
    for name, raceway in coming.items():
        entry = written.get(name)
        if entry is None:
            question = f"the wall of {space.subject} that {name} comes in by"
            fact = OpenFact(question, Decimal(0), ANY_WALL.replace("NAME", name), raceway.at)
            (wall_questions if name in thickest else row_wall_questions).append(fact)
        if raceway.size is UNKNOWN:
            fact = OpenFact(f"the trade size of {name}", Decimal(0), "every distance goes by it", raceway.at)
            (questions if name in thickest else row_questions).append(fact)
        else:
            # No raceway's entry is a plain "side".
            walls.append(entry.wall if entry else None)  # type: ignore[arg-type]
            size, row = trade_inches(raceway.size), entry.row if entry else 1
            entries.append(PullEntry(name, size, walls[-1] or "left", row, thickest.get(name, "")))
    numbers = {entry.name: number for number, entry in enumerate(entries)}
    known = [(one, other, is_spliced) for one, other, is_spliced in pairs if one in numbers and other in numbers]
    pulls = [Pull(numbers[one], numbers[other], is_spliced) for one, other, is_spliced in known]
    stopped = {numbers[name]: ends for name, ends in stopping.items() if name in numbers}
    pulls += splices(stopped, pulls)
    return Pulls(
        tuple(entries),
        tuple(walls),
        tuple(pulls),
        tuple(wall_questions),
        tuple(dict.fromkeys(questions)),
        tuple(row_wall_questions),
        tuple(dict.fromkeys(row_questions)),
        len(stopped) > MOST_PAIRED,
    )


def raceways_coming(space: Space) -> dict[str, Raceway]:
    """The raceways that end at a box; where none does, those its runs are in."""
    ending = {raceway.name: raceway for raceway in space.raceways if space.box.name in raceway.ends}
    return ending or {raceway.name: raceway for raceway in space.raceways}


def splices(stopped: dict[int, bool], sure: list[Pull]) -> list[Pull]:
    """Where large conductors stop in a box: every entry by which some end there, and every two entries whose conductors
    may be spliced to each other, for a sheet of separate runs does not say which are.

    ``stopped``: the entries by which conductors come in and stop, each with whether some of them go no further.
    """
    spliced = {frozenset(pull[:2]) for pull in sure if pull.is_spliced}
    ending = [Pull(number, number, True) for number, ends in stopped.items() if ends]
    if len(stopped) > MOST_PAIRED:
        return ending
    perhaps = [
        Pull(one, other, True, False)
        for one, other in combinations(stopped, 2)
        if (stopped[one] or stopped[other]) and frozenset((one, other)) not in spliced
    ]
    return [*ending, *perhaps]


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
        question = f"which of {', '.join(names)} {own_name} come in by"
        settles = "name its raceways in order, and end each at its boxes"
    else:
        question = f"the raceway{'s' if wanted > 1 else ''} {own_name} come in {'and leave ' * (wanted > 1)}by"
        settles = "give each raceway a line with a name, and write after the wires: in R1, R2"
    yield OpenFact(question, Decimal(0), settles, each.run.at)


def small_raceways_missing(space: Space, large: list[Entering], coming: dict[str, Raceway]) -> Iterator[OpenFact]:
    """What is missing where smaller wires do not say by which raceway they come in, or leave; a cable takes no part in
    a row.
    """
    seen = {id(each.run) for each in large}
    for each in space.entering:
        if id(each.run) in seen or not each.count or (each.run.cable is not None and not each.run.raceways):
            continue
        seen.add(id(each.run))
        names = [lain_in.name for lain_in in each.run.raceways if lain_in.name in coming]
        yield from missing_raceways(each, names, space)


def entries_of_other_boxes(space: Space, coming: dict[str, Raceway]) -> Iterator[OpenFact]:
    """What is to be settled where an entry line names a raceway that does not come into the box."""
    for entry in space.of(Entry):
        if entry.raceway and entry.raceway not in coming:
            question = f"whether {entry.raceway} comes into {space.box.name}: its own line does not end it there"
            settles = "end the raceway at this box, or take out its entry line"
            yield OpenFact(question, Decimal(0), settles, entry.at)


def trade_inches(size: str) -> Decimal:
    """A trade size as a number of inches: ``1-1/4`` is 1.25."""
    whole, _, part = size.rpartition("-") if "/" in size else (size, "", "")
    top, _, bottom = part.partition("/")
    return Decimal(whole or 0) + (Decimal(top) / Decimal(bottom) if part else 0)
