"""A second, slow and simple reading of metal wireways and auxiliary gutters, kept apart from the first on purpose.

Written from 376.22, 376.23, 376.56, 366.22, 366.23, 366.56 and 366.58 as the reference notes have them: 20 % for
conductors, 75 % with splices and taps, advice from 31 conductors on, the bending space of the thickest insulated
conductor where it turns, and the distances of a pull box between raceways of the same conductors of 4 AWG and larger.
The bending spaces are typed from Table 312.6(A), one wire to a terminal; the areas are those of ``naive_raceways.py``.
It shares only the records of a job with the core. Where a fact is not known every value it may have is tried.

Where the paper is silent, this was agreed on: a run that stops in it and goes on lies there twice; a run that ends in
it is spliced there; which way conductors turn, if nobody says, may be any, or straight through; a count that may be
over 30 is advice.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product

from ampleroom.job.model import Job, Run, Wireway
from ampleroom.job.unknown import UNKNOWN
from tests.naive_raceways import AREA, groups_of

SPACES = {
    **dict.fromkeys(("8", "6"), "1.5"),
    **dict.fromkeys(("4", "3"), "2"),
    "2": "2.5",
    "1": "3",
    **dict.fromkeys(("1/0", "2/0"), "3.5"),
    **dict.fromkeys(("3/0", "4/0"), "4"),
    "250": "4.5",
    **dict.fromkeys(("300", "350"), "5"),
    **dict.fromkeys(("400", "500"), "6"),
    **dict.fromkeys(("600", "700", "750", "800", "900"), "8"),
    **dict.fromkeys(("1000", "1250"), "10"),
    **dict.fromkeys(("1500", "1750", "2000"), "12"),
}
"""Inches."""
SIZES = (
    *("18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0", "250", "300", "350"),
    *("400", "500", "600", "700", "750", "800", "900", "1000", "1250", "1500", "1750", "2000"),
)
LARGE = SIZES[SIZES.index("4") :]
INCHES = {"1-1/2": Fraction(3, 2), "2": Fraction(2)}
MANY = Fraction(10_000)
"""As large as nothing is: an area or a side that is not known may be so large."""


def naive_wireway(job: Job, wireway: Wireway) -> dict[str, str]:
    """By each rule, ``passes``, ``advice``, ``fails`` or ``open``: the same at every value of every fact, or open."""
    runs = [(run, lengths) for run in job.runs if (lengths := lengths_of(run, job, wireway))]
    answers: dict[str, set[str]] = {}
    for sides, pieces in every_try(wireway, runs):
        area = sides[0] * sides[1]
        taken = sum((count * each for count, each, _ in pieces), Fraction(0))
        answers.setdefault("wireway-fill", set()).add("passes" if taken <= area / 5 else "fails")
        answers.setdefault("wireway-splices", set()).update(spliced(wireway, runs, taken, area))
    counts = set(many(runs))
    answers["wireway-conductors"] = counts if len(counts) < 2 else {"advice"}
    answers["wireway-bending"] = set(bent(wireway, runs))
    answers["wireway-entries"] = set(entered(job, wireway))
    verdicts = {}
    for rule, found in answers.items():
        some = found - {"nothing"} if found <= {"nothing", "passes"} else found
        if some:
            verdicts[rule] = some.pop() if len(some) == 1 else "open"
    return verdicts


def lengths_of(run: Run, job: Job, wireway: Wireway) -> int:
    """How many lengths of a run lie in it."""
    names = [str(stop.name) for stop in run.stops]
    if wireway.name in names:
        return 2 if wireway.name in names[1:-1] else 1
    passes = any(place.name == wireway.name for place in run.through)
    ending = [raceway.name for raceway in job.raceways if wireway.name in raceway.ends]
    lies = any(each.name == wireway.name or each.name in ending for each in run.raceways)
    return 1 if passes or lies else 0


def every_try(
    wireway: Wireway, runs: list[tuple[Run, int]]
) -> Iterator[tuple[tuple[Fraction, Fraction], list[tuple[int, Fraction, bool]]]]:
    """Its two sides, and every group of conductors with how many there are and the area of one."""
    one, other = ([Fraction(1, 1000), MANY] if side is UNKNOWN else [Fraction(side)] for side in wireway.inside)
    groups = []
    for run, lengths in runs:
        for group in groups_of(run):
            groups.append([(count * lengths, area, is_cable) for count, area, is_cable in group])
    for first, second, chosen in product(one, other, product(*groups)):
        yield (first, second), list(chosen)


def spliced(wireway: Wireway, runs: list[tuple[Run, int]], taken: Fraction, area: Fraction) -> Iterator[str]:
    """What 75 % says, with splices as written, as assumed, or as large as they may be."""
    ends = any(stop.name == wireway.name for run, _ in runs for stop in run.stops)
    if wireway.splices is None and not ends:
        yield "passes"
    elif wireway.splices == 0:
        yield "open" if ends else "passes"
    else:
        splices = [Fraction(0), MANY**2] if wireway.splices in (None, UNKNOWN) else [Fraction(wireway.splices)]
        for each in splices:
            yield "passes" if taken + each <= area * 3 / 4 else "fails"


def many(runs: list[tuple[Run, int]]) -> Iterator[str]:
    """Advice from 31 insulated conductors on, grounds left out."""
    each = []
    for run, lengths in runs:
        times = [1, 31] if run.count is UNKNOWN else [int(run.count)]
        if run.cable is not None:
            each.append([count * lengths * 2 for count in times])  # all cables here are of two conductors and a ground
        for wires in run.wires:
            if wires.role == "insulated" and wires.insulation != "bare":
                counts = [0, 31] if wires.count is UNKNOWN else [int(wires.count)]
                each.append([count * time * lengths for count in counts for time in times])
    for chosen in product(*each):
        if sum(chosen):
            yield "advice" if sum(chosen) > 30 else "passes"
        elif each:
            yield "passes"


def bent(wireway: Wireway, runs: list[tuple[Run, int]]) -> Iterator[str]:
    """The bending space of the thickest insulated conductor, where it turns."""
    thickest = []
    for run, _ in runs:
        if run.cable is not None:
            thickest.append([str(run.cable.size)])
        for wires in run.wires:
            if wires.insulation == "bare" or wires.color == "bare":
                continue
            every = [size for size in SIZES if any(key[1] == size for key in AREA)]
            sizes = every if wires.size is UNKNOWN else [str(wires.size)]
            thickest.append([*sizes, *([""] if wires.count is UNKNOWN else [])])
    for chosen in product(*thickest):
        spaces = [Fraction(SPACES[size]) for size in chosen if size in SPACES]
        if not spaces:
            yield "nothing"
            continue
        least = max(spaces)
        if wireway.turn == 0:
            yield "passes"
        elif wireway.turn is not None:
            yield "passes" if Fraction(wireway.turn) >= least else "fails"
        elif UNKNOWN in wireway.inside or min(Fraction(str(side)) for side in wireway.inside) < least:
            yield "open"
        else:
            yield "passes"


def entered(job: Job, wireway: Wireway) -> Iterator[str]:
    """How far two raceways of the same large conductors enter from each other."""
    sizes = []
    for run in job.runs:
        names = [each.name for each in run.raceways]
        if "R1" not in names or "R2" not in names or any(stop.name == wireway.name for stop in run.stops):
            continue
        for wires in run.wires:
            if wires.role == "insulated" and wires.insulation != "bare":
                large = [True, False] if wires.size is UNKNOWN else [wires.size in LARGE]
                sizes.append([*large, *([False] if wires.count is UNKNOWN else [])])
    for chosen in product(*sizes):
        if not any(chosen):
            yield "nothing"
        elif any(raceway.size is UNKNOWN for raceway in job.raceways) or not wireway.apart:
            yield "open"
        else:
            yield apart(job, wireway)


def apart(job: Job, wireway: Wireway) -> str:
    """By the larger raceway: 6 times where the conductors turn, 8 times straight through."""
    (measured,) = wireway.apart
    if measured.distance is UNKNOWN:
        return "open"
    larger = max(INCHES[str(raceway.size)] for raceway in job.raceways)
    distance = Fraction(measured.distance)
    if distance >= 8 * larger:
        return "passes"
    if wireway.turn == 0 or distance < 6 * larger:
        return "fails"
    return "open"
