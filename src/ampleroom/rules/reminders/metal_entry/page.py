"""What ``rule metal-into-nonmetallic`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.metal_entry import METAL_ENTRY

TRADE_WORDS = ("plastic box", "nonmetallic box", "bonding", "armored cable", "metal raceway", "mc", "ac")


def metal_entry(book: CodeBook) -> str:
    """When metal raceway or armored cable may come into a nonmetallic box."""
    return "Metal raceway or armored cable enters a nonmetallic box only if the box can bond it."


SENTENCES = (Sentence((METAL_ENTRY,), metal_entry),)
