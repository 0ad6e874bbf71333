"""Trying changes on a job: only the boxes a change touches are judged again, by all rules, and boxes alike once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator
from decimal import Decimal
from typing import Any

from ampleroom.check import circuits, subject_reports
from ampleroom.editions import CodeBook
from ampleroom.errors import NameUnknown
from ampleroom.fits import run_into
from ampleroom.job.edit import (
    AddAfter,
    AddBox,
    AddFirst,
    AddItem,
    AddKind,
    AddRaceway,
    AddRoute,
    AddRun,
    AddWireway,
    Change,
    DropBox,
    DropItem,
    DropRun,
    PutCircuit,
    PutItem,
    PutRaceway,
    PutRoute,
    PutRun,
    PutWireway,
    SetKind,
    changed,
)
from ampleroom.job.graph import Graph, RunAtBox
from ampleroom.job.model import Base, Box, Item, Job, Run, SpaceShare, Stop, Through
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import TupleRecord, replace
from ampleroom.remedy.circuits_touched import circuits_altered, circuits_beside
from ampleroom.rules.box.judge import place_report
from ampleroom.rules.kinds import KINDS, headline_of
from ampleroom.rules.raceway.filled import unnamed
from ampleroom.worksheet import SubjectReport, Verdict

Judge = Callable[[Any, Graph, CodeBook], SubjectReport]


class Judgement(TupleRecord):
    """What the rules make of one subject."""

    verdict: Verdict
    margin: Decimal
    """The least that is left of what its kind is weighed for, with what is unknown at its worst; for a box in3."""
    unsettled: int = 0
    """How many of its findings fail or need a check."""
    short: tuple[tuple[str, Decimal], ...] = ()
    """For all else it is weighed for and falls short of, by name, by how much at the most; below 0."""


class Trial:
    """A job, its reports, and what a change would make of them.

    ``spare``: something one more of which has to fit in every box besides (``12/2 nm-b``).
    """

    def __init__(self, job: Job, book: CodeBook, spare: str = "") -> None:
        self.job = job
        self.book = book
        self.boxes = {box.name: box for box in job.boxes}
        self.spare_text = spare
        self.spare = {box.name: run for box in job.boxes for run in self._spare_run(job, box)}
        self.order = {id(run): index for index, run in enumerate(job.runs)}
        self.runs_at: dict[str, tuple[Run, ...]] = {
            place: tuple({id(run): run for run, _ in met}.values()) for place, met in job.graph.runs_at.items()
        }
        self._alike: dict[str, dict[str, Judgement]] = {}
        self._judged: dict[Hashable, Judgement] = {}
        """What boxes of some contents are judged, by ``contents``."""
        self.subjects: dict[str, Any] = dict(self.boxes)
        """Every subject of every kind by its name. Of two of one name the one whose kind was registered first is
        tried."""
        for kind in KINDS.values():
            for subject in kind.subjects(job):
                if self.subjects.setdefault(subject.name, subject) is subject:
                    here = self.runs_at.get(subject.name, ())  # a run may lie in a wireway and end nowhere in it
                    self.runs_at[subject.name] = tuple({id(run): run for run in (*here, *runs_in(subject))}.values())
        self.reports: dict[str, SubjectReport] = {}
        """What is found of each now, by name."""
        self.second_moves: dict[str, int] = {}
        """For subjects with more moves than are tried as the second of a pair: how many there are. The search writes
        it."""
        for report in subject_reports(replace(job, runs=(*job.runs, *self.spare.values())), book):
            self.reports.setdefault(report.name, report)
        self.circuits: dict[str, str] = {
            name.removeprefix("circuit ").casefold(): name
            for name, report in self.reports.items()
            if report.kind == "circuit"
        }
        """The name of the subject of each circuit that is judged, by the circuit's own name in lower case."""
        if self.spare:  # what may come one day heats no circuit now
            self.reports.update(self._circuit_reports(frozenset(self.circuits.values()), job))

    def subject(self, name: str) -> Any:
        """The subject of that name, upper and lower case alike; of a circuit also by its own name, ``5`` for ``circuit
        5``. Raises ``NameUnknown`` where there is none.
        """
        for known, subject in self.subjects.items():
            if known.casefold() == name.casefold():
                return subject
        if name.casefold() in self.circuits:
            return self.subjects[self.circuits[name.casefold()]]
        raise NameUnknown("box", name, self.subjects)

    def _spare_run(self, job: Job, box: Box) -> tuple[Run, ...]:
        """The one more that has to fit, on the first side of a divided box; none in a conduit body."""
        if not self.spare_text or not takes_more(job, box):
            return ()
        side = next((item.name for item in job.items(box) if isinstance(item, SpaceShare)), "")
        return (run_into(job, f"{box.name}/{side}" if side else box.name, self.spare_text),)

    def touched(self, change: Change) -> frozenset[str]:
        """The names of the boxes, and of other subjects, whose lines or runs a change alters."""
        names: set[str] = set()
        new: set[str] = set()
        written = {raceway.name for raceway in self.job.raceways}
        for step in change:
            match step:
                case (
                    AddItem(name, _)
                    | AddFirst(name, _)
                    | AddAfter(name, _, _)
                    | PutItem(name, _, _)
                    | DropItem(name, _)
                    | SetKind(name, _)
                ):
                    names.add(name)
                case AddBox(box, _):
                    names.add(box.name)
                    new.add(box.name)
                case AddRun(run):
                    names |= places_of(run) | raceways_of_run(run)
                    new |= raceways_of_run(run)
                case DropRun(run):
                    names |= places_of(run) | (raceways_of_run(run) & written)
                case PutRun(run, was):
                    names |= places_of(run) | places_of(was) | raceways_of_run(run)
                    names |= raceways_of_run(was) & written
                    new |= raceways_of_run(run) - raceways_of_run(was)
                case AddRaceway(raceway, _):
                    names |= {raceway.name, *raceway.ends}
                    new.add(raceway.name)
                case PutRaceway(raceway, was_raceway):
                    names |= {raceway.name, *raceway.ends, *was_raceway.ends}
                    for run in self.runs_at.get(was_raceway.name, ()):
                        names |= places_of(run)
                case AddWireway(wireway, _):
                    names |= {wireway.name, *wireway.ends}
                    new.add(wireway.name)
                case PutWireway(wireway, was_wireway):
                    names |= {wireway.name, *wireway.ends, *was_wireway.ends}
                    for run in self.runs_at.get(was_wireway.name, ()):
                        names |= places_of(run)
                case DropBox(name):
                    names.add(name)
                case AddKind(_) | PutCircuit(_, _) | AddRoute(_, _) | PutRoute(_, _):
                    pass
        if names:  # what lies in a wireway goes by runs and by where raceways end
            names |= {wireway.name for wireway in self.job.wireways}
        if self.circuits:
            beside = circuits_altered(change, self.job) | circuits_beside(change, self.job)
            names |= {self.circuits[name] for name in beside if name in self.circuits}
        return frozenset(name for name in names if name in self.subjects or name in new)

    def held(self, name: str, change: Change, touches: frozenset[str]) -> frozenset[str]:
        """What of all that a fix of ``name`` touches no other fix may change along with it. Of circuits these are, for
        the fix of one, those it alters; whoever only lies beside is judged again with the whole plan.
        """
        altered = circuits_altered(change, self.job) if self.is_circuit(name) else ()
        kept = {self.circuits[circuit] for circuit in altered if circuit in self.circuits}
        return frozenset(each for each in touches if each in kept or not self.is_circuit(each))

    def is_circuit(self, name: str) -> bool:
        """Whether a subject is a circuit."""
        return name in self.reports and self.reports[name].kind == "circuit"

    def _circuit_reports(self, names: frozenset[str], job: Job) -> dict[str, SubjectReport]:
        """The reports of circuits by name. Who shares their way may be anywhere in the job: they are judged in all of
        it.
        """
        if not names:
            return {}
        judge, graph = KINDS["circuit"].judge, job.graph
        return {subject.name: judge(subject, graph, self.book) for subject in circuits(job) if subject.name in names}

    def after(self, change: Change) -> dict[str, SubjectReport]:
        """The reports of every subject a change touches, as they would be, by name."""
        touches = self.touched(change)
        of_circuits = frozenset(name for name in touches if self.is_circuit(name))
        whole = changed(self.job, change) if of_circuits else self.job
        small = self._with_spare(self.part(touches, change))
        graph = small.graph
        after = {
            subject.name: judge(subject, graph, self.book) for subject, judge in judged_in(small, touches - of_circuits)
        }
        return {**after, **self._circuit_reports(of_circuits, whole)}

    def judged_after(
        self, names: frozenset[str], change: Change, touches: frozenset[str], alike: str = ""
    ) -> dict[str, Judgement]:
        """What the subjects ``names`` would be after a change that touches ``touches``, by name.

        Boxes of equal contents are judged once, whatever they are called and wherever their runs go. Changes of which
        ``alike`` says the same leave the boxes that are there the same, and differ in new ones only: those that are
        there are not even put together again.
        """
        known = self._alike.setdefault(alike, {}) if alike else {}
        asked = [name for name in names if name not in known]
        if not asked:
            return {name: known[name] for name in names}
        of_circuits = frozenset(name for name in asked if self.is_circuit(name))
        judged: dict[str, Judgement] = {}
        if of_circuits:
            reports = self._circuit_reports(of_circuits, changed(self.job, change))
            judged = {name: judgement_of(report) for name, report in reports.items()}
        if len(of_circuits) < len(asked):
            small = self.part(touches, change)
            small = self._with_spare(replace(small, boxes=tuple([box for box in small.boxes if box.name in asked])))
            graph = small.graph
            for subject, judge in judged_in(small, frozenset(asked) - of_circuits):
                judged[subject.name] = self._judgement(subject, graph, judge)
        known.update((name, judgement) for name, judgement in judged.items() if name in self.subjects)
        return {name: judged[name] if name in judged else known[name] for name in names}

    def _judgement(self, subject: Any, graph: Graph, judge: Judge) -> Judgement:
        # Where large conductors come in, raceways decide: their names, sizes and ends, and where each run goes on to.
        if not isinstance(subject, Box) or has_raceways(subject.name, graph):
            return judgement_of(judge(subject, graph, self.book))
        contents = self.contents(graph.items(subject), graph.runs_at.get(subject.name, ()))
        judgement = self._judged.get(contents)
        if judgement is None:
            judgement = self._judged[contents] = judgement_of(judge(subject, graph, self.book))
        return judgement

    def contents(self, items: tuple[Item, ...], runs_at_box: Iterable[RunAtBox]) -> Hashable:
        """What decides how a box is judged: the lines that describe it, and what its runs bring in, in whatever order.

        Names, circuits, lengths and where a run goes on to are left out: they stand in sentences, and decide nothing
        about a box. ``tests/remedy/test_alike.py`` notices if that changes.
        """
        runs: dict[Hashable, list[Run | Hashable]] = {}
        for run, met in runs_at_box:  # a run that meets the box twice brings its unknown facts once
            place = run.at if run.at.line else id(run)
            runs.setdefault(place, [brought_in(run)]).append(passing(met))
        return items, frozenset(Counter(map(tuple, runs.values())).items())

    def _with_spare(self, job: Job) -> Job:
        spare = [run for box in job.boxes for run in self._spare_of(job, box.name)]
        return replace(job, runs=(*job.runs, *spare)) if spare else job

    def _spare_of(self, job: Job, name: str) -> tuple[Run, ...]:
        if not self.spare_text:
            return ()
        return (self.spare[name],) if name in self.spare else self._spare_run(job, job.box(name))

    def part(self, names: frozenset[str], change: Change = ()) -> Job:
        """A job of these places alone with all that comes into them, changed: their reports are those of the whole
        job.
        """
        anchors = {step.after for step in change if isinstance(step, AddBox) and step.after}
        boxes = tuple(self.boxes[name] for name in sorted({*names, *anchors}) if name in self.boxes)
        runs_by_id = {id(run): run for name in {*names, *anchors} for run in self.runs_at.get(name, ())}
        if any(isinstance(step, PutRun | AddRun) and has_unnamed(step.new) for step in change):
            runs_by_id.update({id(run): run for run in self.job.runs if has_unnamed(run)})  # they may share one
        taken = [step.old for step in change if isinstance(step, PutRun | DropRun)]  # one may meet no box at all
        runs_by_id.update({id(run): run for run in taken if id(run) in self.order})
        runs = tuple(sorted(runs_by_id.values(), key=lambda run: self.order[id(run)]))
        small = changed(replace(self.job, boxes=boxes, runs=runs), change)
        return replace(small, boxes=tuple([box for box in small.boxes if box.name in names]))

    def is_no_worse(self, after: dict[str, Judgement], mended: str) -> bool:
        """Whether the box mended and every new one pass, and no other is worse than it was: by its verdict, or with
        less room where it does not pass anyway.
        """
        for name, judgement in after.items():
            before = self.reports.get(name)
            if name == mended or before is None:
                if not judgement.verdict.is_allowed:
                    return False
            elif self.is_worse(name, judgement, before):
                return False
        return True

    def is_worse(self, name: str, after: Judgement, before: SubjectReport) -> bool:
        """Whether a subject was better before. Of a circuit only its verdict counts: one more cable that may lie beside
        it while nobody knows its company makes it no worse.
        """
        if before.kind == "circuit":
            return not after.verdict.is_allowed and after.verdict > before.verdict
        return is_worse(after, judgement_of(before))


def runs_in(subject: Any) -> tuple[Run, ...]:
    """The runs that a subject other than a place is judged by: those in a raceway, and those that may share it."""
    runs = (*getattr(subject, "runs", ()), *getattr(subject, "sharing", ()))
    return tuple({id(run): run for run in runs}.values())


def has_raceways(place: str, graph: Graph) -> bool:
    """Whether a raceway comes into a place, with a line of its own or without."""
    return place in graph.raceways_at or any(run.raceways for run, _ in graph.runs_at.get(place, ()))


def raceways_of_run(run: Run) -> set[str]:
    """The names of the raceways a run lies in, those without a line of their own by what they are called."""
    return {lain_in.name or unnamed(run, lain_in.kind, lain_in.size, lain_in.at).name for lain_in in run.raceways}


def has_unnamed(run: Run) -> bool:
    """Whether a run lies in a raceway without a line of its own."""
    return any(not lain_in.name for lain_in in run.raceways)


def judged_in(job: Job, names: frozenset[str]) -> Iterator[tuple[Any, Judge]]:
    """The subjects of some names, each with what judges it: first boxes and conduit bodies, then those of the other
    kinds.
    """
    rest = set(names)
    for box in job.boxes:
        if box.name in rest:
            rest.discard(box.name)
            yield box, place_report
    for kind in KINDS.values() if rest else ():
        for subject in kind.subjects(job):
            if subject.name in rest:
                rest.discard(subject.name)
                yield subject, kind.judge


def is_worse(after: Judgement, before: Judgement) -> bool:
    """Whether a box was better before; one that passes now is not worse, however little room is left."""
    if after.verdict is Verdict.PASSES or after.verdict < before.verdict:
        return False
    if after.verdict > before.verdict or after.margin < before.margin or after.unsettled > before.unsettled:
        return True
    short_before = dict(before.short)
    return any(short < short_before.get(name, Decimal(0)) for name, short in after.short)


def judgement_of(report: SubjectReport) -> Judgement:
    """The verdict and the least room left of a report, with what is unknown at its worst."""
    unsettled = 0
    short: dict[str, Decimal] = {}
    headline = headline_of(report.kind)
    for finding in report.findings:
        unsettled += not finding.verdict.is_allowed
        sheet = finding.worst
        if sheet is not None and not sheet.passes and (headline is None or sheet.purpose.name != headline.name):
            name = f"{sheet.purpose.name}: {sheet.purpose.have}"
            short[name] = min(short.get(name, Decimal(0)), sheet.margin)
    return Judgement(report.verdict, margin_of(report), unsettled, tuple(sorted(short.items())))


def brought_in(run: Run) -> Hashable:
    """What of a run bears on the boxes it meets."""
    return run.cable, run.wires, run.count, run.low_voltage, run.material, run.in_insulation


def passing(met: Stop | Through) -> Hashable:
    """What of a run's stop, or of its passing, bears on the box."""
    return (met.space,) if isinstance(met, Stop) else (met.space, met.slack, met.loop)


def takes_more(job: Job, box: Box) -> bool:
    """Whether one would keep room in it: in a box, not in a conduit body."""
    return not any(isinstance(item, Base) and item.form == "conduit body" for item in job.items(box))


def places_of(run: Run) -> set[str]:
    """The names of the places a run stops at or passes through."""
    return {stop.name for stop in run.stops if stop.name is not UNKNOWN} | {passed.name for passed in run.through}


def margin_of(report: SubjectReport) -> Decimal:
    """The least that is left of what the kind is weighed for, with what is unknown at its worst; of a box the least
    room left in any space of it, in3.
    """
    headline = headline_of(report.kind)
    return min(report.margins(headline.name, worst=True), default=NO_LIMIT) if headline else NO_LIMIT
