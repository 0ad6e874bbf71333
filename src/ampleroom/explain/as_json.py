"""The rule pages as JSON, the same for the command line and the page; the fields are in docs/json.md."""

from __future__ import annotations

from typing import Any

from ampleroom.editions import READINGS, Reading
from ampleroom.explain.box_table import BoxTable, box_table
from ampleroom.explain.by_edition import provisional_note
from ampleroom.explain.look_up import BOX, DISPUTED, TITLES, PagesFound, look_up, title_of
from ampleroom.explain.rule_page import RulePage, explain, sources_of
from ampleroom.quantities import number
from ampleroom.report import line_json, reminder_json
from ampleroom.rules.all_rules import RULES
from ampleroom.words import CAUTION

SCHEMA = "ampleroom-rule/2"


def found_json(asked: str, edition: int | None = None) -> dict[str, Any]:
    """The page that a name, a trade word or a section means; the list of pages where it may mean several."""
    page = look_up(asked)
    if isinstance(page, PagesFound):
        return pages_json(page)
    if page == BOX:
        return box_table_json(box_table(edition))
    if page == DISPUTED:
        return disputed_json()
    if page in READINGS:
        return {"schema": SCHEMA, "reading": reading_json(READINGS[page]), "caution": CAUTION}
    return page_json(explain(page, edition))


def rules_json() -> dict[str, Any]:
    """Every rule, the two tables, and every disputed point."""
    return {
        "schema": SCHEMA,
        "rules": [{"name": rule.name, "title": rule.title, "topic": rule.topic} for rule in RULES.values()],
        "tables": [{"name": name, "title": title} for name, title in TITLES.items()],
        "readings": [reading_json(reading) for reading in READINGS.values()],
        "caution": CAUTION,
    }


def pages_json(choice: PagesFound) -> dict[str, Any]:
    """The pages a search led to, by name and title."""
    return {
        "schema": SCHEMA,
        "asked": choice.asked,
        "title": choice.title,
        "pages": [{"name": page.name, "title": page.title} for page in choice.pages],
        "caution": CAUTION,
    }


def disputed_json() -> dict[str, Any]:
    """Every disputed point, with its choices and sources."""
    return {
        "schema": SCHEMA,
        "title": title_of(DISPUTED),
        "readings": [reading_json(reading) for reading in READINGS.values()],
        "caution": CAUTION,
    }


def reading_json(reading: Reading) -> dict[str, Any]:
    """One disputed point: what it asks, its choices, the default, and its sources."""
    return {
        "name": reading.name,
        "row": reading.row,
        "asks": reading.asks,
        "choices": reading.choices,
        "default": reading.default,
        "judged": reading.judged,
        "sources": sources_of(reading),
    }


def box_table_json(table: BoxTable) -> dict[str, Any]:
    """The table of standard boxes in one edition: volume in in3, and how many conductors of each size each holds."""
    return {
        "schema": SCHEMA,
        "title": title_of(BOX),
        "edition": table.book.year,
        "cites": list(table.cites),
        "sizes": list(table.sizes),
        "boxes": [
            {
                "box": row.name,
                "volume": number(row.volume),
                "holds": row.holds,
                "per_gang": row.per_gang,
                "confidence": row.confidence,
            }
            for row in table.rows
        ],
        "notes": table.notes,
        "caution": CAUTION,
    }


def page_json(page: RulePage) -> dict[str, Any]:
    """One rule page: what it says and why, how editions differ, allowances in in3 by size, the worked example."""
    return {
        "schema": SCHEMA,
        "name": page.rule.name,
        "title": page.rule.title,
        "says": page.rule.says,
        "why": page.rule.why,
        "sections": list(page.sections),
        "editions": [
            {
                "first": period.first,
                "last": period.last,
                "label": period.label,
                "text": period.text,
                "cites": list(period.cites),
                "from_memory": list(period.from_memory),
                "mark": period.mark.strip(),
            }
            for period in page.periods
        ],
        "provisional": provisional_note(),
        "allowance_sizes": list(page.allowances),
        "allowances": {size: number(room) for size, room in page.allowances.items()},
        "example": {
            "edition": page.book.year,
            "sheet": page.example,
            "lines": [line_json(line) for line in page.lines],
            "findings": [
                {"verdict": f.verdict.word, "message": f.message, "cite": f.cite, "confidence": f.confidence}
                for f in page.findings
            ],
            "reminders": [reminder_json(reminder) for reminder in page.reminders],
        },
        "readings": [{"name": reading.name, "title": reading.asks} for reading in page.readings],
        "sure": [
            {
                "table": sure.table,
                "cite": sure.cite,
                "first": sure.first,
                "last": sure.last,
                "label": sure.label,
                "confidence": sure.confidence,
            }
            for sure in page.sure
        ],
        "sources": list(page.sources),
        "caution": CAUTION,
    }
