"""A conduit body, or a smaller box, that is listed and marked for so many conductors of a size: whether the marking
covers what it holds.

The marking counts every conductor, a ground too. Areas in in2.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from ampleroom.arithmetic import Counted, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, CABLE_IN_RACEWAY, INSULATED_WIRES, Bore
from ampleroom.editions.tables import Table
from ampleroom.job.lines.wires import write_group
from ampleroom.job.model import MarkedFor, Wires
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, number, plural
from ampleroom.record import Record, TupleRecord
from ampleroom.rules.raceway.limit import Piece, area_in, fill_limit
from ampleroom.rules.raceway.sizes import BARE, Conductor, bore_row, cable_area, cable_width, conductor
from ampleroom.rules.space import Entering, Space, exactly
from ampleroom.worksheet import OpenFact, Purpose, Worksheet

INSULATION_READING = "marked-insulation"
OF_SIZES = ("unknown-ground",)
"""The readings that bound the size of a conductor nobody read."""
NAME = "pull-box"
PURPOSE = Purpose("marked-for", Unit.IN2, "The marked conductors", "Conductors")


class Marking(Record):
    """What a marking permits: whether other conductors too, by their area, and of which insulation the marked ones
    are where the marking does not say.
    """

    cite: str
    confidence: str
    by_area: bool
    insulation: str


MARKING = Table("pull_boxes.marking", Marking, __file__)


class Coverage(TupleRecord):
    """Whether a marking covers what is in a conduit body or box."""

    is_covered: bool | None
    """None: facts nobody has checked decide."""
    text: str
    """As a sentence goes on after the name: ``is marked for 3 x #4/0 xhhw, ...``."""
    sheet: Worksheet | None = None
    """The areas, where they decide that it is covered."""
    facts: tuple[OpenFact, ...] = ()
    readings: tuple[str, ...] = ()


class Held(TupleRecord):
    """Like conductors, or like cables, as a marking counts them."""

    count: Decimal  # type: ignore[assignment]  # a tuple's own count() is of no use here
    size: str
    area: Decimal | None
    """Of one, in2; None where its insulation or its width is not known."""
    is_cable: bool
    entering: Entering

    @property
    def piece(self) -> Piece:
        """These as the arithmetic of fill takes them."""
        return Piece(self.count, self.area or Decimal(0), self.is_cable)


def coverage(space: Space, book: CodeBook) -> Coverage:
    """Whether one of the markings written of a space covers its conductors; without a line the marking is not
    known.
    """
    lines = space.of(MarkedFor)
    leaned = tuple(dict.fromkeys(name for each in space.entering for name in each.readings if name in OF_SIZES))
    tried = [covered_by(line.wires, space, book) for line in lines if isinstance(line.wires, Wires)]
    for each in tried:
        if each.is_covered:
            return each._replace(readings=(*each.readings, *leaned))
    facts = [fact for each in tried for fact in each.facts]
    if not lines or any(line.wires is UNKNOWN for line in lines):
        facts.insert(0, marking_fact(space, book))
    readings = (*dict.fromkeys(name for each in tried for name in each.readings), *(leaned if tried else ()))
    if facts:
        text = "; ".join(each.text for each in tried if each.is_covered is None)
        text = text or (
            "has a marking that is not read yet" if lines else "goes by its marking, which is not in the sheet"
        )
        return Coverage(None, text, facts=tuple(dict.fromkeys(facts)), readings=readings)
    return Coverage(False, "; ".join(each.text for each in tried) or "is not marked for conductors", readings=readings)


def marking_fact(space: Space, book: CodeBook) -> OpenFact:
    """The marking to read, and what one has to say to cover what is in the space."""
    held = held_in(space, book)
    settles = f"passes if it is listed and marked for {least_text(held)}, or more"
    settles += "; write: marked for 3 x #4/0 xhhw, or: marked for none"
    return OpenFact(f"the number and size of conductors marked in {space.subject}", Decimal(0), settles, space.box.at)


def least_text(held: Iterable[Held]) -> str:
    """``4 conductors up to #4/0``: what a marking has to name at least."""
    listed = list(held)
    total = sum((each.count for each in listed), Decimal(0))
    many = plural(int(total), "conductor") if total < NO_LIMIT else "its conductors"
    return f"{many} up to {size_text(max((each.size for each in listed), key=RANK.__getitem__))}"


def held_in(space: Space, book: CodeBook) -> tuple[Held, ...]:
    """Every conductor and cable that comes into a space by a run."""
    held: list[Held] = []
    for each in space.entering:
        cable = each.run.cable
        if cable is None:
            row = conductor_of(each, book)
            held.append(Held(each.count, each.size, row.area if row else None, False, each))
        elif each.role == "insulated":  # the others lie in the same sheath
            width = cable_width(each.run, each.size)
            area = None if width is None else cable_area(width)
            inside = 1 if width is None else sum(int(part) for part in cable.of.split("/"))
            held.append(Held(each.count * book[CABLE_IN_RACEWAY].counts / inside, each.size, area, True, each))
    return tuple([each for each in held if each.count])


def conductor_of(each: Entering, book: CodeBook) -> Conductor | None:
    """A wire's row of the tables of insulated, compact and bare wires; None where its insulation is not known."""
    if each.insulation == "thickest":
        rows = [row for row in book[INSULATED_WIRES].rows if row.size == each.size]
        return Conductor(max(rows, key=lambda row: row.area), INSULATED_WIRES) if rows else None
    return conductor(each.insulation, each.size, book)


def covered_by(marked: Wires, space: Space, book: CodeBook) -> Coverage:
    """Whether one marking covers what is in a space: by number and size, and from 2017 on by area."""
    terms = book[MARKING]
    assert marked.count is not UNKNOWN
    assert marked.size is not UNKNOWN
    text = f"is marked for {write_group(marked)}"
    one = conductor(marked.insulation or terms.insulation, marked.size, book)
    if one is None:
        question = f"the insulation in the marking of {space.subject}: no table has {write_group(marked)}"
        fact = OpenFact(question, Decimal(0), "such as: marked for 3 x #4/0 xhhw", space.box.at)
        return Coverage(None, text, facts=(fact,))
    held = held_in(space, book)
    total = sum((each.count for each in held), Decimal(0))
    missing = tuple([each for each in held if each.area is None])
    is_counted = (
        total <= marked.count
        and all(RANK[each.size] <= RANK[marked.size] for each in held)
        and not any(each.is_cable for each in held)
    )
    is_thicker = any(each.area is not None and each.area > one.area for each in held)
    readings = (INSULATION_READING,) if is_counted and is_thicker else ()
    by_number = is_counted and (not is_thicker or book.reading(INSULATION_READING) == "size-alone")
    sheet = None if missing or not terms.by_area else areas_sheet(marked, one, held, space, book)
    by_area = sheet is not None and sheet.passes
    if not (by_number or by_area):
        if missing and total.is_finite() and terms.by_area:
            return Coverage(None, text, facts=tuple(missing_facts(missing, space)), readings=readings)
        return Coverage(False, f"{text}, not for {beside_text(held, one, sheet, is_counted)}", readings=readings)
    if missing:
        return Coverage(None, text, facts=tuple(missing_facts(missing, space)), readings=readings)
    bores = bores_at(space, book)
    if not bores:
        return Coverage(None, text, facts=(raceway_fact(space),), readings=readings)
    pieces = [each.piece for each in held]
    if any(area_in(pieces) >= fill_limit(bore, pieces, False, book).area for bore in bores):
        text += ", which does not hold: its conductors leave nothing spare in the raceway"
        return Coverage(False, text, readings=readings)
    if by_area and sheet is not None:
        text += f": its conductors take {number(sheet.needed)} in2, the marked ones {number(sheet.there)} in2"
        return Coverage(True, text, sheet, readings=readings)
    return Coverage(True, f"{text}: it holds {least_text(held)}", readings=readings)


def beside_text(held: tuple[Held, ...], one: Conductor, sheet: Worksheet | None, is_counted: bool) -> str:
    """What a marking does not cover: ``4 conductors up to #4/0``, by what makes it too much."""
    if sheet is not None and sheet.needed.is_finite():
        return f"{number(sheet.needed)} in2 of conductors: the marked ones take {number(sheet.there)} in2"
    thickest = max((each.area for each in held if each.area is not None), default=Decimal(0))
    if is_counted:
        return f"insulation that makes a conductor {number(thickest)} in2: the marked ones have {number(one.area)} in2"
    if any(each.is_cable for each in held):
        return "cable"
    return least_text(held)


def areas_sheet(marked: Wires, one: Conductor, held: tuple[Held, ...], space: Space, book: CodeBook) -> Worksheet:
    """The area of the marked conductors, and of those in the space. The areas of all of them are known."""
    terms = book[MARKING]
    assert marked.count is not UNKNOWN
    label = f"Marked for {write_group(marked)}"
    why = "" if marked.insulation else f"{terms.insulation}, as the marking names no insulation"
    sure = book.confidence(one.table, one.wire)
    there = Counted(NAME, label, exactly(marked.count), one.area, why, terms.cite, sure, unit=Unit.IN2)
    return Worksheet((there,), tuple([held_line(each, space, book) for each in held]), PURPOSE)


def held_line(each: Held, space: Space, book: CodeBook) -> Counted:
    """What like conductors or cables take, in2."""
    assert each.area is not None
    here = space.box.name
    if each.is_cable:
        terms = book[CABLE_IN_RACEWAY]
        why = f"{each.entering.run_name(here)}; a circle on its wider side"
        return Counted(NAME, "Cable", each.count, each.area, why, terms.cite, terms.confidence, unit=Unit.IN2)
    why = each.entering.own_name(here)
    if each.entering.insulation == "thickest":
        why += "; insulation not in the sheet: assumed the thickest"
    table = BARE_WIRES if each.entering.insulation == BARE else INSULATED_WIRES
    row = conductor_of(each.entering, book)
    sure = book.confidence(row.table, row.wire) if row else book.confidence(table)
    cite = book[row.table if row else table].cite
    label = f"Conductors, {size_text(each.size)}"
    return Counted(NAME, label, each.count, each.area, why, cite, sure, unit=Unit.IN2)


def bores_at(space: Space, book: CodeBook) -> tuple[Bore, ...]:
    """The bores of the raceways a conduit body or box is on: of the one its line names, else of those that come in;
    none where one is not known.
    """
    base = space.base
    if base is not None and base.raceway:
        row = bore_row(base.raceway, base.trade_size, book)
        return (row,) if row else ()
    lain_in = {raceway.name for each in space.entering for raceway in each.run.raceways if raceway.name}
    coming = [raceway for raceway in space.raceways if raceway.name in lain_in]
    rows = [None if raceway.size is UNKNOWN else bore_row(raceway.kind, str(raceway.size), book) for raceway in coming]
    return () if None in rows else tuple([row for row in rows if row is not None])


def raceway_fact(space: Space) -> OpenFact:
    """The fact to find out before a marking holds: which raceway it is on."""
    settles = "a marking holds only below the fill of that raceway"
    return OpenFact(f"the kind of raceway {space.subject} is on", Decimal(0), settles, space.box.at)


def missing_facts(missing: Iterable[Held], space: Space) -> Iterable[OpenFact]:
    """What has to be known of conductors and cables before their areas are."""
    for each in missing:
        run = each.entering.run_name(space.box.name)
        if each.is_cable:
            yield OpenFact(f"the width of {run}", Decimal(0), "its maker's data sheet says", each.entering.run.at)
        else:
            yield OpenFact(f"the insulation of {run}", Decimal(0), "such as thhn", each.entering.run.at)


__all__ = ["INSULATION_READING", "MARKING", "Coverage", "Marking", "coverage", "held_in", "least_text"]
