"""How full a wireway or gutter may be."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, CABLE_IN_RACEWAY, COMPACT_WIRES, INSULATED_WIRES
from ampleroom.editions.tables import Table
from ampleroom.record import Record
from ampleroom.rules.raceway.fill import lying_line
from ampleroom.rules.registry import rule
from ampleroom.rules.wireway.filled import ENDS, FilledWireway
from ampleroom.words import weighed_message
from ampleroom.worksheet import WIREWAY_FILL as PURPOSE
from ampleroom.worksheet import Finding, OpenFact, Verdict, Worksheet

NAME = PURPOSE.name


class SectionFill(Record):
    """The most of a section that may be filled, in percent."""

    cite: str
    confidence: str
    percent: Decimal


WIREWAY = Table("wireways.fill", SectionFill, __file__)
GUTTER = Table("wireways.gutter_fill", SectionFill, __file__)


@rule(
    NAME,
    title="Wireway and gutter fill",
    topic="finding",
    about="wireway",
    tables=(WIREWAY, GUTTER, INSULATED_WIRES, COMPACT_WIRES, BARE_WIRES, CABLE_IN_RACEWAY),
    readings=("unknown-ground",),
    ends={**ENDS, "splice area": "neither", "cable conductors": "neither"},
)
def wireway_fill(filled: FilledWireway, book: CodeBook) -> Iterator[Finding]:
    """All conductors at any place of a metal wireway or auxiliary gutter may fill 20 % of its inside: grounds, spares
    and control wires too. No count is rounded up, and a short one gets no more.

    Runs count that lie in it (`in W1`), end in it, pass it, or lie in a raceway that ends at it. All of them are taken
    to lie side by side somewhere. Where they do not, write it as two: W1 and W2.

    Why: Conductors in a trough shed heat into the air around them, and somebody has to lay in the next one.
    """
    wireway, name = filled.wireway, filled.name
    terms = book[GUTTER if filled.is_gutter else WIREWAY]
    if not filled.lying:
        fact = OpenFact(f"what lies in {name}", Decimal(0), "no run or wires come into it", wireway.at)
        yield Finding(NAME, Verdict.OPEN, name, f"{name} has nothing in it yet", terms.cite, wireway.at, facts=(fact,))
        return
    if wireway.nonmetallic:
        fact = OpenFact(f"what the code allows in {name}", Decimal(0), "ask your authority", wireway.at)
        message = f"{name} is nonmetallic: only metal wireways and gutters are judged here"
        yield Finding(NAME, Verdict.OPEN, name, message, "", wireway.at, facts=(fact,))
        return
    need = tuple([lying_line(each, book) for each in filled.lying if each.count])
    inside = Figure(NAME, f"Inside {name}", filled.area, Unit.IN2, filled.section)
    label = f"{'Gutter' if filled.is_gutter else 'Wireway'}, {filled.section}"
    have = Share(NAME, label, terms.percent, inside, "of its section inside", terms.cite, terms.confidence)
    sheet = Worksheet((have,), need, PURPOSE)
    verdict = sheet.verdict
    yield Finding(
        NAME,
        verdict,
        name,
        weighed_message(name, verdict, sheet),
        terms.cite,
        wireway.at,
        worst=sheet,
        confidence=terms.confidence,
    )
