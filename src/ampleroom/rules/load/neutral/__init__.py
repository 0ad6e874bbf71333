"""What a dwelling loads the neutral of its service with."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import ONE, Figure, Line, Share, Total, Unit, summed
from ampleroom.editions import CodeBook
from ampleroom.editions.loads import NEUTRAL
from ampleroom.editions.protection import STANDARD
from ampleroom.rules.load import demand
from ampleroom.rules.load.carried import ENDS, Carried, Item
from ampleroom.rules.load.weighed import weighed
from ampleroom.rules.registry import rule
from ampleroom.worksheet import NEUTRAL_LOAD as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name


@rule(
    NAME,
    title="Load on the neutral of a dwelling",
    topic="finding",
    about="load",
    tables=(*demand.OF_THE_STANDARD, NEUTRAL, STANDARD),
    ends=ENDS,
)
def neutral_load(what: Carried, book: CodeBook) -> Iterator[Finding]:
    """The neutral carries what the standard method counts of the loads at the lower voltage, a percent of ranges and of
    dryers, and nothing of loads between the hots. Of what is over a large current a percent counts.

    Why: What runs between the two hots needs no neutral.
    """
    terms = book[NEUTRAL]
    cooking = (*demand.dryer_lines(NAME, what, book), *demand.cooking_line(NAME, what.of("cooking"), book))
    fixed = what.of("fixed")
    kinds = ("heat", "storage heat", "heat pump", "cooling", "charger", "other")
    lines: tuple[Line, ...] = (
        demand.lighting_demand(NAME, what, book),
        *demand.appliance_lines(NAME, on_neutral(fixed), fixed, book),
        *(Share(NAME, "On the neutral", terms.cooking, line, "", terms.cite, terms.confidence) for line in cooking),
        *(demand.items_line(NAME, item) for item in on_neutral(what.of(*kinds))),
    )
    va, most = summed(lines, Unit.VA), terms.over * what.volts
    if va > most and va.is_finite():
        below = Figure(NAME, "Up to that", most, Unit.VA)
        over = Total(NAME, "Over it", (*lines, Figure(NAME, "Less those", -ONE * most, Unit.VA)), Unit.VA)
        lines = (below, Share(NAME, "Over a large current", terms.percent, over, "", terms.cite, terms.confidence))
    yield weighed(PURPOSE, what, lines, terms, book)


def on_neutral(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Those at the lower voltage."""
    return tuple([item for item in items if item.on_neutral])
