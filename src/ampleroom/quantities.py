"""How quantities are written: exact, never more digits than they have, never fewer than people expect."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_DOWN, ROUND_UP, Decimal
from functools import lru_cache

NO_LIMIT = Decimal("Infinity")
"""An amount nobody can bound: the room of a box whose marking nobody has read, at best."""

NOT_KNOWN = "not known"
"""What is printed of such an amount."""

CM3_PER_IN3 = Decimal("16.387064")
INCHES_PER_FOOT = Decimal(12)
MM_PER_IN = Decimal("25.4")
THOUSAND = Decimal(1000)
TEN_THOUSANDTH = Decimal("0.0001")
THOUSANDTH = Decimal("0.001")
HUNDREDTH = Decimal("0.01")
TENTH = Decimal("0.1")
PI = Decimal("3.141592653589793")
ROOT_3 = Decimal("1.7320508")
"""The square root of 3, by which the power of three phases is more than that of one; rounded down, so that a current
worked out with it is no less than it is."""


@lru_cache(maxsize=4096)
def number(value: Decimal, places: int = 2) -> str:
    """``21`` -> ``21.00``, ``5.625`` -> ``5.625``: exact, with at least so many decimals."""
    if not value.is_finite():
        return NOT_KNOWN
    whole, _, decimals = format(value, "f").partition(".")
    decimals = decimals.rstrip("0").ljust(places, "0")
    return f"{whole}.{decimals}" if decimals else whole


def volume(value: Decimal) -> str:
    """Cubic inches, as printed: ``21.00 in3``."""
    return f"{number(value)} in3" if value.is_finite() else NOT_KNOWN


@lru_cache(maxsize=1024)
def count(value: Decimal) -> str:
    """How many allowances: ``6``, ``2.5``."""
    if not value.is_finite():
        return NOT_KNOWN
    return format(value.normalize(), "f")


@lru_cache(maxsize=1024)
def inches(value: Decimal) -> str:
    """A length the way a tape shows it: ``2-1/8 in.``; decimals where it is no sixty-fourth of an inch."""
    sixty_fourths = value * 64
    if sixty_fourths != sixty_fourths.to_integral_value():
        return f"{format(value.normalize(), 'f')} in."
    whole, part = divmod(int(sixty_fourths), 64)
    if not part:
        return f"{whole} in."
    bottom = 64
    while part % 2 == 0:
        part, bottom = part // 2, bottom // 2
    return f"{whole}-{part}/{bottom} in." if whole else f"{part}/{bottom} in."


def room_from_cm3(cm3: Decimal) -> Decimal:
    """Cubic inches a marking in cubic centimetres is good for: rounded down, so it never promises more."""
    return (cm3 / CM3_PER_IN3).quantize(TEN_THOUSANDTH, ROUND_DOWN)


def measured_room(sides: tuple[Decimal, ...]) -> Decimal:
    """Cubic inches between walls measured inside, in inches: rounded down to a hundredth, as a tape knows no more."""
    room = Decimal(1)
    for side in sides:
        room *= side
    return room.quantize(HUNDREDTH, ROUND_DOWN)


def fill_from_cm3(cm3: Decimal) -> Decimal:
    """Cubic inches a body of so many cubic centimetres takes: rounded up, so it never takes less."""
    return (cm3 / CM3_PER_IN3).quantize(TEN_THOUSANDTH, ROUND_UP)


def inches_from_mm(mm: Decimal) -> Decimal:
    """Inches from millimetres, to the nearest ten-thousandth."""
    return (mm / MM_PER_IN).quantize(TEN_THOUSANDTH)


def circle(diameter: Decimal) -> Decimal:
    """The area of a circle in square inches, from its diameter in inches; rounded up to a ten-thousandth."""
    return (diameter * diameter * PI / 4).quantize(TEN_THOUSANDTH, ROUND_UP)


def plural(n: int | Decimal, singular: str, more: str = "") -> str:
    """``1 box``, ``2 boxes``."""
    return f"{n} {singular if n == 1 else more or singular + 's'}"


def listed(words: Sequence[str], joint: str = "and") -> str:
    """``5``; ``5 and 7``; ``5, 7 and 9``; with another ``joint``: ``5, 7 or 9``."""
    return f" {joint} ".join([*([", ".join(words[:-1])] * (len(words) > 1)), *words[-1:]])
