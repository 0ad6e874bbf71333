"""The words of a typed line, each with the words it stands for, and what several families read alike: counts and gangs."""

from __future__ import annotations

import re
from collections.abc import Sequence

from ampleroom.job.nicknames import COUNTS, DEVICES
from ampleroom.job.words import VOLUMES, AskedBack
from ampleroom.record import TupleRecord


class Token(TupleRecord):
    """A word, and the first and last word as written that it stands for."""

    word: str
    first: int
    last: int

    @property
    def low(self) -> str:
        """The word in lower case."""
        return self.word.lower()


Line = list[Token]


def tokens_of(words: Sequence[str]) -> Line:
    """Words as typed, each standing for itself."""
    return [Token(word, place, place) for place, word in enumerate(words)]


def put(text: str, *stands_for: Token) -> Line:
    """Words of the plain form in place of some that were typed."""
    first, last = stands_for[0].first, stands_for[-1].last
    return [Token(word, first, last) for word in text.split()]


def asked(question: tuple[str, str], line: Line) -> AskedBack:
    """A question back, and how to write each answer, at the words concerned."""
    return AskedBack(line[0].first, line[-1].last, *question)


def phrase_at(line: Line, at: int, table: dict[str, str], most: int = 3) -> tuple[str, int]:
    """The longest phrase of a table that stands at a place, and how many words it has; an empty one and 0 for none."""
    for many in range(min(most, len(line) - at), 0, -1):
        phrase = " ".join(token.low for token in line[at : at + many])
        if phrase in table:
            return phrase, many
    return "", 0


def counted(line: Line) -> tuple[Line, Line]:
    """``2 x``, ``2x``, ``two``, ``2`` before what there are two of, as ``2 x``; and the rest of the line."""
    if len(line) < 2 or phrase_at(line, 0, DEVICES, 2)[1] == 2:
        return [], line
    word = COUNTS.get(line[0].low, line[0].low)
    joined = re.fullmatch(r"(\d+)x", word)
    digits = joined[1] if joined else word
    if not digits.isdigit():
        return [], line
    rest = line[2:] if not joined and line[1].low in ("x", "×", "ea", "each") else line[1:]
    return ([] if digits == "1" else put(f"{digits} x", line[0])), rest


def singular(word: str) -> str:
    """``switches`` as ``switch``; a word that is no plural as it is."""
    for end, instead in (("switches", "switch"), ("xes", "x"), ("s", "")):
        if word.endswith(end) and len(word) > 3:
            return word.removesuffix(end) + instead
    return word


def is_unit(word: str) -> bool:
    """Whether a word says that the number before it is a length or a volume."""
    return word in ("in", "in.", "inch", "cu", "cu.", "cubic", "deep") or word in VOLUMES


GANG_WORDS = {
    "single": "1",
    "one": "1",
    "double": "2",
    "two": "2",
    "three": "3",
    "triple": "3",
    "four": "4",
    "quad": "4",
}
GANGS = re.compile(r"(\d{1,2}|[a-z]+)-?(?:gang|g)")


def gangs_of(line: Line, at: int) -> str:
    """How many gangs ``2-gang``, ``2g``, ``single-gang`` or the two words ``single gang`` say; an empty one for none."""
    word = line[at].low
    if joined := GANGS.fullmatch(word):
        digits = GANG_WORDS.get(joined[1], joined[1])
        return digits if digits.isdigit() else ""
    if at + 1 < len(line) and line[at + 1].low in ("gang", "gangs"):
        digits = GANG_WORDS.get(word, word)
        return digits if digits.isdigit() else ""
    return ""
