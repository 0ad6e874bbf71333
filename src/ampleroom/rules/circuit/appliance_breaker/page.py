"""What ``rule appliance-breaker`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import APPLIANCE
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import count
from ampleroom.rules.circuit.protection.page import ratings
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("appliance", "water heater breaker", "150 %", "largest breaker of a water heater")


def part(book: CodeBook) -> str:
    """What part of the current its breaker may have."""
    terms = book[APPLIANCE]
    return f"Over {count(terms.over)} A: {count(terms.percent)}% of its current at most, or the next standard rating."


SENTENCES = (Sentence((APPLIANCE,), part), Sentence((STANDARD,), ratings))
