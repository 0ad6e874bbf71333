"""Trade shorthand: one cursor over the words of a line, and how sizes, lengths, volumes and counts are written.

Everything here takes the words it understands and leaves the rest. What cannot be read is a fault at its words.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal, InvalidOperation
from functools import lru_cache

from ampleroom.errors import nearest
from ampleroom.job.trade import RANK, SIZES
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.quantities import fill_from_cm3, inches_from_mm, room_from_cm3
from ampleroom.where import Where

Dimension = Maybe[Decimal]
PAST_THE_END = ("", "", "")
"""Empty words after the last, so that looking ahead needs no care."""


class Unreadable(Exception):
    """The line's words ``first`` to ``last`` cannot be read. Caught by the reader, which goes on with the next line."""

    def __init__(self, first: int, last: int, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.first, self.last, self.message, self.hint = first, last, message, hint


class FirstWordUnknown(Unreadable):
    """Nobody knows what kind of line this is."""


class AskedBack(Unreadable):
    """Words that may mean several things: the message asks which, the hint gives the choices."""


class Words:
    """A cursor over the words of one line."""

    __slots__ = ("hints", "i", "line", "low", "origin", "raw", "typed")

    def __init__(
        self, line: int, typed: list[str], raw: str, hints: bool = True, origin: Sequence[tuple[int, int]] = ()
    ) -> None:
        self.line = line
        self.typed = typed
        self.origin = origin
        """For words put in the plain form: the first and last word as written that each of them stands for."""
        self.low = [*" ".join(typed).lower().split(), *PAST_THE_END]
        self.raw = raw
        self.i = 0
        self.hints = hints

    @property
    def more(self) -> bool:
        """Whether words are left."""
        return self.i < len(self.typed)

    def peek(self, ahead: int = 0) -> str:
        """The word at the cursor in lower case, or an empty one past the end."""
        return self.low[self.i + ahead]

    def take(self, *options: str) -> str:
        """The word at the cursor if it is one of these, and step past it; else an empty one."""
        word = self.low[self.i]
        if word in options:
            self.i += 1
            return word
        return ""

    def take_all(self, *phrase: str) -> bool:
        """Step past these words if all of them stand here."""
        if tuple(self.low[self.i : self.i + len(phrase)]) == phrase:
            self.i += len(phrase)
            return True
        return False

    def next(self, expected: str) -> str:
        """The word at the cursor as written, and step past it; a fault if the line ends here."""
        if self.i >= len(self.typed):
            raise self.missing(expected)
        self.i += 1
        return self.typed[self.i - 1]

    def text_after(self) -> str:
        """All that follows on the line, as written, remark left off: descriptions are free text."""
        from ampleroom.job.sheet import TOKEN, without_remark

        body = without_remark(self.raw)
        parts = body.split(None, self.i)
        if not self.origin and parts[:-1] == self.typed[: self.i]:  # no > or , joined to a word before: the usual line
            self.i = len(self.typed)
            return parts[-1].strip()
        starts = [match.start() for match in TOKEN.finditer(body)]
        first = self.as_written(self.i, self.i)[0] if self.i < len(self.typed) else len(starts)
        text = body[starts[first] :].strip() if first < len(starts) else ""
        self.i = len(self.typed)
        return text[1:-1] if self.origin and text.startswith("(") and text.find(")") == len(text) - 1 else text

    def where(self, first: int = 0) -> Where:
        """The place of the words from ``first`` to the one before the cursor."""
        return Where(self.line, *self.as_written(first, max(first, self.i - 1)))

    def as_written(self, first: int, last: int) -> tuple[int, int]:
        """Which words of the line, as written, these words of the plain form stand for."""
        if not self.origin:
            return first, last
        if first >= len(self.origin):
            past = self.origin[-1][1] + 1
            return past, past
        return self.origin[first][0], self.origin[min(last, len(self.origin) - 1)][1]

    # ---- faults ----------------------------------------------------------------------------------------------------

    def missing(self, expected: str, hint: str = "") -> Unreadable:
        """The fault of a line that ends too early. ``expected``: a noun, and an example after `` such as ``."""
        name, example = with_example(expected)
        end = len(self.typed)
        return Unreadable(end, end, f"{name} is missing{example}", hint)

    def unknown(self, expected: str, known: Iterable[str], at: int | None = None) -> Unreadable:
        """The word at the cursor, or at ``at``, is none of those known. ``known`` may be a mapping: from each spelling
        that is read to the one to suggest.
        """
        at = self.i if at is None else at
        plain = spelled(known)
        if at >= len(self.typed):
            return self.missing(f"the {expected}", one_of(plain))
        close = nearest(self.typed[at], fitting(self.typed[at], plain)) if self.hints else []
        close = list(dict.fromkeys(plain[word] for word in close))
        hint = f"did you mean {' or '.join(repr(word) for word in close)}?" if close else one_of(plain)
        name, after, before = expected.partition(" after ")
        return Unreadable(at, at, f"unknown {name} {_short(self.typed[at])}{after}{before}", hint)

    def at_cursor(self, message: str, hint: str) -> Unreadable:
        """A fault of the word at the cursor."""
        return Unreadable(self.i, self.i, message, hint)

    def no_other_end(self) -> Unreadable:
        """A run or a raceway has one end, and no ``>`` follows it."""
        if not self.more:
            return self.missing("the other end", "write > and a place")
        before, after = self.typed[self.i - 1], self.typed[self.i]
        if re.match(r"#?\d+[/#-]|#", self.peek()):
            message = "the other end is missing before the conductors"
            return self.at_cursor(message, f"write {before} > and a place, or {before} > ?")
        return Unreadable(
            self.i, self.i, f"'>' is missing before {_short(after)}", f"write {_short(f'{before} > {after}')}"
        )

    def too_much(self) -> Unreadable:
        """All that the line can say is read, and words are left over."""
        rest = self.typed[self.i :]
        hint = "write what follows on a line of its own" if rest[0] == "," else f"take out {_short(' '.join(rest))}"
        return Unreadable(self.i, len(self.typed) - 1, "nothing more can follow here", hint)

    def wrong(self, message: str, hint: str = "", first: int | None = None) -> Unreadable:
        """The words from ``first`` to the one before the cursor are wrong together."""
        last = max(self.i - 1, 0)
        return Unreadable(last if first is None else first, last, message, hint)

    # ---- quantities ------------------------------------------------------------------------------------------------

    def size(self, expected: str = "a conductor size such as #12") -> Maybe[str]:
        """``#12``, ``12``, ``12 AWG``, ``1/0``, ``250 kcmil`` or ``?``."""
        word = self.peek()
        if not word:
            raise self.missing(expected)
        size = size_word(word)
        if size == "":
            close = nearest_sizes(word)
            hint = f"write {' or '.join(close)}" if close else f"write {expected}"
            raise Unreadable(self.i, self.i, f"{_short(self.typed[self.i])} is not a conductor size", hint)
        self.i += 1
        self.take("awg", "kcmil", "mcm", "ga", "gauge")
        return size

    def refuse_no_size(self) -> None:
        """Raise the fault of a number that is meant as a conductor size and is none: ``#13``."""
        if size_word(self.peek()) == "" and nearest_sizes(self.peek()):
            self.size()

    def joined(self, *units: str) -> str:
        """The number of ``20A`` or ``20-amp``, stepped past if one of these units is joined to it; else an empty
        one.
        """
        match = RATING.fullmatch(self.low[self.i])
        if match is None or match[2] not in units:
            return ""
        self.i += 1
        return match[1]

    def is_size(self) -> bool:
        """Whether a conductor size that can be nothing else stands at the cursor: ``#12``, ``12 AWG``."""
        return size_word(self.peek()) != "" and (self.peek().startswith("#") or self.peek(1) in ("awg", "kcmil", "mcm"))

    def count(self) -> Maybe[int]:
        """``3 x``, ``3x``, ``? x``; 1 where nothing of the kind stands here."""
        word, after = self.peek(), self.peek(1)
        if after in ("x", "×") and (word.isdigit() or word == "?"):
            self.i += 2
        elif word[-1:] in ("x", "×") and (word[:-1].isdigit() or word[:-1] == "?"):
            self.i += 1
            word = word[:-1]
        else:
            return 1
        if word == "?":
            return UNKNOWN
        return self.whole(word, self.i - 1)

    def whole(self, word: str, at: int, most: int = 10_000) -> int:
        """A whole number from 1 to ``most``. Raises ``Unreadable``."""
        if not word.isascii() or not word.isdigit():
            digits = re.fullmatch(r"(\d{1,5})[^\d.,/-]+", word)
            hint = "write digits, such as 20" if most >= 1000 else f"write a number from 1 to {most}"
            hint = f"write {digits[1]}" if digits else hint
            raise Unreadable(at, at, f"{_short(word)} is not a whole number", hint)
        if not 0 < (value := int(word[:9])) <= most or len(word) > 9:
            raise Unreadable(at, at, f"{_short(word)} is out of range", f"write 1 to {most}")
        return value

    def known_count(self) -> int:
        """A count that must be a number."""
        at = self.i
        count = self.count()
        if count is UNKNOWN:
            raise Unreadable(at, at, "the count cannot be ? here", "write a line for each one you can see")
        return count

    def number(self, expected: str) -> Dimension:
        """``3``, ``2.25``, ``4-11/16``, ``3 1/2``, ``1/2`` or ``?``."""
        word = self.peek()
        if not word:
            raise self.missing(expected)
        if word == "?":
            self.i += 1
            return UNKNOWN
        value = number_word(word)
        if value is None:
            raise Unreadable(self.i, self.i, f"{_short(self.typed[self.i])} is not a number", f"write {expected}")
        self.i += 1
        if word.isdigit() and (fraction := self.peek()) and (part := proper_fraction(fraction)) is not None:
            self.i += 1
            value += part
        return value

    def amount(self, units: dict[str, Decimal | None], expected: str) -> tuple[Dimension, str]:
        """A number and its unit, joined (``38ft``) or apart; the number may be ``?``, the unit is returned in lower
        case.
        """
        if self.low[self.i + 1] in units and (value := number_word(self.low[self.i])) is not None:
            self.i += 2
            return value, self.low[self.i - 1]
        joined = JOINED.fullmatch(self.peek())
        if joined and joined[2] in units and (value := number_word(joined[1])) is not None:
            self.i += 1
            return value, joined[2]
        at = self.i
        word = self.peek()
        quantity = self.number(expected)
        if joined := JOINED.fullmatch(self.peek()):  # 3 1/2in
            part = proper_fraction(joined[1])
            if (
                part is not None
                and joined[2] in units
                and quantity is not UNKNOWN
                and quantity == quantity.to_integral_value()
            ):
                self.i += 1
                return quantity + part, joined[2]
        unit = self.peek()
        if self.peek() in ("cu", "cubic", "sq", "square") and f"{unit} {self.peek(1)}" in units:
            self.i += 2
            return quantity, f"{unit} {self.low[self.i - 1]}"
        if unit in units:
            self.i += 1
            return quantity, unit
        if quantity is UNKNOWN:
            return quantity, ""
        if unit:
            if unit == "," and self.peek(1).isdigit():
                separator = "" if len(self.peek(1)) == 3 else "."
                raise Unreadable(at, self.i + 1, "a number takes no comma", f"write {word}{separator}{self.peek(1)}")
            name, example = with_example(expected)
            hint = f"write {' or '.join(unit for unit in SHOWN_UNITS if unit.lower() in units)}{example}"
            raise Unreadable(at, self.i, f"{_short(self.typed[self.i])} is not a unit for {name}", hint)
        raise Unreadable(at, at, f"the unit is missing after {self.typed[at]}", f"write {expected}")

    def is_amount(self, units: dict[str, Decimal | None]) -> bool:
        """Whether a number with one of these units stands here; the cursor does not move."""
        start = self.i
        amount = self.amount_here(units)
        self.i = start
        return amount is not None

    def amount_here(self, units: dict[str, Decimal | None]) -> tuple[Dimension, str] | None:
        """A number with one of these units, stepped past if it stands here."""
        word = self.low[self.i]
        if not word or not (word[0].isdigit() or word[0] in "?.½¼¾⅛⅜⅝⅞"):
            return None
        start = self.i
        try:
            amount = self.amount(units, "")
        except Unreadable:
            amount = (UNKNOWN, "")
        if not amount[1]:
            self.i = start
            return None
        return amount

    def inches(self, expected: str = "a length such as 2-1/8 in") -> Dimension:
        """A length in inches: written in in, ft, mm, cm or m; a bare number is inches."""
        at = self.i
        if number_word(self.peek()) is not None and not self.is_amount(LENGTHS):
            bare = self.number(expected)  # the whole of it: 3 1/2 is two words
            return bare if bare is UNKNOWN else self.positive(bare, at)
        value, unit = self.amount(LENGTHS, expected)
        if value is UNKNOWN or unit == "":
            return UNKNOWN
        return self.positive(in_inches(value, unit), at)

    def feet(self, expected: str = "a length such as 38 ft") -> Dimension:
        """A length in feet: written in ft, in, m, cm or mm."""
        at = self.i
        return self._in_feet(*self.amount(LENGTHS, expected), at)

    def feet_here(self) -> Dimension | None:
        """A length in feet, stepped past if one stands here."""
        at = self.i
        amount = self.amount_here(LENGTHS)
        return None if amount is None else self._in_feet(*amount, at)

    def width_here(self) -> Dimension | None:
        """A width in inches, ``0.48 in wide``, stepped past if one stands here."""
        start = self.i
        if self.is_amount(LENGTHS):
            width = self.inches()
            if self.take("wide"):
                return width
            self.i = start
        return None

    def _in_feet(self, value: Dimension, unit: str, at: int) -> Dimension:
        if value is UNKNOWN or unit == "":
            return UNKNOWN
        if LENGTHS[unit] == FOOT:
            return self.positive(value, at)
        return self.positive((in_inches(value, unit) / FOOT).quantize(Decimal("0.0001")).normalize() + 0, at)

    def room(self, expected: str = "a volume such as 20.3 in3") -> Dimension:
        """A marked volume in in3: written in in3 or cm3 (rounded down to a ten-thousandth)."""
        return self._volume(expected, down=True)

    def body(self, expected: str = "a volume such as 1.2 in3") -> Dimension:
        """The volume something takes up, in3: written in in3 or cm3 (rounded up to a ten-thousandth)."""
        return self._volume(expected, down=False)

    def _volume(self, expected: str, down: bool) -> Dimension:
        at = self.i
        quantity, unit = self.amount(VOLUMES, expected)
        if quantity is UNKNOWN or unit == "":
            return UNKNOWN
        self.positive(quantity, at)
        if VOLUMES[unit] is None:
            return room_from_cm3(quantity) if down else fill_from_cm3(quantity)
        return quantity

    def positive(self, value: Decimal, at: int) -> Decimal:
        """The value, if it is a quantity anything can have. Raises ``Unreadable``."""
        if not 0 < value < 10_000_000:
            hint = "write a number below 10000000" if value > 0 else "write a number above 0"
            raise Unreadable(at, max(at, self.i - 1), f"{self.typed[at]} is out of range", hint)
        return value

    def dimensions(self, expected: str = "a trade size such as 4 x 1-1/2") -> tuple[tuple[Dimension, ...], int]:
        """``4 x 1-1/2``, ``3x2x2-1/2``, ``100 x 38 mm``, ``4 x ?``: inches, and the index of the first word."""
        at = self.i
        if "x" in self.peek()[1:] or "×" in self.peek()[1:]:
            pieces = re.split("[x×]", self.peek())
            values: list[Dimension] = []
            for piece in pieces:
                value = UNKNOWN if piece == "?" else number_word(piece.rstrip('"'))
                if value is None:
                    raise Unreadable(at, at, f"{_short(self.typed[at])} is not a trade size", f"write {expected}")
                values.append(value)
            self.i += 1
        else:
            values = [self._dimension(expected)]
        while self.take("x", "×", "by"):
            values.append(self._dimension(expected))
        if self.take("mm"):
            values = [value if value is UNKNOWN else inches_from_mm(value) for value in values]
        else:
            self.take("in", "in.", "inch", '"')
        return tuple(values), at

    def _dimension(self, expected: str) -> Dimension:
        word = self.peek()
        if word.endswith('"') and (value := number_word(word[:-1])) is not None:
            self.i += 1
            return value
        return self.number(expected)


RATING = re.compile(r"(\d{1,9})-?([a-z]+)")
JOINED = re.compile(r"([\d./½¼¾⅛⅜⅝⅞-]*[\d½¼¾⅛⅜⅝⅞])([^\d./-].*)")
ONE = Decimal(1)
FOOT = Decimal(12)
LENGTHS: dict[str, Decimal | None] = {
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "″", "”"), ONE),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'", "′", "’"), FOOT),
    "mm": None,
    "cm": None,
    "m": None,
}
IN_MM = {"mm": Decimal(1), "cm": Decimal(10), "m": Decimal(1000)}
VOLUMES: dict[str, Decimal | None] = {
    **dict.fromkeys(
        ("in3", "in^3", "in³", "cuin", "cu.in.", "cu-in", "cu in", "cu in.", "cubic inches", "cubic in", "ci"), ONE
    ),
    **dict.fromkeys(("cm3", "cm^3", "cm³", "cc", "ml"), None),
}
SHOWN_UNITS = ("in", "ft", "mm", "m", "in3", "cm3", "ft2", "lb", "kg", "VA", "kW", "C", "F")
"""Of all spellings of a unit, the one a fault suggests."""
FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
NUMBER = re.compile(r"(?:(\d{1,7})-)?(\d{1,5})/(\d{1,4})|(\d{1,9}(?:\.\d{1,6})?|\.\d{1,6})")


def in_inches(value: Decimal, unit: str) -> Decimal:
    """A length in a unit of ``LENGTHS``, as inches."""
    factor = LENGTHS[unit]
    return value * factor if factor is not None else inches_from_mm(value * IN_MM[unit])


@lru_cache(maxsize=8192)
def number_word(word: str) -> Decimal | None:
    """A number in one word, exact, or None. A fraction that is no exact decimal (1/3) is none."""
    if not 0 < len(word) <= 24:
        return None
    for mark, plain in FRACTIONS.items():
        if mark in word:
            word = word.replace(mark, ("-" if word[0] != mark and "-" + mark not in word else "") + plain)
    match = NUMBER.fullmatch(word)
    if not match:
        return None
    whole, top, bottom, decimal = match.groups()
    if decimal is not None:
        return Decimal(decimal)
    return _fraction(int(whole or 0), int(top), int(bottom))


def _fraction(whole: int, top: int, bottom: int) -> Decimal | None:
    if bottom == 0 or (whole and top >= bottom):
        return None
    rest = bottom
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest != 1:
        return None
    try:
        return whole + Decimal(top) / Decimal(bottom)
    except InvalidOperation:
        return None


def proper_fraction(word: str) -> Decimal | None:
    """``1/2``, ``11/16``: the second word of a mixed number; None for ``12/2``."""
    match = re.fullmatch(r"(\d{1,3})/(\d{1,3})", word)
    if match and 0 < int(match[1]) < int(match[2]):
        return _fraction(0, int(match[1]), int(match[2]))
    return None


SIZE = re.compile(r"#?(\d{1,4}(?:/0)?)(?:awg|kcmil|mcm|ga)?")


@lru_cache(maxsize=1024)
def size_word(word: str) -> Maybe[str]:
    """The conductor size a word says, UNKNOWN for ``?`` and ``#?``, an empty one for no size."""
    if word in ("?", "#?"):
        return UNKNOWN
    match = SIZE.fullmatch(word)
    if match and match[1] in RANK:
        return match[1]
    return ""


def nearest_sizes(word: str) -> list[str]:
    """The standard sizes around a number that is none."""
    digits = re.fullmatch(r"#?(\d{1,4})(?:awg)?", word)
    if not digits:
        return []
    value = int(digits[1])
    gauges = [size for size in SIZES if size.isdigit() and int(size) < 30]
    around = sorted(
        gauges if value < 40 else [size for size in SIZES if size.isdigit()], key=lambda size: abs(int(size) - value)
    )
    return ["#" + size if int(size) < 250 else size + " kcmil" for size in around[:2]]


def fitting(word: str, known: Iterable[str]) -> list[str]:
    """The known words that may be meant: one with a number in it only for the same number, without a unit or with one
    that begins alike (``20`` may be ``20 A``, ``240K`` is not ``240 V``).
    """
    numbers = re.findall(r"\d+", word)
    options = [option for option in known if re.findall(r"\d+", option) == numbers]
    if amount := re.fullmatch(r"[\d.]+([a-z]+)", word.lower()):
        return [option for option in options if option.lstrip("0123456789. ").lower().startswith(amount[1][0])]
    return options


def _short(word: str) -> str:
    shown = word if len(word) <= 40 else word[:37] + "..."
    return repr("".join(letter if letter.isprintable() else "·" for letter in shown))


def one_of(known: Iterable[str]) -> str:
    """What to write, as a hint: ``write 'ring'``, ``write metal or plastic``, ``write one of: inside, outside, tabs``.

    ``known`` may be a mapping from each spelling that is read to the one to suggest.
    """
    words = list(dict.fromkeys(spelled(known).values()))
    if len(words) < 3:
        return f"write {words[0]!r}" if len(words) == 1 else f"write {' or '.join(words)}"
    return f"write one of: {', '.join(words[:14])}" + (" ..." if len(words) > 14 else "")


def spelled(known: Iterable[str]) -> dict[str, str]:
    """Known words, each with the one to suggest for it: itself, or what a mapping has for it."""
    if isinstance(known, Mapping):
        return {word: shown if isinstance(shown, str) else word for word, shown in known.items()}
    return {word: word for word in known}


def with_example(expected: str) -> tuple[str, str]:
    """``a volume such as 20.3 in3`` as ``a volume`` and ``, such as 20.3 in3``; no example where none is given."""
    name, such_as, example = expected.partition(" such as ")
    return name.rstrip(","), f", such as {example}" if such_as else ""
