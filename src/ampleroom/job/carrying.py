"""How many conductors of a run carry current, as the heat of one bundle is counted: grounds do not, nor does a neutral
that carries only what the hots of its own circuit leave over.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from ampleroom.job.cables import conductors_of
from ampleroom.job.model import Circuit, Panel, Run, Wires
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import TupleRecord

if TYPE_CHECKING:
    from ampleroom.job.graph import Graph

SPLIT_PHASE = (120, 240)
"""The volts of a single-phase supply of three wires, whose neutral carries the difference of its two hots."""


def is_split_phase(panel: Panel | None) -> bool:
    """Whether a panel is known to have such a supply."""
    return panel is not None and panel.volts == SPLIT_PHASE and panel.phases in (None, 1)


def has_idle_neutral(run: Run, wires: tuple[Wires, ...], circuit: Circuit | None, panel: Panel | None) -> bool:
    """Whether one of a run's conductors is a neutral that is not counted.

    That is known of three insulated conductors from a 120/240 V panel that belong to two circuits, or to one of 240 V
    with its neutral. Of any other supply a neutral may carry as much as a hot: two phases and the neutral of a wye do,
    and so does electronic load on all three; there all are counted. ``wires``: the run's conductors; ``circuit``: the
    line of the one circuit it belongs to.
    """
    insulated = [group.count for group in wires if group.role == "insulated"]
    if UNKNOWN in insulated or sum(insulated) != 3 or not is_split_phase(panel):  # type: ignore[arg-type]
        return False
    circuits = len(run.circuit.split("+")) if run.circuit else 0
    if circuits == 2:
        return True
    return circuits == 1 and circuit is not None and circuit.volts == SPLIT_PHASE[1] and circuit.phases != 3


def idle_neutrals(run: Run, graph: Graph) -> int:
    """How many of a run's conductors are a neutral that is not counted: one or none."""
    source = graph.source_of(run.circuit.split("+")[0]) if run.circuit else None
    circuit = graph.circuits.get(run.circuit.casefold())
    return int(has_idle_neutral(run, conductors_of(run), circuit, graph.panels.get(source or "")))


def carrying_of(run: Run, graph: Graph) -> int | None:
    """How many conductors of one cable, or of one set of wires, carry current; None where a count is not known."""
    total = 0
    for wires in conductors_of(run):
        if wires.role == "insulated":
            if wires.count is UNKNOWN:
                return None
            total += wires.count
    return total - idle_neutrals(run, graph)


class Carried(TupleRecord):
    """What some runs that lie together carry, as far as the sheet says how many they are."""

    conductors: int
    """That carry current."""
    cables: int
    """Of two or more such conductors each."""
    uncounted: tuple[Run, ...]
    """Runs of which a count is not known; they are in neither number."""


def carried_by(runs: tuple[Run, ...], graph: Graph) -> Carried:
    """The conductors that carry current, and the cables, among some runs. Low-voltage runs carry none."""
    conductors = cables = 0
    uncounted: list[Run] = []
    for run in runs:
        if run.low_voltage:
            continue
        each = carrying_of(run, graph)
        if each is None or run.count is UNKNOWN:
            uncounted.append(run)
            continue
        conductors += each * run.count
        cables += run.count if run.cable is not None and each > 1 else 0
    return Carried(conductors, cables, tuple(uncounted))


__all__ = ["Carried", "carried_by", "carrying_of", "has_idle_neutral", "idle_neutrals", "is_split_phase"]
