"""Move: cable of a circuit taken along another route of the sheet, where it is cooler."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions.ampacity import USUAL_AMBIENT
from ampleroom.job.edit import PutRun
from ampleroom.job.model import Route, Run
from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, going_by, ways
from ampleroom.remedy.remedy import Move

MOST_ROUTES = 4
"""So many other routes are tried, the coolest ones."""


def cooler_route(placed: CircuitInPlace) -> Iterator[Move]:
    """Each warm stretch of the cables that fail, along another route that is cooler. Wires pulled singly stay in their
    raceway.
    """
    if not placed.fails:
        return
    graph = placed.job.graph
    open_runs = [run for run in placed.failing_runs if run.cable is not None and not run.raceways]
    for name in dict.fromkeys(each.name for run in open_runs for each in run.routes):
        route = graph.routes[name]
        cooler = [other for other in placed.job.routes if heat(other) < heat(route)]
        for other in sorted(cooler, key=heat)[:MOST_ROUTES]:
            runs = [run for run in open_runs if name in names_of(run) and other.name not in names_of(run)]
            if runs:
                yield along(placed, route, other, runs)


def names_of(run: Run) -> list[str]:
    """The routes a run goes along."""
    return [each.name for each in run.routes]


def heat(route: Route) -> tuple[Decimal, bool, Decimal]:
    """How warm a route is: its ambient, degrees C, whether it is on a roof in the sun, and how near to it."""
    ambient = USUAL_AMBIENT if route.ambient is None else route.ambient
    return ambient, route.rooftop is not None, -(route.rooftop or Decimal(0))


def along(placed: CircuitInPlace, route: Route, other: Route, runs: list[Run]) -> Move:
    """The move of some runs from one route to another."""
    longer = Decimal(0)
    if route.length is not None and other.length is not None:
        longer = other.length - route.length
    pairs = [(longer_by(replace(going_by(run, route.name, other.name), existing=False), longer), run) for run in runs]
    notes = [f"the cable can go by {other.name} between the same two places"]
    if route.length is None or other.length is None:
        notes.append("it is no longer that way")
    return Move(
        placed.name,
        f"take {ways(runs)} by {other.name} instead of {route.name}",
        tuple([PutRun(new, old) for new, old in pairs]),
        *placed.more_cable(pairs),
        max(map(placed.disturbance_of, runs)),
        notes=tuple(notes),
        leaves="passes",
    )


def longer_by(run: Run, feet: Decimal) -> Run:
    """A run longer by so many feet, where its length is known and it does not get shorter."""
    if feet <= 0 or not isinstance(run.length, Decimal):
        return run
    return replace(run, length=run.length + feet)


__all__ = ["cooler_route"]
