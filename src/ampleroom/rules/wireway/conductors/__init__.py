"""From how many conductors in a wireway or gutter on their ampacity is adjusted."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import Record
from ampleroom.rules.registry import rule
from ampleroom.rules.wireway.filled import ENDS as FILL_ENDS
from ampleroom.rules.wireway.filled import FilledWireway
from ampleroom.worksheet import Finding, Purpose, Verdict, Worksheet

NAME = "wireway-conductors"
PURPOSE = Purpose(NAME, Unit.COUNT, "Without adjusting ampacity", "Conductors that may carry current")
COUNTED = ("wires count", "run count", "cable conductors")


class Many(Record):
    """Up to how many conductors ampacities are not adjusted; ``counted``: ``anywhere`` in it, or ``at a place``."""

    cite: str
    confidence: str
    conductors: Decimal
    counted: str


WIREWAY = Table("wireways.conductors", Many, __file__)
GUTTER = Table("wireways.gutter_conductors", Many, __file__)


@rule(
    NAME,
    title="Many conductors in a wireway",
    topic="finding",
    about="wireway",
    tables=(WIREWAY, GUTTER),
    ends={field: end if field in COUNTED else "neither" for field, end in FILL_ENDS.items()},
)
def wireway_conductors(filled: FilledWireway, book: CodeBook) -> Iterator[Finding]:
    """Up to 30 conductors that carry current need no adjustment of ampacity in a metal wireway or gutter; in a raceway
    far fewer do. Past 30 all of them need it. It is no limit: more may lie there.

    All insulated conductors but grounds are counted. A neutral that carries only what its hots leave over, and control
    wires, may be left out by hand. Ampacity itself is not judged here.

    Why: The air in a trough cools up to so many; more of them warm one another as in a pipe.
    """
    if not filled.is_judged or not filled.carrying:
        return
    name, terms = filled.name, book[GUTTER if filled.is_gutter else WIREWAY]
    most = Figure(
        NAME, "Most without adjustment", terms.conductors, Unit.COUNT, terms.counted, terms.cite, terms.confidence
    )
    why = "insulated, grounds left out; neutrals count"
    need = Counted(NAME, "Conductors", filled.carrying, Decimal(1), why, terms.cite, terms.confidence, unit=Unit.COUNT)
    sheet = Worksheet((most,), (need,), PURPOSE, Verdict.ADVICE)
    count = "an unknown number of" if filled.carrying == NO_LIMIT else f"{filled.carrying:f}"
    message = f"{name} holds {count} conductors that may carry current"
    if sheet.passes:
        message += f": up to {terms.conductors} their ampacity is not adjusted"
    else:
        where = " side by side" if terms.counted == "at a place" else ""
        message += f": with more than {terms.conductors}{where}, the ampacity of all is adjusted; not judged here"
    yield Finding(
        NAME,
        sheet.verdict,
        name,
        message,
        terms.cite,
        filled.wireway.at,
        worst=sheet,
        confidence=terms.confidence,
    )
