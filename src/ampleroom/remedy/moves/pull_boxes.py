"""Moves: a larger pull box; raceways that come into it by other walls."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.errors import AmpleroomError
from ampleroom.job.edit import AddItem, Change, DropItem, PutItem
from ampleroom.job.model import Apart, Base, Entry
from ampleroom.quantities import inches
from ampleroom.record import Record, once, replace
from ampleroom.remedy.box_in_place import BoxInPlace, may_be_nonmetallic
from ampleroom.remedy.remedy import Buy, Disturbance, Move
from ampleroom.remedy.stock import StockBox
from ampleroom.rules.box.pull_box import NAME as PULL_BOX
from ampleroom.rules.box.pull_box.distances import Wall
from ampleroom.rules.box.pull_box.entering import Pulls
from ampleroom.sizing.arrangement import (
    MOST_ENTRIES,
    Arrangement,
    NotArranged,
    distances_apart,
    placed_in,
    rearranged_in,
    smallest_box,
)
from ampleroom.sizing.pull_box import arrangement_lines, pulls_of
from ampleroom.worksheet import Verdict

KEPT = "every distance kept"
"""What is said of the room a pull box has left: cubic inches were not what it was short of."""


class PullBoxInPlace(Record):
    """A pull box with what is pulled through it."""

    placed: BoxInPlace
    base: Base
    pulled: Pulls

    @property
    def walls(self) -> tuple[Wall, ...]:
        """The wall of each raceway; all are known."""
        return tuple([wall for wall in self.pulled.walls if wall is not None])

    @once
    def names(self) -> tuple[str, ...]:
        """The raceways, in the order of an arrangement's walls."""
        return tuple([entry.name for entry in self.pulled.entries])

    @once
    def sides(self) -> tuple[Decimal, Decimal]:
        """The inside from left to right and from top to bottom, inches."""
        return self.base.inside[0], self.base.inside[1]

    @once
    def as_written(self) -> Arrangement | None:
        """The smallest box with the walls as they are written; None where no place was found for the entries there."""
        try:
            return smallest_box(self.pulled.entries, self.pulled.pulls, self.walls, self.placed.book)
        except NotArranged:
            return None

    @once
    def chosen(self) -> Arrangement | None:
        """The smallest box with every side wall chosen; None where it is no smaller than with those written."""
        if sum(wall != "rear" for wall in self.walls) > MOST_ENTRIES:
            return None
        free = [wall if wall == "rear" else None for wall in self.walls]
        made = smallest_box(self.pulled.entries, self.pulled.pulls, free, self.placed.book)
        now = self.as_written
        return made if now is None or made.across * made.down < now.across * now.down else None


def pull_box_of(placed: BoxInPlace) -> PullBoxInPlace | None:
    """A box whose distances fail for certain, with what is pulled through it. None for any other, and where something
    has to be known first: which wall a raceway comes in by, how large the box is. Nor where a kind describes it.
    """
    base = placed.base
    findings = [finding for finding in placed.report.findings if finding.rule == PULL_BOX]
    if not any(finding.verdict is Verdict.FAILS for finding in findings) or placed.box.kind:
        return None
    if base is None or base.form != "measured" or placed.divided:
        return None
    try:
        pulled = pulls_of(placed.job, placed.box.name, placed.book)
    except AmpleroomError:
        return None
    return PullBoxInPlace(placed, base, pulled) if None not in pulled.walls else None


# ---- the moves -----------------------------------------------------------------------------------------------------


def larger_pull_box(placed: BoxInPlace) -> Iterator[Move]:
    """A pull box from stock that is large enough: with the raceways in the walls they are in, or arranged so that a
    smaller one will do. Of two that will do the smaller is offered. It may hang either way round, and is no shallower
    than the one there.
    """
    pull_box = pull_box_of(placed)
    if pull_box is None:
        return
    smaller: list[tuple[Decimal, ...]] = []
    for stocked, inside in boxes_for(placed, pull_box.as_written, pull_box.base) if pull_box.as_written else ():
        if not is_larger_than_one(inside, smaller):
            arrangement = placed_in(
                pull_box.pulled.entries, pull_box.pulled.pulls, pull_box.walls, inside[:2], placed.book
            )
            if arrangement is not None:
                smaller.append(inside)
                yield with_box(pull_box, stocked, inside, arrangement)
    if pull_box.chosen is None:
        return
    for stocked, inside in boxes_for(placed, pull_box.chosen, pull_box.base):
        if not is_larger_than_one(inside, smaller):
            arrangement = rearranged_in(
                pull_box.pulled.entries, pull_box.pulled.pulls, pull_box.walls, inside[:2], placed.book
            )
            if arrangement is not None:
                smaller.append(inside)
                yield with_box(pull_box, stocked, inside, arrangement)


def other_walls(placed: BoxInPlace) -> Iterator[Move]:
    """The same box with as few raceways as will do brought in by other walls, so that it is large enough."""
    pull_box = pull_box_of(placed)
    if pull_box is None or sum(wall != "rear" for wall in pull_box.walls) > MOST_ENTRIES:
        return
    arrangement = rearranged_in(
        pull_box.pulled.entries, pull_box.pulled.pulls, pull_box.walls, pull_box.sides, placed.book
    )
    if arrangement is None or arrangement.deep > pull_box.base.inside[2]:
        return
    moved = moved_entries(pull_box, arrangement)
    number = Decimal(max(len(moved), 1))
    brought = ", ".join(f"{name} in at the {wall}" for name, wall in moved)
    yield Move(
        placed.box.name,
        f"bring {brought}" if moved else "move its entries apart",
        entry_change(pull_box, arrangement),
        (),
        number * placed.stock.minutes.entry,
        disturbance_of(placed),
        notes=("the raceways can be brought there, and the openings left are closed",),
        details=details_of(pull_box, arrangement),
        leaves=KEPT,
    )


# ---- what they share -----------------------------------------------------------------------------------------------

Inside = tuple[Decimal, Decimal, Decimal]


def boxes_for(placed: BoxInPlace, needed: Arrangement, base: Base) -> Iterator[tuple[StockBox, Inside]]:
    """Pull boxes of the stock that hold an arrangement, the smallest first, as they would hang: from left to right,
    from top to bottom, and deep.
    """
    fitting: list[tuple[StockBox, Inside]] = []
    deep = max(needed.deep, base.inside[2])
    for stocked in placed.stock.boxes:
        if "pull" not in stocked.uses or (placed.metal_enters and may_be_nonmetallic(stocked)):
            continue
        if placed.way and placed.way not in stocked.mounting:
            continue
        one, other, depth = stocked.base.inside
        hung = [(one, other), (other, one)] if one != other else [(one, other)]
        for across, down in hung:
            if across >= needed.across and down >= needed.down and depth >= deep:
                fitting.append((stocked, (across, down, depth)))
                break
    yield from sorted(fitting, key=lambda pair: (pair[0].price, pair[1][0] * pair[1][1] * pair[1][2]))


def is_larger_than_one(inside: Inside, smaller: list[tuple[Decimal, ...]]) -> bool:
    """Whether a box, either way round, is at least as large in each measure as one that will do already."""
    return any(
        all(measure >= least for measure, least in zip(sorted(inside[:2]), sorted(other[:2]), strict=True))
        and inside[2] >= other[2]
        for other in smaller
    )


def moved_entries(pull_box: PullBoxInPlace, arrangement: Arrangement) -> list[tuple[str, Wall]]:
    """The raceways that come in by another wall, each with that wall."""
    walls = zip(pull_box.names, pull_box.walls, arrangement.walls, strict=True)
    return [(name, wall) for name, was, wall in walls if was != wall]


def with_box(pull_box: PullBoxInPlace, stocked: StockBox, inside: Inside, arrangement: Arrangement) -> Move:
    """A larger box in its place, with the raceways as arranged."""
    placed = pull_box.placed
    base = replace(stocked.base, inside=inside, at=pull_box.base.at)
    change: Change = (PutItem(placed.box.name, base, pull_box.base), *entry_change(pull_box, arrangement))
    buys: tuple[Buy, ...] = (Buy(stocked.name, Decimal(1), stocked.price),)
    if stocked.cover_price:
        buys += (Buy(f"cover for {stocked.name}", Decimal(1), stocked.cover_price),)
    moved = moved_entries(pull_box, arrangement)
    what = f"replace it with {stocked.name}"
    if moved:
        what += ", and bring " + ", ".join(f"{name} in at the {wall}" for name, wall in moved)
    return Move(
        placed.box.name,
        what,
        change,
        buys,
        placed.stock.minutes.pull_box + len(moved) * placed.stock.minutes.entry,
        disturbance_of(placed),
        (stocked,),
        ("there is room for the larger box", "the raceways reach it"),
        details=details_of(pull_box, arrangement),
        leaves=KEPT,
    )


def disturbance_of(placed: BoxInPlace) -> Disturbance:
    """What it disturbs to get at the whole box."""
    return placed.disturbance()


def entry_change(pull_box: PullBoxInPlace, arrangement: Arrangement) -> Change:
    """The steps that write the wall of each raceway, in one row, and the distances between entries of the same
    conductors, in place of those measured before.
    """
    placed = pull_box.placed
    name = placed.box.name
    walls = dict(zip(pull_box.names, arrangement.walls, strict=True))
    steps: Change = ()
    for item in placed.of(Entry):
        if item.raceway in walls and (item.wall, item.row) != (walls[item.raceway], 1):
            steps += (PutItem(name, replace(item, wall=walls[item.raceway], row=1), item),)
    apart = {
        frozenset((one, other)): (one, other, distance)
        for one, other, distance in distances_apart(
            pull_box.pulled.entries, pull_box.pulled.pulls, arrangement, placed.book
        )
    }
    for line in placed.of(Apart):
        if not (line.one in walls and line.other in walls) or "rear" in (walls[line.one], walls[line.other]):
            continue
        planned = apart.pop(frozenset((line.one, line.other)), None)
        if planned is None:
            steps += (DropItem(name, line),)
        elif planned[2] != line.distance:
            steps += (PutItem(name, replace(line, distance=planned[2]), line),)
    return steps + tuple([AddItem(name, Apart(*planned)) for planned in apart.values()])


def details_of(pull_box: PullBoxInPlace, arrangement: Arrangement) -> tuple[str, ...]:
    """Where each raceway comes in, and how large the box has to be at least where they do."""
    lines = arrangement_lines(arrangement, pull_box.names)
    return tuple([f"{name}: {where}" for name, where in lines if name in pull_box.names])


# ---- where nothing helps -------------------------------------------------------------------------------------------


def pull_box_reasons(placed: BoxInPlace) -> Iterator[str]:
    """How large a pull box has to be, what the stock file has, and what has to be known first."""
    findings = [finding for finding in placed.report.findings if finding.rule == PULL_BOX]
    if not any(finding.verdict is Verdict.FAILS for finding in findings):
        for fact in [fact for finding in findings if finding.verdict is Verdict.OPEN for fact in finding.facts][:3]:
            yield f"check {fact.question} ({fact.settles})"
        return
    pull_box = pull_box_of(placed)
    if pull_box is None:
        name = placed.report.name
        yield f"no larger box is worked out before its facts are known: 'size {name}' says what is missing"
        return
    if pull_box.as_written is not None:
        size = size_text(pull_box.as_written, pull_box.base)
        yield f"with its raceways where they are it takes a box of {size} inside"
    if pull_box.chosen is not None:
        size = size_text(pull_box.chosen, pull_box.base)
        yield f"with them in other walls {size} will do: 'size {placed.report.name}' has the arrangement"
    stocked = [box.base.inside for box in placed.stock.boxes if "pull" in box.uses]
    if stocked:
        largest = max(stocked, key=lambda inside: inside[0] * inside[1])
        yield f"the largest pull box in the stock file is {' x '.join(map(inches, largest))}"
    else:
        yield 'the stock file has no pull boxes: write them as [[box]] with is = "inside 24 x 18 x 8 in metal"'


def size_text(needed: Arrangement, base: Base) -> str:
    """``24 in. x 18 in. x 8 in.``: what a box measures inside at least."""
    deep = max(needed.deep, base.inside[2])
    return " x ".join(map(inches, (needed.across, needed.down, deep)))
