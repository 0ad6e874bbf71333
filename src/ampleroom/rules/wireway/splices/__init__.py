"""Splices and taps in a wireway or gutter."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Share, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, CABLE_IN_RACEWAY, COMPACT_WIRES, INSULATED_WIRES
from ampleroom.editions.tables import Table
from ampleroom.rules.raceway.fill import lying_line
from ampleroom.rules.registry import rule
from ampleroom.rules.wireway.fill import SectionFill
from ampleroom.rules.wireway.filled import ENDS, FilledWireway
from ampleroom.words import weighed_message
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

NAME = "wireway-splices"
PURPOSE = Purpose(NAME, Unit.IN2, "Allowed with splices", "Conductors, splices and taps")
WIREWAY = Table("wireways.splices", SectionFill, __file__)
GUTTER = Table("wireways.gutter_splices", SectionFill, __file__)


@rule(
    NAME,
    title="Splices and taps in a wireway",
    topic="finding",
    about="wireway",
    tables=(WIREWAY, GUTTER, INSULATED_WIRES, COMPACT_WIRES, BARE_WIRES, CABLE_IN_RACEWAY),
    readings=("unknown-ground",),
    ends={**ENDS, "cable conductors": "neither"},
)
def wireway_splices(filled: FilledWireway, book: CodeBook) -> Iterator[Finding]:
    """Splices and taps may lie in a wireway or gutter where they can be reached. With all conductors at that place they
    may fill 75 % of its inside; the conductors alone still keep to their own limit.

    Write what they take where they take most: `splices 6 in2`, or a tape held across them, `splices 2 x 3 in`. Where
    nothing is written and no run ends in it, none are assumed, and the answer says so. Where a run ends in it, it is
    spliced there, and how much that takes is asked.

    Why: A splice is many times as thick as its wires, and a cover pressed on one wears its insulation through.
    """
    if not filled.is_judged:
        return
    wireway, name = filled.wireway, filled.name
    terms = book[GUTTER if filled.is_gutter else WIREWAY]
    cite, sure = terms.cite, terms.confidence
    if wireway.splices == 0 and filled.subject.has_ends:
        question = f"whether the runs that end in {name} are spliced or tapped there"
        fact = OpenFact(question, Decimal(0), "write what the splices take, such as: splices 6 in2", wireway.at)
        message = f"{name}: its line says no splices, and runs end in it"
        yield Finding(NAME, Verdict.OPEN, name, message, cite, wireway.at, facts=(fact,), confidence=sure)
        return
    if filled.splices == 0 and wireway.splices == 0:
        message = f"{name} has no splices and no taps"
        yield Finding(NAME, Verdict.PASSES, name, message, cite, wireway.at, confidence=sure)
        return
    inside = Figure(NAME, f"Inside {name}", filled.area, Unit.IN2, filled.section)
    have = Share(NAME, f"With splices, {filled.section}", terms.percent, inside, "of its section inside", cite, sure)
    lines = [lying_line(each, book) for each in filled.lying if each.count]
    if filled.splices is None:
        message = f"{name}: assumes no splices and no taps"
        yield Finding(NAME, Verdict.PASSES, name, message, cite, wireway.at, confidence=sure)
        return
    splices = Figure(NAME, "Splices and taps", filled.splices, Unit.IN2, "where they take most")
    sheet = Worksheet((have,), (*lines, splices), PURPOSE)
    message = weighed_message(name, sheet.verdict, sheet)
    yield Finding(NAME, sheet.verdict, name, message, cite, wireway.at, worst=sheet, confidence=sure)
