"""Box fill: cable clamps inside the box."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.model import Clamps
from ampleroom.record import Record
from ampleroom.rules.allowance import largest_present
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space

NAME = "box-fill-clamps"
NOT_COUNTED = {"tabs": "plastic-tabs", "push-in": "push-in-connectors"}
SAYS = {
    "inside": "Clamps inside",
    "tabs": "Spring tabs molded into the box",
    "push-in": "Push-in connectors that grip inside",
    "assembly": "Clamp assembly with terminations",
}


class ClampAllowances(Record):
    """Allowances of all clamps inside together, and of a clamp assembly."""

    cite: str
    confidence: str
    together: Decimal
    assembly: Decimal


CLAMPS = Table("box_fill.clamps", ClampAllowances, __file__)


@rule(
    NAME,
    title="Clamps",
    topic="fill",
    of_contents=True,
    drawn_as="clamps",
    counts=(Clamps,),
    tables=(CLAMPS, CONDUCTOR_ROOM),
    readings=("plastic-tabs", "push-in-connectors", "largest-present", "clamps-together"),
)
def clamps_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """All clamps inside the box take one allowance together, sized by the largest conductor in the box, whether or not
    it is under a clamp. A connector that clamps outside the box takes none. Locknuts, bushings and wire connectors
    take none.

    A clamp assembly is a different part: it is made for certain nonmetallic boxes, and the cable is terminated inside
    it. How it counts depends on the edition.

    Why: A clamp and its screw sit where the conductors have to bend.
    """
    if space.clamps is None or space.clamps.way == "none":
        return
    terms = book[CLAMPS]
    confidence = terms.confidence
    way = str(space.clamps.way)
    summed_by = largest_present(space, book)
    if summed_by is None:
        return
    _, each, present = summed_by
    assumed = "" if space.clamps_written else " (assumed: not in the sheet)"
    if way == "outside":
        yield Counted(
            NAME,
            "Connectors outside",
            Decimal(0),
            each,
            "they clamp outside the box" + assumed,
            terms.cite,
            confidence,
        )
        return
    reading = NOT_COUNTED.get(way)
    if reading and book.reading(reading) == "not-counted":
        yield Counted(
            NAME, SAYS[way], Decimal(0), each, "not counted: a disputed point", terms.cite, confidence, (reading,)
        )
        return
    if way == "assembly" and not terms.assembly:
        yield Counted(
            NAME,
            SAYS[way],
            Decimal(0),
            each,
            "no allowance; what stays inside is taken off the box volume",
            terms.cite,
            confidence,
        )
        return
    together = terms.assembly if way == "assembly" else terms.together
    why = f"one for all of them, sized by {present}{assumed}"
    yield Counted(NAME, SAYS[way], together, each, why, terms.cite, confidence, (reading,) if reading else ())
