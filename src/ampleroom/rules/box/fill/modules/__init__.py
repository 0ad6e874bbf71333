"""Box fill: control modules that have no yoke."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.model import Module
from ampleroom.job.trade import size_text
from ampleroom.quantities import plural
from ampleroom.record import Record
from ampleroom.rules.allowance import within_table
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

NAME = "box-fill-modules"


class Modules(Record):
    """Allowances of a module with no yoke."""

    cite: str
    confidence: str
    each: Decimal


MODULES = Table("box_fill.modules", Modules, __file__)


@rule(
    NAME,
    title="Control modules",
    topic="fill",
    of_contents=True,
    drawn_as="devices",
    counts=(Module,),
    tables=(MODULES, CONDUCTOR_ROOM),
    readings=("relay-module",),
)
def modules_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """A control module tucked in behind a device has no yoke, so the code gives no number for it. By default it takes
    two allowances, sized by its largest conductor, or the volume of its own body if that is more.

    Why: A relay takes about as much room as a small device.
    """
    terms = book[MODULES]
    confidence = terms.confidence
    for sized in space.modules:
        module = sized.item
        assert isinstance(module, Module)
        each = book[CONDUCTOR_ROOM].rows[within_table(sized.size, book)]
        label = plural(module.count, "module") + (f", {module.label}" if module.label else "")
        if book.reading("relay-module") == "not-counted":
            yield Counted(
                NAME,
                label,
                Decimal(0),
                each,
                "not counted: a disputed point",
                terms.cite,
                confidence,
                ("relay-module",),
            )
        elif module.volume is not None and module.volume > each * terms.each:
            why = f"its body, more than {terms.each} allowances by {size_text(sized.size)}"
            yield Counted(
                NAME,
                label,
                exactly(module.count),
                module.volume,
                why,
                terms.cite,
                confidence,
                ("relay-module",),
            )
        else:
            why = f"{terms.each} each, by {size_text(sized.size)}"
            if module.volume is not None:
                why += f", no less than its body's {module.volume} in3"
            yield Counted(
                NAME,
                label,
                terms.each * module.count,
                each,
                why,
                terms.cite,
                confidence,
                ("relay-module",),
            )
