"""The bending space of conductors that turn in a wireway or gutter."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.trade import RANK, size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.rules.box.pull_box.distances import OPPOSITE_COVER, bending_space
from ampleroom.rules.raceway.sizes import BARE
from ampleroom.rules.registry import rule
from ampleroom.rules.wireway.filled import ENDS as FILL_ENDS
from ampleroom.rules.wireway.filled import FilledWireway
from ampleroom.worksheet import Finding, OpenFact, Purpose, Verdict, Worksheet

NAME = "wireway-bending"
PURPOSE = Purpose(NAME, Unit.INCH, "Inside, where conductors turn", "Least bending space")
WIREWAY = Table("wireways.bending", Cited, __file__)
GUTTER = Table("wireways.gutter_bending", Cited, __file__)
LEANS_ON = ("wires count", "run count", "wire size", "cable size", "ground size", "insulation")


@rule(
    NAME,
    title="Bending space in a wireway",
    topic="finding",
    about="wireway",
    tables=(WIREWAY, GUTTER, OPPOSITE_COVER),
    ends={field: end if field in LEANS_ON else "neither" for field, end in FILL_ENDS.items()},
)
def wireway_bending(filled: FilledWireway, book: CodeBook) -> Iterator[Finding]:
    """Where insulated conductors turn in a wireway or gutter, at an end or where they come in or leave by a side, it is
    as wide across as the bending space of the thickest of them, one wire to a terminal. #10 and smaller have none.

    A wireway whose narrow side is wide enough passes whichever way they turn. Else write how they run: `straight` for
    straight through from end to end, or the side they turn across, `turns across 6 in`.

    Why: A thick conductor bent tighter cracks its insulation, and springs back against the cover.
    """
    thickest = thickest_of(filled)
    spaces = {row.size: row.space for row in book[OPPOSITE_COVER].rows}
    if not filled.is_judged or not thickest or RANK[thickest] < min(RANK[size] for size in spaces):
        return
    wireway, name = filled.wireway, filled.name
    terms = book[GUTTER if filled.is_gutter else WIREWAY]
    cite, sure = terms.cite, terms.confidence
    if wireway.turn == 0:
        message = f"{name}: its conductors go straight through, so they need no bending space"
        yield Finding(NAME, Verdict.PASSES, name, message, cite, wireway.at, confidence=sure)
        return
    space = bending_space(thickest, spaces)
    known = [side for side in wireway.inside if side is not UNKNOWN]
    is_known = len(known) == len(wireway.inside)
    across = wireway.turn if wireway.turn is not None else min(known) if is_known else None
    if across is not None and (wireway.turn is not None or across >= space):
        why = (
            "the side they turn across"
            if wireway.turn is not None
            else "its narrow side: enough whichever way they turn"
        )
        have = Figure(NAME, f"Inside {name}", across, Unit.INCH, why)
        need = Figure(
            NAME, f"{size_text(thickest)}, the thickest in it", space, Unit.INCH, "one wire to a terminal", cite, sure
        )
        sheet = Worksheet((have,), (need,), PURPOSE)
        message = f"{name} is {inches(across)} inside, and {size_text(thickest)} that turns needs {inches(space)}"
        yield Finding(NAME, sheet.verdict, name, message, cite, wireway.at, worst=sheet, confidence=sure)
        return
    message = f"{name} holds {size_text(thickest)}, which needs {inches(space)} where it turns"
    yield Finding(
        NAME, Verdict.OPEN, name, message, cite, wireway.at, facts=(turn_fact(filled, space),), confidence=sure
    )


def thickest_of(filled: FilledWireway) -> str:
    """The thickest insulated conductor in it, in a cable or not; empty for none."""
    sizes = [each.size for each in filled.lying if each.count and each.insulation != BARE and each.size in RANK]
    return max(sizes, key=RANK.__getitem__, default="")


def turn_fact(filled: FilledWireway, space: Decimal) -> OpenFact:
    """What to find out where the sheet does not say which way conductors turn, or how wide the trough is."""
    wireway, name = filled.wireway, filled.name
    known = [side for side in wireway.inside if side is not UNKNOWN]
    if len(known) < len(wireway.inside):
        question = f"how wide {name} is inside, both ways"
        settles = f"passes if {inches(space)} or more both ways"
    else:
        question = f"which way the conductors of {name} turn where they come in and leave"
        settles = "passes if they go straight through: write straight"
        if max(known) >= space:
            settles += f"; or if they turn across the {inches(max(known))} side: write turns across {max(known):f} in"
        else:
            settles += "; else it is too narrow"
    return OpenFact(question, Decimal(0), settles, wireway.at)
