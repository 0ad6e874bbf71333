"""The distances a pull box needs: from wall to wall, between entries of the same conductors, and behind a back entry.

All lengths in inches. A raceway counts by its trade size as a number, not by its outside diameter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Literal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.trade import RANK
from ampleroom.record import Record, TupleRecord

Wall = Literal["left", "right", "top", "bottom", "rear"]
SIDES: tuple[Wall, ...] = ("left", "right", "top", "bottom")
OPPOSITE: dict[str, Wall] = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
Way = Literal["across", "down", "deep"]
WAYS: tuple[Way, ...] = ("across", "down", "deep")
WAY: dict[str, Way] = {"left": "across", "right": "across", "top": "down", "bottom": "down", "rear": "deep"}
"""Which dimension of the box lies between a wall and the opposite one: its length from left to right, its width from
top to bottom, or its depth from the back to the cover."""
Rule = Literal["straight", "angle", "cover"]


class Multiple(Record):
    """A distance as so many times a raceway's trade size."""

    cite: str
    confidence: str
    times: Decimal


class BendingSpace(Record):
    """From a back entry to the cover, inches, by the thickest conductor that comes in there."""

    size: str
    space: Decimal
    confidence: str = ""


class BendingSpaces(Record):
    """Every size that has a bending space."""

    cite: str
    confidence: str
    rows: tuple[BendingSpace, ...]


STRAIGHT = Table("pull_boxes.straight", Multiple, __file__)
ANGLE = Table("pull_boxes.angle", Multiple, __file__)
SPACING = Table("pull_boxes.spacing", Multiple, __file__)
OPPOSITE_COVER = Table("pull_boxes.opposite_cover", BendingSpaces, __file__, BendingSpace)


class PullEntry(TupleRecord):
    """A raceway, or a cable by the raceway it would need, where it comes into a box."""

    name: str
    size: Decimal
    """Its trade size as a number of inches."""
    wall: Wall
    row: int = 1
    thickest: str = ""
    """Its thickest insulated conductor of 4 AWG and larger; empty where all its conductors are smaller."""

    @property
    def is_large(self) -> bool:
        """Whether it has a conductor of 4 AWG or larger."""
        return bool(self.thickest)


class Pull(TupleRecord):
    """Conductors of 4 AWG and larger that come in by one entry and leave by another, by the numbers of both.

    Both numbers alike: conductors that come in by this entry end in the box.
    """

    one: int
    other: int
    is_spliced: bool = False
    """Whether they are cut and spliced in the box."""
    is_sure: bool = True
    """Whether the sheet says so; False where conductors end here by both entries and it is not said which are spliced
    to which."""


class Distance(TupleRecord):
    """The least distance from one wall to the opposite one, and the entries it comes from."""

    way: Way
    rule: Rule
    inches: Decimal
    wall: Wall
    row: int
    largest: Decimal
    """The trade size that is multiplied; of a back entry 0."""
    others: tuple[Decimal, ...]
    """The trade sizes that are added."""
    entries: tuple[int, ...]
    readings: tuple[str, ...] = ()
    is_sure: bool = True
    """False where it holds only if conductors are spliced to each other of which the sheet does not say so."""


class Spacing(TupleRecord):
    """The least distance between two entries of the same conductors, straight across."""

    one: int
    other: int
    inches: Decimal
    readings: tuple[str, ...] = ()
    is_sure: bool = True
    """Whether it is known that they have the same conductors."""


def is_straight(pull: Pull, entries: Sequence[PullEntry], book: CodeBook) -> bool:
    """Whether conductors go straight through: in by one side wall and out by the opposite one, and not spliced."""
    if OPPOSITE.get(entries[pull.one].wall) != entries[pull.other].wall:
        return False
    return not pull.is_spliced or book.reading("straight-splice") == "as-straight"


def distances(entries: Sequence[PullEntry], pulls: Iterable[Pull], book: CodeBook) -> tuple[Distance, ...]:
    """Every distance from wall to wall that a box needs; the largest of each way decides.

    An entry of 4 AWG and larger that is in no pull is taken as spliced in the box.
    """
    listed = tuple(pulls)
    pulled = {number for pull in listed for number in (pull.one, pull.other)}
    turning = {number for number, entry in enumerate(entries) if entry.is_large and number not in pulled}
    needed: list[Distance] = []
    for pull in listed:
        if is_straight(pull, entries, book):
            needed.append(straight_distance(pull, entries, book))
        elif pull.is_sure:  # conductors that may be spliced to others end here, which is a pull of its own
            turning |= {pull.one, pull.other}
    needed += row_distances(entries, turning, book)
    needed += cover_distances(entries, book)
    return tuple(needed)


def straight_distance(pull: Pull, entries: Sequence[PullEntry], book: CodeBook) -> Distance:
    """Of a straight pull: a multiple of the larger of its two raceways."""
    one, other = entries[pull.one], entries[pull.other]
    largest = max(one.size, other.size)
    inches = largest * book[STRAIGHT].times
    readings = ("straight-splice",) if pull.is_spliced else ()
    numbers = (pull.one, pull.other)
    return Distance(WAY[one.wall], "straight", inches, one.wall, one.row, largest, (), numbers, readings, pull.is_sure)


def row_distances(entries: Sequence[PullEntry], turning: set[int], book: CodeBook) -> Iterator[Distance]:
    """Of every row with an angle pull, a U pull or a splice: a multiple of its largest raceway, and the others
    added.
    """
    times = book[ANGLE].times
    rows: dict[tuple[Wall, int], list[int]] = {}
    for number, entry in enumerate(entries):
        if entry.wall != "rear":
            rows.setdefault((entry.wall, entry.row), []).append(number)
    for (wall, row), numbers in rows.items():
        if turning.isdisjoint(numbers):
            continue
        counted = numbers
        readings: tuple[str, ...] = ()
        if any(not entries[number].is_large for number in numbers):
            readings = ("small-in-row",)
            if book.reading("small-in-row") == "not-counted":
                counted = [number for number in numbers if entries[number].is_large]
        sizes = sorted((entries[number].size for number in counted), reverse=True)
        inches = sizes[0] * times + sum(sizes[1:], Decimal(0))
        yield Distance(WAY[wall], "angle", inches, wall, row, sizes[0], tuple(sizes[1:]), tuple(counted), readings)


def cover_distances(entries: Sequence[PullEntry], book: CodeBook) -> Iterator[Distance]:
    """Of every back entry, opposite the cover: the bending space of its thickest conductor."""
    spaces = book.once(_bending_spaces)
    for number, entry in enumerate(entries):
        if entry.wall == "rear" and entry.is_large:
            inches = bending_space(entry.thickest, spaces)
            yield Distance("deep", "cover", inches, "rear", entry.row, Decimal(0), (), (number,))


def bending_space(size: str, spaces: Mapping[str, Decimal]) -> Decimal:
    """The bending space of a size, inches; of one without a row that of the next thicker one, or else of the
    thickest.
    """
    ordered = sorted(spaces, key=RANK.__getitem__)
    return spaces[next((row for row in ordered if RANK[row] >= RANK[size]), ordered[-1])]


def _bending_spaces(book: CodeBook) -> dict[str, Decimal]:
    return {row.size: row.space for row in book[OPPOSITE_COVER].rows}


def spacings(entries: Sequence[PullEntry], pulls: Iterable[Pull], book: CodeBook) -> tuple[Spacing, ...]:
    """The distances between entries of the same conductors: of angle and U pulls, and across a splice."""
    times = book[SPACING].times
    needed: list[Spacing] = []
    for pull in pulls:
        if pull.one == pull.other or is_straight(pull, entries, book):
            continue
        one, other = entries[pull.one], entries[pull.other]
        readings = ["entry-distance"]
        if pull.is_spliced:
            readings.append("spacing-across-splice")
        if "rear" in (one.wall, other.wall):
            readings.append("back-entry-spacing")
        inches = max(one.size, other.size) * times
        needed.append(Spacing(pull.one, pull.other, inches, tuple(readings), pull.is_sure))
    sure = {frozenset((spacing.one, spacing.other)) for spacing in needed if spacing.is_sure}
    return tuple([each for each in needed if each.is_sure or frozenset((each.one, each.other)) not in sure])


def least(needed: Iterable[Distance], way: Way) -> Decimal:
    """The largest of the distances of one way; 0 where the code gives none."""
    return max((distance.inches for distance in needed if distance.way == way), default=Decimal(0))
