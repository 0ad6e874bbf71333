"""What ``rule panel-main`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.panel.main import BRANCH, BUS

TRADE_WORDS = ("main breaker size", "bus rating", "busbar rating", "main lug panel", "panel main")


def bus(book: CodeBook) -> str:
    """What a bus may be protected by."""
    return "The main of a panel, or the breaker of its feeder, is no larger than the rating of its bus."


def branch(book: CodeBook) -> str:
    """A breaker larger than the main."""
    return "A breaker larger than the main is no violation; the main opens first."


SENTENCES = (Sentence((BUS,), bus), Sentence((BRANCH,), branch))
