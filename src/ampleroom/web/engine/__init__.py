"""What the page asks, answered from a sheet's text: the same functions on the server and in the browser's Python.

Every answer is plain data, the JSON of ``--json`` where there is one. Nothing is kept between calls but the last few
sheets as they were read, so that a question after a tap need not read the sheet again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from ampleroom.errors import AmpleroomError, EditionMissing, SheetFaults
from ampleroom.job import Fault
from ampleroom.quantities import plural
from ampleroom.web.engine import change, files, merging, remedies, rule_pages, view
from ampleroom.web.engine.files import TABLES
from ampleroom.web.engine.request import opened, stock_read
from ampleroom.web.fields import checked
from ampleroom.web.question_fields import QUESTIONS
from ampleroom.words import all_printed

ACTIONS: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
    "ask": rule_pages.answer_ask,
    "job": view.answer_job,
    "standing": view.answer_standing,
    "check": view.answer_check,
    "show": view.answer_show,
    "box": view.answer_box,
    "edit": change.answer_edit,
    "merge": merging.answer_merge,
    "fits": remedies.answer_fits,
    "remedies": remedies.answer_remedies,
    "apply": remedies.answer_apply,
    "plan": remedies.answer_plan,
    "takeoff": remedies.answer_takeoff,
    "editions": view.answer_editions,
    "against": remedies.answer_against,
    "rule": rule_pages.answer_rule,
    "rules": rule_pages.answer_rules,
    "map": view.answer_map,
    "words": rule_pages.answer_words,
    "packet": files.answer_packet,
    "workbook": files.answer_workbook,
    "import": files.answer_import,
}


AS_PRINTED_BY_COMMANDS = ("check", "show")
"""Answers that are the JSON a command writes, letter for letter."""
SHOWN = frozenset(
    [
        "message",
        "margin_text",
        "brief",
        "sum",
        "other_case",
        "why",
        "settles",
        "question",
        "note",
        "label",
        "what",
        "asks",
        "means",
        "others",
        "choices",
        "says",
        "alt",
        "title",
        "reminders",
        "more",
        "reasons",
        "taken_for_granted",
        "first_find_out",
    ]
)
"""The fields that are sentences to be read; in them units are printed as paper has them. A line of a sheet is none."""


def on_page(answered: dict[str, Any]) -> dict[str, Any]:
    """An answer as the page shows it: ``21.00 in³``. Faults say what to write into a sheet, and a question is what
    somebody typed, so these stay as they are.
    """
    kept = {key: answered[key] for key in ("faults", "question") if key in answered}
    return {**all_printed(answered, SHOWN), **kept}


def answer(action: str, data: dict[str, Any]) -> dict[str, Any]:
    """The answer to one question; what a person can put right comes back as ``error``, never as a traceback."""
    if action not in ACTIONS:
        return {"error": f"no question {action!r}", "kind": "question"}
    try:
        checked(data, QUESTIONS[action])
        answered = ACTIONS[action](data)
        return answered if action in AS_PRINTED_BY_COMMANDS else on_page(answered)
    except SheetFaults as trouble:
        faults = faults_data(trouble.faults)
        return {"error": f"{plural(len(faults), trouble.unit)} cannot be read", "kind": "faults", "faults": faults}
    except EditionMissing as trouble:  # perhaps its line is there and cannot be read: the faults tell
        faults = faults_data(view.faults_of_lines(opened(data["sheet"])[1]))
        return {"error": str(trouble), "kind": "edition", "faults": faults}
    except AmpleroomError as trouble:
        return {"error": str(trouble), "kind": "question"}


def faults_data(faults: Iterable[Fault]) -> list[dict[str, Any]]:
    """Faults as JSON, each with its file: line, column and end counted from 1, message, hint."""
    return [{**view.fault_data(fault), "file": fault.file} for fault in faults]


__all__ = ["ACTIONS", "TABLES", "answer", "opened", "stock_read"]
