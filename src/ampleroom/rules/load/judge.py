"""What is found of the service of a dwelling: by every method, at the worst and the best where facts are unknown."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import LIGHTING
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph
from ampleroom.quantities import listed
from ampleroom.rules.load import apartments, conductors, existing, least_service, metered, neutral, optional, standard
from ampleroom.rules.load.carried import ENDS, Carried, Subject, carried
from ampleroom.rules.load.kinds import LARGE
from ampleroom.rules.raceway.judge import judged_between
from ampleroom.rules.registry import Rule, remind, rule_in
from ampleroom.words import ANOTHER_METHOD, ANOTHER_METHOD_MAY, NOT_IN_THE_SHEET, NOT_JUDGED_OF_LOAD
from ampleroom.worksheet import Finding, Reminder, SubjectReport, Verdict

KIND = "dwelling"
METHODS = tuple(map(rule_in, (standard, optional, existing, metered, apartments)))
"""Any one of them is enough."""
BESIDE = tuple(map(rule_in, (neutral, least_service)))
FINDINGS = (*METHODS, *BESIDE)
REMINDERS = (rule_in(conductors),)


def load_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """The service of a dwelling: its load by every method it may be counted by, its neutral, its least rating."""
    methods = enough_by_one([each for rule in METHODS for each in findings_of(rule, subject, graph, book)])
    beside = [each for rule in BESIDE for each in findings_of(rule, subject, graph, book)]
    known = carried(subject, graph, book, Assumption(ENDS))
    reminders = [reminder for rule in REMINDERS for reminder in rule.function(known, book)]
    if missing := missing_from(known):
        text = NOT_IN_THE_SHEET.format(listed(missing, "or"))
        reminders.append(remind(standard.NAME, text, book[LIGHTING], caution=True))
    reminders.append(Reminder(standard.NAME, NOT_JUDGED_OF_LOAD, book[LIGHTING].cite))
    description = ", ".join(
        part
        for part in (
            f"{known.area:f} ft2" if known.area.is_finite() else "",
            f"{known.units:f} dwellings" if known.units > 1 else "",
            subject.dwelling.description,
        )
        if part
    )
    at = subject.dwelling.at
    return SubjectReport(KIND, subject.name, description, at, (*methods, *beside), tuple(reminders))


def missing_from(known: Carried) -> list[str]:
    """The large loads of a house of which none is written; of a dwelling that was measured none is missing."""
    if known.metered is not None:
        return []
    there = {word for item in known.items for word in (item.kind.counts_as, item.kind.name)}
    return [ways[0] for ways in LARGE if there.isdisjoint(ways)]


def enough_by_one(findings: list[Finding]) -> Iterator[Finding]:
    """The findings of methods of which one is enough: none is worse than the best of them, and says so."""
    best = min((finding.verdict for finding in findings), default=Verdict.PASSES)
    for finding in findings:
        if finding.verdict <= best:
            yield finding
        elif best.is_allowed:
            yield finding._replace(verdict=Verdict.ADVICE, message=finding.message + ANOTHER_METHOD, facts=())
        else:
            yield finding._replace(verdict=best, message=finding.message + ANOTHER_METHOD_MAY)


def findings_of(rule: Rule, subject: Subject, graph: Graph, book: CodeBook) -> Iterator[Finding]:
    """What one rule finds; where it leans on facts nobody knows, between its worst and its best."""
    assumption = Assumption(ENDS)
    known = carried(subject, graph, book, assumption)
    ends = rule.ends_for((), book)
    if not any(ends.get(fact.field) != "neither" for fact in assumption.needed):
        yield from rule.function(known, book)
        return

    def settled(tried: Assumption) -> Carried:
        return carried(subject, graph, book, tried)

    for finding in judged_between(rule, subject.name, subject.dwelling.at, ends, settled, book):
        yield finding._replace(subject=subject.name)
