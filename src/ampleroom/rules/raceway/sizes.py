"""What the tables say of a raceway and of what lies in it: bores, areas and diameters. Areas in in2, lengths in
inches.
"""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, BORES, COMPACT_WIRES, INSULATED_WIRES, Bore, Wire, WireSizes
from ampleroom.editions.tables import Table
from ampleroom.job.cables import makeup
from ampleroom.job.model import Run
from ampleroom.job.trade import RANK
from ampleroom.quantities import circle
from ampleroom.record import TupleRecord

COMPACT = "compact "
"""Before an insulation: conductors whose strands are pressed together, as in ``compact xhhw-2``."""
BARE = "bare"


class Conductor(TupleRecord):
    """What one wire takes of a raceway, and the row it comes from."""

    wire: Wire
    table: Table[WireSizes]

    @property
    def area(self) -> Decimal:
        """In2."""
        return self.wire.area

    @property
    def diameter(self) -> Decimal:
        """Inches, with its insulation."""
        return self.wire.diameter


def bore_rows(kind: str, book: CodeBook) -> tuple[Bore, ...]:
    """Every trade size of a kind of raceway that the table has, from the smallest; none for a kind it does not have."""
    return book.once(_bores).get(kind, ())


def bore_row(kind: str, size: str, book: CodeBook) -> Bore | None:
    """The row of one raceway: its bore, and the printed columns of what it may hold; None where the table has none."""
    return next((row for row in bore_rows(kind, book) if row.size == size), None)


def _bores(book: CodeBook) -> dict[str, tuple[Bore, ...]]:
    kinds: dict[str, list[Bore]] = {}
    for row in book[BORES].rows:
        kinds.setdefault(row.kind, []).append(row)
    return {kind: tuple(rows) for kind, rows in kinds.items()}


def conductor(insulation: str, size: str, book: CodeBook) -> Conductor | None:
    """One wire by its insulation (``thhn``, ``compact xhhw-2``, ``bare``) and its size; None where no table has it."""
    return book.once(_conductors).get((insulation, size))


def insulations_of(size: str, book: CodeBook) -> tuple[str, ...]:
    """One insulation for each area that the table of insulated wires has for a size, from the thinnest to the
    thickest.
    """
    return tuple([alike[0] for alike in _by_area(size, book)])


def insulation_names(size: str, book: CodeBook) -> tuple[str, ...]:
    """The same in words: every insulation of that area, ``thhn/thwn/thwn-2``."""
    return tuple(["/".join(alike) for alike in _by_area(size, book)])


def _by_area(size: str, book: CodeBook) -> list[list[str]]:
    alike: dict[Decimal, list[str]] = {}
    for insulation, wire in book.once(_insulated_by_size).get(size, ()):
        alike.setdefault(wire.area, []).append(insulation)
    return [alike[area] for area in sorted(alike)]


def sizes_with(insulation: str, book: CodeBook) -> tuple[str, ...]:
    """The sizes the tables have of an insulation, thin to thick; of an empty one, of any insulation."""
    sizes = {size for known, size in book.once(_conductors) if known == insulation}
    sizes = sizes or {size for known, size in book.once(_conductors) if known != BARE}
    return tuple(sorted(sizes, key=RANK.__getitem__))


def _insulated_by_size(book: CodeBook) -> dict[str, list[tuple[str, Wire]]]:
    sizes: dict[str, list[tuple[str, Wire]]] = {}
    for (insulation, size), in_table in book.once(_conductors).items():
        if in_table.table is INSULATED_WIRES:
            sizes.setdefault(size, []).append((insulation, in_table.wire))
    return sizes


def _conductors(book: CodeBook) -> dict[tuple[str, str], Conductor]:
    """Every wire of the three tables, by its insulation and its size."""
    conductors: dict[tuple[str, str], Conductor] = {}
    for table, prefix in ((INSULATED_WIRES, ""), (COMPACT_WIRES, COMPACT)):
        for wire in book[table].rows:
            for insulation in wire.types.split():
                conductors[prefix + insulation, wire.size] = Conductor(wire, table)
    for wire in book[BARE_WIRES].rows:
        conductors[BARE, wire.size] = Conductor(wire, BARE_WIRES)
    return conductors


def cable_width(run: Run, size: str) -> Decimal | None:
    """How wide a run's cable is at its widest; None where no data sheet was seen of one made up so."""
    if run.cable is None or run.wires:
        return None
    usual = makeup(run.cable._replace(size=size, ground=None))
    as_written = makeup(run.cable._replace(size=size))
    if usual is None or as_written is None or usual.wires != as_written.wires:
        return None
    if usual.width is None or usual.height is None:
        return None
    return max(usual.width, usual.height)


def cable_area(width: Decimal) -> Decimal:
    """What a cable takes: a circle on its wider side, rounded up to a ten-thousandth."""
    return circle(width)
