"""What every part of a box's putting together needs: the box, the code book, and whom to ask for a fact nobody
knows.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any, TypeVar

from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.facts import Assumption, Unknown, fact_of
from ampleroom.job.model import Base, Box, Item
from ampleroom.job.trade import RANK, size_text
from ampleroom.quantities import NO_LIMIT

T = TypeVar("T")
OF_THE_KIND = ("volume", "ring volume", "box size")
"""What is one fact for all boxes of a kind; whatever else a kind leaves open may differ from box to box."""


class Asker:
    """One side of a box under one assumption."""

    __slots__ = ("assumption", "book", "box", "is_body", "items", "side")

    def __init__(self, box: Box, side: str, items: tuple[Item, ...], book: CodeBook, assumption: Assumption) -> None:
        self.box = box
        self.side = side
        self.items = items
        self.book = book
        self.assumption = assumption
        self.is_body = any(isinstance(item, Base) and item.form == "conduit body" for item in items)

    @property
    def place(self) -> str:
        """``J1``, or ``J1/left`` for a side of it."""
        return f"{self.box.name}/{self.side}" if self.side else self.box.name

    def ask(self, record: Any, field: str, text: str, choices: tuple[T, ...], part: str = "", **more: Any) -> T:
        """What is assumed for a field of a record that nobody knows; ``choices`` from small to large."""
        if record is self.box:
            part = self.side if field == "clamps" else part
        elif field not in OF_THE_KIND and self.is_of_kind(record):
            box = self.box
            part = f"{part} in {box.at.line or id(box)}"
        return self.assumption.take(Unknown(fact_of(record, field, part), text, choices, **more))

    def is_of_kind(self, record: Any) -> bool:
        """Whether a line stands under the kind of the box, and so is shared with others of it."""
        is_here = any(record is item for item in self.items)
        return is_here and not any(record is item for item in self.box.items)

    def ask_size(
        self, record: Any, field: str, text: str, sizes: tuple[str, ...], part: str = "", effort: int = 0
    ) -> str:
        """A conductor's size; of one possible size nothing is asked."""
        if len(sizes) == 1:
            return sizes[0]
        names = tuple(map(size_text, sizes))
        return self.ask(record, field, text, sizes, part, names=names, effort=effort)

    def ask_volume(self, record: Any, field: str, text: str) -> Decimal:
        """In3, from nothing up."""
        ends = (Decimal(0), NO_LIMIT)
        return self.ask(record, field, text, ends, is_range=True, unit="in3")

    def ask_count(self, record: Any, field: str, text: str, least: Decimal, part: str = "") -> Decimal:
        """How many, from ``least`` up."""
        return self.ask(record, field, text, (least, NO_LIMIT), part, is_range=True)

    @property
    def any_size(self) -> tuple[str, ...]:
        """Every size the allowance table has a row for."""
        return self.book.once(sizes_with_allowance)


def sizes_with_allowance(book: CodeBook) -> tuple[str, ...]:
    """Every conductor size the table of allowances has, by rank of size."""
    return tuple(sorted(book[CONDUCTOR_ROOM].rows, key=RANK.__getitem__))


def sizes_between(thin: str, thick: str) -> tuple[str, ...]:
    """Every size from one to another."""
    first, last = sorted((RANK[thin], RANK[thick]))
    return tuple(size for size, rank in RANK.items() if first <= rank <= last)
