"""What ``rule continuous-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.ampacity import AMPACITY
from ampleroom.editions.cable_ampacity import CABLES_HEAT
from ampleroom.editions.equipment import CHARGING, SPACE_HEAT, WATER_HEATER
from ampleroom.editions.protection import CONTINUOUS, TERMINALS
from ampleroom.quantities import count
from ampleroom.rules.circuit.protection.page import cables, terminals
from ampleroom.rules.circuit.range_circuit.page import DEMAND
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("continuous", "125 %", "three hours", "kiln", "80 % rule")


def share(book: CodeBook) -> str:
    """What part of a continuous load counts."""
    return f"{count(book[CONTINUOUS].percent)}% of a load that lasts for hours counts."


def column(book: CodeBook) -> str:
    """Which ampacity it is compared with."""
    return "It is compared with the ampacity in the column of the terminals, without correction for heat or company."


def water_heater(book: CodeBook) -> str:
    """What counts of a storage water heater."""
    terms = book[WATER_HEATER]
    return f"{count(terms.percent)}% of a storage water heater of up to {count(terms.gallons)} gallons counts."


def heat(book: CodeBook) -> str:
    """What counts of fixed electric heat."""
    return f"{count(book[SPACE_HEAT].percent)}% of fixed electric heat counts."


def charger(book: CodeBook) -> str:
    """What counts of a vehicle charger."""
    return f"{count(book[CHARGING].percent)}% of a vehicle charger counts."


EQUIPMENT = (
    Sentence((WATER_HEATER,), water_heater),
    Sentence((SPACE_HEAT,), heat),
    Sentence((CHARGING,), charger),
)
"""What counts as continuous in any case."""
SENTENCES = (
    Sentence((CONTINUOUS,), share),
    *EQUIPMENT,
    *DEMAND,
    Sentence((AMPACITY,), column),
    Sentence((TERMINALS,), terminals),
    Sentence((CABLES_HEAT,), cables),
)
