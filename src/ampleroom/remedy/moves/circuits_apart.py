"""Move: a second raceway for some circuits of one in which they have too much company."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace
from ampleroom.remedy.circuits_touched import circuits_of
from ampleroom.remedy.moves.second_raceway import MOST_GROUPS, beside, circuits_in, free_name, has_shared_ground
from ampleroom.remedy.raceway_in_place import RacewayInPlace
from ampleroom.remedy.remedy import Move
from ampleroom.rules.raceway.filled import Subject
from ampleroom.rules.raceway.judge import raceway_report


def circuits_apart(placed: CircuitInPlace) -> Iterator[Move]:
    """Some circuits of a raceway in which this one has too much company go to a second one beside it: this circuit
    alone, or as few as leave every circuit in both passing.
    """
    if not placed.fails:
        return
    names = dict.fromkeys(each.name for run in placed.failing_runs for each in run.raceways if each.name)
    for name in names:
        raceway = placed.job.graph.raceways.get(name)
        runs = placed.job.graph.runs_in.get(name, ())
        groups = circuits_in(runs)
        if raceway is None or not 2 <= len(groups) <= MOST_GROUPS or has_shared_ground(runs):
            continue
        subject = Subject(raceway, runs)
        report = raceway_report(subject, placed.job.graph, placed.book)
        in_place = RacewayInPlace(placed.job, subject, placed.stock, placed.book, report, runs)
        new_name = free_name(in_place)
        if new_name is None or in_place.bodies:
            continue
        own = [group for group in groups if placed.circuit.name.casefold() in circuits_of(group)]
        rest = [group for group in groups if group not in own]
        every = circuits_of(runs)
        offered: list[frozenset[int]] = []
        for number in range(len(rest)):
            moved = tuple([run for group in (*own, *rest[:number]) for run in group])
            move = beside(in_place, new_name, moved)
            if move is None:
                continue
            is_first = not offered and placed.is_fixed_by(move.change)
            does_for_all = placed.leaves_none_failing(move.change, every)
            if is_first or does_for_all:
                offered.append(frozenset(map(id, moved)))
                yield replace(move, box=placed.name, leaves="passes", action=of_raceway(move.action, name))
            if does_for_all:
                break


def of_raceway(action: str, name: str) -> str:
    """What to do, with the name of the raceway that stays."""
    return action.replace("beside it", f"beside {name}", 1)


__all__ = ["circuits_apart"]
