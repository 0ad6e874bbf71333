"""What the terminal says otherwise of a kind of subject than of any other."""

from __future__ import annotations

from ampleroom.rules.kinds import headline_of
from ampleroom.worksheet import SubjectReport

PASSING: dict[str, str] = {"box": "room to spare in in3"}
"""The words after how many of a kind pass, above the list of their margins; by the kind's name."""


def passing_words(kind: str) -> str:
    """``room to spare in in3``; for a kind without words of its own ``to spare in A``, and none where it has no headline."""
    headline = headline_of(kind)
    return PASSING.get(kind) or (f"to spare in {headline.unit}" if headline else "")


def spare(subject: SubjectReport) -> str:
    """The least margin of a subject that passes, in words short enough for a list; empty where none was weighed."""
    headline = headline_of(subject.kind)
    if headline is None:
        return ""
    margins = subject.margins(headline.name)
    if not margins:
        return ""
    least = min(margins)
    return "exactly full" if least == 0 else headline.unit.number(least)


__all__ = ["PASSING", "passing_words", "spare"]
