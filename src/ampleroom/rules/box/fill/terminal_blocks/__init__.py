"""Box fill: terminal blocks."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.editions.tables import Table
from ampleroom.job.model import TerminalBlock
from ampleroom.job.trade import size_text
from ampleroom.quantities import plural
from ampleroom.record import Record
from ampleroom.rules.allowance import within_table
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

NAME = "box-fill-terminal-blocks"


class TerminalBlocks(Record):
    """Allowances of a terminal block assembly; 0 where the book gives none."""

    cite: str
    confidence: str
    each: Decimal


TERMINAL_BLOCKS = Table("box_fill.terminal_blocks", TerminalBlocks, __file__)


@rule(
    NAME,
    title="Terminal blocks",
    topic="fill",
    of_contents=True,
    drawn_as="blocks",
    counts=(TerminalBlock,),
    tables=(TERMINAL_BLOCKS, CONDUCTOR_ROOM),
    readings=("early-terminal-block",),
)
def terminal_block_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """A terminal block takes one allowance for the whole assembly, however many terminals it has, sized by the largest
    conductor that lands on it. The code first gave it one in the 2023 edition.

    Wire connectors, twisted on or pushed on, are not terminal blocks. They take nothing.

    Why: A block is a solid body in the box, much like a device without a yoke.
    """
    terms = book[TERMINAL_BLOCKS]
    confidence = terms.confidence
    for sized in space.blocks:
        each = book[CONDUCTOR_ROOM].rows[within_table(sized.size, book)]
        blocks = sized.item.count
        label = plural(blocks, "terminal block")
        readings: tuple[str, ...] = ()
        times, why = terms.each, f"by {size_text(sized.size)}, the largest conductor on it"
        if not terms.each:
            readings = ("early-terminal-block",)
            times = exactly(1 if book.reading("early-terminal-block") == "counted" else 0)
            why = (
                f"read as since 2023, by {size_text(sized.size)}"
                if times
                else "the code gives no number; leave room for it anyway"
            )
        yield Counted(NAME, label, times * blocks, each, why, terms.cite, confidence, readings)
