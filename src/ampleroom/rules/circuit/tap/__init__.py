"""A tap: a wire thinner than its breaker protects elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.arithmetic import Figure, Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.protection import BRANCH, BranchRow
from ampleroom.editions.resistance import RESISTANCE
from ampleroom.facts import Ends
from ampleroom.job.trade import size_text
from ampleroom.rules.circuit.ground import circular_mils
from ampleroom.rules.circuit.heat import NoAmpacity
from ampleroom.rules.circuit.weighed import asked, weighed
from ampleroom.rules.circuit.wired import ENDS as OF_A_LEG
from ampleroom.rules.circuit.wired import Leg
from ampleroom.rules.registry import rule
from ampleroom.words import TAP_ASKED, TAP_REMEDY
from ampleroom.worksheet import TAP_CONDUCTOR as PURPOSE
from ampleroom.worksheet import Finding

NAME = PURPOSE.name
ENDS: Ends = {**dict.fromkeys(OF_A_LEG, "neither"), "cable size": "small", "wire size": "small", "breaker": "large"}


@rule(NAME, title="Taps", topic="finding", about="circuit", tables=(BRANCH, RESISTANCE), ends=ENDS)
def tap_conductor(leg: Leg, book: CodeBook) -> Iterator[Finding]:
    """A tap may be thinner than its breaker protects elsewhere, on terms of its length, its end and what it serves. On
    a branch circuit it has a thinnest size by the rating. That alone is judged: a thinner one fails, any other needs a
    check, for its other terms are not worked out here.

    Why: A short wire that can carry only what its end lets through is safe behind a larger breaker.
    """
    if not leg.run.tap:
        return
    terms, row = book[BRANCH], row_of(leg, book)
    if row is not None and leg.size:
        try:
            label = f"{size_text(leg.size)} {leg.run.material}"
            have = Figure(NAME, label, circular_mils(leg.size, book), Unit.CIRCULAR_MIL)
            least = f"{size_text(row.tap)} on {leg.breaker} A"
            mils, sure = circular_mils(row.tap, book), book.confidence(BRANCH, row)
            need = Figure(NAME, least, mils, Unit.CIRCULAR_MIL, "the thinnest tap", terms.cite, sure)
        except NoAmpacity as missing:
            yield asked(NAME, leg, str(missing), missing.remedy, terms.cite)
            return
        if have.amount < need.amount:
            yield weighed(PURPOSE, leg, have, (need,), terms.cite, sure)
            return
    yield asked(NAME, leg, TAP_ASKED.format(leg.wires), TAP_REMEDY, terms.cite)


def row_of(leg: Leg, book: CodeBook) -> BranchRow | None:
    """The row with the thinnest tap on a circuit of its rating, or of the next one; None over the table."""
    rows = [row for row in book[BRANCH].rows if row.material == leg.run.material and row.tap]
    return next((row for row in rows if leg.breaker <= row.rating), None)
