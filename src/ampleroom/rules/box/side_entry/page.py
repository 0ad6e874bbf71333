"""What ``rule side-entry`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.box.side_entry import SIDE_ENTRY
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("side entry", "side wall", "entry", "knockout")


def side_entry(book: CodeBook) -> str:
    """How a device clears an entry in a side wall, inches."""
    clearance = book[SIDE_ENTRY].clearance
    if not clearance:
        return "The code says nothing about side entries, and nothing is checked."
    return f"The device stays in front of the middle of the entry, or at least {inches(clearance)} off the box wall."


SENTENCES = (Sentence((SIDE_ENTRY,), side_entry),)
