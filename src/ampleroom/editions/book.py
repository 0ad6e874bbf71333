"""The code book in force at one job."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from decimal import Decimal
from typing import Any, Protocol, TypeVar

from ampleroom.editions.amendments import Amendments
from ampleroom.editions.readings import READINGS
from ampleroom.editions.standard_boxes import STANDARD_BOXES, StandardBox
from ampleroom.editions.tables import Block, Table, blocks, edition, mark_of, row_key
from ampleroom.record import Record

T = TypeVar("T", bound=Record)
V = TypeVar("V")

NOTHING_AMENDED = Amendments("")
USUAL = ("two sources", "one source")
"""Confidences of a whole table that a single row may lower."""


class Row(Protocol):
    """A row of a table, which may be less sure than the whole."""

    @property
    def confidence(self) -> str:
        """Empty where the row is as sure as its table."""


class CodeBook:
    """An edition, the amendments of the place, and the readings of its inspector.

    >>> from ampleroom.rules.box.fill.grounds import GROUNDS
    >>> CodeBook(2020)[GROUNDS].extra
    Decimal('0.25')
    >>> CodeBook(2017)[GROUNDS].extra
    Decimal('0')
    """

    __slots__ = (
        "_blocks",
        "_made",
        "_standard",
        "_tables",
        "alike",
        "amendments",
        "edition",
        "judged",
        "readings",
        "shared",
        "year",
    )

    def __init__(
        self, year: int, amendments: Amendments = NOTHING_AMENDED, readings: Mapping[str, str] | None = None
    ) -> None:
        self.year = year
        self.edition = edition(year)  # refuses a year nobody can answer for
        self.amendments = amendments
        self.readings = readings or {}
        self._tables: dict[Table[Any], Any] = {}
        self._blocks: dict[str, Block] = {}
        self._standard: dict[tuple[str, str], StandardBox] = {}
        self.alike: dict[Hashable, tuple[int, object]] = {}
        """For each contents of a box that was judged by this book a number, which boxes alike share, and the records in
        it."""
        self.shared: dict[tuple[int, str], list[Any]] = {}
        """What the rules of a topic said of boxes alike, by that number."""
        self.judged: dict[Hashable, Any] = {}
        """Of each contents of an undivided box that was judged by this book, the report of the first; and the records
        in it, as above.
        """
        self._made: dict[Callable[[CodeBook], Any], Any] = {}

    def __eq__(self, other: object) -> bool:
        """Books that judge alike: of one edition, with the same amendments and readings."""
        if not isinstance(other, CodeBook):
            return NotImplemented
        return (self.year, self.amendments, dict(self.readings)) == (
            other.year,
            other.amendments,
            dict(other.readings),
        )

    def __hash__(self) -> int:
        return hash((self.year, self.amendments.place, frozenset(self.readings.items())))

    def once(self, make: Callable[[CodeBook], V]) -> V:
        """What a function makes of this book, made once: what is said alike of every box."""
        try:
            made: V = self._made[make]
        except KeyError:
            made = self._made[make] = make(self)
        return made

    @property
    def title(self) -> str:
        """The edition, and the place whose amendments apply, as a heading has them."""
        place = self.amendments.place
        return f"{self.edition.title}, amended by {place}" if place else self.edition.title

    def __getitem__(self, table: Table[T]) -> T:
        """The table in force, as its record; read once."""
        try:
            record: T = self._tables[table]
        except KeyError:
            record = self._tables[table] = table.read(self._block(table.name, table.blocks))
        return record

    def block(self, name: str) -> Block:
        """A table in force by its name, ``box_fill.grounds``, as it is written: for those who show whatever a table
        holds. Raises ``KeyError`` where there is none.
        """
        return self._blocks.get(name) or self._block(name, blocks(name))

    def _block(self, name: str, dated: list[Block]) -> Block:
        """The blocks down to this year, later keys over earlier, then the amendments."""
        in_force: Block = {}
        for block in dated:
            if block["from"] <= self.year:
                in_force |= block
        for block in self.amendments.blocks(name, self.year):
            in_force |= {key: amended(row_key(dated), in_force.get(key), value) for key, value in block.items()}
        if not in_force:
            raise LookupError(f"no table {name!r} in the {self.year} edition")
        in_force["confidence"] = self._confidence(name, in_force)
        self._blocks[name] = in_force
        return in_force

    def _confidence(self, table: str, block: Block) -> str:
        """How sure a table is in this edition."""
        if "amended_by" in block:
            return f"as {block['amended_by']} says"
        mark = mark_of(table, self.year)
        if not mark.compared:
            return f"not compared with {self.year}"
        return "from memory" if mark.from_memory else str(block["confidence"])

    def standard_box(self, shape: str, size: str) -> StandardBox | None:
        """The row of the standard-box table for a shape and a trade size."""
        if not self._standard:
            self._standard.update({(row.shape, row.size): row for row in self[STANDARD_BOXES].rows})
        return self._standard.get((shape, size))

    def reading(self, name: str) -> str:
        """How a disputed point is read here: as the sheet says, or the default."""
        return self.readings.get(name) or READINGS[name].default

    def is_compared(self, name: str) -> bool:
        """Whether somebody compared a table, by its name, with this edition; an amended one is the place's own."""
        return mark_of(name, self.year).compared or self.is_amended(name)

    def is_amended(self, name: str) -> bool:
        """Whether the place amended a table, by its name, for this edition."""
        return any(block["from"] <= self.year for block in self.amendments.tables.get(name, ()))

    def confidence(self, table: Table[Any], row: Row | None = None) -> str:
        """How sure a table, or one row of it, is in this edition: ``two sources``, ``one source``, ``from memory``
        ...
        """
        whole: str = self[table].confidence
        return row.confidence if row is not None and row.confidence and whole in USUAL else whole

    @property
    def notes(self) -> list[str]:
        """What the edition itself is worth, in sentences: provisional, not compared, amended."""
        return self.notes_with(self.not_compared)

    def notes_with(self, not_compared: tuple[str, ...]) -> list[str]:
        """The same for an answer that leaned on these tables, which nobody compared with this edition."""
        notes = []
        if self.edition.note:
            notes.append(f"Provisional: {self.edition.note}.")
        if not_compared:
            notes.append("Tables not compared with this edition: " + ", ".join(not_compared) + ".")
        if self.amendments.place:
            changed = ", ".join(sorted(self.amendments.tables))
            source = f" ({self.amendments.source})" if self.amendments.source else ""
            notes.append(f"Amended by {self.amendments.place}{source}: {changed}.")
        return notes

    @property
    def not_compared(self) -> tuple[str, ...]:
        """The tables asked so far that nobody compared with this edition: what a provisional answer must name."""
        return tuple(sorted(table for table in self._blocks if not self.is_compared(table)))


def amended(keys: tuple[str, ...], usual: Any, value: Any) -> Any:
    """A value of the book as a place amends it: rows one by one, told apart by ``keys``, and a number of the kind the
    book has there.
    """
    if isinstance(usual, dict) and isinstance(value, dict):
        return usual | {name: amended(keys, usual.get(name), cell) for name, cell in value.items()}
    if isinstance(usual, list) and isinstance(value, list) and usual and isinstance(usual[0], dict):
        rows = {_row_name(keys, row): row for row in usual}
        for row in value:
            of = rows.get(_row_name(keys, row), {})
            rows[_row_name(keys, row)] = of | {key: amended(keys, of.get(key), cell) for key, cell in row.items()}
        return list(rows.values())
    if isinstance(usual, Decimal) and isinstance(value, int) and not isinstance(value, bool):
        return Decimal(value)
    return value


def _row_name(keys: tuple[str, ...], row: Block) -> str:
    """What tells a row from the others: a number is the same one whether written 1, 1.0 or 1.00."""
    named = [row.get(key) for key in keys]
    return repr([Decimal(name).normalize() if isinstance(name, int | Decimal) else name for name in named])
