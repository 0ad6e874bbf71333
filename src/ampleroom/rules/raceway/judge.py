"""What is found of one raceway: every rule about raceways, at its worst and at its best where facts are unknown."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import NIPPLE, RACEWAY_FILL
from ampleroom.facts import MOST_SHARING, MOST_WEIGHINGS, Assumption, End, Ends, Fact, Unknown, Values, bounds
from ampleroom.job.graph import Graph
from ampleroom.job.model import Raceway
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.box.judge.other_findings import severity_first, verdict_of, verdicts
from ampleroom.rules.effects import Outcome, open_facts
from ampleroom.rules.raceway import bends, fill, flexible, jam
from ampleroom.rules.raceway.filled import ENDS, FilledRaceway, Subject, filled
from ampleroom.rules.raceway.limit import conductors_in
from ampleroom.rules.raceway.reminders import bend_radius, cover_depth, expansion, supports
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.where import Where
from ampleroom.words import (
    NOT_ENOUGH,
    NOT_JUDGED_OF_RACEWAY,
    NOT_WEIGHED_TOGETHER,
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
REMINDERS = tuple(map(rule_in, (bend_radius, supports, expansion, cover_depth)))
Judge = Callable[[Assumption], list[Finding]]


def raceway_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """One raceway: its fill, its bends, whether it may jam, and what to look at on the spot."""
    raceway = subject.raceway
    assumption = Assumption(ENDS)
    known = filled(subject, book, assumption)
    findings: list[Finding] = []
    for rule in FINDINGS:
        if assumption.needed and leans_on_contents(rule, raceway):
            findings += bounded(rule, subject, book)
        else:
            findings += rule.function(known, book)
    findings += sharing_findings(subject, findings, graph, book)
    reminders = tuple([reminder for rule in REMINDERS for reminder in rule.function(known, book)])
    reminders += (Reminder(fill.NAME, NOT_JUDGED_OF_RACEWAY, book[RACEWAY_FILL].cite),)
    size = "?" if raceway.size is UNKNOWN else raceway.size
    where = f"{raceway.kind} {size}, {' > '.join(raceway.ends)}"
    return SubjectReport(KIND, raceway.name, where, raceway.at, tuple(findings), reminders, not subject.runs)


def leans_on_contents(rule: Rule, raceway: Raceway) -> bool:
    """Whether a rule finds anything that depends on what lies in a raceway: bends do not, and a table of counts is of
    one kind.
    """
    if rule.name == flexible.NAME:
        return raceway.kind == flexible.KIND
    return rule.name != bends.NAME


def bounded(rule: Rule, subject: Subject, book: CodeBook) -> Iterator[Finding]:
    """What one rule finds of a raceway on which unknown facts bear."""
    declared = rule.ends_for((), book)
    widths: Ends = {field: end for field, end in ENDS.items() if field.endswith("width")}
    ends: Ends = {**widths, **declared, **surer_ends(rule, subject, book)}

    def settled(assumption: Assumption) -> FilledRaceway:
        return filled(subject, book, assumption)

    yield from judged_between(rule, subject.name, subject.raceway.at, ends, settled, book)


def judged_between(
    rule: Rule, name: str, at: Where, ends: Ends, settled: Callable[[Assumption], Any], book: CodeBook
) -> Iterator[Finding]:
    """What one rule finds of a raceway or wireway between the worst and the best of its unknown facts.

    ``settled`` puts it together under an assumption; ``ends``: which end of each fact is worse.
    """
    tried = 0

    def judge(assumption: Assumption) -> list[Finding]:
        nonlocal tried
        tried += 1
        return list(rule.function(settled(assumption), book))

    def attempt(values: Values) -> Outcome:
        with_values = bounds(judge, ends, severity_first, values)
        worst, best = (next(iter(findings), None) for findings in (with_values.worst, with_values.best))
        sheets = (worst.worst if worst else None, best.worst if best else None)
        return Outcome(verdict_of(with_values), (verdicts(with_values.worst), verdicts(with_values.best)), *sheets)

    case = bounds(judge, ends, severity_first)
    too_many = tried > MOST_WEIGHINGS

    def facts_of() -> tuple[OpenFact, ...]:
        needed = {fact: unknown for fact, unknown in case.needed.items() if ends.get(fact.field) != "neither"}
        if too_many:
            return tuple(listed(needed, NOT_WEIGHED_TOGETHER))
        return tuple(open_facts(needed.values(), ends, attempt))

    verdict = verdict_of(case)
    worst, best = next(iter(case.worst), None), next(iter(case.best), None)
    if not case.is_complete and rule.name == jam.NAME:
        return  # it is advice, never more: it does not hold up what is judged
    if not case.is_complete:
        facts = tuple(listed(case.needed))
        message = TOO_MANY_FACTS.format(name)
        yield Finding(rule.name, Verdict.OPEN, name, message, book[rule.reads[0]].cite, at, facts=facts)
    elif worst is None:
        yield from case.best  # what only a better case has to say
    elif best is not None and best.message == worst.message:
        yield worst
    elif best is None:  # in the better case the rule has nothing to say
        facts = worst.facts
        if not facts and verdict is Verdict.OPEN:
            facts = facts_of()
        severity = Verdict.OPEN if verdict is Verdict.OPEN else worst.verdict
        yield worst._replace(verdict=severity, message=worst_case_message(worst.message), facts=facts)
    elif worst.facts:
        yield worst  # it asks for what it needs itself
    elif worst.worst is None or best.worst is None:
        facts = facts_of() if verdict is Verdict.OPEN else ()
        yield worst._replace(verdict=verdict, message=worst_case_message(worst.message), facts=facts)
    else:
        facts = facts_of() if verdict is Verdict.OPEN else ()
        message = weighed_message(name, verdict, worst.worst, best.worst)
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


def surer_ends(rule: Rule, subject: Subject, book: CodeBook) -> Ends:
    """Worse ends that hold for this raceway alone: a smaller bore is worse, and, where more than two conductors lie in
    it for certain, so is every further one, as the percentage no longer changes. Each spares trying every value.
    """
    raceway = subject.raceway
    if rule.name == fill.NAME:
        least = conductors_in(filled(subject, book, Assumption(ENDS, at_worst=False)).pieces)
        sure: dict[str, End] = {"raceway size": "small"} if raceway.kind != flexible.KIND else {}
        nipple, terms = book[NIPPLE].percent, book[RACEWAY_FILL]
        if nipple >= max(terms.one, terms.two, terms.more):
            sure["raceway length"] = "large"
        if least > 2 and terms.more <= nipple:
            sure |= {"wires count": "large", "run count": "large"}
        return sure
    if rule.name == jam.NAME:
        least = conductors_in(filled(subject, book, Assumption(ENDS, at_worst=False)).pieces)
        if least > book[jam.JAM].alike:  # too many to jam, whatever else is found
            return {"wires count": "large", "run count": "large", "raceway size": "small", "raceway length": "large"}
    return {}


def listed(needed: Mapping[Fact, Unknown[Any]], remark: str = NOT_ENOUGH) -> Iterator[OpenFact]:
    """Facts too many to say of each what it would settle."""
    for unknown in needed.values():
        yield OpenFact(unknown.text, Decimal(0), remark, unknown.fact.at, unknown.fact, unknown.effort)
