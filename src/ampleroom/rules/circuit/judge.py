"""What is found of one circuit: every rule about circuits on each of its legs, at the worst and at the best where facts
are unknown.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.protection import CONTINUOUS
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph
from ampleroom.job.model import Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import number
from ampleroom.rules.cases import Cases
from ampleroom.rules.circuit import (
    ampacity,
    appliance_breaker,
    appliance_ground_fault,
    arc_fault,
    breaker_load,
    continuous,
    drop,
    drop_in_all,
    dwelling_service,
    electrode,
    ground,
    ground_fault,
    motor_breaker,
    motor_wire,
    multiwire,
    nameplate_breaker,
    nameplate_wire,
    old_circuit,
    outdoor_equipment,
    protection,
    range_circuit,
    receptacle_rating,
    tap,
    wire_ends,
)
from ampleroom.rules.circuit.dropped import CircuitDrop, dropped
from ampleroom.rules.circuit.outlets import Outlets, outlets_of
from ampleroom.rules.circuit.wired import ENDS, ZERO, Leg, Subject, Wiring
from ampleroom.rules.raceway.judge import judged_between
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.words import (
    LOADS_DISAGREE,
    LOADS_REMEDY,
    NOT_JUDGED_OF_CIRCUIT,
    OLD_NOT_JUDGED,
    PROTECTION_NOT_JUDGED,
)
from ampleroom.worksheet import Finding, OpenFact, Reminder, SubjectReport, Verdict

KIND = "circuit"
OF_WIRES = (protection, tap, ampacity, continuous, ground, electrode, dwelling_service, nameplate_wire, motor_wire)
OF_A_LEG = tuple(map(rule_in, OF_WIRES))
OF_THE_WHOLE = tuple(map(rule_in, (breaker_load, range_circuit, appliance_breaker, nameplate_breaker, motor_breaker)))
OF_THE_DROP = tuple(map(rule_in, (drop, drop_in_all)))
OF_THE_OUTLETS = tuple(
    map(rule_in, (receptacle_rating, ground_fault, arc_fault, appliance_ground_fault, outdoor_equipment))
)
FINDINGS = (*OF_A_LEG, *OF_THE_WHOLE, *OF_THE_DROP, *OF_THE_OUTLETS)
REMINDERS = tuple(map(rule_in, (multiwire, wire_ends, old_circuit)))


def circuit_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """One circuit: its wires, its breaker, and its load."""
    circuit = subject.circuit
    legs = Legs(subject, graph, book)
    groups = legs.grouped()
    findings = [finding for runs in groups for rule in OF_A_LEG for finding in findings_of(rule, legs, runs)]
    if groups:
        for rule in OF_THE_WHOLE:
            findings += findings_of(rule, legs, groups[0])
        findings += loads_asked(subject, book)
    else:
        fact = OpenFact(f"the wires of {subject.name}", ZERO, f"write {subject.name} after its runs", circuit.at)
        message = f"{subject.name} has no wires in the sheet"
        cite = book[AMPACITY].cite
        findings.append(Finding(protection.NAME, Verdict.OPEN, subject.name, message, cite, circuit.at, facts=(fact,)))
    of_drop: tuple[Reminder, ...] = ()
    if groups:
        assumption = Assumption(ENDS)
        known = dropped(Wiring(subject, graph, book, assumption))
        findings += drop_findings(subject, known, bool(assumption.needed), graph, book)
        of_drop = tuple(drop.reminders(known, book))
    outlets = outlets_of(subject, graph, Wiring(subject, graph, book, Assumption(ENDS)))
    findings += [finding for rule in OF_THE_OUTLETS for finding in rule.function(outlets, book)]
    reminders = (
        *of_drop,
        *special_reminders(legs, groups),
        *outlet_reminders(outlets, book),
    )
    return SubjectReport(
        KIND, subject.name, description_of(subject), circuit.at, tuple(findings), reminders, not subject.runs
    )


def loads_asked(subject: Subject, book: CodeBook) -> Iterator[Finding]:
    """The question which load is right, where its line has another than its places together."""
    if not subject.disagree:
        return
    own, placed = (number(each, 0) for each in (subject.circuit.load, subject.placed))
    fact = OpenFact(f"the load of {subject.name}", ZERO, LOADS_REMEDY, subject.circuit.at)
    message = LOADS_DISAGREE.format(subject.name, own, placed)
    loaded = tuple([run.at for run in subject.runs if run.load is not None])
    cite = book[CONTINUOUS].cite
    yield Finding(
        breaker_load.NAME, Verdict.OPEN, subject.name, message, cite, subject.circuit.at, facts=(fact,), also=loaded
    )


def special_reminders(legs: Legs, groups: tuple[tuple[Run, ...], ...]) -> Iterator[Reminder]:
    """What to see to at what the circuit serves."""
    for runs in groups[:1]:
        yield from motor_wire.reminders(legs.leg(runs, Assumption(ENDS)), legs.book)


def outlet_reminders(outlets: Outlets, book: CodeBook) -> Iterator[Reminder]:
    """What to see to at the outlets of a circuit, and what is not judged of it."""
    yield from appliance_ground_fault.reminders(outlets, book)
    for rule in REMINDERS:
        yield from rule.function(outlets, book)
    if not outlets.is_branch:
        of_protection = ""
    elif outlets.is_old:
        of_protection = OLD_NOT_JUDGED
    else:
        of_protection = "" if outlets.is_placed else PROTECTION_NOT_JUDGED
    unjudged = NOT_JUDGED_OF_CIRCUIT.format(of_protection)
    yield Reminder(protection.NAME, unjudged, book[AMPACITY].cite)


def drop_findings(
    subject: Subject, known: CircuitDrop, is_open: bool, graph: Graph, book: CodeBook
) -> Iterator[Finding]:
    """What is advised of the voltage drop of a circuit; ``is_open``: facts are unknown, so between its worst and its
    best.
    """

    def settled(tried: Assumption) -> CircuitDrop:
        return dropped(Wiring(subject, graph, book, tried))

    cases = Cases(settled)
    for rule in OF_THE_DROP:
        if not is_open:
            yield from rule.function(known, book)
            continue
        ends = rule.ends_for((), book)
        for finding in judged_between(rule, subject.name, subject.circuit.at, ends, cases.under, book):
            yield finding._replace(subject=subject.name)


def description_of(subject: Subject) -> str:
    """``20 A, 120 V, for wheel bench``."""
    circuit = subject.circuit
    amperes = circuit.amperes
    parts = [
        "" if amperes is None else f"{'?' if amperes is UNKNOWN else amperes} A",
        f"{circuit.volts} V" if circuit.volts else "",
        f"for {circuit.label}" if circuit.label else "",
    ]
    return ", ".join(part for part in parts if part)


class Legs:
    """The legs of a circuit, each put together once for each way its unknown facts are taken."""

    def __init__(self, subject: Subject, graph: Graph, book: CodeBook) -> None:
        self.subject = subject
        self.graph = graph
        self.book = book
        self.cases: dict[int, Cases[Leg]] = {}
        """By the identity of a group, which its cases keep."""

    def grouped(self) -> tuple[tuple[Run, ...], ...]:
        """The runs of the circuit, those together on which the same bears. Low-voltage runs are left out."""
        alike: dict[object, list[Run]] = {}
        firsts: dict[object, tuple[Leg, Assumption]] = {}
        for run in self.subject.runs:
            if run.low_voltage:
                continue
            assumption = Assumption(ENDS)
            leg = self.put_together((run,), assumption)
            own = any(fact.at == run.at and fact.field != "company" for fact in assumption.needed)
            key: object = id(run) if own else (like(leg), run.material, run.tap)
            alike.setdefault(key, []).append(run)
            firsts.setdefault(key, (leg, assumption))
        groups = tuple([tuple(runs) for runs in alike.values()])
        for runs, (leg, assumption) in zip(groups, firsts.values(), strict=True):
            self.cases_of(runs).keep(leg._replace(runs=runs), assumption)
        return groups

    def put_together(self, runs: tuple[Run, ...], assumption: Assumption) -> Leg:
        """The leg of some runs alike under an assumption."""
        return Wiring(self.subject, self.graph, self.book, assumption).leg(runs)

    def cases_of(self, runs: tuple[Run, ...]) -> Cases[Leg]:
        """The cases of one of the groups."""
        known = self.cases.get(id(runs))
        if known is None:
            known = self.cases[id(runs)] = Cases(partial(self.put_together, runs))
        return known

    def leg(self, runs: tuple[Run, ...], assumption: Assumption) -> Leg:
        """The leg of one of the groups as assumed; ``assumption`` then holds the facts it needed."""
        return self.cases_of(runs).under(assumption)


def like(leg: Leg) -> Leg:
    """A leg without its runs: what two of a circuit have in common. How long each is matters where it lies in several
    ways: a short part of a long run may be left aside.
    """
    return leg._replace(runs=(), length=leg.length if len(leg.pieces) > 1 else None)


def findings_of(rule: Rule, legs: Legs, runs: tuple[Run, ...]) -> Iterator[Finding]:
    """What one rule finds of a leg; where it leans on facts nobody knows, between its worst and its best."""
    subject, book = legs.subject, legs.book
    assumption = Assumption(ENDS)
    known = legs.leg(runs, assumption)
    ends = rule.ends_for((), book)
    if not any(ends.get(fact.field) != "neither" for fact in assumption.needed):
        yield from rule.function(known, book)
        return
    settled = partial(legs.leg, runs)
    name = subject.name if rule in OF_THE_WHOLE else known.title
    for finding in judged_between(rule, name, subject.circuit.at, {**ENDS, **ends}, settled, book):
        yield finding._replace(subject=subject.name)
