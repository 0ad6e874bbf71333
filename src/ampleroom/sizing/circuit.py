"""The smallest wire and the right breaker for a circuit: every answer is judged as if it were written in the sheet."""

from __future__ import annotations

from collections.abc import Callable

from ampleroom.check import circuits
from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.grounding import ELECTRODE
from ampleroom.editions.protection import NEXT_SIZE, STANDARD
from ampleroom.errors import NameUnknown
from ampleroom.job.cables import sizes_of
from ampleroom.job.model import Circuit, Electrode, Job, Run, Wires
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, replace
from ampleroom.rules.circuit import (
    appliance_breaker,
    breaker_load,
    dwelling_service,
    electrode,
    ground,
    motor_breaker,
    nameplate_breaker,
    protection,
    range_circuit,
)
from ampleroom.rules.circuit.judge import OF_A_LEG, Legs, circuit_report, findings_of
from ampleroom.rules.circuit.wired import Subject, run_text
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.words import IF_FACTS_ALLOW
from ampleroom.worksheet import SubjectReport, Verdict

NOT_BY_WIRE = ("equipment-ground", "electrode-conductor", "voltage-drop")
"""Rules that a thicker wire alone does not bring to pass."""
LIMITS = [rule_in(each) for each in (protection, dwelling_service, motor_breaker, nameplate_breaker, appliance_breaker)]
"""Rules that set the largest breaker."""
THINNEST = "14"
"""Thinner wire is for no circuit of its own. Common practice, no source."""


class WireSize(Record):
    """The thinnest wire for some runs of a circuit."""

    wires: str
    """``12/2 nm-b, P > J1 and 2 more``."""
    certain: str
    """The thinnest size that does for certain; empty where none does."""
    possible: str
    """The thinnest that may do if the facts not checked yet allow it; empty where none may."""

    @property
    def text(self) -> str:
        """``#12``; ``#10; #12 if the facts not checked yet allow it``."""
        return either(self.certain, self.possible, size_text, "none is thick enough")


class ConductorSize(Record):
    """The thinnest conductor to an electrode of a service."""

    electrode: str
    """``water``, ``rod``, as a sheet writes it."""
    material: str
    """``copper`` or ``aluminum``."""
    certain: str
    possible: str

    @property
    def text(self) -> str:
        """``#4``; ``#1/0 aluminum``."""
        metal = " aluminum" if self.material == "aluminum" else ""
        return either(self.certain, self.possible, lambda size: size_text(size) + metal, "not known")


class BreakerSize(Record):
    """A breaker for a circuit, amperes: that does for certain, and that may do if the unknown facts allow it."""

    certain: int | None
    possible: int | None
    leans_on: str = ""
    """What nobody knows, and what may do depends on; empty where that is several facts, or none."""

    @property
    def text(self) -> str:
        """``20 A``; ``15 A; 20 A if the facts not checked yet allow it``; ``15 A; 20 A depends on whether ...``."""
        certain, possible = ("" if each is None else str(each) for each in (self.certain, self.possible))
        if self.leans_on and possible != certain:
            return "; ".join([*([f"{certain} A"] if certain else []), f"{possible} A depends on {self.leans_on}"])
        return either(certain, possible, lambda amperes: f"{amperes} A", "not known")


class CircuitSize(Record):
    """The wires of a circuit and its breaker."""

    wires: tuple[WireSize, ...]
    largest: BreakerSize
    """The largest breaker that its wires as they are, its motor and its nameplate allow."""
    smallest: BreakerSize | None
    """The smallest breaker for its load; None where no load is written."""
    electrodes: tuple[ConductorSize, ...] = ()
    """Of a service, the thinnest conductor to each of its electrodes."""


def either(certain: str, possible: str, say: Callable[[str], str], none: str) -> str:
    """What does for certain, and what may."""
    if not certain:
        return f"{say(possible)} {IF_FACTS_ALLOW}" if possible else none
    return say(certain) if possible == certain or not possible else f"{say(certain)}; {say(possible)} {IF_FACTS_ALLOW}"


def subject_named(job: Job, name: str) -> Subject:
    """The circuit of that name, with or without the word before it. Raises ``NameUnknown``."""
    subjects = list(circuits(job))
    wanted = name.casefold().removeprefix("circuit ").strip()
    for subject in subjects:
        if subject.circuit.name.casefold() == wanted:
            return subject
    raise NameUnknown("circuit", name, (subject.circuit.name for subject in subjects))


def is_circuit(job: Job, name: str) -> bool:
    """Whether a name is that of a circuit that is judged."""
    wanted = name.casefold().removeprefix("circuit ").strip()
    return any(subject.circuit.name.casefold() == wanted for subject in circuits(job))


def report_of(subject: Subject, job: Job, book: CodeBook) -> SubjectReport:
    """What is found of one circuit."""
    return circuit_report(subject, job.graph, book)


def size_of(subject: Subject, job: Job, book: CodeBook) -> CircuitSize:
    """The thinnest wire for each of its legs, its largest breaker and the smallest for its load."""
    legs = Legs(subject, job.graph, book).grouped()
    wires = tuple([thinnest(subject, runs, job, book) for runs in legs])
    has_load = subject.circuit.load is not None or subject.placed is not None
    return CircuitSize(
        wires,
        largest_breaker(subject, legs, job, book),
        smallest_breaker(subject, legs, job, book) if has_load else None,
        tuple([to_electrode(each, subject, legs, job, book) for each in subject.circuit.electrodes]),
    )


def to_electrode(
    one: Electrode, subject: Subject, legs: tuple[tuple[Run, ...], ...], job: Job, book: CodeBook
) -> ConductorSize:
    """The thinnest conductor to one electrode of a service."""
    sizes = {getattr(row, one.material) for row in book[ELECTRODE].rows}
    lone = (book[ELECTRODE].rod_copper, book[ELECTRODE].rod_aluminum, book[ELECTRODE].encased_copper)
    certain = possible = ""
    for size in sorted({*sizes, *lone}, key=RANK.__getitem__):
        circuit: Circuit = replace(subject.circuit, electrodes=(replace(one, size=size),))
        tried, rules = subject._replace(circuit=circuit), [rule_in(electrode)]
        verdict = max((worst(rules, tried, runs, job, book) for runs in legs), default=Verdict.OPEN)
        possible = possible or (size if verdict is not Verdict.FAILS else "")
        if verdict.is_allowed:
            certain = size
            break
    return ConductorSize(one.kind, one.material, certain, possible)


def thinnest(subject: Subject, runs: tuple[Run, ...], job: Job, book: CodeBook) -> WireSize:
    """The thinnest wire for some runs alike."""
    certain = possible = ""
    for size in sizes_to_try(runs[0], book):
        tried_job, tried = with_size(subject, runs, size, job)
        verdict = verdict_of(tried, tried.runs_of_leg, tried_job, book)
        if verdict is not Verdict.FAILS and not possible:
            possible = size
        if verdict.is_allowed:
            certain = size
            break
    more = f" and {len(runs) - 1} more" if len(runs) > 1 else ""
    return WireSize(run_text(runs[0]) + more, certain, possible)


def sizes_to_try(run: Run, book: CodeBook) -> tuple[str, ...]:
    """The sizes a run's wires may have, thin to thick."""
    if run.cable is not None:
        return tuple(size for size in sizes_of(run.cable) if RANK[size] >= RANK[THINNEST])
    sizes = {row.size for row in book[AMPACITY].rows if row.material == run.material}
    return tuple(sorted((size for size in sizes if RANK[size] >= RANK[THINNEST]), key=RANK.__getitem__))


class Tried(Record):
    """A circuit with some of its runs changed."""

    subject: Subject
    runs_of_leg: tuple[Run, ...]


def with_size(subject: Subject, runs: tuple[Run, ...], size: str, job: Job) -> tuple[Job, Tried]:
    """The job with these runs of another size, and the circuit in it."""
    new = {id(run): resized(run, size) for run in runs}
    every = tuple([new.get(id(run), run) for run in job.runs])
    of_circuit = tuple([new.get(id(run), run) for run in subject.runs])
    tried = Tried(subject._replace(runs=of_circuit), tuple([new[id(run)] for run in runs]))
    return replace(job, runs=every), tried


def resized(run: Run, size: str) -> Run:
    """A run with insulated conductors of another size; its grounds stay."""
    if run.cable is not None:
        return replace(run, cable=run.cable._replace(size=size))
    return replace(run, wires=tuple([resized_group(wires, size) for wires in run.wires]))


def resized_group(wires: Wires, size: str) -> Wires:
    """A group of wires of another size; grounds stay as they are."""
    return wires._replace(size=size) if wires.role == "insulated" else wires


def verdict_of(tried: Tried, runs: tuple[Run, ...], job: Job, book: CodeBook) -> Verdict:
    """What the rules that go by the size of a wire say of some runs."""
    rules = [rule for rule in OF_A_LEG if rule.name not in NOT_BY_WIRE]
    return worst(rules, tried.subject, runs, job, book)


def worst(rules: list[Rule], subject: Subject, runs: tuple[Run, ...], job: Job, book: CodeBook) -> Verdict:
    """The worst that some rules find of a leg."""
    legs = Legs(subject, job.graph, book)
    found = [finding.verdict for rule in rules for finding in findings_of(rule, legs, runs)]
    return max(found, default=Verdict.PASSES)


def ratings(book: CodeBook) -> tuple[int, ...]:
    """The standard ratings that are tried, amperes, the smallest first."""
    return tuple([rating for rating in book[STANDARD].ratings if rating <= book[NEXT_SIZE].up_to])


def with_breaker(subject: Subject, amperes: int) -> Subject:
    """The circuit with a breaker of so many amperes."""
    circuit: Circuit = replace(subject.circuit, amperes=amperes)
    return subject._replace(circuit=circuit)


def largest_breaker(subject: Subject, legs: tuple[tuple[Run, ...], ...], job: Job, book: CodeBook) -> BreakerSize:
    """The largest breaker that all its wires, its motor and its nameplate allow; none is named where nothing sets a
    limit.
    """
    certain = possible = None
    for amperes in ratings(book):
        tried = with_breaker(subject, amperes)
        verdict = max((worst(LIMITS, tried, runs, job, book) for runs in legs), default=Verdict.OPEN)
        if verdict is Verdict.FAILS and possible is not None:
            facts = facts_of(with_breaker(subject, possible), legs, job, book) if possible != certain else []
            return BreakerSize(certain, possible, facts[0] if len(facts) == 1 else "")
        possible = amperes if verdict is not Verdict.FAILS else possible
        certain = amperes if verdict.is_allowed else certain
    return BreakerSize(None, None)


def facts_of(subject: Subject, legs: tuple[tuple[Run, ...], ...], job: Job, book: CodeBook) -> list[str]:
    """The questions on which it depends whether a breaker is too large, each once."""
    of_subject = Legs(subject, job.graph, book)
    found = [each for runs in legs for rule in LIMITS for each in findings_of(rule, of_subject, runs)]
    return list(dict.fromkeys(fact.question for finding in found for fact in finding.facts))


def smallest_breaker(subject: Subject, legs: tuple[tuple[Run, ...], ...], job: Job, book: CodeBook) -> BreakerSize:
    """The smallest breaker for its load."""
    rule = [rule_in(breaker_load), rule_in(range_circuit)]
    certain = possible = None
    for amperes in ratings(book):
        verdict = max(
            (worst(rule, with_breaker(subject, amperes), runs, job, book) for runs in legs[:1]), default=Verdict.OPEN
        )
        if verdict is not Verdict.FAILS and possible is None:
            possible = amperes
        if verdict.is_allowed:
            certain = amperes
            break
    return BreakerSize(certain, possible)


def with_smallest(subject: Subject, job: Job, book: CodeBook) -> Job:
    """The job with the wire and the breaker that a question leaves out: the smallest breaker for a known load, else the
    largest with which all of it passes; then the thinnest wire. Each only where one does for certain.
    """
    circuit = subject.circuit
    if circuit.amperes not in (None, UNKNOWN):
        return with_thinnest(subject, job, book)
    size = size_of(subject, job, book)
    found = size.smallest.certain if size.smallest else size.largest.certain
    if found is None:
        return job
    first: Job | None = None
    for amperes in [each for each in reversed(ratings(book)) if each <= found]:
        new = replace(circuit, amperes=amperes)
        tried = replace(job, circuits=tuple([new if each is circuit else each for each in job.circuits]))
        tried = with_thinnest(subject._replace(circuit=new), tried, book)
        first = first or tried
        if size.smallest or report_of(subject_named(tried, circuit.name), tried, book).verdict.is_allowed:
            return tried
    return first or job


def with_thinnest(subject: Subject, job: Job, book: CodeBook) -> Job:
    """The job with the thinnest wires that do for certain, where their size is not written."""
    for runs in Legs(subject, job.graph, book).grouped():
        if any(is_unsized(run) for run in runs) and (certain := thinnest(subject, runs, job, book).certain):
            job, tried = with_size(subject, runs, certain, job)
            subject = tried.subject
    job = with_electrodes(subject, job, book)
    return with_grounds(subject_named(job, subject.circuit.name), job, book)


def with_electrodes(subject: Subject, job: Job, book: CodeBook) -> Job:
    """The job with the thinnest conductors to the electrodes of a service, where their size is not written."""
    if all(each.size is not UNKNOWN for each in subject.circuit.electrodes):
        return job
    legs = Legs(subject, job.graph, book).grouped()
    new = [
        replace(each, size=to_electrode(each, subject, legs, job, book).certain or UNKNOWN)
        if each.size is UNKNOWN
        else each
        for each in subject.circuit.electrodes
    ]
    circuit = replace(subject.circuit, electrodes=tuple(new))
    return replace(job, circuits=tuple([circuit if each is subject.circuit else each for each in job.circuits]))


def with_grounds(subject: Subject, job: Job, book: CodeBook) -> Job:
    """The job with the thinnest grounds among its wires, where their size is not written."""
    for runs in Legs(subject, job.graph, book).grouped():
        if not any(wires.role == "ground" and wires.size is UNKNOWN for run in runs for wires in run.wires):
            continue
        for size in sizes_to_try(runs[0], book):
            tried_job = with_ground(runs, size, job)
            tried = subject_named(tried_job, subject.circuit.name)
            legs = Legs(tried, tried_job.graph, book).grouped()
            if max(worst([rule_in(ground)], tried, leg, tried_job, book) for leg in legs).is_allowed:
                job, subject = tried_job, tried
                break
    return job


def with_ground(runs: tuple[Run, ...], size: str, job: Job) -> Job:
    """The job with the grounds of unknown size among the wires of some runs of one size."""
    new = {
        id(run): replace(
            run,
            wires=tuple(
                [
                    wires._replace(size=size) if wires.role == "ground" and wires.size is UNKNOWN else wires
                    for wires in run.wires
                ]
            ),
        )
        for run in runs
    }
    return replace(job, runs=tuple([new.get(id(run), run) for run in job.runs]))


def is_unsized(run: Run) -> bool:
    """Whether the size of its insulated conductors is not written."""
    if run.cable is not None:
        return run.cable.size is UNKNOWN
    return any(wires.size is UNKNOWN for wires in run.wires if wires.role == "insulated")


def size_json(size: CircuitSize) -> dict[str, object]:
    """The wires and the breaker of a circuit, as ``docs/json.md`` has it."""
    return {
        "wires": [
            {"wires": each.wires, "certain": each.certain or None, "possible": each.possible or None, "text": each.text}
            for each in size.wires
        ],
        "largest_breaker": breaker_json(size.largest),
        "smallest_breaker": breaker_json(size.smallest) if size.smallest else None,
        "electrodes": [
            {
                "electrode": each.electrode,
                "material": each.material,
                "certain": each.certain or None,
                "possible": each.possible or None,
                "text": each.text,
            }
            for each in size.electrodes
        ],
    }


def breaker_json(size: BreakerSize) -> dict[str, object]:
    """A breaker as JSON, amperes."""
    return {"certain": size.certain, "possible": size.possible, "text": size.text}


__all__ = [
    "BreakerSize",
    "CircuitSize",
    "ConductorSize",
    "WireSize",
    "is_circuit",
    "report_of",
    "size_json",
    "size_of",
    "subject_named",
    "with_smallest",
]
