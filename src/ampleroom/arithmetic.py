"""Arithmetic that can be shown: lines that work out their own amounts from the parts that are printed.

There are seven kinds of line. Five of them hold lines in turn:

=========  =====================================================  =============================
Figure     an amount as a table or the sheet has it               ``30 A``
Counted    so many of something, each taking so much              ``4 x 2.25 = 9.00 in3``
Chain      an amount times one factor after another               ``30 x 0.91 x 0.8 = 21.84 A``
Share      a percentage of an amount                              ``40 % of 0.304 = 0.1216 in2``
Total      a sum, such as the drops along a path                  ``1.20 + 2.40 = 3.60 V``
Pick       the largest or the least of several                    ``least of 21.84, 20 = 20 A``
Next       an amount taken up to the next of a list               ``next rating from 21.84 = 25 A``
=========  =====================================================  =============================

Amounts are decimals and are never rounded on the way. The one exception is a number that was worked out in floats: it
is rounded once, by ``Figure.from_float``, before anything is decided by it, and is printed with "about" from there on.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal, InvalidOperation
from enum import Enum
from typing import TYPE_CHECKING, ClassVar, Literal

from ampleroom.quantities import NO_LIMIT, TEN_THOUSANDTH, count, number
from ampleroom.record import Record, TupleRecord

if TYPE_CHECKING:
    from fractions import Fraction

ZERO = Decimal(0)
ONE = Decimal(1)
MOST_TOLD = 6
"""A sum of more parts than this is told by their number; the parts stand below it anyway."""
WIDE = Context(prec=400)
"""Digits enough to round any float."""


class UnitsDiffer(TypeError):
    """Amounts of different units were added or compared. A mistake in a rule, never in a sheet."""


class NoSum(ArithmeticError):
    """An amount without a limit was taken from another one. A mistake in a rule: it has to choose an end for each."""


class Unit(Enum):
    """What an amount is measured in: as plain text has it, as the page and paper print it, the decimals people expect,
    and as it is read aloud.
    """

    IN3 = ("in3", "in³", 2, "cubic inches")
    IN2 = ("in2", "in²", 4, "square inches")
    INCH = ("in.", "in.", 0, "inches")
    FOOT = ("ft", "ft", 1, "feet")
    VOLT = ("V", "V", 2, "volts")
    AMPERE = ("A", "A", 0, "amperes")
    VA = ("VA", "VA", 0, "volt-amperes")
    PERCENT = ("%", "%", 1, "percent")
    COUNT = ("in all", "in all", 0, "in all")
    CIRCULAR_MIL = ("cmil", "cmil", 0, "circular mils")
    FACTOR = ("", "", 1, "")
    """No unit at all: what an amount is multiplied by."""

    @property
    def plain(self) -> str:
        """``in3``: what a terminal, JSON and a file show."""
        return self.value[0]

    @property
    def printed(self) -> str:
        """``in³``: what the page and paper show."""
        return self.value[1]

    @property
    def places(self) -> int:
        """The decimals people expect at least."""
        return self.value[2]

    @property
    def spoken(self) -> str:
        """``cubic inches``: what is read aloud."""
        return self.value[3]

    def number(self, value: Decimal) -> str:
        """``9.00``, ``0.1330``, ``30``: exact, with at least the decimals people expect; ``not known`` without a
        limit.
        """
        return number(value, self.value[2])

    def amount(self, value: Decimal) -> str:
        """``9.00 in3``: the number with its unit; ``not known`` without a limit."""
        text = self.number(value)
        return f"{text} {self.value[0]}" if value.is_finite() and self.value[0] else text

    def __str__(self) -> str:
        return self.plain


class Line:
    """One step of a worksheet: an amount with its unit, what it is of, why, and by which section.

    ``amount`` always comes from the parts of the line, so the number that decides is the number that is printed.
    """

    __slots__ = ()
    kind: ClassVar[str]
    """``counted``: its kind in JSON."""

    if TYPE_CHECKING:  # fields of each kind, in an order of its own

        @property
        def rule(self) -> str: ...
        @property
        def label(self) -> str: ...
        @property
        def unit(self) -> Unit: ...
        @property
        def amount(self) -> Decimal: ...
        @property
        def why(self) -> str: ...
        @property
        def cite(self) -> str: ...
        @property
        def confidence(self) -> str: ...
        @property
        def readings(self) -> tuple[str, ...]: ...

    @property
    def parts(self) -> tuple[Line, ...]:
        """The lines its amount is made of, in order; none for a figure and for a count."""
        return ()

    @property
    def is_rounded(self) -> bool:
        """Whether a number worked out in floats is in it; it is printed with "about" then."""
        return any(part.is_rounded for part in self.parts)

    @property
    def steps(self) -> str:
        """How its amount comes about, such as ``4 x 2.25``; empty where it is there as it is."""
        raise NotImplementedError

    @property
    def printed(self) -> str:
        """Its amount without the unit: ``9.00``, ``about 3.604``, ``not known``."""
        return printed(self.amount, self.unit, self.is_rounded)

    @property
    def sum_text(self) -> str:
        """``4 x 2.25 = 9.00``; ``not known`` where its amount has no limit."""
        steps = self.steps if self.amount.is_finite() else ""
        return f"{steps} = {self.printed}" if steps else self.printed

    @property
    def text(self) -> str:
        """The sum with its unit: ``4 x 2.25 = 9.00 in3``."""
        return with_unit(self.sum_text, self.unit) if self.amount.is_finite() else self.sum_text

    def with_parts(self, depth: int = 0) -> Iterator[tuple[int, Line]]:
        """The line and, after it, all it is made of, each with how deep it stands: 0 for the line itself."""
        yield depth, self
        for part in self.parts:
            yield from part.with_parts(depth + 1)


def printed(value: Decimal, unit: Unit, is_rounded: bool = False) -> str:
    """An amount without its unit: ``9.00``, ``about 3.60`` where it is rounded, ``not known``."""
    text = unit.number(value)
    return f"about {text}" if is_rounded and value.is_finite() else text


def with_unit(text: str, unit: Unit) -> str:
    """``9.00 in3``; the text alone where the unit is none."""
    return f"{text} {unit.plain}" if unit.plain else text


def numbers(parts: tuple[Line, ...]) -> list[str]:
    """The amounts of some lines as they are printed, without units."""
    return [part.unit.number(part.amount) for part in parts]


def times(amount: Decimal, factor: Decimal) -> Decimal:
    """The product; nothing of what nobody can bound is nothing."""
    try:
        return amount * factor
    except InvalidOperation:  # 0 x infinity
        return ZERO


def same_unit(parts: tuple[Line, ...], unit: Unit) -> None:
    """Raises ``UnitsDiffer`` where a part is in another unit."""
    for part in parts:
        if part.unit is not unit:
            raise UnitsDiffer(f"{part.label} is in {part.unit.name}, not in {unit.name}")


class _Counted(TupleRecord):
    rule: str
    label: str
    count: Decimal | Fraction  # type: ignore[assignment]  # a tuple's own count() is of no use here
    each: Decimal
    why: str
    cite: str
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    unit: Unit = Unit.IN3


class Counted(_Counted, Line):
    """So many of something, each taking so much; in3 unless a unit is given.

    A tuple where the other kinds are records: a check makes hundreds of thousands of them.
    """

    __slots__ = ()
    kind = "counted"

    @property
    def amount(self) -> Decimal:
        """``count * each``; a share that is no exact decimal is rounded down to a ten-thousandth."""
        if not isinstance(self.count, Decimal):
            each, parts = self.each.as_integer_ratio()
            exact = self.count * each / parts
            rounded = Decimal(exact.numerator) / Decimal(exact.denominator)
            is_exact = rounded.as_integer_ratio() == exact.as_integer_ratio()
            return rounded if is_exact else rounded.quantize(TEN_THOUSANDTH, ROUND_FLOOR)
        try:
            return self.count * self.each
        except InvalidOperation:  # so many nobody counted, of what takes no room
            return ZERO

    @property
    def is_rounded(self) -> bool:
        """Never: a count is exact, or rounded down as ``amount`` says."""
        return False

    @property
    def times(self) -> str:
        """How many, as one writes it: ``6``, ``2.5``, ``2/3``."""
        return count(self.count) if isinstance(self.count, Decimal) else str(self.count)

    @property
    def steps(self) -> str:
        """``4 x 2.25``: how many, and what each takes in ``unit``."""
        return f"{self.times} x {self.unit.number(self.each)}"


class Figure(Record, Line):
    """An amount as a table, the sheet or a calculation outside of the worksheet has it."""

    rule: str
    label: str
    amount: Decimal
    unit: Unit
    why: str = ""
    cite: str = ""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    is_rounded: bool = False
    kind = "figure"

    @classmethod
    def from_float(cls, rule: str, label: str, value: float, unit: Unit, why: str = "", cite: str = "") -> Figure:
        """A figure worked out in floats, such as a voltage drop: rounded to the nearest of the unit's decimals, halves
        up, before anything is decided by it. Infinity is ``NO_LIMIT``; raises ``ValueError`` for what is no number.
        """
        if value != value:
            raise ValueError(f"{label} is not a number")
        exact = Decimal(value)
        step = ONE.scaleb(-unit.places)
        amount = exact.quantize(step, ROUND_HALF_UP, WIDE) if exact.is_finite() else exact
        return cls(rule, label, amount, unit, why, cite, "computed", is_rounded=True)

    @property
    def steps(self) -> str:
        """Empty: a figure is made of nothing else on the worksheet."""
        return ""


class Chain(Record, Line):
    """An amount times one factor after another, such as an ampacity by its corrections. Each factor has
    ``Unit.FACTOR``.
    """

    rule: str
    label: str
    start: Line
    factors: tuple[Line, ...]
    why: str = ""
    cite: str = ""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    kind = "chain"

    @property
    def unit(self) -> Unit:
        """That of what the factors are applied to."""
        return self.start.unit

    @property
    def parts(self) -> tuple[Line, ...]:
        """What it starts from, then its factors in order."""
        return (self.start, *self.factors)

    @property
    def amount(self) -> Decimal:
        """The product of its parts. Raises ``UnitsDiffer`` where a factor has a unit."""
        same_unit(self.factors, Unit.FACTOR)
        amount = self.start.amount
        for factor in self.factors:
            amount = times(amount, factor.amount)
        return amount

    @property
    def steps(self) -> str:
        """``30 x 0.8 x 0.94``; empty where there is no factor."""
        return " x ".join(numbers(self.parts)) if self.factors else ""


class Share(Record, Line):
    """A percentage of an amount, such as the part of a raceway that may be filled.

    A fill is compared with this share, exactly, and never as a ratio: a division would round.
    """

    rule: str
    label: str
    percent: Decimal
    whole: Line
    why: str = ""
    cite: str = ""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    kind = "share"

    @property
    def unit(self) -> Unit:
        """That of the whole."""
        return self.whole.unit

    @property
    def parts(self) -> tuple[Line, ...]:
        """The whole, alone."""
        return (self.whole,)

    @property
    def amount(self) -> Decimal:
        """So many hundredths of the whole, exact, in its unit."""
        return times(self.percent, self.whole.amount).scaleb(-2)

    @property
    def steps(self) -> str:
        """``40 % of 0.5330``."""
        return f"{count(self.percent)} % of {self.unit.number(self.whole.amount)}"


class Total(Record, Line):
    """The sum of its parts, such as the voltage drops along a path. Where a part has no limit, neither has the sum."""

    rule: str
    label: str
    parts: tuple[Line, ...]
    unit: Unit
    why: str = ""
    cite: str = ""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    kind = "total"

    @property
    def amount(self) -> Decimal:
        """Raises ``UnitsDiffer`` where a part is in another unit, ``NoSum`` where what has no limit is taken away
        too.
        """
        return summed(self.parts, self.unit)

    @property
    def steps(self) -> str:
        """``1.20 + 0.80 - 0.10``; ``sum of 8`` for more than six; empty for fewer than two."""
        if len(self.parts) > MOST_TOLD:
            return f"sum of {len(self.parts)}"
        if len(self.parts) < 2:
            return ""
        first, *others = numbers(self.parts)
        return first + "".join(f" - {text[1:]}" if text.startswith("-") else f" + {text}" for text in others)


class Pick(Record, Line):
    """The largest or the least of several; the first of those that are alike."""

    rule: str
    label: str
    which: Literal["largest", "least"]
    parts: tuple[Line, ...]
    why: str = ""
    cite: str = ""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    kind = "pick"

    @property
    def picked(self) -> Line:
        """The part it is. Raises ``UnitsDiffer`` where the parts are in different units, ``ValueError`` where there are
        none.
        """
        same_unit(self.parts, self.unit)
        pick = max if self.which == "largest" else min
        return pick(self.parts, key=lambda part: part.amount)

    @property
    def unit(self) -> Unit:
        """That of its parts. Raises ``ValueError`` where there are none."""
        if not self.parts:
            raise ValueError(f"{self.label}: there is nothing to pick from")
        return self.parts[0].unit

    @property
    def amount(self) -> Decimal:
        """That of the part picked, in ``unit``; raises as ``picked`` does."""
        return self.picked.amount

    @property
    def is_rounded(self) -> bool:
        """Whether the part picked is."""
        return self.picked.is_rounded

    @property
    def steps(self) -> str:
        """``largest of 3.0, 5.0``; ``largest of 8`` for more than six; empty for one."""
        if len(self.parts) > MOST_TOLD:
            return f"{self.which} of {len(self.parts)}"
        return f"{self.which} of {', '.join(numbers(self.parts))}" if len(self.parts) > 1 else ""


class Next(Record, Line):
    """An amount taken up to the next of a list, such as an ampacity to the next rating of a breaker; one past the end
    of the list stays as it is.
    """

    rule: str
    label: str
    start: Line
    steps_up: tuple[Decimal, ...]
    """The amounts it may become, in the unit of ``start``."""
    why: str = ""
    cite: str = ""
    confidence: str = "two sources"
    readings: tuple[str, ...] = ()
    kind = "next"

    @property
    def unit(self) -> Unit:
        """That of what it starts from."""
        return self.start.unit

    @property
    def parts(self) -> tuple[Line, ...]:
        """What it starts from, alone."""
        return (self.start,)

    @property
    def amount(self) -> Decimal:
        """The least of the list that is not under what it starts from, in ``unit``."""
        amount = self.start.amount
        return min((step for step in self.steps_up if step >= amount), default=amount)

    @property
    def is_rounded(self) -> bool:
        """Never: it is one of the list."""
        return False

    @property
    def steps(self) -> str:
        """``next rating from 21.84``; empty where it is one of the list already."""
        amount = self.start.amount
        return "" if self.amount == amount else f"next rating from {self.unit.number(amount)}"


def summed(lines: tuple[Line, ...], unit: Unit) -> Decimal:
    """The amounts of some lines added up, in ``unit``.

    Raises ``UnitsDiffer`` where a line is in another unit, ``NoSum`` where what has no limit is added and taken away.
    """
    total = ZERO
    try:
        for line in lines:
            if line.unit is not unit:
                raise UnitsDiffer(f"{line.label} is in {line.unit.name}, not in {unit.name}")
            total += line.amount
    except InvalidOperation:
        raise NoSum(f"{lines[0].label}: two amounts without a limit, one of them taken away") from None
    return total


__all__ = [
    "NO_LIMIT",
    "Chain",
    "Counted",
    "Figure",
    "Line",
    "Next",
    "NoSum",
    "Pick",
    "Share",
    "Total",
    "Unit",
    "UnitsDiffer",
    "printed",
    "summed",
    "with_unit",
]
