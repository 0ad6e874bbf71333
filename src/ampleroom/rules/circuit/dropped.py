"""What a circuit loses in its wires, from its panel to every end of it.

Ohms, volts and amperes are decimals of 28 digits; they are rounded once, where a worksheet is made of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import ROUND_UP, Decimal
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.editions.resistance import (
    IMPEDANCE,
    RESISTANCE,
    TEMPERATURE,
    TRADE_CONSTANTS,
    ImpedanceRow,
    ResistanceRow,
)
from ampleroom.facts import Ends
from ampleroom.job.graph import Branch
from ampleroom.job.model import Circuit, Run
from ampleroom.job.trade import ARMORED_CABLES, METAL_RACEWAYS, RANK, THREE_PHASE, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import HUNDREDTH, ROOT_3, THOUSAND, number
from ampleroom.record import TupleRecord
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import ZERO, Subject, Wiring, run_text
from ampleroom.rules.runs_at_box import name_of

TWO = Decimal(2)
READING = "drop-by"
OF_RESISTANCE = (RESISTANCE, IMPEDANCE, TRADE_CONSTANTS, TEMPERATURE)
"""The tables a drop is worked out by."""
BEARS = ("cable size", "wire size", "neutral")
ENDS: Ends = {field: end if field in BEARS else "neither" for field, end in OF_A_LEG.items()}
"""A thicker wire never loses more. Neither heat nor company nor the breaker bears on it."""


class Wire(TupleRecord):
    """All of a conductor that bears on its resistance."""

    material: str
    size: str
    sets: Decimal
    """So many in parallel."""
    conduit: str
    """``pvc``, ``aluminum`` or ``steel``: what lies around it; of open cable what loses as much."""


class Ohms(TupleRecord):
    """The ohms of 1,000 feet of a wire, and how that is told and where it stands."""

    amount: Decimal
    text: str
    """``1.98 ohms in 1,000 ft``"""
    cite: str
    confidence: str


class Span(TupleRecord):
    """A branch of the circuit, or several in a row along one run."""

    run: Run
    before: int | None
    """The number of the span it goes on from; None: it begins at the panel."""
    end: str
    """The place it leads to."""
    feet: Decimal
    """One way; 0 where the span before is of the same run and has its length, and where nobody wrote it."""
    wire: Wire


class CircuitDrop(TupleRecord):
    """A circuit with its load, and the spans from its panel to all its ends."""

    circuit: Circuit
    name: str
    """``circuit 3``."""
    volts: Decimal
    volts_why: str
    amperes: Decimal
    """0 where nobody wrote a load."""
    load_why: str
    placed: tuple[Decimal, ...]
    """The amperes of the load at the end of each span, where its place is written; empty where none is."""
    rest: Decimal
    """The amperes whose place is not written: all of them where no load has a place."""
    spans: tuple[Span, ...]
    """Those near the panel first."""
    gaps: tuple[str, ...]
    """What is not written, without which nothing can be said for certain: ``the length of 12/2 nm-b, P > J1``."""
    feeds: str
    """The panel at its end, for a feeder; empty for a branch circuit."""
    feeder: CircuitDrop | None
    """The circuit that feeds its panel; None where none of the sheet does."""

    @property
    def conductors(self) -> Decimal:
        """By how many conductors its drop is that of one: 2 for one phase, out and back, the root of 3 for three."""
        return ROOT_3 if self.circuit.phases == THREE_PHASE else TWO

    @property
    def before(self) -> list[int | None]:
        """Of each span the number of the one before."""
        return [span.before for span in self.spans]

    def ohms(self, book: CodeBook, least: str = "") -> list[Decimal]:
        """Of each span, one way; ``least``: with no wire thinner than that. 0 where the tables have none."""
        of_1000: dict[int, Decimal] = {}  # by identity: runs alike share one record
        every: list[Decimal] = []
        for span in self.spans:
            wire = span.wire
            amount = of_1000.get(id(wire))
            if amount is None:
                amount = of_1000[id(wire)] = known_ohms(wire, least, book) / THOUSAND
            every.append(amount * span.feet)
        return every

    @property
    def carried(self) -> list[Decimal]:
        """The amperes in each span: all that is placed beyond it, and what has no place, as if it were beyond too."""
        placed = currents(self.before, self.placed) if self.placed else [ZERO] * len(self.spans)
        return [amperes + self.rest for amperes in placed]

    @property
    def flows(self) -> list[Decimal]:
        """The amperes in each span, times the conductors by which a drop counts: volts lost for an ohm of it."""
        conductors = self.conductors
        return [amperes * conductors for amperes in self.carried]

    def at_ends(self, book: CodeBook, least: str = "") -> list[Decimal]:
        """The volts lost at the end of each span: each load where it is, and what has no place as if it were there."""
        if not self.amperes:
            return [ZERO] * len(self.spans)
        return drops(self.before, self.flows, self.ohms(book, least))

    def farthest(self, book: CodeBook) -> int:
        """The number of the span whose end loses most; -1 where there is none."""
        lost = self.at_ends(book)
        return max(range(len(lost)), key=lost.__getitem__, default=-1)

    def way_to(self, index: int) -> list[int]:
        """The numbers of the spans from the panel to the end of one."""
        way: list[int] = []
        at: int | None = index
        while at is not None and at >= 0:
            way.append(at)
            at = self.spans[at].before
        return way[::-1]


# ---- the network ---------------------------------------------------------------------------------------------------


def currents(before: Sequence[int | None], loads: Sequence[Any]) -> list[Any]:
    """What each branch of a tree carries: the load at its end, and all that its further branches carry.

    ``before``: of each branch the number of the one it goes on from, None at the source; a branch comes after that.
    """
    carried = list(loads)
    for index in range(len(before) - 1, -1, -1):
        earlier = before[index]
        if earlier is not None:
            carried[earlier] += carried[index]
    return carried


def drops(before: Sequence[int | None], carried: Sequence[Any], ohms: Sequence[Any]) -> list[Any]:
    """What is lost from the source to the end of each branch of a tree: volts, from amperes and ohms."""
    lost: list[Any] = []
    for earlier, amperes, resistance in zip(before, carried, ohms, strict=True):
        own = amperes * resistance
        lost.append(own if earlier is None else lost[earlier] + own)
    return lost


# ---- ohms ----------------------------------------------------------------------------------------------------------


def resistances(book: CodeBook) -> dict[str, list[ResistanceRow]]:
    """The rows against direct current, by size."""
    rows: dict[str, list[ResistanceRow]] = {}
    for row in book[RESISTANCE].rows:
        rows.setdefault(row.size, []).append(row)
    return rows


def impedances(book: CodeBook) -> dict[str, ImpedanceRow]:
    """The rows against alternating current, by size."""
    return {row.size: row for row in book[IMPEDANCE].rows}


def by_resistance(wire: Wire, book: CodeBook) -> Ohms | None:
    """By the table against direct current: of solid and stranded, uncoated wire that with more."""
    rows = book.once(resistances).get(wire.size, [])
    if not rows:
        return None
    row = max(rows, key=lambda row: row.copper)
    amount: Decimal = getattr(row, wire.material)
    return Ohms(amount, in_1000_feet(amount), book[RESISTANCE].cite, book.confidence(RESISTANCE, row))


def by_impedance(wire: Wire, book: CodeBook) -> Ohms | None:
    """By the effective impedance of the table against alternating current; of a size that is not in it by that of the
    next thinner one. None where that is not in it either, or no size is known.
    """
    column = f"z_{wire.material}_{wire.conduit}"
    rows = book.once(impedances) if wire.size else {}
    thinner = [size for size in rows if RANK[size] <= RANK[wire.size] and getattr(rows[size], column) is not None]
    size = max(thinner, key=RANK.__getitem__, default="")
    if not size:
        return None
    row = rows[size]
    amount: Decimal = getattr(row, column)
    text = f"{in_1000_feet(amount)} at a power factor of {book[IMPEDANCE].power_factor}"
    if size != wire.size:
        text += f", those of {size_text(size)}"
    return Ohms(amount, text, book[IMPEDANCE].cite, book.confidence(IMPEDANCE, row))


def by_constant(wire: Wire, book: CodeBook) -> Ohms | None:
    """By the constant of the trade and the circular mils of the wire."""
    rows, terms = book.once(resistances).get(wire.size, []), book[TRADE_CONSTANTS]
    if not rows:
        return None
    constant: Decimal = getattr(terms, wire.material)
    mils = rows[0].circular_mils
    text = f"K {constant}, {number(mils, 0)} circular mils"
    return Ohms(constant * THOUSAND / mils, text, terms.cite, terms.confidence)


def in_1000_feet(amount: Decimal) -> str:
    """``1.98 ohms in 1,000 ft``."""
    return f"{number(amount, 0)} ohms in 1,000 ft"


BY: dict[str, tuple[Callable[[Wire, CodeBook], Ohms | None], ...]] = {
    "larger": (by_resistance, by_impedance),
    "resistance": (by_resistance,),
    "impedance": (by_impedance,),
    "trade-constant": (by_constant,),
}
"""How each choice of the reading works out the ohms of a wire; of several ways the one that gives more counts."""


def ohms_of(wire: Wire, book: CodeBook) -> Ohms | None:
    """The ohms of 1,000 feet of one conductor as the sheet reads them; without an impedance by the resistance. None
    where no table has the size.
    """
    found = [ohms for by in BY[book.reading(READING)] if (ohms := by(wire, book)) is not None]
    return max(found, key=lambda ohms: ohms.amount) if found else by_resistance(wire, book)


def known_ohms(wire: Wire, least: str, book: CodeBook) -> Decimal:
    """The ohms of 1,000 feet, of parallel sets together; 0 where no table has the size. ``least``: of no thinner
    wire.
    """
    is_thick = not least or not wire.size or RANK[wire.size] >= RANK[least]
    ohms = ohms_of(wire if is_thick else wire._replace(size=least), book)
    return ohms.amount / wire.sets if ohms is not None else ZERO


# ---- the circuit ---------------------------------------------------------------------------------------------------


def dropped(wiring: Wiring, seen: tuple[str, ...] = ()) -> CircuitDrop:
    """A circuit as a drop is worked out along it, and the feeders before it; ``seen``: circuits it feeds itself."""
    circuit, graph = wiring.circuit, wiring.graph
    tree = graph.tree(circuit.name)
    gaps: dict[str, None] = {}
    volts, whence = wiring.volts
    amperes, how = (None, "") if circuit.load is UNKNOWN else wiring.load()
    if amperes is None:
        gaps[f"the load of {wiring.subject.name}"] = None
    if tree.source is None:
        gaps[f"which panel feeds {wiring.subject.name}"] = None
    else:
        gaps |= {f"what joins {run_text(run)} to {tree.source}": None for run in tree.apart if not run.low_voltage}
    branches = (*tree.branches, *tree.back)
    spans = tuple(spans_of(wiring, branches, gaps))
    if wiring.subject.disagree:
        gaps[f"which load of {wiring.subject.name} is right, that of its line or that of its places"] = None
    placed = placed_of(wiring, branches)
    rest = amperes or ZERO
    if placed:
        least = wiring.placed or ZERO
        total = least if circuit.load is None or circuit.load is UNKNOWN else max(least, circuit.load)
        amperes = amperes or (total / wiring.divisor).quantize(HUNDREDTH, ROUND_UP)
        rest = total / wiring.divisor - sum(placed)
    feeds = next((span.end for span in spans if graph.feeders.get(span.end) == circuit), "")
    return CircuitDrop(
        circuit,
        wiring.subject.name,
        Decimal(volts),
        whence.removeprefix(", "),
        amperes or ZERO,
        how,
        placed,
        rest,
        spans,
        tuple(gaps),
        feeds,
        feeder_of(wiring, tree.source, (*seen, circuit.name.casefold())),
    )


def placed_of(wiring: Wiring, branches: tuple[Branch, ...]) -> tuple[Decimal, ...]:
    """The amperes of the load at the end of each branch; empty where none is written. A run has its load at its last
    place; one written towards the panel at its first.
    """
    ends: dict[int, int] = {}
    for index, branch in enumerate(branches):
        if branch.run.load is not None and branch.end in (0, len(branch.run.stops) - 1):
            if branch.end:
                ends[id(branch.run)] = index
            else:
                ends.setdefault(id(branch.run), index)
    if not ends:
        return ()
    placed = [ZERO] * len(branches)
    for index in ends.values():
        placed[index] += (branches[index].run.load or ZERO) / wiring.divisor
    return tuple(placed)


def feeder_of(wiring: Wiring, panel: str | None, seen: tuple[str, ...]) -> CircuitDrop | None:
    """The circuit that feeds a panel, worked out in the same way; None where the sheet has none."""
    circuit = wiring.graph.feeders.get(panel) if panel is not None else None
    if circuit is None or circuit.name.casefold() in seen:
        return None
    subject = Subject(circuit, wiring.graph.runs_of.get(circuit.name.casefold(), ()))
    return dropped(Wiring(subject, wiring.graph, wiring.book, wiring.assumption), seen)


def spans_of(wiring: Wiring, branches: tuple[Branch, ...], gaps: dict[str, None]) -> Iterator[Span]:
    """The spans of a circuit; what is not known of them is put into ``gaps``. A run with several stops has its whole
    length in the first of its spans: where along it they lie, no sheet says.
    """
    wires: dict[int, Wire] = {}
    kinds: dict[Wire, tuple[Wire, bool]] = {}
    for branch in branches:
        run = branch.run
        wire = wires.get(id(run))
        is_written = isinstance(run.length, Decimal)
        if wire is None:
            new = wire_of(wiring, run)
            if new not in kinds:
                kinds[new] = (new, ohms_of(new, wiring.book) is not None)
            wire, has_ohms = kinds[new]
            wires[id(run)] = wire
            if not is_written:
                gaps[f"the length of {run_text(run)}"] = None
            if not has_ohms:
                gaps[f"the resistance of {run_text(run)}"] = None
        goes_on = branch.before is not None and branches[branch.before].run is run
        feet = run.length if isinstance(run.length, Decimal) and not goes_on else ZERO
        yield Span(run, branch.before, name_of(branch.end_stop), feet, wire)


def wire_of(wiring: Wiring, run: Run) -> Wire:
    """What of a run bears on its resistance: its thinnest conductors."""
    size = wiring.size(run)
    return Wire(run.material, size, wiring.sets(run, size), conduit_of(wiring, run))


def conduit_of(wiring: Wiring, run: Run) -> str:
    """What lies around its conductors. Metal is taken to be steel, in which they lose most; no sheet says which."""
    raceways = wiring.graph.raceways
    kinds = [raceways[each.name].kind if each.name in raceways else each.kind for each in run.raceways]
    if run.cable is not None:
        kinds.append(run.cable.kind)
    is_metal = any(kind.split("-")[0] in (*METAL_RACEWAYS, *ARMORED_CABLES) for kind in kinds)
    return "steel" if is_metal or any(each.name in wiring.graph.wireways for each in run.raceways) else "pvc"


__all__ = [
    "BY",
    "ENDS",
    "OF_RESISTANCE",
    "READING",
    "CircuitDrop",
    "Ohms",
    "Span",
    "Wire",
    "currents",
    "dropped",
    "drops",
    "ohms_of",
]
