"""How many conductors of one size every standard box holds: the table ``rule box`` prints, by edition."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import NEWEST_COMPARED, CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.record import Record


class BoxRow(Record):
    """One standard box: its volume in in3, and how many conductors of each size fit if nothing else is in it."""

    shape: str
    size: str
    """The trade size in inches: ``4 x 1-1/2``."""
    volume: Decimal
    holds: dict[str, int]
    """How many of each conductor size, thin to thick."""
    printed: dict[str, int]
    """The counts that the code's table prints."""
    per_gang: bool
    confidence: str

    @property
    def name(self) -> str:
        """``square 4 x 1-1/2``, as a sheet writes it; FS and FD in capitals."""
        shape = self.shape.upper() if self.shape in ("fs", "fd") else self.shape
        return f"{shape} {self.size}"


class BoxTable(Record):
    """Every standard box of an edition, in the order of the code's table."""

    book: CodeBook
    sizes: tuple[str, ...]
    """The conductor sizes that have an allowance, thin to thick."""
    rows: tuple[BoxRow, ...]
    cites: tuple[str, ...]
    """Where the volumes and the allowances are in the code book."""

    @property
    def notes(self) -> list[str]:
        """How to read it, in sentences."""
        sentences = [
            "Counts are of insulated conductors of one size with nothing else in the box: box volume over the "
            "allowance, "
            "rounded down. Clamps, devices, grounds, studs and terminal blocks take room too.",
            "A box marked with a volume goes by its marking.",
        ]
        if any(row.per_gang for row in self.rows):
            sentences.append("* For each gang.")
        sentences += [
            f"{row.name}, #{size}: some printings of the code's table have {printed}. The volume decides: "
            f"{row.holds[size]} "
            "(disputed: printed-counts)."
            for row in self.rows
            for size, printed in row.printed.items()
            if printed != row.holds[size]
        ]
        return sentences + self.book.notes_with(())


def box_table(edition: int | None = None) -> BoxTable:
    """How many conductors of each size every standard box holds in an edition; the newest compared one where none is
    given. Raises ``EditionUnknown`` for one that is not offered.
    """
    book = CodeBook(edition or NEWEST_COMPARED)
    room, standard = book[CONDUCTOR_ROOM], book[STANDARD_BOXES]
    rows = tuple(
        BoxRow(
            row.shape,
            row.size,
            row.volume,
            {size: how_many(row.volume, each) for size, each in room.rows.items()},
            dict(zip(standard.printed_sizes, row.printed, strict=True)),
            row.per_gang,
            book.confidence(STANDARD_BOXES, row),
        )
        for row in standard.rows
    )
    return BoxTable(book, tuple(room.rows), rows, (standard.cite, room.cite))


def how_many(volume: Decimal, allowance: Decimal) -> int:
    """How many whole allowances go into a volume, both in in3; a part of one is not rounded up."""
    return int(volume // allowance)
