"""What one kind of line is: how it is read, how it is written, an example, and what it says in a sentence."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import Words
from ampleroom.record import Record


class Statement(Record):
    """One kind of line of a sheet. ``words``: what it may begin with, the usual one first."""

    words: tuple[str, ...]
    record: type
    read: Callable[[Words, str], Any]
    """From the words after the first one, and that first one, to a record."""
    write: Callable[[Any], str]
    example: str
    says: str
    counted: bool = False
    """Whether ``3 x`` may stand before it."""


TRADE_SIZE = re.compile(r"(?:[1-9]\d?-)?[1-9]\d?/[1-9]\d?|\d{1,2}(?:\.\d{1,3})?")
"""A trade size of a raceway, with two digits at most: ``3/4``, ``1-1/4``, ``2``."""


def trade_size(words: Words) -> Maybe[str]:
    """The trade size of a raceway at the cursor; ``?``: nobody knows it. Raises ``Unreadable``."""
    if words.take("?"):
        return UNKNOWN
    size = words.next("a trade size such as 3/4")
    if not TRADE_SIZE.fullmatch(size):
        raise words.wrong(f"{size!r} is not a trade size", "write one such as 1/2, 3/4, 1 or 1-1/4", words.i - 1)
    return size


def plain(value: Decimal | int) -> str:
    """A number as a sheet has it: ``3.5``, ``21``."""
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def maybe(value: Maybe[Decimal] | Maybe[int] | Maybe[str], unit: str = "") -> str:
    """A fact, or ``?``, with its unit."""
    text = "?" if value is UNKNOWN else value if isinstance(value, str) else plain(value)
    return f"{text} {unit}".rstrip()


def times(count: Maybe[int]) -> str:
    """``3 x `` before what there are three of; nothing before one."""
    return "" if count == 1 else f"{maybe(count)} x "


def words_joined(*parts: str) -> str:
    """The parts that are not empty, a space between them."""
    return " ".join(part for part in parts if part)


def without_colon(name: str) -> str:
    """``J1:`` at the head of a list is the name J1."""
    return name[:-1] if len(name) > 1 and name.endswith(":") else name


def without_number_sign(name: str) -> str:
    """``#3`` of a circuit is the name 3; ``#3+#5`` is 3+5."""
    return "+".join(part[1:] if part[:1] == "#" and len(part) > 1 else part for part in name.split("+"))


def name_of(words: Words, kind: str) -> str:
    """A name of a place, a raceway, a circuit: one word, no slash."""
    at = words.i
    name = without_colon(words.next(f"the {kind}'s name"))
    if name in ("?", ">", ",", "x") or "/" in name or name.lower() in ("at", "for"):
        words.i = at + 1
        hint = "write one word without a slash, such as J1 or north-wall"
        raise words.wrong(f"{name!r} cannot name a {kind}", hint)
    return name
