"""What the tests of the rules share: a sheet and an edition in, the part of the answer a test asks about out.

Lines and findings come out untyped, so that a test may compare a Decimal with a plain 2.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from types import FrameType
from typing import Any

from ampleroom import Reminder, Report, SubjectReport, Worksheet, check, read_job
from ampleroom.editions import OFFERED
from ampleroom.rules.all_rules import RULES

COMPARED = tuple(year for year, offered in OFFERED.items() if not offered.provisional)
"""The editions somebody compared: all that are offered but the provisional one."""

EDITION = 2023
"""The edition a test judges by where which one is not the point. It is named, so that a new edition fails none of
them."""


def in_box(inside: str = "", *runs: str, base: str = "marked 100 in3") -> str:
    """A sheet with one box, ``A``: what it is, what is in it parted by semicolons, and the runs that come in."""
    under = [base, *(part.strip() for part in inside.split(";") if part.strip())]
    return "\n".join(["box A", *("  " + line for line in under), *runs, ""])


def report(sheet: str, edition: int = EDITION, amendments: str = "") -> Report:
    """The whole answer; ``amendments`` is the text of the file the sheet names."""
    return check(read_job(sheet, beside=lambda name: amendments), edition)


def box(sheet: str, edition: int = EDITION) -> SubjectReport:
    """The report of the first box."""
    return report(sheet, edition).subjects[0]


def worksheet(sheet: str, edition: int = EDITION) -> Worksheet:
    """The arithmetic that decides for the first box."""
    return next(iter(report(sheet, edition).worksheets.values()))


def needed(sheet: str, edition: int = EDITION) -> Decimal:
    return worksheet(sheet, edition).needed


def there(sheet: str, edition: int = EDITION) -> Decimal:
    return worksheet(sheet, edition).there


def verdict(sheet: str, edition: int = EDITION) -> str:
    return report(sheet, edition).verdict.word


def lines(sheet: str, edition: int = EDITION, rule: str = "") -> list[Any]:
    """The lines of every worksheet; of one rule, if named."""
    sheets = report(sheet, edition).worksheets.values()
    return [line for sheet in sheets for line in sheet.lines if rule in ("", line.rule)]


def line(sheet: str, edition: int = EDITION, rule: str = "", label: str = "") -> Any:
    """The only line of a rule; of those whose label begins so, if given."""
    (only,) = [found for found in lines(sheet, edition, rule) if found.label.startswith(label)]
    return only


def findings(sheet: str, edition: int = EDITION, rule: str = "box-fill") -> list[Any]:
    return [finding for finding in report(sheet, edition).findings if finding.rule == rule]


def finding(sheet: str, edition: int = EDITION, rule: str = "box-fill") -> Any:
    """The only finding of a rule."""
    (only,) = findings(sheet, edition, rule)
    return only


def reminders(sheet: str, edition: int = EDITION, rule: str = "") -> list[Reminder]:
    return [found for box in report(sheet, edition).subjects for found in box.reminders if rule in ("", found.rule)]


def settings(sheet: str, reading: str, choice: str) -> str:
    """The sheet with one disputed point set."""
    return f"reading {reading} {choice}\n{sheet}"


PUBLISHED = {"box_fill.toml": ("bf-",), "worked_problems.toml": ("T", "M")}
"""How the ids of the published cases begin, by the file that has those of no rule alone."""


def cases(name: str) -> list[dict[str, Any]]:
    """The published cases of a file beside the acceptance tests and those that lie beside the rule they are about,
    decimals exact.
    """
    text = (Path(__file__).parent / "acceptance" / name).read_text("utf-8")
    found: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)["case"]
    return found + [case for rule in RULES.values() for case in rule.cases if case["id"].startswith(PUBLISHED[name])]


def lines_run(action: Callable[[], object]) -> int:
    """Lines of Python an action runs, a loop's once each time around: work that can be compared on any machine."""
    lines = 0

    def traced(frame: FrameType, event: str, value: object) -> Any:
        nonlocal lines
        lines += event == "line"
        return traced

    before = sys.gettrace()
    sys.settrace(traced)
    try:
        action()
    finally:
        sys.settrace(before)
    return lines
