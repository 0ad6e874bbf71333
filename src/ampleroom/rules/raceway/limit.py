"""How much of a raceway may be filled: by how many conductors lie in it, and by the reading of the printed columns."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_FLOOR, Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import NIPPLE, RACEWAY_FILL, ROUNDING, Bore
from ampleroom.quantities import HUNDREDTH, NO_LIMIT, TEN_THOUSANDTH, THOUSANDTH, plural
from ampleroom.record import TupleRecord
from ampleroom.rules.raceway.sizes import bore_rows

PRINTED_WITHIN = THOUSANDTH + TEN_THOUSANDTH
"""A printed column is the percentage of the bore to within this, in2. Where a place amended the bore or the percentage
the column no longer is, and the percentage is worked out."""
MORE = Decimal(2) + 1
"""More than two conductors: from here on a raceway is filled by one percentage."""


class Piece(TupleRecord):
    """What lies in a raceway as one conductor: so many like wires, or like cables, each of so many in2."""

    count: Decimal  # type: ignore[assignment]  # a tuple's own count() is of no use here
    area: Decimal
    is_cable: bool = False


class Limit(TupleRecord):
    """The most that may lie in a raceway, in2, and why it is that much."""

    area: Decimal
    percent: Decimal
    why: str
    is_printed: bool
    """Whether the printed column decides and not the percentage worked out."""
    leans: bool
    """Whether the two differ for what lies in it: one fits, the other does not."""


def conductors_in(pieces: Iterable[Piece]) -> Decimal:
    """How many conductors lie in a raceway, a cable being one; ``NO_LIMIT`` where nobody counted them."""
    return sum((piece.count for piece in pieces), Decimal(0))


def area_in(pieces: Iterable[Piece]) -> Decimal:
    """What they take together, in2."""
    return sum((piece.count * piece.area for piece in pieces if piece.count and piece.area), Decimal(0))


def fill_percent(count: Decimal, is_nipple: bool, book: CodeBook) -> Decimal:
    """What percentage of a bore so many conductors may fill."""
    if is_nipple:
        return book[NIPPLE].percent
    terms = book[RACEWAY_FILL]
    return terms.one if count <= 1 else terms.two if count <= 2 else terms.more


def printed_column(row: Bore, count: Decimal, is_nipple: bool) -> Decimal:
    """The column of the table of bores that has what so many conductors may fill, in2."""
    if is_nipple:
        return row.at_60
    return row.at_53 if count <= 1 else row.at_31 if count <= 2 else row.at_40


def fill_limit(row: Bore, pieces: Iterable[Piece], is_nipple: bool, book: CodeBook) -> Limit:
    """The most that may lie in a raceway of this bore, in2, for what lies in it."""
    listed = list(pieces)
    count = conductors_in(listed)
    percent = fill_percent(count, is_nipple, book)
    printed = printed_column(row, count, is_nipple)
    exact = row.area * percent / 100
    has_column = abs(printed - exact) <= PRINTED_WITHIN
    is_printed = has_column and book.reading("fill-column") == "printed"
    needed = area_in(listed)
    leans = has_column and (needed <= exact) != (needed <= printed)
    how_many = plural(int(count), "conductor") if count < NO_LIMIT else "more than 2 conductors"
    why = f"{percent} % of its bore of {row.area} in2 for " + ("a nipple" if is_nipple else how_many)
    if is_printed:
        why += ", as printed"
    return Limit(printed if is_printed else exact, percent, why, is_printed, leans)


def is_one_size(pieces: Iterable[Piece]) -> bool:
    """Whether all that lies in it is wire of one area, and none of it cable."""
    listed = [piece for piece in pieces if piece.count]
    return len({piece.area for piece in listed}) == 1 and not any(piece.is_cable for piece in listed)


def may_round_up(count: Decimal, is_nipple: bool, book: CodeBook) -> bool:
    """Whether a count of conductors of one size may be rounded up: of more than two, in a nipple only by reading."""
    return 2 < count < NO_LIMIT and (not is_nipple or book.reading("nipple-rounding") == "rounded")


def whole_count(area: Decimal, each: Decimal, book: CodeBook) -> int:
    """The whole number of conductors of one size that go into an area: rounded up from the decimal the book names."""
    up_from = book[ROUNDING].up_from
    exact = area / each
    whole = int(exact)
    return whole + 1 if area >= (whole + up_from) * each else whole


def count_text(area: Decimal, each: Decimal) -> str:
    """``16.77``: how many go in, its decimals cut off."""
    return str((area / each).quantize(HUNDREDTH, ROUND_FLOOR))


def holds(row: Bore, pieces: Iterable[Piece], is_nipple: bool, book: CodeBook) -> bool:
    """Whether a raceway of this bore may hold these conductors. Exactly full passes."""
    listed = list(pieces)
    count = conductors_in(listed)
    if not count.is_finite():
        return False
    limit = fill_limit(row, listed, is_nipple, book)
    if area_in(listed) <= limit.area:
        return True
    if not is_one_size(listed) or not may_round_up(count, is_nipple, book):
        return False
    each = next(piece.area for piece in listed if piece.count)
    return count <= whole_count(limit.area, each, book)


def most_of_one_size(row: Bore, each: Decimal, is_nipple: bool, book: CodeBook) -> int:
    """The most wires of one area that may lie in a raceway of this bore."""
    limit = fill_limit(row, (Piece(MORE, each),), is_nipple, book).area
    most = whole_count(limit, each, book) if may_round_up(MORE, is_nipple, book) else int(limit / each)
    if most > 2:
        return most
    return next((few for few in (2, 1) if holds(row, (Piece(Decimal(few), each),), is_nipple, book)), 0)


def smallest(kind: str, pieces: Iterable[Piece], is_nipple: bool, book: CodeBook) -> Bore | None:
    """The smallest trade size of a kind of raceway that may hold these conductors; None where the largest does not."""
    listed = tuple(pieces)
    return next((row for row in bore_rows(kind, book) if holds(row, listed, is_nipple, book)), None)
