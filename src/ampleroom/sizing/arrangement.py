"""The smallest pull box for some raceways: which wall each comes in by, and where on it.

Every choice of walls is looked at, or ruled out by a bound that no placement can beat. The distances to the opposite
walls and the room the raceways take on a wall give that bound; a choice counts once its entries can be placed the
required distances apart. Lengths are whole numbers of ``PARTS`` to the inch inside, so that nothing is rounded.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from math import isqrt

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.record import TupleRecord
from ampleroom.rules.box.pull_box.distances import (
    ANGLE,
    OPPOSITE,
    SIDES,
    SPACING,
    STRAIGHT,
    Multiple,
    Pull,
    PullEntry,
    Wall,
    cover_distances,
    least,
)

PARTS = 800
"""So many parts to an inch: eighths of an inch times hundredths of a multiple."""
STEP = PARTS // 2
"""Where the distances between entries need a larger box than the walls alone, it grows by half inches."""
MOST_GROWN = 48
"""So many half inches are tried each way."""
MOST_ENTRIES = 8
"""So many raceways are arranged; each more makes four times as many choices."""
CORNER_WALLS: dict[str, tuple[Wall, Wall]] = {
    "left": ("top", "bottom"),
    "right": ("top", "bottom"),
    "top": ("left", "right"),
    "bottom": ("left", "right"),
}
"""The walls a side wall meets where positions along it begin, and where they end: from the left, and from the top."""


class Arrangement(TupleRecord):
    """A box, inches inside, with the wall of every entry and how far its middle is from the left or from the top."""

    across: Decimal
    down: Decimal
    deep: Decimal
    """What the code asks of the depth; 0 where no entry is in the back."""
    walls: tuple[Wall, ...]
    centers: tuple[Decimal, ...]
    """For an entry in the back 0."""
    is_proved: bool
    """Whether no other choice of walls can give a smaller area; else it is the smallest that was found. Rows of one
    wall are laid side by side, so that with several of them it is not proved."""


class TooMany(ValueError):
    """More raceways than can be arranged."""


class NotArranged(ValueError):
    """Entries in walls where no place was found for them: three of one wall, say, that hold the same conductors."""


class _Terms(TupleRecord):
    sizes: tuple[int, ...]
    large: tuple[bool, ...]
    rows: tuple[int, ...]
    """The row of each entry in its wall."""
    pulls: tuple[Pull, ...]
    ending: set[int]
    """The entries by which conductors come in that end here."""
    straight: int
    angle: int
    spacing: int
    small_counts: bool
    splice_is_straight: bool
    by_centers: bool


def smallest_box(
    entries: Sequence[PullEntry], pulls: Sequence[Pull], fixed: Sequence[Wall | None], book: CodeBook
) -> Arrangement:
    """The box of the smallest area, then of the smallest sum of sides. All raceways of a wall stand side by side, those
    of several rows too, so with several rows in a wall it is never proved.

    ``fixed``: the wall of each entry where it is known; the others are chosen, and come in one row. An entry's own
    ``wall`` is not looked at. Raises ``TooMany`` for more than ``MOST_ENTRIES`` entries whose wall is to be chosen,
    ``NotArranged`` where no place was found for them in the walls they have.
    """
    if sum(wall is None for wall in fixed) > MOST_ENTRIES:
        raise TooMany(f"no more than {MOST_ENTRIES} raceways are arranged")
    rows = tuple([1 if wall is None else entry.row for entry, wall in zip(entries, fixed, strict=True)])
    search = _Search(_terms(entries, pulls, book, rows), tuple(fixed))
    search.run()
    if search.best is None:
        raise NotArranged("no box was found in which these entries keep their distances")
    (across, down), walls, centers = search.best
    placed = [entry._replace(wall=wall) for entry, wall in zip(entries, walls, strict=True)]
    deep = least(tuple(cover_distances(placed, book)), "deep")
    is_one_row = all(len({row for row, other in zip(rows, walls, strict=True) if other == wall}) < 2 for wall in SIDES)
    is_proved = is_one_row and not any(bound < key(across, down) for bound in search.unplaced)
    return Arrangement(inches(across), inches(down), deep, walls, tuple(map(inches, centers)), is_proved)


def placed_in(
    entries: Sequence[PullEntry],
    pulls: Sequence[Pull],
    walls: Sequence[Wall],
    sides: tuple[Decimal, Decimal],
    book: CodeBook,
) -> Arrangement | None:
    """The middle of each entry in a box of a size, inches across and down, with the wall of each known. None where they
    do not keep their distances there, in one row to a wall.
    """
    terms, chosen = _terms(entries, pulls, book, (1,) * len(entries)), tuple(walls)
    search = _Search(terms, chosen)
    across, down = int(sides[0] * PARTS), int(sides[1] * PARTS)
    least_across, least_down = search.sides(dict(enumerate(chosen)))
    if across < least_across or down < least_down:
        return None
    centers = placed(terms, chosen, across, down)
    if centers is None:
        return None
    placed_entries = [entry._replace(wall=wall) for entry, wall in zip(entries, chosen, strict=True)]
    deep = least(tuple(cover_distances(placed_entries, book)), "deep")
    return Arrangement(*sides, deep, chosen, tuple(map(inches, centers)), True)


def rearranged_in(
    entries: Sequence[PullEntry],
    pulls: Sequence[Pull],
    walls: Sequence[Wall],
    sides: tuple[Decimal, Decimal],
    book: CodeBook,
) -> Arrangement | None:
    """The arrangement that fits a box of a size, inches across and down, with as few entries as will do in another side
    wall than ``walls`` has; of as many the first. None where none fits. Raises ``TooMany`` as ``smallest_box`` does.
    """
    movable = [number for number, wall in enumerate(walls) if wall != "rear"]
    if len(movable) > MOST_ENTRIES:
        raise TooMany(f"no more than {MOST_ENTRIES} raceways are arranged")
    search = _Search(_terms(entries, pulls, book, (1,) * len(entries)), tuple(walls))
    box = int(sides[0] * PARTS), int(sides[1] * PARTS)

    def choices(place: int, chosen: dict[int, Wall], moves: int) -> Iterator[dict[int, Wall]]:
        if place == len(walls):
            if not moves:
                yield dict(chosen)
            return
        kept = walls[place]
        others = tuple(wall for wall in SIDES if wall != kept) if moves and kept != "rear" else ()
        for wall in (kept, *others):
            chosen[place] = wall
            across, down = search.sides(chosen)
            if across <= box[0] and down <= box[1]:
                yield from choices(place + 1, chosen, moves - (wall != kept))
            del chosen[place]

    for moves in range(len(movable) + 1):
        for chosen in choices(0, {}, moves):
            in_order = tuple(chosen[number] for number in range(len(walls)))
            arrangement = placed_in(entries, pulls, in_order, sides, book)
            if arrangement is not None:
                return arrangement
    return None


def distances_apart(
    entries: Sequence[PullEntry], pulls: Sequence[Pull], box: Arrangement, book: CodeBook
) -> Iterator[tuple[str, str, Decimal]]:
    """How far the two entries of each pull that is not straight are apart, by names and in inches rounded down to an
    eighth: edge to edge, or center to center as that is read. Those with an entry in the back are left out.
    """
    terms = _terms(entries, pulls, book, (1,) * len(entries))
    across, down = int(box.across * PARTS), int(box.down * PARTS)
    centers = [int(center * PARTS) for center in box.centers]
    seen: set[frozenset[int]] = set()
    for pull in terms.pulls:
        pair = frozenset((pull.one, pull.other))
        if pair in seen or "rear" in (box.walls[pull.one], box.walls[pull.other]):
            continue
        if is_through(terms, box.walls, pull):
            continue
        seen.add(pair)
        square = distance_squared(terms, box.walls, centers, pull, across, down)
        eighths = isqrt(square) * 8 // PARTS
        yield entries[pull.one].name, entries[pull.other].name, Decimal(eighths) / 8


def _terms(entries: Sequence[PullEntry], pulls: Sequence[Pull], book: CodeBook, rows: tuple[int, ...]) -> _Terms:
    def times(table: Table[Multiple]) -> int:
        return int(book[table].times * 100)

    return _Terms(
        tuple([int(entry.size * 8) for entry in entries]),
        tuple([entry.is_large for entry in entries]),
        rows,
        tuple([pull for pull in pulls if pull.one != pull.other]),
        {pull.one for pull in pulls if pull.one == pull.other},
        times(STRAIGHT),
        times(ANGLE),
        times(SPACING),
        book.reading("small-in-row") == "counted",
        book.reading("straight-splice") == "as-straight",
        book.reading("entry-distance") == "centers",
    )


def inches(parts: int) -> Decimal:
    """Inches from parts of an inch."""
    return Decimal(parts) / PARTS


def key(across: int, down: int) -> tuple[int, int]:
    """Orders boxes from small to large: by area, then by the sum of the sides."""
    return across * down, across + down


Sides = tuple[int, int]


class _Search:
    """A search through the choices of walls, entry by entry, with the smallest box so far as the bound."""

    def __init__(self, terms: _Terms, fixed: tuple[Wall | None, ...]) -> None:
        self.terms = terms
        self.fixed = fixed
        self.best: tuple[Sides, tuple[Wall, ...], tuple[int, ...]] | None = None
        self.best_key = (1 << 62, 0)
        self.unplaced: list[tuple[int, int]] = []
        """The bounds of choices whose entries could not be placed in so small a box."""
        pulls = terms.pulls
        self.ending = terms.ending | (
            {number for number in range(len(fixed)) if terms.large[number]}
            - {number for pull in pulls for number in (pull.one, pull.other)}
        )
        chained = [number for pull in sorted(pulls, key=self._size_of_pull, reverse=True) for number in pull[:2]]
        others = sorted(range(len(fixed)), key=lambda number: -terms.sizes[number])
        in_order = [number for number in range(len(fixed)) if fixed[number] is not None] + chained + others
        self.order = list(dict.fromkeys(in_order))

    def _size_of_pull(self, pull: Pull) -> int:
        return max(self.terms.sizes[pull.one], self.terms.sizes[pull.other])

    def run(self) -> None:
        """Leaves the smallest box in ``best``."""
        self._choose(0, {})

    def _choose(self, depth: int, walls: dict[int, Wall]) -> None:
        if depth == len(self.order):
            self._place(walls)
            return
        number = self.order[depth]
        choices: list[tuple[tuple[int, int], Wall]] = []
        for wall in self._walls_for(number, walls):
            walls[number] = wall
            bound = key(*self.sides(walls))
            if bound < self.best_key:
                choices.append((bound, wall))
        walls.pop(number, None)
        choices.sort()
        for bound, wall in choices:
            if bound < self.best_key:
                walls[number] = wall
                self._choose(depth + 1, walls)
                del walls[number]

    def _walls_for(self, number: int, walls: dict[int, Wall]) -> tuple[Wall, ...]:
        """The walls to try: of mirror images of one choice only one."""
        fixed = self.fixed[number]
        if fixed is not None:
            return (fixed,)
        used = {wall for wall in walls.values() if wall != "rear"}
        if not used:
            return ("left",)
        if used == {"left"} and not any(self.fixed):
            return ("left", "right", "top")
        if used == {"left", "right"} and not any(self.fixed):
            return ("left", "right", "top")
        return SIDES

    def sides(self, walls: dict[int, Wall]) -> Sides:
        """The least length across and down for the entries whose walls are chosen: nothing smaller holds them."""
        terms, sizes = self.terms, self.terms.sizes
        turning = {number for number in walls if number in self.ending}
        across = down = 0
        together: dict[Wall, int] = {}
        for pull in terms.pulls:
            if pull.one not in walls or pull.other not in walls:
                continue
            wall, other = walls[pull.one], walls[pull.other]
            largest = self._size_of_pull(pull)
            if is_through(terms, walls, pull):
                if wall in ("left", "right"):
                    across = max(across, largest * terms.straight)
                else:
                    down = max(down, largest * terms.straight)
                continue
            if pull.is_sure:
                turning.add(pull.one)
                turning.add(pull.other)
            if wall == other and wall != "rear":
                edges = (
                    50 if terms.by_centers else 100
                )  # half of each lies outside its center, all of it outside its edge
                apart = largest * terms.spacing + (sizes[pull.one] + sizes[pull.other]) * edges
                together[wall] = max(together.get(wall, 0), apart)
        for wall in SIDES:
            here = [number for number, other in walls.items() if other == wall]
            if not here:
                continue
            total = sum([sizes[number] for number in here]) * 100
            along = max(total, together.get(wall, 0))
            need = 0
            for row_number in {terms.rows[number] for number in here}:
                row = [number for number in here if terms.rows[number] == row_number]
                if not turning.isdisjoint(row):
                    counted = row if terms.small_counts else [number for number in row if terms.large[number]]
                    most = max([sizes[number] for number in counted])
                    rest = sum([sizes[number] for number in counted]) - most
                    need = max(need, most * terms.angle + rest * 100)
            if wall in ("left", "right"):
                across, down = max(across, need), max(down, along)
            else:
                across, down = max(across, along), max(down, need)
        return across, down

    def _place(self, walls: dict[int, Wall]) -> None:
        """Take a choice of walls as the best, if its entries can be placed in a box smaller than the best."""
        across, down = self.sides(walls)
        bound = key(across, down)
        if bound >= self.best_key:
            return
        chosen = tuple(walls[number] for number in range(len(self.fixed)))
        self._grow(chosen, (across, down), 0, MOST_GROWN - 1)
        if self.best is None or self.best[0] != (across, down) or self.best[1] != chosen:
            self.unplaced.append(bound)

    def _grow(self, walls: tuple[Wall, ...], least_sides: Sides, first: int, last: int) -> None:
        """Take as the best the smallest box in which the entries can be placed, grown across by ``first`` to ``last``
        steps. What cannot be placed in a box as large as any of these would be has no place in them either.
        """
        across, down = least_sides
        most = self._most_down(across + first * STEP, down)
        if most < 0:
            return
        centers = placed(self.terms, walls, across + last * STEP, down + most * STEP)
        if centers is None:
            return
        if first < last:
            middle = (first + last) // 2
            self._grow(walls, least_sides, first, middle)
            self._grow(walls, least_sides, middle + 1, last)
            return
        too_few = -1
        while too_few + 1 < most:
            tried = (too_few + most) // 2
            found = placed(self.terms, walls, across + first * STEP, down + tried * STEP)
            if found is None:
                too_few = tried
            else:
                most, centers = tried, found
        sides = (across + first * STEP, down + most * STEP)
        self.best, self.best_key = (sides, walls, centers), key(*sides)

    def _most_down(self, across: int, down: int) -> int:
        """How many steps a box so long across may grow down and stay smaller than the best; -1 where it cannot."""
        most = MOST_GROWN - 1
        if across:
            most = min(most, (self.best_key[0] // across - down) // STEP)
        while most >= 0 and key(across, down + most * STEP) >= self.best_key:
            most -= 1
        return max(most, -1)


def is_through(terms: _Terms, walls: Mapping[int, Wall] | Sequence[Wall], pull: Pull) -> bool:
    """Whether conductors go straight through between two opposite walls, as the splice is read."""
    if OPPOSITE.get(walls[pull.one]) != walls[pull.other]:
        return False
    return not pull.is_spliced or terms.splice_is_straight


def placed(terms: _Terms, walls: tuple[Wall, ...], across: int, down: int) -> tuple[int, ...] | None:
    """The middle of every entry along its wall, so that entries of the same conductors are far enough apart.

    An entry is pushed away from the corner its conductors turn round; of a U pull the two go to the two ends of their
    wall. None where this does not bring them far enough apart.
    """
    sizes = terms.sizes
    centers = [0] * len(walls)
    to_start: dict[Wall, list[tuple[int, int]]] = {wall: [] for wall in SIDES}
    to_end: dict[Wall, list[tuple[int, int]]] = {wall: [] for wall in SIDES}
    settled: set[int] = set()
    pairs = [
        pull
        for pull in terms.pulls
        if walls[pull.one] in SIDES and walls[pull.other] in SIDES and not is_through(terms, walls, pull)
    ]
    for pull in pairs:
        apart = max(sizes[pull.one], sizes[pull.other]) * terms.spacing
        for number, partner, is_first in ((pull.one, pull.other, True), (pull.other, pull.one, False)):
            if number in settled:
                continue
            settled.add(number)
            wall = walls[number]
            goes_to_start = is_first if walls[partner] == wall else walls[partner] == CORNER_WALLS[wall][1]
            (to_start if goes_to_start else to_end)[wall].append((apart, number))
    for wall in SIDES:
        length = down if wall in ("left", "right") else across
        at = 0
        for _, number in sorted(to_start[wall], reverse=True):
            centers[number] = at + sizes[number] * 50
            at += sizes[number] * 100
        middle = at
        at = length
        for _, number in sorted(to_end[wall], reverse=True):
            centers[number] = at - sizes[number] * 50
            at -= sizes[number] * 100
        for number, other in enumerate(walls):
            if other == wall and number not in settled:
                centers[number] = middle + sizes[number] * 50
                middle += sizes[number] * 100
        if middle > at:
            return None
    if all(is_apart(terms, walls, centers, pull, across, down) for pull in pairs):
        return tuple(centers)
    return None


def is_apart(terms: _Terms, walls: Sequence[Wall], centers: Sequence[int], pull: Pull, across: int, down: int) -> bool:
    """Whether two entries of the same conductors are as far apart as they must be, straight across."""
    apart = max(terms.sizes[pull.one], terms.sizes[pull.other]) * terms.spacing
    return distance_squared(terms, walls, centers, pull, across, down) >= apart * apart


def distance_squared(
    terms: _Terms, walls: Sequence[Wall], centers: Sequence[int], pull: Pull, across: int, down: int
) -> int:
    """How far the entries of a pull are apart, straight across, in parts of an inch and multiplied by itself."""
    sizes, one, other = terms.sizes, pull.one, pull.other
    half = 0 if terms.by_centers else 50
    wall, partner = walls[one], walls[other]
    if wall == partner:
        between = abs(centers[one] - centers[other]) - (sizes[one] + sizes[other]) * half
        return max(between, 0) ** 2
    if OPPOSITE[wall] == partner:
        between = across if wall in ("left", "right") else down
        beside = max(abs(centers[one] - centers[other]) - (sizes[one] + sizes[other]) * half, 0)
        return between * between + beside * beside
    legs = []
    for number, far in ((one, partner), (other, wall)):
        is_start = CORNER_WALLS[walls[number]][0] == far
        length = down if walls[number] in ("left", "right") else across
        middle = centers[number] if is_start else length - centers[number]
        legs.append(max(middle - sizes[number] * half, 0))
    return legs[0] * legs[0] + legs[1] * legs[1]
