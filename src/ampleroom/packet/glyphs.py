"""Letters the packet's fonts do not have: a standard PDF must not hold what it cannot show."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

FONTS = Path(__file__).parent / "fonts"


@cache
def covered() -> frozenset[int]:
    """Every letter both fonts have."""
    code_points: set[int] = set()
    for line in (FONTS / "covered.txt").read_text("ascii").split():
        low, high = line.split("-")
        code_points.update(range(int(low, 16), int(high, 16) + 1))
    return frozenset(code_points)


LONGEST = 24
"""Words longer than this may be broken anywhere, or they would leave their column."""
MAY_BREAK = "\N{ZERO WIDTH SPACE}"
LONG = re.compile(rf"\S{{{LONGEST},}}")


def displayable(value: Any) -> Any:
    """The same data with letters no font here has as ``[4E00]``, and control and direction marks as a dot."""
    if isinstance(value, str):
        return value if value.isascii() and value.isprintable() else "".join(map(letter_for, value))
    if isinstance(value, list | tuple):
        return [displayable(item) for item in value]
    if isinstance(value, dict):
        return {key: displayable(item) for key, item in value.items()}
    return value


def letter_for(letter: str) -> str:
    """The letter, or what is printed in its place where the packet's font does not have it."""
    if letter in "\n":
        return " "
    if not letter.isprintable() and letter != "\N{NO-BREAK SPACE}":
        return "·"
    return letter if ord(letter) in covered() else f"[{ord(letter):04X}]"


def breakable(value: Any) -> Any:
    """The same data, all of it displayable, with places where a very long word may be broken."""
    if isinstance(value, str):
        return (
            LONG.sub(lambda match: MAY_BREAK.join(match[0]), displayable(value))
            if len(value) >= LONGEST
            else displayable(value)
        )
    if isinstance(value, list | tuple):
        return [breakable(item) for item in value]
    if isinstance(value, dict):
        return {key: breakable(item) for key, item in value.items()}
    return value
