"""What the terminal says otherwise of a kind of subject than of any other."""

from __future__ import annotations

from ampleroom.arithmetic import Unit
from ampleroom.rules.kinds import headline_of
from ampleroom.words import deciding, headline_text, is_distance
from ampleroom.worksheet import SubjectReport


def spare_unit(kind: str) -> str:
    """The unit of what a kind has spare: ``in3``; empty where nothing is weighed."""
    headline = headline_of(kind)
    return headline.unit.plain if headline else ""


FILLED = (Unit.IN3, Unit.IN2)
"""Units of what is full where nothing is left."""


def spare(subject: SubjectReport) -> str:
    """The least margin of a subject that passes, short enough for a list; empty where none was weighed."""
    headline = headline_of(subject.kind)
    if headline is None:
        return ""
    if is_distance(deciding(subject, headline)):
        return headline_text(subject, headline).replace(" spare", " of distance")
    margins = subject.margins(headline.name)
    if not margins:
        return ""
    least = min(margins)
    return "full" if least == 0 and headline.unit in FILLED else headline.unit.number(least)


__all__ = ["spare", "spare_unit"]
