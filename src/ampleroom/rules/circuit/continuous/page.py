"""What ``rule continuous-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.protection import CONTINUOUS, TERMINALS
from ampleroom.quantities import count
from ampleroom.rules.circuit.protection.page import terminals
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("continuous", "125 %", "three hours", "kiln", "80 % rule")


def share(book: CodeBook) -> str:
    """What part of a continuous load counts."""
    return f"{count(book[CONTINUOUS].percent)}% of a load that lasts for hours counts."


def column(book: CodeBook) -> str:
    """Which ampacity it is compared with."""
    return "It is compared with the ampacity in the column of the terminals, without correction for heat or company."


SENTENCES = (Sentence((CONTINUOUS,), share), Sentence((AMPACITY,), column), Sentence((TERMINALS,), terminals))
