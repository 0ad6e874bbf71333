"""Move: more holes for the cables that go through one."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ampleroom.job.edit import AddRoute, Change, PutRun
from ampleroom.job.model import Route, Run
from ampleroom.quantities import plural
from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, going_by, number_of
from ampleroom.remedy.circuits_touched import circuits_of
from ampleroom.remedy.moves.second_raceway import circuits_in
from ampleroom.remedy.remedy import Move
from ampleroom.where import NOWHERE

LETTERS = "bcdefghijklmnopqrstuvwxyz"
MOST_HOLES = 8
"""Nobody bores more holes for one bundle."""


def more_holes(placed: CircuitInPlace) -> Iterator[Move]:
    """The cables through one sealed hole taken through as few more as will do, so that every circuit through it passes;
    and this circuit's alone through a hole of its own. The runs of a circuit stay together.
    """
    if not placed.fails:
        return
    for route in placed.failing_routes:
        along = placed.job.graph.runs_along[route.name]
        groups = circuits_in(along)
        if not route.sealed or len(groups) < len(("one", "other")):
            continue
        if move := shared_out(placed, route, groups):
            yield move
        own = [group for group in groups if placed.circuit.name.casefold() in circuits_of(group)]
        rest = tuple([run for group in groups if group not in own for run in group])
        if own and rest and len(groups) > len(("one", "other")):
            yield through_holes(placed, route, [rest, tuple([run for group in own for run in group])])


def shared_out(placed: CircuitInPlace, route: Route, groups: list[tuple[Run, ...]]) -> Move | None:
    """As few holes as will do for all circuits through one; None where no number does."""
    names = circuits_of(run for group in groups for run in group)
    for number in range(2, min(len(groups), MOST_HOLES) + 1):
        size, more = divmod(len(groups), number)
        cuts = [index * size + min(index, more) for index in range(number + 1)]
        holes = [tuple([run for group in groups[start:end] for run in group]) for start, end in pairwise(cuts)]
        move = through_holes(placed, route, holes)
        if placed.leaves_none_failing(move.change, names):
            return replace(move, alike=f"{number} holes at {route.name}")
    return None


def through_holes(placed: CircuitInPlace, route: Route, holes: list[tuple[Run, ...]]) -> Move:
    """The move that takes cables through several holes, the first of which is there."""
    taken = {name.casefold() for name in placed.job.graph.routes}
    names = [route.name + letter for letter in LETTERS if (route.name + letter).casefold() not in taken]
    change: Change = ()
    after = route.name
    for name, runs in zip(names, holes[1:], strict=False):
        change += (AddRoute(replace(route, name=name, at=NOWHERE), after),)
        change += tuple([PutRun(going_by(run, route.name, name), run) for run in runs])
        after = name
    more = len(holes) - 1
    counts = [sum(map(number_of, runs)) for runs in holes]
    each = f"{counts[0]} cables in each" if len(set(counts)) == 1 else f"{', '.join(map(str, counts))} cables in each"
    if more == 1:
        each = f"{plural(counts[1], 'cable')} in the new one, {counts[0]} left"
    return Move(
        placed.name,
        f"bore {plural(more, 'more hole')} beside {route.name}, {each}",
        change,
        (),
        placed.stock.minutes.hole * more,
        max(placed.disturbance_of(run) for runs in holes for run in runs),
        notes=("the framing may be bored again there, far enough from its edges and from other holes",),
        leaves="passes",
    )


__all__ = ["more_holes"]
