"""Move: wires of the same size with an insulation for more heat."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions.raceways import INSULATIONS
from ampleroom.job.model import Run
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy.circuit_in_place import CircuitInPlace, is_replaceable
from ampleroom.remedy.moves.thicker_wire import is_same, rewired, wires_text
from ampleroom.remedy.moves.thinner_insulation import is_dry_only, rated
from ampleroom.remedy.remedy import Move


def hotter_insulation(placed: CircuitInPlace) -> Iterator[Move]:
    """The wires that fail, pulled in raceways, with each insulation of the stock file that stands more heat where they
    lie. What their terminals allow stays the limit.
    """
    if not placed.fails:
        return
    runs = [run for run in placed.failing_runs if run.cable is None and is_replaceable(run)]
    for row in placed.book[INSULATIONS].rows:
        pairs = [(with_insulation(run, row.kind, placed), run) for run in runs]
        pairs = [(new, old) for new, old in pairs if not is_same(new, old)]
        if not pairs:
            continue
        move = rewired(placed, pairs, f"pull {wires_text(pairs)}")
        if is_dry_only(row.kind, placed.book):
            move = replace(move, notes=(f"the place is dry: {row.kind} is not for wet ones", *move.notes))
        yield move


def with_insulation(run: Run, insulation: str, placed: CircuitInPlace) -> Run:
    """A run with that insulation where it stands more heat than its own, and the stock file has the wire; else as it
    is.
    """
    graph = placed.job.graph
    described = [graph.raceways[each.name] for each in run.raceways if each.name in graph.raceways]
    is_wet = any(raceway.underground for raceway in described)
    then = rated(insulation, placed.book)
    metal = " aluminum" if run.material == "aluminum" else ""
    groups = []
    for wires in run.wires:
        now = rated(wires.insulation, placed.book) if wires.insulation else None
        if wires.role != "insulated" or now is None or then is None or UNKNOWN in (wires.size, wires.count):
            groups.append(wires)
            continue
        more = then.wet > now.wet if is_wet else then.dry > now.dry
        stocked = placed.stock.length(f"{size_text(wires.size)} {insulation}{metal}")
        groups.append(wires._replace(insulation=insulation) if more and stocked is not None else wires)
    if tuple(groups) == run.wires:
        return run
    return replace(run, wires=tuple(groups), existing=False)


__all__ = ["hotter_insulation"]
