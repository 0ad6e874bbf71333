"""The room one conductor takes, by its size: what most counts are multiplied by."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_counts import CONDUCTORS
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.job.trade import RANK, size_text
from ampleroom.rules.space import How, Space


def allowance(size: str, book: CodeBook) -> Decimal | None:
    """In3 for one conductor; None for a size the book's table has no row for, 4 AWG and larger or 20 AWG and
    smaller.
    """
    room: Decimal | None = book[CONDUCTOR_ROOM].rows.get(size)
    return room


def has_row(size: str, book: CodeBook) -> bool:
    """Whether the table of allowances has a row for exactly this size."""
    return size in book[CONDUCTOR_ROOM].rows


def is_large(size: str, book: CodeBook) -> bool:
    """Whether a size belongs to pull boxes, which are sized by distances."""
    return RANK[size] >= RANK[book[PULL_BOX].from_size]


def within_table(size: str, book: CodeBook) -> str:
    """The size itself, or the nearest row the table has: its largest for a larger one, its smallest for a smaller."""
    rows = book[CONDUCTOR_ROOM].rows
    if size in rows:
        return size
    ordered: list[str] = sorted(rows, key=RANK.__getitem__)
    return next((row for row in ordered if RANK[row] > RANK[size]), ordered[-1])


def largest_present(space: Space, book: CodeBook) -> tuple[str, Decimal, str] | None:
    """The size that sums up clamps and fittings: the largest conductor of all in the space, its allowance, and in
    words.

    None where no conductor is in the space.
    """
    present = space.largest
    if present is None:
        return None
    row = within_table(present, book)
    words = f"the largest conductor in the box, {size_text(present)}"
    if row != present:
        words += (
            f" (the table ends at {size_text(row)})" if is_large(present, book) else f" (taken as {size_text(row)})"
        )
    return row, book[CONDUCTOR_ROOM].rows[row], words


def times_counted(how: How, book: CodeBook) -> Decimal:
    """How often one conductor counts that ends in a box, passes through it, or loops in it."""
    terms = book[CONDUCTORS]
    return terms.ends if how == "ends" else terms.passes if how == "passes" else terms.looped
