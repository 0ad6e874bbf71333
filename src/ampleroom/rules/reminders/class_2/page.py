"""What ``rule class-2-beside-power`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.class_2 import POWER_LIMITED

TRADE_WORDS = ("class 2", "low voltage", "barrier", "separation")


def power_limited(book: CodeBook) -> str:
    """That class 2, signal and data wires stay apart from power."""
    return "Class 2, signal and data wires stay apart from light and power conductors."


SENTENCES = (Sentence((POWER_LIMITED,), power_limited),)
