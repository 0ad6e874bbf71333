"""A circuit as its moves see it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from ampleroom.check import circuits
from ampleroom.editions import CodeBook
from ampleroom.job.edit import Change, changed
from ampleroom.job.model import Circuit, Job, Mounting, Route, Run
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, TupleRecord, once, replace
from ampleroom.remedy.raceway_parts import plain_feet
from ampleroom.remedy.remedy import Buy, Disturbance, Rate
from ampleroom.remedy.stock import Money, Stock
from ampleroom.rules.circuit.judge import OF_A_LEG, Legs, circuit_report, findings_of
from ampleroom.rules.circuit.wired import Subject
from ampleroom.rules.runs_at_box import stops_text
from ampleroom.worksheet import Finding, SubjectReport, Verdict

UNBOUGHT = ("old", "?")
"""Kinds of cable nobody can buy."""
NAMED = 3
"""So many runs are named in what to do; of more the first and how many."""


class Wiring(TupleRecord):
    """What new wire for some runs takes: what is bought, minutes of work, what a foot takes where a length is not
    known, how much it disturbs, and what is without a price.
    """

    buys: tuple[Buy, ...]
    minutes: Decimal
    rates: tuple[Rate, ...]
    disturbance: Disturbance
    notes: tuple[str, ...]
    unpriced: bool


class CircuitInPlace(Record):
    """One circuit of a job with its runs, and the stock to fix it from."""

    job: Job
    subject: Subject
    stock: Stock
    book: CodeBook
    report: SubjectReport
    runs: tuple[Run, ...]
    """Its runs."""

    @property
    def circuit(self) -> Circuit:
        """Its line of the sheet."""
        return self.subject.circuit

    @property
    def name(self) -> str:
        """``circuit 3``."""
        return self.subject.name

    @property
    def fails(self) -> bool:
        """Whether it fails, however the facts not checked yet turn out."""
        return self.report.verdict is Verdict.FAILS

    @property
    def amperes(self) -> int | None:
        """The rating of its breaker; None where it is not written."""
        amperes = self.circuit.amperes
        return None if amperes is None or amperes is UNKNOWN else amperes

    @once
    def legs(self) -> tuple[tuple[Run, ...], ...]:
        """Its runs, those alike together."""
        return Legs(self.subject, self.job.graph, self.book).grouped()

    @once
    def failing_legs(self) -> tuple[tuple[Run, ...], ...]:
        """The runs of which some rule fails, those alike together."""
        return legs_failing(self.subject, self.job, self.book)

    @once
    def failing_runs(self) -> tuple[Run, ...]:
        """The same in one row."""
        return tuple([run for runs in self.failing_legs for run in runs])

    @property
    def failing_routes(self) -> list[Route]:
        """The routes along which something of it fails."""
        names = dict.fromkeys(each.name for run in self.failing_runs for each in run.routes)
        return [self.job.graph.routes[name] for name in names]

    def passes_as(self, subject: Subject, job: Job) -> bool:
        """Whether one put together for a trial passes for certain."""
        return circuit_report(subject, job.graph, self.book).verdict.is_allowed

    def findings_as(self, subject: Subject) -> tuple[Finding, ...]:
        """What would be found of one put together for a trial."""
        return circuit_report(subject, self.job.graph, self.book).findings

    def verdicts_after(self, change: Change, names: Iterable[str]) -> Iterator[Verdict]:
        """What some circuits, by their own names in lower case, would be after a change, one after the other."""
        job = changed(self.job, change)
        wanted = frozenset(names)
        for subject in circuits(job):
            if subject.circuit.name.casefold() in wanted:
                yield circuit_report(subject, job.graph, self.book).verdict

    def leaves_none_failing(self, change: Change, names: Iterable[str]) -> bool:
        """Whether none of some circuits would fail after a change."""
        return all(verdict is not Verdict.FAILS for verdict in self.verdicts_after(change, names))

    def is_fixed_by(self, change: Change) -> bool:
        """Whether it would pass after a change."""
        return all(verdict.is_allowed for verdict in self.verdicts_after(change, (self.circuit.name.casefold(),)))

    def wiring(self, pairs: list[tuple[Run, Run]]) -> Wiring:
        """What it takes to have the first run of each pair in place of the second."""
        feet: dict[tuple[str, Money | None], Decimal] = {}
        rates: list[Rate] = []
        minutes = Decimal(0)
        disturbance = Disturbance.NOTHING
        for new, old in pairs:
            number = Decimal(1 if new.count is UNKNOWN else new.count)
            length = length_of(new, self.job)
            per_foot = self.stock.minutes.pull_per_foot if new.raceways else self.stock.minutes.cable_per_foot * number
            disturbance = max(disturbance, self.disturbance_of(old))
            minutes += per_foot * (length or Decimal(0))
            for what, count, each in parts_of(new, old, self.stock):
                if length is not None:
                    feet[what, each] = feet.get((what, each), Decimal(0)) + length * count * number
                else:
                    once_a_run = Decimal(0) if rates and rates[-1].length_of == way(new) else per_foot
                    many = f"{plain_feet(count * number)} x {what}" if count * number > 1 else what
                    rates.append(Rate(many, (each or Decimal(0)) * count * number, once_a_run, way(new)))
                    if each is None:
                        feet[what, each] = feet.get((what, each), Decimal(0))
        buys = tuple(
            Buy(f"{what} by the foot", self.stock.with_waste(total), each)
            for (what, each), total in feet.items()
            if each is not None
        )
        unpriced = [what for what, each in feet if each is None]
        notes = tuple(f"{what} is on hand: the stock file has no price for it" for what in unpriced)
        return Wiring(buys, minutes, tuple(rates), disturbance, notes, bool(unpriced))

    def more_cable(self, pairs: list[tuple[Run, Run]]) -> tuple[tuple[Buy, ...], Decimal]:
        """What is bought to have the cables of some pairs, new and old, go another way, and the minutes: what is longer
        of new cable, all of one that was there.
        """
        buys: list[Buy] = []
        minutes = Decimal(0)
        for new, old in pairs:
            length, before = length_of(new, self.job), length_of(old, self.job)
            if length is None or before is None or new.cable is None:
                continue
            feet = (length if old.existing else length - before) * (1 if new.count is UNKNOWN else new.count)
            stocked = self.stock.cable(new.cable) if new.material == "copper" else None
            minutes += feet * self.stock.minutes.cable_per_foot
            if feet and stocked is not None:
                buys.append(Buy(f"{stocked.name} by the foot", self.stock.with_waste(feet), stocked.per_foot))
        return tuple(buys), minutes

    def disturbance_of(self, run: Run) -> Disturbance:
        """What it disturbs to take a run out: wires in raceways come out with the covers off, cable that was there, or
        that ends in a box behind the finish, opens the wall.
        """
        names = {place for place in run.place_names if place is not UNKNOWN}
        mountings = [
            item
            for box in self.job.boxes
            if box.name in names
            for item in self.job.items(box)
            if isinstance(item, Mounting)
        ]
        is_there = run.existing or any(mounting.finished for mounting in mountings)
        if not is_there:
            return Disturbance.NOTHING
        return Disturbance.COVER_OFF if run.raceways else Disturbance.PLASTER


def legs_failing(subject: Subject, job: Job, book: CodeBook) -> tuple[tuple[Run, ...], ...]:
    """The runs of a circuit of which some rule fails, those alike together."""
    legs = Legs(subject, job.graph, book)

    def fails(runs: tuple[Run, ...]) -> bool:
        found = (finding for rule in OF_A_LEG for finding in findings_of(rule, legs, runs))
        return any(finding.verdict is Verdict.FAILS for finding in found)

    return tuple([runs for runs in legs.grouped() if fails(runs)])


def parts_of(new: Run, old: Run, stock: Stock) -> list[tuple[str, int, Money | None]]:
    """What a foot of a run is made of that the old one did not have: its name, how many, and what a foot of one costs;
    None: the stock file has no price.
    """
    metal = " aluminum" if new.material == "aluminum" else ""
    parts: list[tuple[str, int, Money | None]] = []
    if new.cable is not None and new.cable != old.cable:
        stocked = None if metal else stock.cable(new.cable)
        price = stocked.per_foot if stocked is not None else None
        parts.append((stocked.name if stocked is not None else f"{new.cable.name}{metal}", 1, price))
    for place, wires in enumerate(new.wires):
        if wires.count is UNKNOWN or (place < len(old.wires) and old.wires[place] == wires):
            continue
        kind = wires.insulation or ("bare" if wires.role == "ground" and wires.color in ("", "bare") else "")
        name = f"{size_text(wires.size)} {kind}".rstrip() + metal
        length = stock.length(name.lower())
        parts.append(
            (length.name if length is not None else name, wires.count, length.per_foot if length is not None else None)
        )
    return parts


def length_of(run: Run, job: Job) -> Decimal | None:
    """How long a run is, feet: as written, or as its raceways are together; None where that is not known."""
    if run.length is not None:
        return None if run.length is UNKNOWN else run.length
    described = [job.graph.raceways.get(each.name) for each in run.raceways]
    known = [each.length for each in described if each and each.length is not None and each.length is not UNKNOWN]
    return sum(known, Decimal(0)) if known and len(known) == len(described) else None


def number_of(run: Run) -> int:
    """How many cables a line stands for; one where nobody counted them."""
    return run.count if isinstance(run.count, int) else 1


def going_by(run: Run, old: str, new: str) -> Run:
    """A run that goes along another route instead."""
    return replace(run, routes=tuple([replace(each, name=new) if each.name == old else each for each in run.routes]))


def way(run: Run) -> str:
    """``P > K1``: a run by where it goes."""
    return stops_text(run.stops)


def ways(runs: Iterable[Run]) -> str:
    """``P > A1, A1 > A2``; of many the first ones and how many more."""
    names = [way(run) for run in runs]
    more = len(names) - NAMED
    return ", ".join(names[:NAMED]) + (f" and {more} more" if more > 0 else "")


def is_replaceable(run: Run) -> bool:
    """Whether new wire can be bought in its place: not for what nobody knows."""
    return run.count is not UNKNOWN and not (run.cable is not None and run.cable.kind in UNBOUGHT)


__all__ = [
    "CircuitInPlace",
    "Wiring",
    "going_by",
    "is_replaceable",
    "legs_failing",
    "length_of",
    "number_of",
    "way",
    "ways",
]
