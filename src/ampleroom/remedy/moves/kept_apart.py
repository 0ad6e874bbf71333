"""Move: cables kept apart instead of in a bundle."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.job.edit import PutRoute, PutRun
from ampleroom.job.model import Route, Run
from ampleroom.quantities import plural
from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, number_of, way, ways
from ampleroom.remedy.circuits_touched import is_loose
from ampleroom.remedy.remedy import Move, Rate


def kept_apart(placed: CircuitInPlace) -> Iterator[Move]:
    """The cables of a bundle fastened apart from each other, all along a route; or those of this circuit of which no
    line says where they lie. In one sealed hole they cannot be.
    """
    if not placed.fails:
        return
    for route in placed.failing_routes:
        along = placed.job.graph.runs_along[route.name]
        if route.spaced is not True and not route.sealed and len(along) > 1:
            yield route_apart(placed, route, along)
    loose = [run for run in placed.failing_runs if is_loose(run) and run.cable is not None]
    if loose:
        minutes, rates = fastening(placed, loose)
        yield Move(
            placed.name,
            f"fasten its cables apart from others all along, {ways(loose)}",
            tuple([PutRun(replace(run, spaced=True), run) for run in loose]),
            (),
            minutes,
            max(map(placed.disturbance_of, loose)),
            notes=("there is room to fasten each by itself, and a hole of its own where it passes framing",),
            rates=rates,
            leaves="passes",
        )


def route_apart(placed: CircuitInPlace, route: Route, along: tuple[Run, ...]) -> Move:
    """The move that keeps all cables along a route apart."""
    cables = sum(map(number_of, along))
    number = Decimal(cables)
    each = placed.stock.minutes.spacing_per_foot * number
    rates = () if route.length is not None else (Rate("cable kept apart", Decimal(0), each, route.name),)
    return Move(
        placed.name,
        f"fasten the {plural(cables, 'cable')} by {route.name} apart from each other, not in a bundle",
        (PutRoute(replace(route, spaced=True), route),),
        (),
        each * (route.length or Decimal(0)),
        max(map(placed.disturbance_of, along)),
        notes=("there is room to fasten them one beside another",),
        alike=f"apart by {route.name}",
        rates=rates,
        leaves="passes",
    )


def fastening(placed: CircuitInPlace, runs: list[Run]) -> tuple[Decimal, tuple[Rate, ...]]:
    """The minutes to fasten some cables apart, and what a foot takes of those whose length is not known."""
    each = placed.stock.minutes.spacing_per_foot
    known = [run.length for run in runs if isinstance(run.length, Decimal)]
    rates = tuple(
        [Rate("cable kept apart", Decimal(0), each, way(run)) for run in runs if not isinstance(run.length, Decimal)]
    )
    return sum(known, Decimal(0)) * each, rates


__all__ = ["kept_apart"]
