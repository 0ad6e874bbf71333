"""The equipment ground of a circuit."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Figure, Line, Pick, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.grounding import EQUIPMENT, INCREASE, PATH, EquipmentRow
from ampleroom.editions.protection import CONTINUOUS, TERMINALS
from ampleroom.editions.resistance import RESISTANCE
from ampleroom.facts import End, Ends
from ampleroom.job.trade import RANK, SMALLEST_KCMIL, THINNEST_IN_PARALLEL, size_text
from ampleroom.quantities import number
from ampleroom.rules.circuit.grounds import is_old
from ampleroom.rules.circuit.heat import NoAmpacity, ampacity, from_table
from ampleroom.rules.circuit.protection import largest_breaker
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg, Piece
from ampleroom.rules.registry import rule
from ampleroom.worksheet import EQUIPMENT_GROUND as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict, Worksheet

NAME = PURPOSE.name
OTHER_WAY: dict[object, End] = {"small": "large", "large": "small", "neither": "neither"}
TRIED = ("breaker", "cable size")
"""Of these every value is tried: a larger breaker asks for a thicker ground, and lets conductors be as thick as they
are."""
ENDS: Ends = {
    **{field: OTHER_WAY[end] for field, end in OF_A_LEG.items() if field not in TRIED and end in OTHER_WAY},
    **dict.fromkeys(("ground", "ground size", "ground metal"), "small"),
}
"""What lets a wire carry less lets it be needed as thick as it is."""
READING, OF_SETS = "ground-base", "ground-base-sets"
ZERO, ONE, THOUSAND, HUNDRED = Decimal(0), Decimal(1), Decimal(1000), Decimal(100)


@rule(
    NAME,
    title="Equipment ground",
    topic="finding",
    about="circuit",
    tables=(EQUIPMENT, INCREASE, PATH, RESISTANCE),
    readings=(READING, OF_SETS),
    ends=ENDS,
)
def equipment_ground(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """An equipment ground is as thick as the table says for its breaker. Where the conductors are thicker than they
    need be, the ground grows with them, by circular mils; it need not be thicker than they are. One ground may serve
    all circuits of a raceway.

    Metal raceway, and armor made for it, is a ground without a wire. Flexible raceway is one only under terms no sheet
    says. New wiring has a ground; old wiring without one, or with a thin one, may stay and serves nothing new.

    Why: A ground too thin for the fault burns off before the breaker trips, and leaves metal live.
    """
    if not leg.size or (leg.circuit.serves == "dwelling" and leg.ground.kind in ("none", "unwritten")):
        return  # a service has none, and no line tells a service from a feeder: its reminder does
    if leg.ground.kind != "wire":
        yield without_a_wire(leg, book)
        return
    row = row_of(leg, book)
    if row is None:
        over = f"the table of grounds ends below {number(leg.breaker, 0)} A"
        yield open_finding(leg, f"{leg.title}: {over}", OpenFact(over, ZERO, "ask an engineer", leg.circuit.at), book)
        return
    try:
        sheets = worksheets(leg, row, book)
    except NoAmpacity as missing:
        fact = OpenFact(str(missing), ZERO, missing.remedy, leg.run.at)
        yield open_finding(leg, f"{leg.title}: {missing}", fact, book)
        return
    yield weighed(leg, sheets, book)


# ---- weighed -------------------------------------------------------------------------------------------------------


def weighed(leg: Leg, sheets: tuple[Worksheet, ...], book: CodeBook) -> Finding:
    """The finding on a ground wire: with its conductors as thick as they need be, and with all that may be spare of
    them counted as an increase.
    """
    worst, best = max(sheets, key=lambda sheet: sheet.needed), min(sheets, key=lambda sheet: sheet.needed)
    too_thin = is_old(leg.run) and not worst.passes
    verdict = Verdict.PASSES if worst.passes else Verdict.OPEN if best.passes or too_thin else Verdict.FAILS
    decides = best if verdict is Verdict.FAILS else worst
    need = decides.need[0]
    ground = leg.ground
    whose = f" ({ground.where})" if ground.where else ""
    it = f"{size_text(ground.size)}{' aluminum' if ground.metal == 'aluminum' else ''} ground{whose}"
    facts: tuple[OpenFact, ...] = ()
    if verdict is Verdict.PASSES:
        message = f"{leg.title} has enough ground: {it}, {needed_text(leg, need, book)}"
    elif verdict is Verdict.FAILS or too_thin:
        message = f"{leg.title} has too thin a ground: {it}, {needed_text(leg, need, book)}"
    else:
        message = f"{leg.title}: a {it} may be too thin: {needed_text(leg, need, book)}"
        remedy = "write the load of its circuit, and what its terminals are marked for: 9600 VA terminals 75 C"
        facts = (OpenFact(f"how thick the conductors of {leg.title} need be", ZERO, remedy, leg.circuit.at),)
    if too_thin:
        message = f"{message}. Existing wiring may stay; nothing new may be fed from it"
        facts = (old_fact(leg),)
    readings = tuple(dict.fromkeys(name for sheet in sheets for line in sheet.all_lines for name in line.readings))
    return Finding(
        NAME,
        verdict,
        leg.name,
        message,
        need.cite,
        leg.circuit.at,
        worst=worst,
        best=best if len({sheet.needed for sheet in sheets}) > 1 else None,
        facts=facts,
        also=tuple([run.at for run in leg.runs]),
        confidence=need.confidence,
        readings=readings,
    )


def needed_text(leg: Leg, need: Line, book: CodeBook) -> str:
    """``#12 or thicker behind 20 A``; where the conductors have grown, why."""
    sizes = sorted({row.size for row in book[RESISTANCE].rows}, key=RANK.__getitem__)
    least = next(size for size in sizes if circular_mils(size, book) >= need.amount)
    text = f"{size_text(least)} or thicker behind {number(leg.breaker, 0)} A"
    return f"{text}, {need.why}" if need.why else text


def worksheets(leg: Leg, row: EquipmentRow, book: CodeBook) -> tuple[Worksheet, ...]:
    """The ground against what is needed, for each size the conductors may need to be. Raises ``NoAmpacity``."""
    ground = leg.ground
    have = Figure(
        NAME, f"Ground {size_text(ground.size)}", circular_mils(ground.size, book), Unit.CIRCULAR_MIL, ground.where
    )
    bases = dict.fromkeys(needed_sizes(leg, book))
    return tuple([Worksheet((have,), (need_of(leg, row, base, book),), PURPOSE) for base in bases])


def need_of(leg: Leg, row: EquipmentRow, base: tuple[str, Decimal], book: CodeBook) -> Line:
    """What is needed where the conductors need be no thicker than ``base``, so many in parallel. Raises
    ``NoAmpacity``.
    """
    table, increase = book[EQUIPMENT], book[INCREASE]
    by_table = row.aluminum if leg.ground.metal == "aluminum" else row.copper
    sure = book.confidence(EQUIPMENT, row)
    label = f"{size_text(by_table)} behind {number(leg.breaker, 0)} A"
    plain = Figure(NAME, label, circular_mils(by_table, book), Unit.CIRCULAR_MIL, "", table.cite, sure)
    size, sets = base
    whole, needed = circular_mils(leg.size, book) * leg.sets, circular_mils(size, book) * sets
    line: Line = plain
    if whole > needed:
        times, fewer = (f"{number(each, 0)} x " if each > ONE else "" for each in (leg.sets, sets))
        why = f"as its conductors are {times}{size_text(leg.size)} where {fewer}{size_text(size)} would do"
        from fractions import Fraction  # only now: few wires are thicker than their load needs

        ratio = Fraction(int(whole), int(needed))
        label = f"{label}, times {number(whole, 0)}/{number(needed, 0)}"
        readings = (READING, OF_SETS) if leg.sets > ONE else (READING,)
        line = Counted(
            NAME, label, ratio, plain.amount, why, increase.cite, increase.confidence, readings, Unit.CIRCULAR_MIL
        )
    conductor = circular_mils(leg.size, book)
    if conductor < line.amount:
        label = f"Conductors {size_text(leg.size)}"
        most = Figure(NAME, label, conductor, Unit.CIRCULAR_MIL, "never thicker than they are", increase.cite)
        line = Pick(
            *(NAME, "Ground needed", "least", (line, most), "as thick as its conductors", increase.cite),
            confidence=increase.confidence,
        )
    return line


def row_of(leg: Leg, book: CodeBook) -> EquipmentRow | None:
    """The row of the table for its breaker; None where it ends below."""
    return next((row for row in book[EQUIPMENT].rows if leg.breaker <= row.up_to), None)


def circular_mils(size: str, book: CodeBook) -> Decimal:
    """The section of a conductor, circular mils. Raises ``NoAmpacity`` for one in no table."""
    row = next((row for row in book[RESISTANCE].rows if row.size == size), None)
    if row is not None:
        return row.circular_mils
    if size.isdigit() and int(size) >= SMALLEST_KCMIL:
        return Decimal(size) * THOUSAND
    raise NoAmpacity(f"the table has no section of a {size_text(size)} conductor")


# ---- the size that would do ----------------------------------------------------------------------------------------


def needed_sizes(leg: Leg, book: CodeBook) -> Iterator[tuple[str, Decimal]]:
    """The thinnest conductors that would do, and how many in parallel: one size, or several where the sheet leaves open
    what they must carry.
    """
    if leg.circuit.horsepower or (leg.by_nameplate and leg.circuit.mca is None):
        yield leg.size, leg.sets  # its nameplate decides, and is not looked at here
        return
    in_place = book[INCREASE].where_it_lies and book.reading(READING) == "by-edition"
    sets = ONE if book.reading(OF_SETS) == "one-conductor" else leg.sets
    if not in_place:
        leg = leg._replace(pieces=(Piece("", None, ZERO, False),))
    loads = [leg.load] if leg.load is not None and leg.load.is_finite() else [None, leg.breaker]
    for load in loads:
        for terminals in columns(leg, book):
            tried = leg._replace(sets=sets, terminals=terminals, load=load)
            yield thinnest(tried, leg, book), sets


def columns(leg: Leg, book: CodeBook) -> tuple[Decimal, ...]:
    """The columns that terminals of thinner conductors may allow, where only the thickness of these decided it."""
    terms = book[TERMINALS]
    by_size = leg.breaker <= terms.small_amperes and RANK[leg.size] > RANK[terms.small_size]
    return (terms.small, terms.large) if by_size and leg.circuit.terminals is None else (leg.terminals,)


def thinnest(tried: Leg, leg: Leg, book: CodeBook) -> str:
    """The thinnest size that would carry the load of a leg behind its breaker; its own where none does."""
    same, thinnest_allowed = tried.sets == leg.sets, RANK[THINNEST_IN_PARALLEL] if tried.sets > ONE else 0
    for row in sorted(book[AMPACITY].rows, key=lambda row: RANK[row.size]):
        if row.material != leg.run.material or RANK[row.size] < thinnest_allowed:
            continue
        if same and RANK[row.size] >= RANK[leg.size]:
            break
        if would_do(tried._replace(size=row.size), book):
            return row.size
    return leg.size


def would_do(leg: Leg, book: CodeBook) -> bool:
    """Whether a leg would carry its load, and be protected by its breaker."""
    try:
        carries = ampacity(NAME, leg, book)
        at_ends = from_table(NAME, leg, leg.terminals, book).amount
    except NoAmpacity:
        return False
    if leg.circuit.mca is not None:
        return carries.amount >= leg.circuit.mca
    load = leg.load or ZERO
    lasting = load * book[CONTINUOUS].percent / HUNDRED if leg.circuit.continuous else load
    is_protected = largest_breaker(leg, carries, book).amount >= leg.breaker
    return is_protected and carries.amount >= load and at_ends >= lasting


# ---- no wire -------------------------------------------------------------------------------------------------------


def without_a_wire(leg: Leg, book: CodeBook) -> Finding:
    """The finding on a leg without a ground wire."""
    kind, path = leg.ground.kind, book[PATH]
    row = row_of(leg, book)
    size = f", {size_text(row.copper)} copper or thicker behind {number(leg.breaker, 0)} A" if row is not None else ""
    if kind in ("raceway", "armor"):
        if kind == "armor" and is_old(leg.run):
            fact = OpenFact(
                f"whether a bonding strip lies under the armor of {leg.wires}", ZERO, "look in the cut end", leg.run.at
            )
            text = f"{leg.title}: old armored cable without a bonding strip is no ground"
            return open_finding(leg, text, fact, book, path.cite, path.confidence)
        ground = f"its raceway is its ground ({leg.ground.where})" if kind == "raceway" else "its armor is its ground"
        at = leg.circuit.at
        return Finding(
            *(NAME, Verdict.PASSES, leg.name, f"{leg.title}: {ground}", path.cite, at),
            also=tuple([run.at for run in leg.runs]),
            confidence=path.confidence,
        )
    if kind == "flexible":
        text = f"{leg.title}: flexible raceway may be the ground, or not ({leg.ground.where})"
        remedy = f"pull a ground with it{size}; else its length, fittings and breaker decide"
        fact = OpenFact(f"whether {leg.ground.where} may be the ground of {leg.name}", ZERO, remedy, leg.run.at)
        return open_finding(leg, text, fact, book, path.cite, path.confidence)
    if is_old(leg.run):
        text = f"{leg.title} has no ground. Existing wiring may stay; nothing new may be fed from it"
        return open_finding(leg, text, old_fact(leg), book)
    if kind == "unwritten":
        text = f"{leg.title}: no ground is written, and its raceway is none"
        fact = OpenFact(f"the ground of {leg.title}", ZERO, f"write it after the wires{size}", leg.run.at)
        return open_finding(leg, text, fact, book)
    text = f"{leg.title} has no ground; new wiring needs one{size}"
    at = leg.circuit.at
    return Finding(
        *(NAME, Verdict.FAILS, leg.name, text, book[EQUIPMENT].cite, at),
        also=tuple([run.at for run in leg.runs]),
        confidence=book[EQUIPMENT].confidence,
    )


def old_fact(leg: Leg) -> OpenFact:
    """What to find out about old wiring without a good ground."""
    question = f"whether anything new is fed from {leg.wires}"
    return OpenFact(question, ZERO, "then run a ground that fits, or new cable", leg.run.at)


def open_finding(
    leg: Leg, message: str, fact: OpenFact, book: CodeBook, cite: str = "", confidence: str = ""
) -> Finding:
    """A finding that needs a check."""
    return Finding(
        *(NAME, Verdict.OPEN, leg.name, message, cite or book[EQUIPMENT].cite, leg.circuit.at),
        facts=(fact,),
        also=tuple([run.at for run in leg.runs]),
        confidence=confidence or book[EQUIPMENT].confidence,
    )
