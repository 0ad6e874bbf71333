"""What a rule's folder adds for its page: ``page.py``, with words it is found by and what it says by edition.

Only ``rule`` and the page of rules load these files; a check never does. A sentence is a function from a code book to
text, with the tables it tells of. It is asked for every edition on offer, so no sentence can hold a number that its
table does not have. Numbers stay out of the functions; what they print comes from the book.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from importlib import import_module
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.trade import size_text
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.registry import Rule

FROM_MEMORY = "from memory"
"""How sure a number is that nobody here has seen in print."""
NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


class Sentence(Record):
    """One thing a rule says: the tables it rests on, and the sentence of an edition."""

    tables: tuple[Table[Any], ...]
    tell: Callable[[CodeBook], str]


def trade_words(rule: Rule) -> tuple[str, ...]:
    """What people call what a rule is about, beside its name and title. Common practice, no source.

    Raises ``ModuleNotFoundError`` where the rule's folder has no ``page.py``.
    """
    words: tuple[str, ...] = import_module(f"{rule.function.__module__}.page").TRADE_WORDS
    return words


def sentences(rule: Rule) -> tuple[Sentence, ...]:
    """What a rule says by edition. Raises ``ModuleNotFoundError`` where its folder has no ``page.py``."""
    declared: tuple[Sentence, ...] = import_module(f"{rule.function.__module__}.page").SENTENCES
    return declared


# ---- numbers in words ----------------------------------------------------------------------------------------------


def words(value: int | Decimal) -> str:
    """``four``; a number with decimals, or over ten, in digits."""
    whole = int(value)
    return NUMBER_WORDS[whole] if value == whole and whole < len(NUMBER_WORDS) else count(Decimal(value))


def times(value: int | Decimal) -> str:
    """``not at all``, ``once``, ``twice``, ``3 times``."""
    return {0: "not at all", 1: "once", 2: "twice"}.get(int(value), f"{count(Decimal(value))} times")


def allowances(value: int | Decimal) -> str:
    """``no allowance``, ``one allowance``, ``two allowances``."""
    return f"{words(value)} allowance" + ("" if value in (0, 1) else "s")


def capital(text: str) -> str:
    """With its first letter large."""
    return text[:1].upper() + text[1:]


def either(sizes: Iterable[str]) -> str:
    """``#12 or #10``; ``#8, #6 or #4``."""
    *some, last = [size_text(size) for size in sizes]
    return f"{', '.join(some)} or {last}" if some else last
