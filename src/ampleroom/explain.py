"""What a rule says, why, how it differs by edition, a worked example and its sources: all from the objects that judge."""

from __future__ import annotations

from typing import Any

from ampleroom.arithmetic import Line
from ampleroom.check import check
from ampleroom.editions import NEWEST_COMPARED, READINGS, CodeBook, Reading, blocks, source_text
from ampleroom.editions.tables import mark_of
from ampleroom.errors import NameUnknown
from ampleroom.job.reader import read_job
from ampleroom.job.trade import size_text
from ampleroom.record import Record
from ampleroom.report import CAUTION, line_json, reminder_json
from ampleroom.rules import RULES, Rule
from ampleroom.worksheet import Finding, Reminder

PLAIN = {
    "cite",
    "confidence",
    "source",
    "from",
    "rows",
    "unit",
    "cm3",
    "printed_sizes",
    "keys",
}
"""Keys of a table that are not numbers a rule reads."""


class Change(Record):
    """What a table says from an edition on."""

    since: int
    table: str
    cite: str
    values: dict[str, Any]
    confidence: str

    @property
    def text(self) -> str:
        said = ", ".join(f"{key.replace('_', ' ')} {value_text(value)}" for key, value in self.values.items())
        return f"{self.cite}: {said}" if said else self.cite


class Explanation(Record):
    rule: Rule
    changes: tuple[Change, ...]
    example: str
    example_edition: int
    example_book: CodeBook
    notes: tuple[str, ...]
    lines: tuple[Line, ...]
    units: tuple[str, ...]
    """The unit of each line: ``in3``, or ``in2`` where areas are added up."""
    findings: tuple[Finding, ...]
    reminders: tuple[Reminder, ...]
    readings: tuple[Reading, ...]
    sources: tuple[str, ...]


def explain(name: str, edition: int | None = None) -> Explanation:
    """Everything there is to say of one rule."""
    if name not in RULES:
        raise NameUnknown("rule", name, RULES)
    rule = RULES[name]
    year = edition or NEWEST_COMPARED
    report = check(read_job(f"edition {year}\n{rule.example}"))
    lines = [
        (line, sheet.unit.plain) for sheet in report.worksheets.values() for line in sheet.lines if line.rule == name
    ]
    return Explanation(
        rule,
        tuple(changes(rule)),
        rule.example.strip("\n"),
        year,
        report.book,
        tuple(report.notes),
        tuple(line for line, _ in lines),
        tuple(unit for _, unit in lines),
        tuple(finding for finding in report.findings if finding.rule == name),
        tuple(reminder for subject in report.subjects for reminder in subject.reminders if reminder.rule == name),
        tuple(READINGS[reading] for reading in rule.readings),
        tuple(sources(rule)),
    )


def changes(rule: Rule) -> list[Change]:
    """Every block of the tables a rule reads, oldest edition first."""
    found = []
    for table in rule.tables:
        if (
            table in ("box_fill.conductor_room", "box_room.standard")
            and len(rule.tables) > 1
            and table != rule.tables[0]
        ):
            continue  # told by the rules they belong to
        merged: dict[str, Any] = {}
        for block in blocks(table):
            values = {key: value for key, value in block.items() if key not in PLAIN and merged.get(key) != value}
            merged |= block
            year = block["from"]
            confidence = "from memory" if mark_of(table, year).from_memory else merged["confidence"]
            found.append(Change(year, table, merged["cite"], values, confidence))
    return sorted(found, key=lambda change: change.since)


def sources(rule: Rule) -> list[str]:
    keys: dict[str, None] = {}
    for table in rule.tables:
        for block in blocks(table):
            said = block.get("source", "")
            parts = (
                said.split()
                if said and all(part[0] in "SCW" and part[1:2].isdigit() for part in said.split())
                else [said]
            )
            keys.update(dict.fromkeys(part for part in parts if part))
    return [source_text(key) for key in keys]


def allowances(edition: int) -> list[tuple[str, Any]]:
    """The allowance of each conductor size in an edition, thin to thick."""
    rows = CodeBook(edition)["box_fill.conductor_room"]["rows"]
    return [(size_text(size), room) for size, room in rows.items()]


def value_text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def reading_named(name: str) -> Reading:
    if name not in READINGS:
        raise NameUnknown("reading", name, READINGS)
    return READINGS[name]


# ---- the same as JSON ----------------------------------------------------------------------------------------------


def sources_of(reading: Reading) -> list[str]:
    if reading.source.startswith("own"):
        return ["no published discussion seen; our own reading"]
    return [source_text(key) for key in reading.source.split()]


def rules_json() -> dict[str, Any]:
    return {
        "schema": "ampleroom-rule/1",
        "rules": [{"name": rule.name, "title": rule.title, "topic": rule.topic} for rule in RULES.values()],
        "readings": [reading_json(reading) for reading in READINGS.values()],
        "caution": CAUTION,
    }


def reading_json(reading: Reading) -> dict[str, Any]:
    return {
        "name": reading.name,
        "row": reading.row,
        "asks": reading.asks,
        "choices": reading.choices,
        "default": reading.default,
        "judged": reading.judged,
        "sources": sources_of(reading),
    }


def explanation_json(found: Explanation) -> dict[str, Any]:
    return {
        "schema": "ampleroom-rule/1",
        "name": found.rule.name,
        "title": found.rule.title,
        "says": found.rule.says,
        "why": found.rule.why,
        "editions": [
            {"since": c.since, "table": c.table, "cite": c.cite, "text": c.text, "confidence": c.confidence}
            for c in found.changes
        ],
        "example": {
            "edition": found.example_edition,
            "sheet": found.example,
            "lines": [line_json(line) for line in found.lines],
            "findings": [{"verdict": f.verdict.word, "message": f.message, "cite": f.cite} for f in found.findings],
            "reminders": [reminder_json(reminder) for reminder in found.reminders],
        },
        "readings": [reading.name for reading in found.readings],
        "sources": list(found.sources),
        "caution": CAUTION,
    }
