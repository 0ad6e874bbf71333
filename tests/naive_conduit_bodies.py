"""A second, slow and simple reading of conduit bodies for 4 AWG and larger, kept apart from the first on purpose.

Written from ``reference/boxes/pull_boxes.md`` and ``reference/raceways/conduit_fill_rules.md``; the areas of wires and
the bores are those typed for ``naive_raceways.py``. Where a count or a marking is not known, every value it may have is
tried.

Where the paper is silent, this was agreed on: a marking counts every conductor, a ground too, and conductors that stop
in the body on both sides of the splice; one with thicker insulation than the marked ones is not as marked; a ground of
no written insulation is bare, or the thickest there is; of a body without a written marking the marking is not known,
and it passes by its distances alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import product

from ampleroom.job.model import Apart, Base, Box, Entry, Job, MarkedFor, Run, Wires
from ampleroom.job.unknown import UNKNOWN
from tests.naive_pull_boxes import BENDING, THIN_TO_THICK, inches_of, is_large, naive_pull_box
from tests.naive_raceways import AREA, BORE

COUNTS = (0, 1, 2, 3, 4, 5, 6, 60)
"""Of how many there are where nobody counted: more than 60 do what 60 do."""
One = tuple[Fraction, str]
"""One conductor in the body: its area and its size."""


def naive_conduit_body(job: Job, box: Box, year: int, readings: Mapping[str, str]) -> str:
    """``nothing`` (no large conductor), ``passes``, ``fails`` or ``open``: the same at every value of every unknown
    fact, or open.
    """
    seen = {verdict_of(job, box, held, year, readings) for held in every_try(job, box)}
    if seen <= {"nothing"}:
        return "nothing"
    seen = {"passes" if word == "nothing" else word for word in seen}
    return seen.pop() if len(seen) == 1 else "open"


def runs_at(job: Job, box: Box) -> list[Run]:
    """The runs that stop in the body or pass it."""
    return [run for run in job.runs if any(place.name == box.name for place in (*run.stops, *run.through))]


def every_try(job: Job, box: Box) -> Iterator[list[One]]:
    """All conductors, one by one, in every way that what is not known may turn out."""
    groups: list[list[list[One]]] = []
    for run in runs_at(job, box):
        stops = len(run.stops) > 2  # it goes P > A > Q: both sides of the splice lie in the body
        for wires in run.wires:
            counts = COUNTS if wires.count is UNKNOWN else (int(wires.count),)
            groups.append(
                [[(area, str(wires.size))] * (count * (2 if stops else 1)) for count in counts for area in areas(wires)]
            )
    for chosen in product(*groups):
        yield [one for group in chosen for one in group]


def areas(wires: Wires) -> list[Fraction]:
    """What one of them may take, in2."""
    if wires.role == "ground" and wires.insulation == "":
        bare = AREA["bare", str(wires.size)]
        if wires.color == "bare":
            return [bare]
        return [bare, max(area for (kind, size), area in AREA.items() if size == wires.size and "compact" not in kind)]
    return [AREA[wires.insulation, str(wires.size)]]


def verdict_of(job: Job, box: Box, held: list[One], year: int, readings: Mapping[str, str]) -> str:
    if not any(is_large(size) for _, size in held):  # the random sheets have no ground thicker than the rest
        return "nothing"
    (base,) = [item for item in box.items if isinstance(item, Base)]
    lines = [item.wires for item in box.items if isinstance(item, MarkedFor)]
    for marked in lines:
        if isinstance(marked, Wires) and is_covered(marked, base, held, year, readings):
            return "passes"
    by_distance = distances(job, box, base, held, readings)
    if by_distance == "passes":
        return "passes"
    if not lines or any(marked is UNKNOWN for marked in lines):
        return "open"
    return by_distance


def is_covered(marked: Wires, base: Base, held: list[One], year: int, readings: Mapping[str, str]) -> bool:
    assert marked.count is not UNKNOWN
    row = BORE[base.raceway, base.trade_size]  # the whole bore, then 60, 53, 31 and 40 %
    if len(held) == 1:
        most = row[2]
    elif len(held) == 2:
        most = row[3]
    else:
        most = row[4]
    if sum(area for area, _ in held) >= most:
        return False
    one = AREA[marked.insulation or "xhhw", str(marked.size)]
    by_number = len(held) <= int(marked.count)
    for area, size in held:
        if THIN_TO_THICK.index(size) > THIN_TO_THICK.index(str(marked.size)):
            by_number = False
        if area > one and readings.get("marked-insulation", "no-thicker") == "no-thicker":
            by_number = False
    if by_number:
        return True
    return year >= 2017 and sum(area for area, _ in held) <= int(marked.count) * one


def all_entered(job: Job, box: Box) -> bool:
    entered = {item.raceway for item in box.items if isinstance(item, Entry)}
    return all(raceway.name in entered for raceway in job.raceways if box.name in raceway.ends)


def distances(job: Job, box: Box, base: Base, held: list[One], readings: Mapping[str, str]) -> str:
    """By length, depth and the distance between the hubs: ``passes``, ``fails``, or ``open`` where nobody measured."""
    size = inches_of(base.trade_size)
    spliced = any(len(run.stops) > 2 for run in runs_at(job, box))
    straight = any(len(run.stops) == 2 for run in runs_at(job, box))
    if base.shape == "t":  # where its hubs are only entry lines say, so it is read as any pull box
        return naive_pull_box(job, box, readings, {}) if all_entered(job, box) else "open"
    if not base.inside:
        return "open"
    long, wide, deep = map(Fraction, base.inside)
    apart = [item.distance for item in box.items if isinstance(item, Apart)]
    measured = Fraction(str(apart[0])) if apart and apart[0] is not UNKNOWN else None
    diagonal = long * long + wide * wide + deep * deep
    if base.shape == "c":
        turns = spliced and readings.get("straight-splice", "as-angle") == "as-angle"
        if long < 8 * size and (straight or not turns):
            return "fails"
        if long < 6 * size:
            return "fails"
        if turns and measured is not None and not long * long <= measured * measured <= diagonal:
            return "open"  # nearer than the ends of the body, or farther than it is long: measured wrong
        return "passes"
    if base.shape == "lb":
        thickest = max((size for _, size in held), key=THIN_TO_THICK.index)
        is_wide = deep >= Fraction(str(BENDING[thickest]))
    else:
        is_wide = wide >= 6 * size
    if long < 6 * size or not is_wide:
        return "fails"
    if measured is None or measured * measured > diagonal:
        return "open"
    return "fails" if measured < 6 * size else "passes"
