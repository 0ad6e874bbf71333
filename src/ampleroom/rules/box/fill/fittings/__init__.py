"""Box fill: luminaire studs and hickeys."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.model import Fitting
from ampleroom.record import Record
from ampleroom.rules.allowance import largest_present
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space

NAME = "box-fill-fittings"


class Fittings(Record):
    """Allowances of each kind of fitting."""

    cite: str
    confidence: str
    each_kind: Decimal


FITTINGS = Table("box_fill.fittings", Fittings, __file__)


@rule(
    NAME,
    title="Studs and hickeys",
    topic="fill",
    of_contents=True,
    drawn_as="fittings",
    counts=(Fitting,),
    tables=(FITTINGS, CONDUCTOR_ROOM),
    readings=("largest-present",),
)
def fittings_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Luminaire studs take one allowance, however many there are. Hickeys take another. Size them by the largest
    conductor in the box.

    Why: The fitting stands in the middle of the box, where the conductors fold.
    """
    written = space.of(Fitting)
    if not written:
        return
    terms = book[FITTINGS]
    summed_by = largest_present(space, book)
    if summed_by is None:
        return
    _, each, present = summed_by
    for kind in dict.fromkeys(fitting.kind for fitting in written):
        fittings = sum(fitting.count for fitting in written if fitting.kind == kind)
        several = f"one for all {fittings}" if fittings > 1 else "one"
        label = {"stud": "Luminaire stud", "hickey": "Hickey"}[kind]
        yield Counted(
            NAME,
            label,
            terms.each_kind,
            each,
            f"{several}, sized by {present}",
            terms.cite,
            terms.confidence,
        )
