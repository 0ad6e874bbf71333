"""The wires of a dwelling's service, and the conductor to its grounding electrodes."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from operator import attrgetter

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.grounding import ELECTRODE, ElectrodeRow
from ampleroom.editions.protection import DWELLING
from ampleroom.job.trade import RANK, size_text
from ampleroom.rules.circuit.electrode import ALL
from ampleroom.rules.load.carried import Carried
from ampleroom.rules.load.demand import HUNDRED
from ampleroom.rules.registry import remind, rule
from ampleroom.words import SERVICE_WIRES
from ampleroom.worksheet import Reminder

NAME = "service-conductors"


@rule(
    NAME,
    title="Wires of a dwelling's service",
    topic="reminder",
    about="load",
    tables=(DWELLING, AMPACITY, ELECTRODE),
)
def service_conductors(what: Carried, book: CodeBook) -> Iterator[Reminder]:
    """The thinnest wires of a service of its rating, copper and aluminum, at usual heat and with terminals for it;
    and the thinnest conductor to its grounding electrodes.

    Why: Who sizes a service buys its wires next.
    """
    terms = book[DWELLING]
    if what.rating is None or what.units > 1 or not terms.least <= what.rating <= terms.most:
        return
    sizes = [thinnest(what.rating, material, book) for material in ("copper", "aluminum")]
    if not all(sizes):
        return
    copper, aluminum = sizes
    row, by_aluminum = electrode_row(copper, "copper", book), electrode_row(aluminum, "aluminum", book)
    text = SERVICE_WIRES.format(
        f"{what.rating:f}",
        size_text(copper),
        size_text(aluminum),
        size_text(row.copper),
        size_text(by_aluminum.copper),
    )
    yield remind(NAME, text, terms, cite=f"{terms.cite}, {book[ELECTRODE].cite}")


def electrode_row(size: str, material: str, book: CodeBook) -> ElectrodeRow:
    """The row of grounding electrode conductors for one wire a phase."""
    up_to = attrgetter(f"{material}_up_to")
    return next(row for row in book[ELECTRODE].rows if up_to(row) == ALL or RANK[size] <= RANK[up_to(row)])


def thinnest(rating: Decimal, material: str, book: CodeBook) -> str:
    """The thinnest wire of a rating: as listed, or by its percent; empty where none is thick enough."""
    terms = book[DWELLING]
    for row in terms.rows:
        if row.rating >= rating:
            return row.copper if material == "copper" else row.aluminum
    for wire in sorted(book[AMPACITY].rows, key=lambda row: RANK[row.size]):
        if (
            wire.material == material
            and wire.at_75 is not None
            and wire.at_75 * HUNDRED >= rating * (terms.percent or HUNDRED)
        ):
            return wire.size
    return ""
