"""What a dwelling loads its service with, put together from its line, its loads and its circuits."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import ZERO
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import OPTIONAL_HEAT
from ampleroom.editions.protection import STANDARD
from ampleroom.facts import Assumption, Ends, Unknown, fact_of
from ampleroom.job.graph import Graph
from ampleroom.job.model import Circuit, Dwelling, Job, Load
from ampleroom.job.trade import TWO_HOTS, USUAL_VOLTS
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import Record
from ampleroom.rules.load.kinds import LoadKind, is_general, kind_named, kind_of_circuit
from ampleroom.where import Where

ENDS: Ends = {
    "floor area": "large",
    "load": "large",
    "service": "small",
    "controls": (False, True),
    "beside the lights": "large",
}
"""The worse end of each unknown fact: more load, a smaller service. How many controls heat has is tried both ways."""


class Subject(Record):
    """The dwelling of a job, with the circuits and loads of it."""

    dwelling: Dwelling
    loads: tuple[Load, ...]
    circuits: tuple[Circuit, ...]

    @property
    def name(self) -> str:
        """``service``: what every surface calls it."""
        return "service"


class Item(Record):
    """So many loads alike, VA each."""

    kind: LoadKind
    label: str
    va: Decimal
    count: Decimal
    on_neutral: bool
    is_new: bool
    few_controls: bool
    at: Where

    @property
    def total(self) -> Decimal:
        """All of them together, VA."""
        return self.va * self.count


class Carried(Record):
    """What a service carries, every fact at a value."""

    at: Where
    area: Decimal
    units: Decimal
    small_appliance: Decimal | None
    laundry: Decimal | None
    rating: Decimal | None
    """Amperes; None: not written."""
    volts: Decimal
    is_existing: bool
    metered: Decimal | None
    items: tuple[Item, ...]

    def of(self, *counts_as: str) -> tuple[Item, ...]:
        """The loads that count by one of these paragraphs."""
        return tuple([item for item in self.items if item.kind.counts_as in counts_as])


def subjects_of(job: Job) -> tuple[Subject, ...]:
    """The dwelling of a job, if one is written."""
    return () if job.dwelling is None else (Subject(job.dwelling, job.loads, job.circuits),)


def carried(subject: Subject, graph: Graph, book: CodeBook, assumption: Assumption) -> Carried:
    """What a service carries under an assumption about what nobody knows."""
    dwelling = subject.dwelling
    few_heat = few_controls(subject, assumption, book)
    return Carried(
        dwelling.at,
        area_of(dwelling, assumption),
        Decimal(dwelling.units),
        None if dwelling.small_appliance is None else Decimal(dwelling.small_appliance),
        None if dwelling.laundry is None else Decimal(dwelling.laundry),
        rating_of(subject, graph, book, assumption),
        Decimal(volts_of(subject, graph)),
        dwelling.existing,
        dwelling.metered,
        (
            *items_of_loads(subject, graph, few_heat, assumption),
            *items_of_circuits(subject, graph, few_heat, assumption),
        ),
    )


def area_of(dwelling: Dwelling, assumption: Assumption) -> Decimal:
    """The floor area, ft2; asked for where nobody knows it."""
    if dwelling.area is not UNKNOWN:
        return dwelling.area
    text = "the floor area of the dwelling, ft2"
    fact = fact_of(dwelling, "floor area")
    return assumption.take(Unknown(fact, text, (ZERO, NO_LIMIT), is_range=True, unit="ft2"))


def volts_of(subject: Subject, graph: Graph) -> int:
    """The volts between the hots of its service: as its line has them, or the panel, or two hots."""
    panels = list(graph.panels.values())
    of_panel = max(panels[0].volts) if len(panels) == 1 and panels[0].volts else TWO_HOTS
    return subject.dwelling.volts or of_panel


def rating_of(subject: Subject, graph: Graph, book: CodeBook, assumption: Assumption) -> Decimal | None:
    """The amperes of its service: by its line, the circuit that serves the dwelling, or the main of the only panel."""
    dwelling = subject.dwelling
    written: Maybe[int] | None = dwelling.service
    if written is None:
        served = [circuit.amperes for circuit in subject.circuits if circuit.serves == "dwelling"]
        panels = list(graph.panels.values())
        main = panels[0].main if len(panels) == 1 else None
        written = served[0] if len(served) == 1 and served[0] is not None else main
    if written is None:
        return None
    if written is not UNKNOWN:
        return Decimal(written)
    ratings = tuple(map(Decimal, book[STANDARD].ratings))
    names = tuple([f"{rating} A" for rating in ratings])
    return assumption.take(Unknown(fact_of(dwelling, "service"), "the rating of the service", ratings, names))


def items_of_loads(subject: Subject, graph: Graph, few_heat: bool, assumption: Assumption) -> Iterator[Item]:
    """The loads that have a line."""
    for load in subject.loads:
        kind = kind_named(load.kind)
        circuit = graph.circuits.get(load.circuit.casefold())
        volts = load.volts or (circuit.volts if circuit is not None else None) or kind.volts
        most = NO_LIMIT if circuit is None else most_on(circuit, volts)
        va = size_of(load, load.va, load.kind, most, assumption)
        few = few_heat or not counts_controls(kind, load.kind)
        yield Item(kind, load.label or load.kind, va, Decimal(load.count), volts <= USUAL_VOLTS, load.new, few, load.at)


def items_of_circuits(subject: Subject, graph: Graph, few_heat: bool, assumption: Assumption) -> Iterator[Item]:
    """The loads that circuits say they serve; a circuit named by a load's line is that load."""
    named = {load.circuit.casefold() for load in subject.loads}
    feeders = feeders_of(subject, graph)
    for circuit in subject.circuits:
        if circuit.serves == "dwelling" or circuit.name.casefold() in named or circuit.name in feeders:
            continue
        kind = kind_of_circuit(circuit)
        is_asked = kind is None and not circuit.horsepower and circuit.mca is None
        if is_asked and is_general(circuit):
            continue
        volts = circuit.volts or (kind.volts if kind is not None else USUAL_VOLTS)
        written: Maybe[Decimal] = UNKNOWN if circuit.load is None else circuit.load
        if circuit.load is None and circuit.mca is not None:
            written = circuit.mca * volts
        label = f"circuit {circuit.name}" + (
            f", {circuit.label or circuit.serves}" * bool(circuit.label or circuit.serves)
        )
        if is_asked and volts <= USUAL_VOLTS:
            text = f"whether {label} has more than lights and receptacles of the rooms"
            fact = fact_of(circuit, "beside the lights")
            if not assumption.take(Unknown(fact, text, (False, True), ("no", "yes"))):
                continue
        if kind is None:
            kind = LoadKind(label, "other", has_motor=bool(circuit.horsepower or circuit.mca is not None))
        va = size_of(circuit, written, label, most_on(circuit, volts), assumption)
        few = few_heat or not counts_controls(kind, circuit.label)
        yield Item(kind, label, va, Decimal(1), volts <= USUAL_VOLTS, False, few, circuit.at)


def feeders_of(subject: Subject, graph: Graph) -> set[str]:
    """The names of circuits that feed a panel which has circuits of its own: those are the loads."""
    with_circuits = {graph.source_of(circuit.name) for circuit in subject.circuits}
    return {feeder.name for panel, feeder in graph.feeders.items() if panel in with_circuits}


def most_on(circuit: Circuit, volts: int) -> Decimal:
    """The most a circuit can carry by its breaker, VA."""
    return NO_LIMIT if circuit.amperes is None or circuit.amperes is UNKNOWN else Decimal(circuit.amperes * volts)


def size_of(
    record: Load | Circuit, written: Maybe[Decimal], label: str, most: Decimal, assumption: Assumption
) -> Decimal:
    """The VA of a load; asked for where nobody has read its nameplate."""
    if written is not UNKNOWN:
        return written
    text = f"what the nameplate of {label} says, VA"
    return assumption.take(Unknown(fact_of(record, "load"), text, (ZERO, most), is_range=True, unit="VA"))


def few_controls(subject: Subject, assumption: Assumption, book: CodeBook) -> bool:
    """Whether the electric heat of a dwelling has few separate controls, those of all its lines together; asked for
    once where they do not tell. A furnace is one beside them.
    """
    written = [load.controls for load in subject.loads if counts_controls(kind_named(load.kind), load.kind)]
    named = {load.circuit.casefold() for load in subject.loads}
    for circuit in subject.circuits:
        kind = kind_of_circuit(circuit)
        if kind is not None and circuit.name.casefold() not in named and counts_controls(kind, circuit.label):
            written.append(None)
    needed = book[OPTIONAL_HEAT].controls
    if not written or sum(each or 0 for each in written) >= needed:
        return not written
    if None not in written:
        return True
    text, names = f"whether the electric heat has {needed} or more separate controls", ("yes", "no")
    return assumption.take(Unknown(fact_of(subject.dwelling, "controls"), text, (False, True), names))


def counts_controls(kind: LoadKind, words: str) -> bool:
    """Whether the controls of a load count with those of the other heaters."""
    return kind.counts_as == "heat" and "furnace" not in words.lower()


__all__ = ["ENDS", "Carried", "Item", "Subject", "carried", "subjects_of"]
