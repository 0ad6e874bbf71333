"""Box fill: class 2, signalling and data wires in the same volume."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.trade import RANK, size_text
from ampleroom.record import Record
from ampleroom.rules.allowance import times_counted, within_table
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space

NAME = "box-fill-low-voltage"


class LowVoltage(Record):
    """As which size a low-voltage wire counts at least."""

    cite: str
    confidence: str
    count_as: str


LOW_VOLTAGE = Table("box_fill.low_voltage", LowVoltage, __file__)


@rule(
    NAME,
    title="Low-voltage wires",
    topic="fill",
    drawn_as="signal",
    tables=(LOW_VOLTAGE, CONDUCTOR_ROOM),
    readings=("low-voltage",),
)
def low_voltage_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """Class 2, signal and data wires have no allowance in the code's table, and it is disputed whether box fill applies
    to them. By default each one counts as a #18, its ground too. A wire larger than #18 counts by its own size, and
    one that passes with a long loop counts twice. Behind a barrier they count on their own side only.

    Why: They take up room like any other wire. Often they may not share a box with power wires at all, so check their
    own article first.
    """
    terms = book[LOW_VOLTAGE]
    rows = book[CONDUCTOR_ROOM].rows
    counted = book.reading("low-voltage") == "as-18"
    for entering in space.entering:
        if not entering.low_voltage:
            continue
        size = terms.count_as if RANK[entering.size] < RANK[terms.count_as] else within_table(entering.size, book)
        why = f"{entering.own_name(space.box.name)}; "
        why += f"each taken as {size_text(size)}" if counted else "not counted here: a disputed point"
        times = times_counted(entering.how, book)
        why += f"; each counts {times} times" if counted and times != 1 else ""
        wires = entering.count * times if counted else Decimal(0)
        label = f"Low-voltage wires, {size_text(entering.size)}"
        yield Counted(
            NAME,
            label,
            wires,
            rows[size],
            why,
            terms.cite,
            terms.confidence,
            ("low-voltage", *entering.readings),
        )
