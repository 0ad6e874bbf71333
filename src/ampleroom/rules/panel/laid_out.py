"""A panel with its circuits in their spaces, as its rules weigh it."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit, Job, Panel
from ampleroom.job.poles import leg_of, legs_of, number_of, poles_of
from ampleroom.job.subjects import laid_out_panels
from ampleroom.job.trade import THREE_PHASE
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import listed
from ampleroom.record import TupleRecord
from ampleroom.rules.circuit.outlets import Outlets, outlets_of
from ampleroom.rules.circuit.wired import ENDS, Wiring
from ampleroom.rules.circuit.wired import Subject as CircuitSubject

SERVICE = "dwelling"
"""What a service or feeder serves that carries a whole dwelling: it comes to a panel and takes none of its spaces."""


class Subject(TupleRecord):
    """A panel to judge."""

    panel: Panel
    is_of_dwelling: bool
    """Whether the required circuits of a dwelling are looked for: once in a job that has one."""

    @property
    def name(self) -> str:
        """``P``."""
        return self.panel.name


class Placed(TupleRecord):
    """A circuit of a panel, and the spaces it sits in."""

    circuit: Circuit
    poles: int
    spaces: tuple[str, ...]
    """Empty where nobody wrote them."""

    @property
    def name(self) -> str:
        """``circuit 3``."""
        return f"circuit {self.circuit.name}"


class LaidOut(TupleRecord):
    """A panel and all its circuits."""

    panel: Panel
    legs: int | None
    """How many; None where the sheet leaves its supply open."""
    circuits: tuple[Placed, ...]
    feeder: Circuit | None
    """The circuit that feeds it from another panel."""
    shared: tuple[tuple[Placed, ...], ...]
    """Circuits that share a neutral, those of this panel of which a space is written."""
    of_dwelling: tuple[Outlets, ...] | None
    """The branch circuits of the dwelling with their places; None where they are not looked at here."""
    loads: tuple[tuple[Placed, Wiring], ...]
    """Its circuits, each as it is wired."""

    @property
    def name(self) -> str:
        """``P``."""
        return self.panel.name

    @property
    def placed(self) -> tuple[Placed, ...]:
        """The circuits of which the spaces are written."""
        return tuple([each for each in self.circuits if each.spaces])

    @property
    def unplaced(self) -> tuple[Placed, ...]:
        """The others."""
        return tuple([each for each in self.circuits if not each.spaces])

    def leg_sets(self, spaces: tuple[str, ...]) -> list[list[str]]:
        """The legs of some spaces; once for each supply the panel may have, from two legs to three."""
        every = (self.legs,) if self.legs else (2, MOST_LEGS)
        return [[leg_of(space, legs) for space in spaces] for legs in every]


MOST_LEGS = THREE_PHASE


def panels_of(job: Job) -> list[Subject]:
    """The panels of a job whose spaces are written."""
    panels = laid_out_panels(job)
    is_dwelling = job.dwelling is not None or any(circuit.serves == SERVICE for circuit in job.circuits)
    return [Subject(panel, is_dwelling and index == 0) for index, panel in enumerate(panels)]


def laid_out(subject: Subject, graph: Graph, book: CodeBook) -> LaidOut:
    """A panel with its circuits. A service that comes to it is none of them, and neither is the feeder from another."""
    panel = subject.panel
    own = [circuit for circuit in in_order(graph) if graph.source_of(circuit.name) == panel.name]
    inside = [circuit for circuit in own if circuit.spaces or not is_supply(circuit)]
    placed = [
        Placed(circuit, poles_of(circuit, graph), () if circuit.spaces is UNKNOWN else circuit.spaces)
        for circuit in inside
    ]
    wired = [(each, Wiring(subject_of(each.circuit, graph), graph, book, Assumption(ENDS))) for each in placed]
    of_dwelling = None
    if subject.is_of_dwelling:
        every = [subject_of(circuit, graph) for circuit in in_order(graph) if not is_supply(circuit)]
        outlets = [outlets_of(each, graph, Wiring(each, graph, book, Assumption(ENDS))) for each in every]
        of_dwelling = tuple([each for each in outlets if each.is_branch])
    return LaidOut(
        panel,
        legs_of(panel),
        tuple(placed),
        graph.feeders.get(panel.name),
        shared_neutrals(placed, graph),
        of_dwelling,
        tuple(wired),
    )


def in_order(graph: Graph) -> list[Circuit]:
    """The circuits of a job in the order of the sheet."""
    return sorted(graph.circuits.values(), key=lambda circuit: circuit.at.line)


def subject_of(circuit: Circuit, graph: Graph) -> CircuitSubject:
    """A circuit with its runs."""
    return CircuitSubject(circuit, graph.runs_of.get(circuit.name.casefold(), ()))


def is_supply(circuit: Circuit) -> bool:
    """Whether a circuit is the service that comes to a panel."""
    return circuit.serves == SERVICE or bool(circuit.electrodes)


def shared_neutrals(placed: list[Placed], graph: Graph) -> tuple[tuple[Placed, ...], ...]:
    """The circuits that runs say share a neutral (``circuit 1+3``), those that have a space."""
    by_name = {each.circuit.name.casefold(): each for each in placed if each.spaces}
    groups: dict[tuple[str, ...], tuple[Placed, ...]] = {}
    for name in by_name:
        for run in graph.runs_of.get(name, ()):
            names = tuple(dict.fromkeys(run.circuit.casefold().split("+")))
            group = tuple([by_name[each] for each in names if each in by_name])
            if len(group) > 1:
                groups.setdefault(names, group)
    return tuple(groups.values())


def spaces_named(spaces: tuple[str, ...]) -> str:
    """``space 5``; ``spaces 5 and 7``."""
    return f"space{'s' if len(spaces) > 1 else ''} {listed(spaces)}"


__all__ = ["LaidOut", "Placed", "Subject", "laid_out", "number_of", "panels_of", "spaces_named"]
