"""Box fill: wires of luminaires and leads of equipment that end in the box."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_counts import CONDUCTORS
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.editions.tables import Table
from ampleroom.job.model import FixtureWires, Leads
from ampleroom.job.trade import RANK, size_text
from ampleroom.quantities import count
from ampleroom.record import Record
from ampleroom.rules.allowance import allowance, is_large, within_table
from ampleroom.rules.registry import rule
from ampleroom.rules.space import BoxWires, Space

NAME = "box-fill-fixture-wires"


class FixtureWireTerms(Record):
    """How many wires from a domed canopy are left out, and what they are smaller than."""

    cite: str
    confidence: str
    relieved: Decimal
    smaller_than: str


FIXTURE_WIRES = Table("box_fill.fixture_wires", FixtureWireTerms, __file__)


@rule(
    NAME,
    title="Fixture wires and leads",
    topic="fill",
    of_contents=True,
    drawn_as="fixture",
    counts=(
        FixtureWires,
        Leads,
    ),
    tables=(FIXTURE_WIRES, CONDUCTOR_ROOM),
    readings=("flat-canopy", "equipment-leads", "device-leads"),
)
def fixture_wire_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Count the fixture wires that end in the box, each by its own size. There is one exception, for a domed canopy:
    leave out up to four of its wires if they are smaller than #14, and leave out its ground. A flat canopy does not
    qualify, and neither do #14 wires.

    Count each lead of equipment that is mounted outside the box or serves as its cover.

    Why: A domed canopy brings room of its own for a few thin wires. A flat canopy brings none.
    """
    insulated = [wires for wires in (*space.fixture_wires, *space.leads) if wires.role == "insulated"]
    left = book[FIXTURE_WIRES].relieved
    for wires in sorted(insulated, key=lambda wires: -RANK[wires.size]):
        label = f"Leads of {wires.label or 'equipment'}" if wires.is_lead else "Fixture wires"
        domed, readings = under_dome(wires, book)
        relieved = (
            min(left, wires.count)
            if domed and RANK[wires.size] < RANK[book[FIXTURE_WIRES].smaller_than]
            else Decimal(0)
        )
        left -= relieved
        yield from wire_lines(label, wires, relieved, readings, book)
    yield from device_lead_lines(space, book)


def under_dome(wires: BoxWires, book: CodeBook) -> tuple[bool, tuple[str, ...]]:
    """Whether wires come from a domed canopy, or are read as if they did; and the reading that was leaned on."""
    if wires.canopy == "domed":
        return True, ()
    if wires.is_lead:
        return book.reading("equipment-leads") == "as-canopy", ("equipment-leads",)
    if wires.canopy == "flat":
        return book.reading("flat-canopy") == "as-domed", ("flat-canopy",)
    return False, ()


def wire_lines(
    label: str, wires: BoxWires, relieved: Decimal, readings: tuple[str, ...], book: CodeBook
) -> Iterator[Line]:
    """Lines for wires of one size, in in3: those left out under a domed canopy, and the others; 0 in3 if too large."""
    terms = book[FIXTURE_WIRES]
    confidence = terms.confidence
    each = allowance(wires.size, book)
    why = "they end here"
    if each is None and is_large(wires.size, book):
        cite = book[PULL_BOX].cite
        yield Counted(
            NAME,
            f"{label}, {size_text(wires.size)}",
            wires.count,
            Decimal(0),
            "no allowance; pull-box distances apply",
            cite,
        )
        return
    if each is None:
        row = within_table(wires.size, book)
        each = book[CONDUCTOR_ROOM].rows[row]
        why += f", taken as {size_text(row)}"
    if relieved:
        left_out = (
            f"the first {count(relieved)} under a domed canopy, smaller than {size_text(terms.smaller_than)}, are "
            "left out"
        )
        yield Counted(
            NAME,
            f"{label} left out, {size_text(wires.size)}",
            Decimal(0),
            each,
            left_out,
            terms.cite,
            confidence,
            readings,
        )
    if wires.count > relieved:
        cite = book[CONDUCTORS].cite
        yield Counted(
            NAME,
            f"{label}, {size_text(wires.size)}",
            wires.count - relieved,
            each,
            why,
            cite,
            book.confidence(CONDUCTORS),
            readings,
        )


def device_lead_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Factory leads of devices on a yoke: nothing, unless they are read as counted."""
    for settled in space.devices:
        if settled.device.leads:
            leads, size = settled.device.leads
            counted = book.reading("device-leads") == "counted"
            label = f"Leads of the {' + '.join(settled.device.names)}, {size_text(size)}"
            why = "each counts: a disputed point" if counted else "they never leave the box; leave real space for them"
            each = book[CONDUCTOR_ROOM].rows[within_table(size, book)]
            total = Decimal(leads * settled.device.count) if counted else Decimal(0)
            cite = book[CONDUCTORS].cite
            yield Counted(NAME, label, total, each, why, cite, book.confidence(CONDUCTORS), ("device-leads",))
