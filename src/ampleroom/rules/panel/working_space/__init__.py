"""The room to stand in before a panel."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.panel.laid_out import LaidOut
from ampleroom.rules.registry import remind, rule
from ampleroom.worksheet import Reminder

NAME = "working-space"


class WorkingSpace(Record):
    """The clear room before a panel: its depth up to so many volts to ground, and above that by what is opposite, in
    feet; its width in inches, its height in feet.
    """

    cite: str
    confidence: str
    volts: Decimal
    depth: Decimal
    bare: Decimal
    """Above those volts, with nothing live or grounded opposite."""
    grounded: Decimal
    """With grounded parts opposite, concrete and masonry among them."""
    live: Decimal
    """With live parts on both sides."""
    width: Decimal
    height: Decimal


SPACE = Table("panels.working_space", WorkingSpace, __file__)
NOT_IN = Table("panels.not_in", Cited, __file__)
STEPS = Table("panels.steps", Cited, __file__)


@rule(NAME, title="Working space before a panel", topic="reminder", about="panel", tables=(SPACE, NOT_IN, STEPS))
def working_space(known: LaidOut, book: CodeBook) -> Iterator[Reminder]:
    """The floor before a panel is kept clear: 3 ft deep up to 150 V to ground, above that 3, 3.5 or 4 ft by what is
    opposite; 30 in. wide, or as wide as the panel; 6.5 ft high. In a dwelling no panel is in a clothes closet or a
    bathroom, and none is over steps.

    Why: Whoever works on it live must be able to step back.
    """
    terms = book[SPACE]
    text = (
        f"Keep clear before {known.name}: {depth_text(known, terms)}, {count(terms.width)} in. wide (or as wide as the "
        f"panel) and {count(terms.height)} ft high."
    )
    yield remind(NAME, text, terms)
    yield remind(NAME, "Not in a clothes closet, and in a dwelling not in a bathroom.", book[NOT_IN])
    yield remind(NAME, "Not over the steps of a stairway.", book[STEPS])


def depth_text(known: LaidOut, terms: WorkingSpace) -> str:
    """``3 ft deep``, by the volts to ground; all of them where those are not known."""
    volts = known.panel.volts
    low, three = f"{count(terms.depth)} ft deep", (terms.bare, terms.grounded, terms.live)
    bare, grounded, live = map(count, three)
    high = f"{bare} ft deep, {grounded} ft with grounded parts opposite, {live} ft with live parts on both sides"
    if len(volts) > 1:
        return low if min(volts) <= terms.volts else high
    return f"{low} up to {count(terms.volts)} V to ground (above that {high})"


__all__ = ["NAME", "working_space"]
