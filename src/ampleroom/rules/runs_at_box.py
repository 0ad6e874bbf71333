"""A run at a box: its name as seen from there, and where it comes from or goes to."""

from __future__ import annotations

from ampleroom.job.model import Run, Stop, Through
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN

NAMED = 8
"""So many groups of wires or stops of a run are named: it is told again at every place and with every group."""


def run_name(run: Run, here: str, met: Stop | Through | None = None, onward: bool = False) -> str:
    """``12/2 nm-b from P``, as a worksheet names it from one of its places."""
    if run.cable is not None:
        name = run.cable.name
    else:
        groups = [f"{wires.count} x {size_text(wires.size)}" for wires in run.wires[:NAMED]]
        more = len(run.wires) - len(groups)
        name = ", ".join(groups) + (f" and {more} more" if more else "")
    return f"{name} {direction(run, here, met, onward)}"


def direction(run: Run, here: str, met: Stop | Through | None = None, onward: bool = False) -> str:
    """``from P``, ``to J2``, or where it passes on: seen from one of a run's places.

    A run that ends here and goes on is met twice: ``met`` is its stop, ``onward`` the second time. Without them it is
    named once, both ways: ``from P and on to J2``.
    """
    stops = run.stops
    at = run.stop_numbers_by_identity.get(id(met))
    if at is None:
        at = None if isinstance(met, Through) else run.stop_numbers.get(here)
        if at is None:
            return "passing on " + stops_text(stops)
        if met is None and 0 < at < len(stops) - 1:
            return f"from {name_of(stops[at - 1])} and on to {name_of(stops[at + 1])}"
    word, far = ("to", name_of(stops[at + 1])) if at == 0 or onward else ("from", name_of(stops[at - 1]))
    return "(other end not known)" if far == "?" else f"{word} {far}"


def stops_text(stops: tuple[Stop, ...]) -> str:
    """``P > J1 > J2``; of a very long run its first stops and its last one. It is told in every box the run passes."""
    if len(stops) <= NAMED:
        return " > ".join([name_of(stop) for stop in stops])
    first = [name_of(stop) for stop in stops[: NAMED - 2]]
    return " > ".join([*first, f"({len(stops) - len(first) - 1} more)", name_of(stops[-1])])


def name_of(stop: Stop) -> str:
    """The stop's name, or ``?`` where nobody knows it."""
    return "?" if stop.name is UNKNOWN else stop.name
