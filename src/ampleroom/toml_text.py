"""The one reader of TOML somebody else wrote: stock files, local amendments, column names.

What could make the standard library's reader slow, or end it in a traceback, is refused before it reads: size, nesting,
length of keys and numbers, numbers that are none. What comes out holds finite numbers of an ordinary size only.
"""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal
from typing import Any

from ampleroom.record import Record

LARGEST = 4_000_000
"""Letters of a text: a stock file of some 20,000 parts."""
DEEPEST = 12
"""Brackets inside one another, and names joined by dots."""
LONGEST_KEY = 100
LONGEST_TEXT = 4_000
LONGEST_NUMBER = 40
LARGEST_NUMBER = Decimal("1e12")
SMALLEST_NUMBER = Decimal("1e-12")
MOST_FAULTS = 100

PIECE = re.compile(
    r'(?P<open>"""|\'\'\')'
    r'|(?P<text>"(?:[^"\\\n]|\\.)*+"|\'[^\'\n]*+\')'
    r"|(?P<remark>#[^\n]*+)"
    r"|(?P<bracket>[\[\]{}])"
    r"|(?P<end>\n)"
    r"|(?P<word>[^\s\"'#\[\]{},=]++)"
    r"|(?P<other>.)",
    re.DOTALL,
)
"""One piece of a text. Nothing in it is tried twice, so the time is in proportion to the text."""
CLOSE = {'"""': re.compile(r'(?:[^"\\]|\\.|"(?!""))*+"""', re.DOTALL), "'''": re.compile(r"(?:[^']|'(?!''))*+'''")}
KEY_AFTER = re.compile(r"[ \t]*[.=]")
NUMBER = re.compile(r"[+-]?[0-9][0-9_]*+(\.[0-9_]++)?([eE][+-]?[0-9_]++)?|0[xob][0-9a-fA-F_]++")


class TomlFault(Record):
    """One thing wrong in a TOML text: line and column from 1, the column after its end, what, and what to do."""

    line: int
    column: int
    end: int
    message: str
    hint: str = "the file is TOML"


def read_toml(text: str) -> tuple[dict[str, Any] | None, list[TomlFault]]:
    """What a TOML text says, with numbers as ``int`` and ``Decimal``, and its faults; None where it cannot be read at
    all.

    A number that is none, or out of reach, is told and stands as 0, so that all else in the file can be judged too.
    """
    if len(text) > LARGEST:
        too_long = f"the file is longer than {LARGEST / 1e6:.0f} million letters"
        return None, [TomlFault(1, 1, 2, too_long, "is it the right file?")]
    text = text.replace("\r\n", "\n")
    scan = _Scan(text)
    if not scan.readable:
        return None, scan.faults
    try:
        return tamed(tomllib.loads(text, parse_float=Decimal)), scan.faults
    except (ValueError, RecursionError, ArithmeticError) as error:  # tomllib's own error is a ValueError
        message = str(error)
        place = re.search(r"at line (\d+), column (\d+)", message)
        line, column = (int(place[1]), int(place[2])) if place else (text.rstrip("\n").count("\n") + 1, 1)
        return None, [*scan.faults, TomlFault(line, column, column + 1, message.split(" (at")[0].lower())]


class _Scan:
    """Walks once through a text and keeps the place of all that is out of bounds."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.faults: list[TomlFault] = []
        self.readable = True
        self.line, self.line_start = 1, 0
        self.walk()

    def walk(self) -> None:
        """Goes from the first letter to the last, or to the first thing that makes the rest not worth reading."""
        at = depth = dots = 0
        while at < len(self.text) and len(self.faults) < MOST_FAULTS:
            piece = PIECE.match(self.text, at)
            assert piece is not None  # any letter is one
            start, at = at, piece.end()
            kind, word = piece.lastgroup, piece[0]
            if kind == "open":
                closing = CLOSE[word].match(self.text, at)
                if closing is None:
                    return  # it has no end, and tomllib says so
                at = closing.end()
                self.check_text(start, at)
                self.line += self.text.count("\n", start, at)
                self.line_start = max(self.line_start, self.text.rfind("\n", start, at) + 1)
            elif kind == "end":
                self.line, self.line_start, dots = self.line + 1, at, 0
            elif kind == "bracket":
                depth, dots = max(0, depth + (1 if word in "[{" else -1)), 0
                if depth == DEEPEST + 1:
                    self.add(
                        start, 1, f"more than {DEEPEST} brackets inside one another", "nothing here is nested so deep"
                    )
                    return  # every one further in would say the same
            elif kind == "text":
                self.check_text(start, at)
                self.check_key(start, at)
            elif kind == "word":
                dots += word.count(".")
                if dots > DEEPEST:
                    self.add(
                        start, len(word), f"more than {DEEPEST} names joined by dots", "nothing here is nested so deep"
                    )
                    return
                self.check_word(start, at, word)
            elif word in ",=":
                dots = 0

    def check_text(self, start: int, end: int) -> None:
        """Notes a text in quotes, from letter ``start`` to ``end``, that is too long."""
        if end - start > LONGEST_TEXT:
            self.add(start, end - start, f"a text of {end - start} letters", f"at most {LONGEST_TEXT}")

    def check_key(self, start: int, end: int) -> bool:
        """Notes a name before an equals sign that is too long; True where it was one."""
        if end - start <= LONGEST_KEY or not KEY_AFTER.match(self.text, end):
            return False
        self.add(start, end - start, f"a name of {end - start} letters", f"at most {LONGEST_KEY}")
        return True

    def check_word(self, start: int, end: int, word: str) -> None:
        """Notes a bare word that is no number one can use, or too long."""
        if self.check_key(start, end) or KEY_AFTER.match(self.text, end):
            return
        digits = word.lower()
        if digits.lstrip("+-") in ("nan", "inf"):
            self.add(start, len(word), f"{word} is not a number", "a number such as 2.25", readable=True)
        elif len(word) > LONGEST_KEY or (NUMBER.fullmatch(word) and len(word) > LONGEST_NUMBER):
            self.add(
                start, len(word), f"a word of {len(word)} letters", f"a number has at most {LONGEST_NUMBER} digits"
            )
        elif NUMBER.fullmatch(word) and not usual(digits):
            self.add(start, len(word), f"{word} is out of range", "a number up to 1000000000000", readable=True)

    def add(self, start: int, wide: int, message: str, hint: str, readable: bool = False) -> None:
        """Keeps a fault ``wide`` letters wide; ``readable``: the rest of the file can still be read."""
        self.readable = self.readable and readable and len(self.faults) < MOST_FAULTS - 1
        column = start - self.line_start + 1
        self.faults.append(TomlFault(self.line, column, column + max(1, wide), message, hint))


def tamed(value: Any) -> Any:
    """The same with 0 for every number nobody means."""
    if isinstance(value, dict):
        return {name: tamed(entry) for name, entry in value.items()}
    if isinstance(value, list):
        return [tamed(entry) for entry in value]
    if isinstance(value, int | Decimal) and not usual(str(value).lower()):
        return Decimal(0)
    return value


def usual(digits: str) -> bool:
    """Whether a number, in lower case, is of a size anybody means; what is not quite a number is left to tomllib."""
    try:
        value = Decimal(int(digits, 0)) if digits.startswith(("0x", "0o", "0b")) else Decimal(digits)
    except (ValueError, ArithmeticError):
        return True
    return value.is_finite() and (value == 0 or SMALLEST_NUMBER <= abs(value) <= LARGEST_NUMBER)
