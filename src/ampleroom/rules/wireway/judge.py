"""What is found of one wireway or gutter, at the worst and at the best where facts are unknown."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job.graph import Graph
from ampleroom.job.lines.wireways import place_text
from ampleroom.rules.raceway.judge import judged_between
from ampleroom.rules.registry import Rule, rule_in
from ampleroom.rules.wireway import bending, conductors, entries, fill, splices
from ampleroom.rules.wireway.filled import ENDS, FilledWireway, Subject, filled
from ampleroom.rules.wireway.reminders import supports
from ampleroom.words import NOT_JUDGED_OF_WIREWAY, SPLICES_ASSUMED
from ampleroom.worksheet import Finding, Reminder, SubjectReport

FINDINGS = tuple(map(rule_in, (fill, conductors, splices, bending, entries)))
REMINDERS = (rule_in(supports),)


def wireway_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """One wireway or gutter: its fill, its splices, what its conductors need to turn, and what to look at."""
    wireway = subject.wireway
    assumption = Assumption(ENDS)
    known = filled(subject, book, assumption)
    findings = tuple([finding for rule in FINDINGS for finding in findings_of(rule, subject, known, assumption, book)])
    reminders = [reminder for rule in REMINDERS for reminder in rule.function(known, book)]
    if known.is_judged:
        terms = book[splices.GUTTER if known.is_gutter else splices.WIREWAY]
        if known.splices is None:
            text = SPLICES_ASSUMED.format(subject.name, terms.percent)
            reminders.append(Reminder(splices.NAME, text, terms.cite, confidence=terms.confidence))
        cite = book[fill.GUTTER if known.is_gutter else fill.WIREWAY].cite
        reminders.append(Reminder(fill.NAME, NOT_JUDGED_OF_WIREWAY, cite))
    parts = (f"{wireway.form} {known.section}", place_text(wireway), wireway.label)
    description = ", ".join(part for part in parts if part)
    is_empty = not subject.runs
    return SubjectReport(wireway.form, subject.name, description, subject.at, findings, tuple(reminders), is_empty)


def findings_of(
    rule: Rule, subject: Subject, known: FilledWireway, assumption: Assumption, book: CodeBook
) -> Iterator[Finding]:
    """What one rule finds; where it leans on facts nobody knows, between its worst and its best."""
    ends = rule.ends_for((), book)
    leans = [fact for fact in assumption.needed if ends.get(fact.field, "neither") != "neither"]
    if rule.name == entries.NAME or not leans:  # entries go by raceways, and say themselves what is not known
        yield from rule.function(known, book)
        return

    def settled(tried: Assumption) -> FilledWireway:
        return filled(subject, book, tried)

    yield from judged_between(rule, subject.name, subject.at, ends, settled, book)
