"""The words of a typed line, each with the words it stands for, and what several families read alike: counts and
gangs.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from ampleroom.job.nicknames import COUNTS, DEVICES
from ampleroom.job.words import LENGTHS, VOLUMES, AskedBack
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


HYPHENS = str.maketrans(dict.fromkeys("\u2010\u2011\u2012\u2013\u2212", "-") | {"\u2019": "'", "\u2018": "'"})
"""What a phone writes for a hyphen and for an apostrophe."""
BULLET = re.compile(r"[-*•·–—]+|\d{1,2}[.)]")
"""What a list on a phone puts before a line."""
STOPPED = re.compile(r"(?:[a-z]\.)+[a-z]|[^\W\d_]{2,}|.*\d", re.IGNORECASE)
"""What a full stop may follow that says nothing: ``s.p.``, ``sq.``, ``12/2.``"""


def tokens_of(words: Sequence[str]) -> Line:
    """Words as typed, each standing for itself; the bullet or number of a list left off."""
    line = [Token(as_on_a_keyboard(word), place, place) for place, word in enumerate(words)]
    return line[1:] if len(line) > 1 and BULLET.fullmatch(line[0].word) else line


def as_on_a_keyboard(word: str) -> str:
    """``12‑2`` with a plain hyphen, ``sq.`` without its full stop."""
    if not word.isascii():
        word = word if word in ("–", "—", "’", "”") or re.fullmatch(r"\d+’", word) else word.translate(HYPHENS)
    if word.endswith((".", ";")) and STOPPED.fullmatch(word[:-1]) and word.lower() not in WITH_A_STOP:
        word = word[:-1]
        word = word.replace(".", "") if re.fullmatch(r"(?:[A-Za-z]\.)+[A-Za-z]", word) else word
    return word


WITH_A_STOP = frozenset({*LENGTHS, *VOLUMES, "ext.", "cu.", "lb."})
"""Words that are written with a full stop."""


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
    """``2 x``, ``2x``, ``two``, ``2``, ``2ea`` before what there are two of, or ``x2`` after it, as ``2 x``; and the
    rest of the line.
    """
    if line and (joined_name := re.fullmatch(r"(\d)-(\d-?way.*)", line[0].low)):
        return put(f"{joined_name[1]} x", line[0]), put(joined_name[2], line[0]) + line[1:]
    if len(line) < 2 or phrase_at(line, 0, DEVICES, 2)[1] == 2:
        return [], line
    if after := re.fullmatch(r"x(\d{1,2})", line[-1].low):
        return ([] if after[1] == "1" else put(f"{after[1]} x", line[-1])), line[:-1]
    word = COUNTS.get(line[0].low, line[0].low)
    joined = re.fullmatch(r"(\d+)(?:x|ea)", word)
    digits = joined[1] if joined else word
    if not digits.isdigit() or (not joined and line[1].low in AFTER_A_NUMBER):
        return [], line
    rest = line[2:] if not joined and line[1].low in ("x", "×", "ea", "each") else line[1:]
    return ([] if digits == "1" else put(f"{digits} x", line[0])), rest


AFTER_A_NUMBER = frozenset({"a", "amp", "amps", "v", "volt", "volts", "gang", "gangs", "lb", "lbs"})
"""Words after which the number before is no count."""


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
    """How many gangs ``2-gang``, ``2g``, ``single-gang`` or the two words ``single gang`` say; an empty one for
    none.
    """
    word = line[at].low
    if joined := GANGS.fullmatch(word):
        digits = GANG_WORDS.get(joined[1], joined[1])
        return digits if digits.isdigit() else ""
    if at + 1 < len(line) and line[at + 1].low in ("gang", "gangs"):
        digits = GANG_WORDS.get(word, word)
        return digits if digits.isdigit() else ""
    return ""
