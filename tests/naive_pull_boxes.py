"""A second, slow and simple reading of the distances of a pull box, kept apart from the first on purpose.

Written from ``reference/boxes/pull_boxes.md`` alone, before the code of the rule was looked at; it shares only the
records of the job with it. Nothing is worked out ahead: where a fact is not known, every value it may have is
tried, and each try goes through the section from its first word to its last.

Where the paper is silent, this was agreed on: conductors that go no further than a box may be spliced to any others
that are cut there, and a run that is cut there and goes on is spliced to itself; entries in opposite walls are no
nearer than the walls; a row in which nothing turns needs no distance; ``apart`` is measured as ``entry-distance``
reads it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import combinations, product

from ampleroom.job.model import Apart, Base, Box, Entry, Job, Run
from ampleroom.job.unknown import UNKNOWN

WALLS = ("left", "right", "top", "bottom", "rear")
FACING = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
WAY = {"left": "across", "right": "across", "top": "down", "bottom": "down"}

# Every conductor there is, thin to thick, and the space it needs between the back of a box and its cover, inches
# (one wire a terminal). A conductor without a space is too thin for a pull box.
BENDING = {
    "24": None, "22": None, "20": None, "18": None, "16": None, "14": None, "12": None, "10": None, "8": None,
    "6": None,
    "4": "2", "3": "2", "2": "2.5", "1": "3", "1/0": "3.5", "2/0": "3.5", "3/0": "4", "4/0": "4", "250": "4.5",
    "300": "5", "350": "5", "400": "6", "500": "6", "600": "8", "700": "8", "750": "8", "800": "8", "900": "8",
    "1000": "10", "1250": "10", "1500": "12", "1750": "12", "2000": "12",
}  # fmt: skip
THIN_TO_THICK = list(BENDING)


def inches_of(trade_size: str) -> Fraction:
    """``1-1/4`` as a number."""
    total = Fraction(0)
    for part in trade_size.split("-"):
        total = total + Fraction(part)
    return total


def is_large(size: str) -> bool:
    return BENDING[size] is not None


class Tried:
    """What one try takes for known: the wall and row of each raceway, its size, how thick the conductors of each run
    are.
    """

    def __init__(self) -> None:
        self.walls: dict[str, tuple[str, int]] = {}
        self.sizes: dict[str, Fraction] = {}
        self.thickest: dict[int, str] = {}


def naive_pull_box(job: Job, box: Box, readings: Mapping[str, str], sizes: Mapping[str, list[str]]) -> str:
    """``nothing`` (no pull box), ``passes``, ``fails`` or ``open``: the same at every value of every unknown fact, or
    open. ``sizes``: the trade sizes of each kind of raceway.
    """
    seen = set()
    for tried in every_try(job, box, sizes):
        seen.add(verdict_of(job, box, tried, readings))
        if len(seen) > 1:
            return "open"
    (only,) = seen
    return only


def needed_at(job: Job, box: Box, readings: Mapping[str, str], sizes: Mapping[str, list[str]]) -> dict[str, Fraction]:
    """How long the box has to be ``across``, ``down`` and ``deep``, where all that decides it is known."""
    (tried,) = every_try(job, box, sizes)
    return distances_of(job, box, tried, readings)


def every_try(job: Job, box: Box, sizes: Mapping[str, list[str]]) -> Iterator[Tried]:
    """Every way in which what the sheet leaves open may turn out."""
    entered = [raceway for raceway in job.raceways if box.name in raceway.ends]
    of_wall: list[list[tuple[str, int]]] = []
    for raceway in entered:
        written = [item for item in box.items if isinstance(item, Entry) and item.raceway == raceway.name]
        if written:
            of_wall.append([(written[0].wall, written[0].row)])
        else:
            of_wall.append([(wall, row) for wall in WALLS for row in (1, 2)])
    of_size = []
    for raceway in entered:
        if raceway.size is UNKNOWN:
            of_size.append([inches_of(size) for size in sizes[raceway.kind]])
        else:
            of_size.append([inches_of(str(raceway.size))])
    of_run = []
    for run in job.runs:
        thickest = ["0"]
        for wires in run.wires:
            if wires.role != "ground" and wires.count != 0:  # an isolated ground must be insulated
                these = THIN_TO_THICK[4:] if wires.size is UNKNOWN else [str(wires.size)]
                thickest = [thicker(one, other) for one in thickest for other in these]
        of_run.append(sorted(set(thickest)))
    for walls, every_size, every_run in product(product(*of_wall), product(*of_size), product(*of_run)):
        tried = Tried()
        for raceway, wall, size in zip(entered, walls, every_size, strict=True):
            tried.walls[raceway.name] = wall
            tried.sizes[raceway.name] = size
        for number, thick in enumerate(every_run):
            tried.thickest[number] = thick
        yield tried


def thicker(one: str, other: str) -> str:
    if one == "0":
        return other
    if THIN_TO_THICK.index(one) > THIN_TO_THICK.index(other):
        return one
    return other


def raceways_here(job: Job, box: Box, run: Run) -> list[str]:
    """The raceways of a run that come into the box, in their order."""
    here = []
    for lain_in in run.raceways:
        for raceway in job.raceways:
            if raceway.name == lain_in.name and box.name in raceway.ends:
                here.append(raceway.name)
    return here


def met_by(job: Job, box: Box, tried: Tried) -> list[tuple[list[str], bool, str]]:
    """For every run of large conductors that comes in: its raceways here, whether it is cut in the box, how thick it
    is.
    """
    met = []
    for number, run in enumerate(job.runs):
        thick = tried.thickest[number]
        if thick == "0" or not is_large(thick):
            continue
        if any(place.name == box.name for place in run.through):
            met.append((raceways_here(job, box, run), False, thick))
        elif any(stop.name == box.name for stop in run.stops):
            met.append((raceways_here(job, box, run), True, thick))
    return met


def goes_straight(here: list[str], is_cut: bool, tried: Tried, readings: Mapping[str, str]) -> bool:
    """Whether conductors go from one wall to the wall opposite: not where they are cut, unless it is read so."""
    if len(here) != 2:
        return False
    if is_cut and readings.get("straight-splice", "as-angle") == "as-angle":
        return False
    return FACING.get(tried.walls[here[0]][0]) == tried.walls[here[1]][0]


def distances_of(job: Job, box: Box, tried: Tried, readings: Mapping[str, str]) -> dict[str, Fraction]:
    """How long the box has to be, inches; 0 where nothing is asked of a way."""
    needed = {"across": Fraction(0), "down": Fraction(0), "deep": Fraction(0)}
    large = set()
    turning = set()
    for here, is_cut, thick in met_by(job, box, tried):
        straight = goes_straight(here, is_cut, tried, readings)
        for name in here:
            large.add(name)
            if not straight:
                turning.add(name)
            wall = tried.walls[name][0]
            if straight:
                needed[WAY[wall]] = max(needed[WAY[wall]], 8 * tried.sizes[name])
            if wall == "rear":  # opposite the cover
                needed["deep"] = max(needed["deep"], Fraction(str(BENDING[thick])))

    # The rows in which something turns.
    for wall in ("left", "right", "top", "bottom"):
        for row in (1, 2):
            in_row = []
            for name, place in tried.walls.items():
                if name not in large and readings.get("small-in-row", "counted") == "not-counted":
                    continue
                if place == (wall, row):
                    in_row.append(name)
            if not any(name in turning for name in in_row):
                continue
            sizes = sorted([tried.sizes[name] for name in in_row])
            length = 6 * sizes.pop()
            for others in sizes:
                length = length + others
            needed[WAY[wall]] = max(needed[WAY[wall]], length)
    return needed


def verdict_of(job: Job, box: Box, tried: Tried, readings: Mapping[str, str]) -> str:
    """One try: fails, passes, or open where a distance nobody measured, or a splice nobody wrote, decides."""
    met = met_by(job, box, tried)
    if not met:
        return "nothing"
    (base,) = [item for item in box.items if isinstance(item, Base)]
    sides = dict(zip(("across", "down", "deep"), map(Fraction, base.inside), strict=False))
    is_open = False
    for way, inches in distances_of(job, box, tried, readings).items():
        if inches == 0:
            continue
        if way not in sides:
            is_open = True
        elif sides[way] < inches:
            return "fails"

    # Between two entries of the same conductors, unless these go straight. Conductors that go no further may be
    # spliced to whatever else is cut in the box.
    cut_here = set()
    end_here = set()
    for here, is_cut, _ in met:
        if is_cut:
            cut_here.update(here)
            if len(here) == 1:
                end_here.update(here)
    for one, other in combinations(sorted(tried.walls), 2):
        is_sure = False
        for here, is_cut, _ in met:
            if set(here) == {one, other} and not goes_straight(here, is_cut, tried, readings):
                is_sure = True
        may_be = one in cut_here and other in cut_here and (one in end_here or other in end_here)
        if may_be and goes_straight([one, other], True, tried, readings):
            may_be = False
            if sides.get(WAY[tried.walls[one][0]], Fraction(0)) < 8 * max(tried.sizes[one], tried.sizes[other]):
                is_open = True
        if not is_sure and not may_be:
            continue
        apart = 6 * max(tried.sizes[one], tried.sizes[other])
        measured = None
        for item in box.items:
            if isinstance(item, Apart) and {item.one, item.other} == {one, other} and item.distance is not UNKNOWN:
                measured = Fraction(item.distance)
        opposite = FACING.get(tried.walls[one][0]) == tried.walls[other][0]
        if measured is not None and cannot_be(measured, tried.walls[one][0], tried.walls[other][0], sides):
            is_open = True
            continue
        if measured is None and opposite:
            if sides.get(WAY[tried.walls[one][0]], Fraction(0)) < apart:
                is_open = True
        elif measured is None:
            is_open = True
        elif measured < apart and is_sure:
            return "fails"
        elif measured < apart:
            is_open = True
    return "open" if is_open else "passes"


def cannot_be(measured: Fraction, one: str, other: str, sides: dict[str, Fraction]) -> bool:
    """Whether two entries cannot be so far apart, or so near, in a box of these sides."""
    if not sides:
        return False
    if FACING.get(one) == other and measured < sides[WAY[one]]:
        return True
    squares = {way: side * side for way, side in sides.items()}
    if one == other:
        del squares[WAY.get(one, "deep")]
    return measured * measured > sum(squares.values())
