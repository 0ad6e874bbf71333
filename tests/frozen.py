"""Answers frozen by edition: what a fixed sheet was told, kept in ``tests/snapshots`` and written anew on purpose."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable
from decimal import Decimal
from pathlib import Path
from typing import Any

from ampleroom.editions import OFFERED
from ampleroom.worksheet import Finding

SNAPSHOTS = Path(__file__).parent / "snapshots"
YEARS = tuple(OFFERED)
Answers = list[dict[str, str | None]]
"""Of one subject."""


def plain(number: Decimal) -> str | None:
    """Exact, without idle zeros; null for what has no bound."""
    return format(number.normalize(), "f") if number.is_finite() else None


def by_subject(findings: Iterable[Finding]) -> dict[str, Answers]:
    """Of each subject every finding: its rule, its verdict, its section, what is needed and what is there."""
    found: dict[str, Answers] = {}
    for each in findings:
        answer: dict[str, str | None] = {"rule": each.rule, "verdict": each.verdict.word, "cite": each.cite}
        if each.worst is not None:
            answer |= {"needed": plain(each.worst.needed), "there": plain(each.worst.there)}
        found.setdefault(each.subject, []).append(answer)
    return found


def told(answer: Any) -> set[str]:
    """The findings of one subject, each in a line."""
    return {json.dumps(each) for each in (answer if isinstance(answer, list) else [answer])}


class Frozen:
    """The answers of one fixed sheet, ``tests/snapshots/NAME.job``, one file an edition.

    ``answers`` gives those of a year as JSON has them, by subject; ``module`` is the test that holds them.
    """

    def __init__(self, name: str, module: str, answers: Callable[[int], dict[str, Any]]) -> None:
        self.name, self.module, self.answers = name, module, answers

    def file(self, year: int) -> Path:
        """Where the answers of an edition are kept."""
        return SNAPSHOTS / f"{self.name}_{year}.json"

    def hold(self, year: int) -> None:
        """Demand the answers that were always given."""
        to_renew = f"run: python -m {self.module} renew"
        assert self.file(year).exists(), f"nothing is frozen for {year} yet: {to_renew}"
        was = json.loads(self.file(year).read_text("utf-8"))
        assert self.answers(year) == was, f"an answer changed: if that is right, say so in CHANGELOG.md and {to_renew}"

    def renew(self) -> None:
        """Write the answers anew, and say what changed."""
        for year in YEARS:
            path = self.file(year)
            before = json.loads(path.read_text("utf-8")) if path.exists() else {}
            after = self.answers(year)
            for subject in {**before, **after}:
                was, now = told(before.get(subject)), told(after.get(subject))
                if before and was != now:
                    print(f"{year} {subject}: {was - now or 'nothing'} -> {now - was or 'nothing'}")
            rows = ",\n".join(f"  {json.dumps(subject)}: {json.dumps(answer)}" for subject, answer in after.items())
            path.write_text("{\n" + rows + "\n}\n", "utf-8")
        print("Say every change in CHANGELOG.md, under 'Answers that change'.")

    def main(self, about: str | None) -> None:
        """What ``python -m MODULE`` does: ``renew``, or tell how."""
        if sys.argv[1:] == ["renew"]:
            self.renew()
        else:
            print(about)
