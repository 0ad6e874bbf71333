"""What is found of one raceway: every rule about raceways, at its worst and at its best where facts are unknown."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import RACEWAY_FILL
from ampleroom.facts import MOST_SHARING, Assumption, Ends, Fact, Unknown, Values, bounds
from ampleroom.job.graph import Graph
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.box.judge.other_findings import severity_first, verdict_of, verdicts
from ampleroom.rules.effects import Outcome, open_facts
from ampleroom.rules.raceway import bends, fill, flexible, jam
from ampleroom.rules.raceway.filled import ENDS, Subject, filled
from ampleroom.rules.raceway.reminders import bend_radius, expansion, supports
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.words import (
    NOT_ENOUGH,
    NOT_JUDGED_OF_RACEWAY,
    SHARED,
    SHARED_QUESTION,
    SHARED_REMEDY,
    TOO_MANY_FACTS,
    weighed_message,
    worst_case_message,
)
from ampleroom.worksheet import Finding, OpenFact, Reminder, SubjectReport, Verdict

KIND = "raceway"
FINDINGS = tuple(map(rule_in, (fill, flexible, bends, jam)))
REMINDERS = tuple(map(rule_in, (bend_radius, supports, expansion)))
Judge = Callable[[Assumption], list[Finding]]


def raceway_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """One raceway: its fill, its bends, whether it may jam, and what to look at on the spot."""
    raceway = subject.raceway
    assumption = Assumption(ENDS)
    known = filled(subject, book, assumption)
    findings: list[Finding] = []
    for rule in FINDINGS:
        if assumption.needed:
            findings += bounded(rule, subject, book)
        else:
            findings += rule.function(known, book)
    findings += sharing_findings(subject, findings, graph, book)
    reminders = tuple([reminder for rule in REMINDERS for reminder in rule.function(known, book)])
    reminders += (Reminder(fill.NAME, NOT_JUDGED_OF_RACEWAY, book[RACEWAY_FILL].cite),)
    size = "?" if raceway.size is UNKNOWN else raceway.size
    where = f"{raceway.kind} {size}, {' > '.join(raceway.ends)}"
    return SubjectReport(KIND, raceway.name, where, raceway.at, tuple(findings), reminders, not subject.runs)


def bounded(rule: Rule, subject: Subject, book: CodeBook) -> Iterator[Finding]:
    """What one rule finds of a raceway on which unknown facts bear."""
    ends: Ends = {**ENDS, **rule.ends_for((), book)}

    def judge(assumption: Assumption) -> list[Finding]:
        return list(rule.function(filled(subject, book, assumption), book))

    def attempt(values: Values) -> Outcome:
        tried = bounds(judge, ends, severity_first, values)
        worst, best = (next(iter(findings), None) for findings in (tried.worst, tried.best))
        sheets = (worst.worst if worst else None, best.worst if best else None)
        return Outcome(verdict_of(tried), (verdicts(tried.worst), verdicts(tried.best)), *sheets)

    case = bounds(judge, ends, severity_first)
    verdict = verdict_of(case)
    worst, best = next(iter(case.worst), None), next(iter(case.best), None)
    if not case.is_complete:
        facts = tuple(listed(case.needed))
        message = TOO_MANY_FACTS.format(subject.raceway.name)
        yield Finding(
            rule.name,
            Verdict.OPEN,
            subject.raceway.name,
            message,
            book[rule.reads[0]].cite,
            subject.raceway.at,
            facts=facts,
        )
    elif worst is None:
        yield from case.best  # what only a better case has to say
    elif best is not None and best.message == worst.message:
        yield worst
    elif best is None:  # in the better case the rule has nothing to say
        facts = worst.facts
        if not facts and verdict is Verdict.OPEN:
            facts = tuple(open_facts(case.needed.values(), ends, attempt))
        severity = Verdict.OPEN if verdict is Verdict.OPEN else worst.verdict
        yield worst._replace(verdict=severity, message=worst_case_message(worst.message), facts=facts)
    elif worst.facts:
        yield worst  # it asks for what it needs itself
    elif worst.worst is None or best.worst is None:
        facts = tuple(open_facts(case.needed.values(), ends, attempt)) if verdict is Verdict.OPEN else ()
        yield worst._replace(verdict=verdict, message=worst_case_message(worst.message), facts=facts)
    else:
        facts = tuple(open_facts(case.needed.values(), ends, attempt)) if verdict is Verdict.OPEN else ()
        message = weighed_message(subject.raceway.name, verdict, worst.worst, best.worst)
        readings = tuple(dict.fromkeys((*worst.readings, *best.readings)))
        yield worst._replace(verdict=verdict, message=message, best=best.worst, facts=facts, readings=readings)


def sharing_findings(subject: Subject, findings: list[Finding], graph: Graph, book: CodeBook) -> Iterator[Finding]:
    """Asks whether runs that may share a raceway without a name do so, where they fit only apart."""
    if not subject.sharing or any(finding.verdict is Verdict.FAILS for finding in findings):
        return
    raceway = subject.raceway
    lines = ", ".join(str(run.at.line) for run in subject.sharing)
    if len(subject.sharing) <= MOST_SHARING:
        together = raceway_report(Subject(raceway, subject.sharing), graph, book)
        apart = {finding.rule: finding.verdict for finding in findings}
        if all(finding.verdict <= apart.get(finding.rule, Verdict.PASSES) for finding in together.findings):
            return
    fact = OpenFact(SHARED_QUESTION.format(lines), Decimal(0), SHARED_REMEDY, raceway.at)
    message = SHARED.format(raceway.name, raceway.kind, lines)
    yield Finding(fill.NAME, Verdict.OPEN, raceway.name, message, book[RACEWAY_FILL].cite, raceway.at, facts=(fact,))


def listed(needed: Mapping[Fact, Unknown[Any]]) -> Iterator[OpenFact]:
    """Facts too many to say of each what it would settle."""
    for unknown in needed.values():
        yield OpenFact(unknown.text, Decimal(0), NOT_ENOUGH, unknown.fact.at, unknown.fact, unknown.effort)
