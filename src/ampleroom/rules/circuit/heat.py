"""What a leg may carry, line by line: the table, the heat around it, its company, and what its ends allow."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.arithmetic import Chain, Counted, Figure, Line, Pick, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import (
    ADJUSTMENT,
    AMBIENT,
    AMPACITY,
    LOWEST,
    ROOFTOP,
    USUAL_AMBIENT,
    AmbientRow,
    AmpacityRow,
)
from ampleroom.editions.cable_ampacity import ARMORED, CableHeat
from ampleroom.editions.protection import TERMINALS
from ampleroom.job.trade import RANK, size_text
from ampleroom.quantities import number
from ampleroom.rules.circuit.wired import Leg, Piece, ampacities, insulations

ZERO, HUNDRED = Decimal(0), Decimal(100)


class NoAmpacity(Exception):
    """The book has no number for a leg; the text says which one is missing, and ``remedy`` what to do about it."""

    def __init__(self, text: str, remedy: str = "ask its maker, or your authority") -> None:
        super().__init__(text)
        self.remedy = remedy


def at_column(row: AmpacityRow | AmbientRow, column: Decimal) -> Decimal | None:
    """The value of a row in a column of so many degrees C; None where nothing is printed."""
    value: Decimal | None = getattr(row, f"at_{int(column)}")
    return value


def from_table(rule: str, leg: Leg, column: Decimal, book: CodeBook, why: str = "", cite: str = "") -> Line:
    """The ampacity in a column of the table; of parallel sets of all together. Raises ``NoAmpacity``."""
    material = leg.run.material
    row = book.once(ampacities).get((material, leg.size))
    amperes = at_column(row, column) if row is not None else None
    metal = " aluminum" if material == "aluminum" else ""
    label = f"{size_text(leg.size)}{metal} at {column} C"
    if row is None or amperes is None:
        raise NoAmpacity(f"the table has no ampacity of {label}")
    section, sure = cite or book[AMPACITY].cite, book.confidence(AMPACITY, row)
    if leg.sets > 1:
        return Counted(rule, label, leg.sets, amperes, why or "in parallel", section, sure, unit=Unit.AMPERE)
    return Figure(rule, label, amperes, Unit.AMPERE, why, section, sure)


def corrected(rule: str, leg: Leg, piece: Piece, book: CodeBook) -> Line:
    """What a leg may carry along one piece, by its own insulation. Raises ``NoAmpacity``, also for an insulation that
    is not for the wet place it lies in.
    """
    rated = book.once(insulations).get(leg.insulation)
    if piece.underground and rated is not None and not rated.wet:
        raise NoAmpacity(
            f"{leg.insulation} is not for wet places, and it lies {piece.place}, underground",
            "read the print on the wire; if it says thwn-2 too, write that",
        )
    start = from_table(rule, leg, leg.starts, book)
    factors = [factor for factor in (around(rule, leg, piece, book), company(rule, leg, piece, book)) if factor]
    if not factors:
        return start
    label = f"Ampacity {piece.place}".rstrip()
    return Chain(rule, label, start, tuple(factors), cite=start.cite, confidence=start.confidence)


def around(rule: str, leg: Leg, piece: Piece, book: CodeBook) -> Line | None:
    """The factor for how warm it is; None at the temperature the table is for. Raises ``NoAmpacity``."""
    added, whence = sun(leg, piece, book)
    degrees = piece.ambient + added
    if degrees == USUAL_AMBIENT:
        return None
    table = book[AMBIENT]
    if table.least is not None and degrees < table.least:
        return None  # cooler than the table goes: no more than at its base
    row = next((row for row in table.rows if degrees <= row.up_to), None)
    factor = at_column(row, leg.starts) if row is not None else None
    if row is None or factor is None:
        raise NoAmpacity(f"at {number(degrees, 0)} C the table has no factor for insulation of {leg.starts} C")
    label = f"{number(degrees, 0)} C around it"
    return Figure(rule, label, factor, Unit.FACTOR, whence, table.cite, book.confidence(AMBIENT, row))


def sun(leg: Leg, piece: Piece, book: CodeBook) -> tuple[Decimal, str]:
    """The degrees C the sun adds above a roof, and why."""
    table = book[ROOFTOP]
    height = piece.above_roof
    if height is None or leg.insulation in table.exempt or (table.raceways_only and not piece.in_raceway):
        return ZERO, ""
    row = next((row for row in table.rows if height < row.up_to or (height == row.up_to and not row.is_under)), None)
    return (row.adds, f"{number(row.adds, 0)} C of it from the sun on the roof") if row is not None else (ZERO, "")


def company(rule: str, leg: Leg, piece: Piece, book: CodeBook) -> Line | None:
    """The factor for the conductors that carry current beside one another; None where there are few. Raises
    ``NoAmpacity``.
    """
    table = book[ADJUSTMENT]
    if not piece.is_adjusted or piece.carrying <= table.free:
        return None
    armored = book[ARMORED]
    if leg.bare_armor and piece.carrying <= armored.most:
        return None
    if leg.bare_armor and armored.percent_over is not None:
        label = f"{number(piece.carrying, 0)} current-carrying conductors in bare armor"
        factor = armored.percent_over / HUNDRED
        return Figure(rule, label, factor, Unit.FACTOR, piece.place, armored.cite, armored.confidence)
    row = next(row for row in table.rows if row.up_to is None or piece.carrying <= row.up_to)
    label = f"{number(piece.carrying, 0)} current-carrying conductors"
    factor = row.percent / HUNDRED
    return Figure(rule, label, factor, Unit.FACTOR, piece.place, table.cite, book.confidence(ADJUSTMENT, row))


def limits(rule: str, leg: Leg, book: CodeBook) -> list[Line]:
    """What may not be passed whatever the insulation is rated for: the columns of terminals and of the cable's article.
    Raises ``NoAmpacity``.
    """
    terms = book[TERMINALS]
    lines = [from_table(rule, leg, leg.terminals, book, leg.terminals_why, terms.cite)]
    if leg.cable is not None:
        column = end_column(leg, leg.cable)
        if column is not None:
            lines.append(from_table(rule, leg, column, book, f"{leg.cable.kind} ends here", leg.cable.cite))
    return lines


def end_column(leg: Leg, cable: CableHeat) -> Decimal | None:
    """The column a cable may not pass, degrees C; None where its article names none."""
    is_small = not cable.insulated_up_to or RANK[leg.size] <= RANK[cable.insulated_up_to]
    return cable.insulated_ends if leg.in_insulation and is_small and cable.insulated_ends else cable.ends


def ampacity(rule: str, leg: Leg, book: CodeBook) -> Line:
    """What a leg may carry: the least along it, no more than its ends allow. Raises ``NoAmpacity``."""
    along = [corrected(rule, leg, piece, book) for piece in leg.pieces]
    kept = [line for line in along if not is_relieved(leg, line, along, book)]
    parts: dict[Decimal, Line] = {}
    for line in (*kept, *limits(rule, leg, book)):
        parts.setdefault(line.amount, line)
    if len(parts) == 1:
        return next(iter(parts.values()))
    least = min(parts.values(), key=lambda line: line.amount)
    return Pick(rule, "Ampacity", "least", tuple(parts.values()), cite=least.cite, confidence=least.confidence)


def is_relieved(leg: Leg, line: Line, along: list[Line], book: CodeBook) -> bool:
    """Whether the higher ampacity of the rest may be used instead of this one, as its piece is so short: all pieces of
    less than the most together no longer than the lesser of a length and a part of the rest.
    """
    most = max(each.amount for each in along)
    if line.amount == most or leg.length is None:
        return False
    lower = [each for each, its in zip(leg.pieces, along, strict=True) if its.amount < most]
    lengths = [each.length for each in lower if each.length is not None]
    if len(lengths) < len(lower) or any(each.no_relief for each in lower):
        return False
    short, terms = sum(lengths, ZERO), book[LOWEST]
    rest = leg.length - short
    return short <= terms.feet and short <= terms.percent / HUNDRED * rest


__all__ = ["NoAmpacity", "ampacity", "at_column", "corrected", "from_table", "limits"]
