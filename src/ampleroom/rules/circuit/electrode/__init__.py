"""The conductor from a service to its grounding electrode."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Line, Pick, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.grounding import ELECTRODE, ElectrodeRow
from ampleroom.editions.resistance import RESISTANCE
from ampleroom.facts import Ends
from ampleroom.job.model import Electrode
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.rules.circuit.ground import circular_mils
from ampleroom.rules.circuit.heat import NoAmpacity
from ampleroom.rules.circuit.weighed import asked
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import ZERO, Leg
from ampleroom.rules.registry import rule
from ampleroom.words import ELECTRODE_ENOUGH, ELECTRODE_RING, ELECTRODE_THIN
from ampleroom.worksheet import ELECTRODE_CONDUCTOR as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict, Worksheet

NAME = PURPOSE.name
ENDS: Ends = {**dict.fromkeys(OF_A_LEG, "neither"), "cable size": "large", "wire size": "large", "run count": "large"}
"""The thicker the wires of the service, the thicker the conductor."""
DRIVEN = ("rod", "pipe", "plate")
NAMES = {"water": "water pipe", "steel": "building steel", "concrete": "concrete-encased electrode"}
ALL = "all"
"""In the table: of whatever size."""


@rule(
    NAME,
    title="Grounding electrode conductor",
    topic="finding",
    about="circuit",
    tables=(ELECTRODE, RESISTANCE),
    ends=ENDS,
)
def electrode_conductor(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """The conductor to a grounding electrode is as thick as the table says for the largest wire of its service; of
    wires in parallel for all of a phase together. One that goes to nothing but a rod, a pipe or a plate need not be
    thicker than #6 copper or #4 aluminum, to nothing but an electrode encased in concrete than #4 copper, to a ring
    than the ring itself.

    A conductor that goes on to another electrode is as thick as that one asks for. Its splices, its protection and its
    bonding jumpers are not looked at.

    Why: Lightning, and a fault of the utility's line, go to earth by it; one too thin burns off.
    """
    for electrode in leg.circuit.electrodes:
        yield to_electrode(leg, electrode, book)


def to_electrode(leg: Leg, electrode: Electrode, book: CodeBook) -> Finding:
    """The finding on one electrode."""
    terms, name = book[ELECTRODE], NAMES.get(electrode.kind, electrode.kind)
    service = largest(leg)
    try:
        if not service:
            raise NoAmpacity(f"the size of {leg.wires} is not written", "write it")
        row = row_for(leg, service, book)
        by_table: str = getattr(row, electrode.material)
        wires = f"{size_text(service)} {leg.run.material}" + (f", {leg.sets} in parallel" if leg.sets > 1 else "")
        cite, sure = terms.cite, book.confidence(ELECTRODE, row)
        need: Line = section(f"{size_text(by_table)} for {wires}", by_table, book, cite, sure)
        enough, most = by_table, alone(electrode, book)
        if most and RANK[most] < RANK[by_table]:
            other = section(f"{size_text(most)}, to nothing but the {name}", most, book, cite, terms.confidence)
            need, enough = Pick(NAME, "Needed", "least", (need, other), "", cite, terms.confidence), most
        metal = "" if electrode.material == "copper" else " aluminum"
        if electrode.size is UNKNOWN:
            question = f"the size of its conductor to the {name} is not written"
            return asked(NAME, leg, question, f"passes if {size_text(enough)}{metal} or thicker", cite)
        have = section(f"{size_text(electrode.size)} to the {name}", electrode.size, book)
    except NoAmpacity as missing:
        return asked(NAME, leg, str(missing), missing.remedy, terms.cite)
    is_ring = electrode.kind == "ring"
    sheet = Worksheet((have,), (need,), PURPOSE, Verdict.OPEN if is_ring else Verdict.FAILS)
    sentence = ELECTRODE_ENOUGH if sheet.passes else ELECTRODE_RING if is_ring else ELECTRODE_THIN
    message = sentence.format(leg.name, f"{size_text(electrode.size)}{metal}", name, f"{size_text(enough)}{metal}")
    remedy = "the conductor is as thick as the ring: it passes"
    facts = () if sheet.passes or not is_ring else (OpenFact("how thick the ring is", ZERO, remedy, electrode.at),)
    return Finding(
        NAME,
        sheet.verdict,
        leg.name,
        message,
        terms.cite,
        leg.circuit.at,
        worst=sheet,
        facts=facts,
        also=tuple([run.at for run in leg.runs]),
        confidence=need.confidence,
    )


def section(label: str, size: str, book: CodeBook, cite: str = "", confidence: str = "two sources") -> Figure:
    """The circular mils of a size as a line. Raises ``NoAmpacity`` for one in no table."""
    return Figure(NAME, label, circular_mils(size, book), Unit.CIRCULAR_MIL, "", cite, confidence)


def largest(leg: Leg) -> str:
    """The size of its thickest insulated conductors: a neutral may be thinner; empty where one is not written."""
    if leg.run.cable is not None:
        return leg.size
    sizes = [group.size for group in leg.run.wires if group.role == "insulated"]
    known = [size for size in sizes if size is not UNKNOWN]
    return max(known, key=RANK.__getitem__, default="") if len(known) == len(sizes) else ""


def row_for(leg: Leg, service: str, book: CodeBook) -> ElectrodeRow:
    """The row of the table for the wires of a service, those of a phase together. Raises ``NoAmpacity``."""
    mils = circular_mils(service, book) * leg.sets
    column = "aluminum_up_to" if leg.run.material == "aluminum" else "copper_up_to"
    rows = book[ELECTRODE].rows
    for row in rows:
        up_to: str = getattr(row, column)
        if up_to == ALL or mils <= circular_mils(up_to, book):
            return row
    return rows[-1]


def alone(electrode: Electrode, book: CodeBook) -> str:
    """The size that is enough to nothing but this electrode; empty where the table has none."""
    terms = book[ELECTRODE]
    if electrode.kind in DRIVEN:
        return terms.rod_aluminum if electrode.material == "aluminum" else terms.rod_copper
    return terms.encased_copper if electrode.kind == "concrete" and electrode.material == "copper" else ""
