"""What ``rule nameplate-wire`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import AIR_CONDITIONER
from ampleroom.quantities import count
from ampleroom.rules.circuit.ampacity.page import OF_AMPACITY
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("mca", "minimum circuit ampacity", "air conditioner", "heat pump", "condenser", "hvac", "nameplate")


def marked(book: CodeBook) -> str:
    """What part of the marked amperes counts."""
    return f"{count(book[AIR_CONDITIONER].percent)}% of what the nameplate says counts: nothing is added to it."


SENTENCES = (Sentence((AIR_CONDITIONER,), marked), *OF_AMPACITY)
