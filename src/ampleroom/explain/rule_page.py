"""The page of one rule."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ampleroom.arithmetic import Line
from ampleroom.check import check
from ampleroom.editions import NEWEST_COMPARED, READINGS, CodeBook, Reading, source_text
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.editions.tables import Table
from ampleroom.errors import NameUnknown
from ampleroom.explain.by_edition import Period, Sure, how_sure, periods, span
from ampleroom.explain.sections import sections
from ampleroom.job.reader import read_job
from ampleroom.record import Record
from ampleroom.rules.all_rules import RULES
from ampleroom.rules.registry import Rule
from ampleroom.worksheet import Finding, Reminder

SHARED: tuple[Table[Any], ...] = (CONDUCTOR_ROOM, STANDARD_BOXES)
"""Tables many rules count with; the page of each is elsewhere."""


class RulePage(Record):
    """All there is to say of one rule. ``lines``, ``findings`` and ``reminders`` are what its example gives."""

    rule: Rule
    sections: tuple[str, ...]
    """Where the code says it, with the editions where the number changed: ``314.5 (2008)``; may be empty."""
    periods: tuple[Period, ...]
    """What it says from edition to edition."""
    allowances: dict[str, Decimal]
    """In3 of one allowance for each conductor size, in the edition of the example; empty where it counts none."""
    example: str
    """A job sheet."""
    book: CodeBook
    """The edition the example is judged by."""
    notes: tuple[str, ...]
    """What that edition is worth, if it is provisional; which tables were not compared is said at each line."""
    lines: tuple[Line, ...]
    """The rule's own lines of the worksheet."""
    findings: tuple[Finding, ...]
    reminders: tuple[Reminder, ...]
    readings: tuple[Reading, ...]
    """The disputed points it leans on."""
    sure: tuple[Sure, ...]
    """How sure its numbers are, by section and edition."""
    sources: tuple[str, ...]


def explain(name: str, edition: int | None = None) -> RulePage:
    """The page of a rule, its example judged by an edition; by the newest compared one where none is given.

    Raises ``NameUnknown`` for a rule and ``EditionUnknown`` for an edition that is not there.
    """
    if name not in RULES:
        raise NameUnknown("rule", name, RULES)
    rule = RULES[name]
    book = CodeBook(edition or NEWEST_COMPARED)
    report = check(read_job(f"edition {book.year}\n{rule.example}"))
    return RulePage(
        rule,
        tuple(section_text(section, years) for section, years in sections(own_tables(rule)).items()),
        tuple(periods(name)),
        dict(book[CONDUCTOR_ROOM].rows) if CONDUCTOR_ROOM in rule.reads else {},
        rule.example.strip("\n"),
        report.book,
        tuple(book.notes_with(())),
        tuple(line for sheet in report.worksheets.values() for line in sheet.lines if line.rule == name),
        tuple(finding for finding in report.findings if finding.rule == name),
        tuple(reminder for subject in report.subjects for reminder in subject.reminders if reminder.rule == name),
        tuple(READINGS[reading] for reading in rule.readings),
        tuple(how_sure(rule.reads)),
        tuple(sources(rule.reads)),
    )


def own_tables(rule: Rule) -> tuple[Table[Any], ...]:
    """The tables a rule is about, without those it only counts with."""
    return tuple(table for at, table in enumerate(rule.reads) if not at or table not in SHARED)


def section_text(section: str, years: list[int]) -> str:
    """``314.16(B)(5)``; with its editions where it was somewhere else in others: ``314.5 (2008)``."""
    label = span(years[0], years[-1])
    if label == "All editions" or "not confirmed" in section:
        return section
    return f"{section} ({label[:1].lower()}{label[1:]})"


def sources(tables: tuple[Table[Any], ...]) -> list[str]:
    """What the numbers of these tables rest on, each source once."""
    keys: dict[str, None] = {}
    for table in tables:
        for block in table.blocks:
            written = block.get("source", "")
            parts = written.split()
            are_keys = all(part[0] in "SCW" and part[1:2].isdigit() for part in parts)
            keys.update(dict.fromkeys(parts if are_keys else [written]))
    return [source_text(key) for key in keys]


def sources_of(reading: Reading) -> list[str]:
    """Where a disputed point was discussed."""
    if reading.source.startswith("own"):
        return ["no published discussion seen; our own reading"]
    return [source_text(key) for key in reading.source.split()]
