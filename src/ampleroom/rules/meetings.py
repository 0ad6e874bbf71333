"""What comes into each box: every run that ends there or passes it, and its name as seen from there."""

from __future__ import annotations

from ampleroom.job.model import Job, Raceway, Run, Stop, Through
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN

Meeting = tuple[Run, Stop | Through]


def meetings_by_place(job: Job) -> dict[str, list[Meeting]]:
    """For every place the runs that end there or pass it, in the order of the sheet."""
    found: dict[str, list[Meeting]] = {}
    for run in job.runs:
        last = len(run.stops) - 1
        for number, stop in enumerate(run.stops):
            if stop.name is not UNKNOWN:
                found.setdefault(stop.name, []).append((run, stop))
                if 0 < number < last:  # a run that goes on from here ends here twice
                    found[stop.name].append((run, stop))
        for passed in run.through:
            found.setdefault(passed.name, []).append((run, passed))
    return found


def raceways_by_place(job: Job) -> dict[str, list[Raceway]]:
    """For every place the raceways that end there, and those whose wires end there or pass it, in the order of the sheet."""
    known = {raceway.name: raceway for raceway in job.raceways}
    found: dict[str, dict[str, Raceway]] = {}
    for raceway in job.raceways:
        for end in raceway.ends:
            found.setdefault(end, {})[raceway.name] = raceway
    for run in job.runs:
        if run.raceway in known:
            places = [stop.name for stop in run.stops if stop.name is not UNKNOWN] + [met.name for met in run.through]
            for place in places:
                found.setdefault(place, {})[run.raceway] = known[run.raceway]
    return {place: list(raceways.values()) for place, raceways in found.items()}


def run_name(run: Run, here: str, met: Stop | Through | None = None, onward: bool = False) -> str:
    """``12/2 nm-b from P``, as a worksheet names it from one of its places."""
    if run.cable is not None:
        what = run.cable.name
    else:
        what = ", ".join(f"{wires.count} x {size_text(wires.size)}" for wires in run.wires)
    return f"{what} {direction(run.stops, here, met, onward)}"


def direction(stops: tuple[Stop, ...], here: str, met: Stop | Through | None = None, onward: bool = False) -> str:
    """``from P``, ``to J2``, or where it passes on: seen from one of a run's places.

    A run that ends here and goes on is met twice: ``met`` is its stop, ``onward`` the second time. Without them it is
    named once, both ways: ``from P and on to J2``.
    """
    names = ["?" if stop.name is UNKNOWN else stop.name for stop in stops]
    at = next((number for number, stop in enumerate(stops) if stop is met), None)
    if at is None and (isinstance(met, Through) or here not in names):
        return "passing on " + " > ".join(names)
    if at is None:
        at = names.index(here)
        if met is None and 0 < at < len(names) - 1:
            return f"from {names[at - 1]} and on to {names[at + 1]}"
    word, far = ("to", names[at + 1]) if at == 0 or onward else ("from", names[at - 1])
    return "whose far end is not known" if far == "?" else f"{word} {far}"
