"""What is found of one panel."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.job.graph import Graph
from ampleroom.rules.panel import legs, main, required, spaces, working_space
from ampleroom.rules.panel.laid_out import LaidOut, Subject, laid_out
from ampleroom.rules.registry import rule_in
from ampleroom.words import NOT_JUDGED_OF_PANEL
from ampleroom.worksheet import Reminder, SubjectReport

KIND = "panel"
FINDINGS = tuple(map(rule_in, (spaces, legs, main, required)))
REMINDERS = (rule_in(working_space),)


def panel_report(subject: Subject, graph: Graph, book: CodeBook) -> SubjectReport:
    """One panel: its spaces, its legs, its main, and what to look at."""
    known = laid_out(subject, graph, book)
    panel = subject.panel
    findings = tuple([finding for rule in FINDINGS for finding in rule.function(known, book)])
    reminders = [
        *spaces.reminders(known, book),
        *legs.reminders(known, book),
        *required.reminders(known, book),
        *(reminder for rule in REMINDERS for reminder in rule.function(known, book)),
        Reminder(spaces.NAME, NOT_JUDGED_OF_PANEL, book[spaces.SPACES].cite),
    ]
    return SubjectReport(
        KIND, panel.name, description_of(known), panel.at, findings, tuple(reminders), not known.circuits
    )


def description_of(known: LaidOut) -> str:
    """``panel, 120/240 V, main 200 A, 40 spaces, kitchen wall``."""
    panel = known.panel
    parts = (
        KIND,
        f"{'/'.join(map(str, panel.volts))} V" if panel.volts else "",
        f"{panel.phases}-phase" if panel.phases else "",
        f"main {panel.main} A" if panel.main else "",
        f"{panel.spaces} spaces" if panel.spaces else "",
        panel.description,
    )
    return ", ".join(part for part in parts if part)
