"""Wireways and gutters in the words of the trade: ``4x4 wireway W1``, ``trough T1 P to J9 4 x 4``."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ampleroom.job.nicknames import TO, WIREWAYS
from ampleroom.job.trade_words.tokens import Line, phrase_at, put
from ampleroom.job.words import number_word

JOINED_SECTION = re.compile(r"[\d./-]+\"?[x×][\d./-]+\"?")


def is_wireway(line: Line) -> bool:
    """Whether a line begins with a word for a wireway or a gutter, or with its section and such a word."""
    _, rest = without_section(line)
    return phrase_at(rest, 0, WIREWAYS)[1] > 0


def without_section(line: Line) -> tuple[Line, Line]:
    """The section a line begins with, ``4x4`` or ``4 x 4``, and the rest of it; none where it begins otherwise."""
    if line and JOINED_SECTION.fullmatch(line[0].low):
        return line[:1], line[1:]
    three = [token.low for token in line[:3]]
    if len(three) == 3 and three[1] in ("x", "×", "by") and all(number_word(w.rstrip('"')) for w in three[::2]):
        return line[:3], line[3:]
    return [], line


def wireway(line: Line) -> Iterator[list[Line]]:
    """The plain line: the kind, its name, its ends with ``>`` between, then its section and the rest."""
    section, rest = without_section(line)
    phrase, many = phrase_at(rest, 0, WIREWAYS)
    head, rest = put(WIREWAYS[phrase], *rest[:many]), rest[many:]
    ends = 0
    if len(rest) > 3 and rest[2].low in TO:
        rest = [*rest[:2], *put(">", rest[2]), *rest[3:]]
        ends = 3
    elif len(rest) > 2 and rest[1].low in TO:  # its ends, and no name
        rest = [rest[0], *put(">", rest[1]), *rest[2:]]
        yield [[*head, *rest]]
        return
    named = 1 + ends if rest else 0
    yield [[*head, *rest[:named], *section, *rest[named:]]]
