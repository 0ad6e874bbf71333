"""Voltage drop of a circuit with the feeders before it, as advice."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_HALF_UP

from ampleroom.arithmetic import Figure, Line, Total, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.voltage_drop import BRANCH_DROP, FEEDER_DROP
from ampleroom.quantities import HUNDREDTH, number
from ampleroom.rules.circuit.drop import allowed, found, lost, thick_enough
from ampleroom.rules.circuit.dropped import ENDS, OF_RESISTANCE, READING, CircuitDrop
from ampleroom.rules.circuit.wired import ZERO
from ampleroom.rules.registry import rule
from ampleroom.worksheet import DROP_IN_ALL as PURPOSE
from ampleroom.worksheet import Finding, Verdict, Worksheet

NAME = PURPOSE.name


@rule(
    NAME,
    title="Voltage drop with the feeder",
    topic="finding",
    about="drop",
    tables=(BRANCH_DROP, FEEDER_DROP, *OF_RESISTANCE),
    readings=(READING,),
    ends=ENDS,
)
def voltage_drop_in_all(drop: CircuitDrop, book: CodeBook) -> Iterator[Finding]:
    """A circuit and the feeders before it together should lose no more than 5 % of the volts at the farthest outlet.
    That is advice, not a rule. It is looked at where a circuit of the sheet feeds the panel; each feeder with the load
    its own line has, in parts of its own volts.

    Why: What is lost in the feeder is missing at every outlet behind it.
    """
    if drop.feeder is None:
        return
    feeders = list(before(drop, book))
    farthest = drop.farthest(book)
    if farthest < 0 or not drop.amperes or not feeders:
        return
    terms = book[FEEDER_DROP if drop.feeds else BRANCH_DROP]
    have = allowed(NAME, drop, terms.in_all, terms, "Advised limit in all")
    own = lost(NAME, drop, farthest, book, f"Voltage drop of {drop.name}")
    need = Total(NAME, "Voltage drop in all", (own, *feeders), Unit.VOLT, "", terms.cite, terms.confidence)
    sheet = Worksheet((have,), (need,), PURPOSE, Verdict.ADVICE)
    if sheet.passes and gaps(drop):
        return  # what is not written may add to it
    left = sheet.there - sum((line.amount for line in feeders), ZERO)
    size = "" if sheet.passes else thick_enough(drop, left, book)
    yield found(NAME, drop, farthest, sheet, size, terms)


def before(drop: CircuitDrop, book: CodeBook) -> Iterator[Line]:
    """What each feeder before a circuit loses up to the panel it feeds, in volts of the circuit."""
    feeder = drop.feeder
    while feeder is not None:
        lost_at = feeder.at_ends(book)
        at_panel = [volts for span, volts in zip(feeder.spans, lost_at, strict=True) if span.end == feeder.feeds]
        volts = max(at_panel, default=ZERO)
        if volts:
            here = (volts * drop.volts / feeder.volts).quantize(HUNDREDTH, ROUND_HALF_UP)
            exact = volts.quantize(HUNDREDTH, ROUND_HALF_UP)
            why = f"{exact} V of {number(feeder.volts, 0)} V, {number(feeder.amperes)} A, {feeder.load_why}"
            label = f"Voltage drop of {feeder.name}"
            terms = book[FEEDER_DROP]
            yield Figure(NAME, label, here, Unit.VOLT, why, terms.cite, "computed", (READING,), is_rounded=True)
        feeder = feeder.feeder


def gaps(drop: CircuitDrop) -> bool:
    """Whether anything of a circuit or of a feeder before it is not written."""
    each: CircuitDrop | None = drop
    while each is not None:
        if each.gaps:
            return True
        each = each.feeder
    return False
