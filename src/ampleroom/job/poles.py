"""The poles of a breaker, the spaces of a panel they take, and the legs those are on."""

from __future__ import annotations

from ampleroom.job.carrying import SPLIT_PHASE
from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit, Panel
from ampleroom.job.trade import LEGS_OF_A_PANEL, ONE_POLE_VOLTS, THREE_PHASE, USUAL_VOLTS


def poles_of(circuit: Circuit, graph: Graph) -> int:
    """How many poles its breaker has: one where it is fed from a hot and the neutral."""
    if circuit.phases == THREE_PHASE:
        return THREE_PHASE
    source = graph.source_of(circuit.name)
    panel = graph.panels.get(source) if source else None
    volts = circuit.volts
    if volts is None:
        volts = panel.volts[0] if panel is not None and len(panel.volts) == 1 else USUAL_VOLTS
    if panel is not None and len(panel.volts) > 1:
        return 1 if volts == min(panel.volts) else 2
    return 1 if volts in ONE_POLE_VOLTS else 2


def number_of(space: str) -> int:
    """The number of a space; of half a tandem, ``7a``, that of the whole."""
    return int(space.rstrip("ab"))


def legs_of(panel: Panel) -> int | None:
    """How many legs a panel has: two of 120/240 V, three of a three-phase supply. None where the sheet leaves that
    open.
    """
    if panel.phases == THREE_PHASE:
        return THREE_PHASE
    return 2 if len(panel.volts) > 1 and (panel.phases == 1 or panel.volts == SPLIT_PHASE) else None


def leg_of(space: str, legs: int) -> str:
    """The leg of a space. Odd numbers stand on the left, even ones on the right; each row of two is on the next leg.
    Common practice, no source.
    """
    return LEGS_OF_A_PANEL[(number_of(space) - 1) // 2 % legs]


__all__ = ["leg_of", "legs_of", "number_of", "poles_of"]
