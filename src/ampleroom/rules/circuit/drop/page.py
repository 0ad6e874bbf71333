"""What ``rule voltage-drop`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.resistance import IMPEDANCE, RESISTANCE, TEMPERATURE, TRADE_CONSTANTS
from ampleroom.editions.voltage_drop import BRANCH_DROP, FEEDER_DROP, DropAdvice
from ampleroom.quantities import count, number
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("voltage drop", "vd", "long run", "dim lights", "3 %")


def advised(name: str, terms: DropAdvice) -> str:
    """How much is advised at most, alone and in all."""
    return f"{name}: no more than {count(terms.percent)}% is advised, and {count(terms.in_all)}% with the other."


def branch(book: CodeBook) -> str:
    """The advice on a branch circuit."""
    return advised("A branch circuit", book[BRANCH_DROP])


def feeder(book: CodeBook) -> str:
    """The advice on a feeder."""
    return advised("A feeder", book[FEEDER_DROP])


def resistance(book: CodeBook) -> str:
    """Which of the resistances is taken."""
    return "Ohms are those of uncoated stranded wire in the table of resistance."


def impedance(book: CodeBook) -> str:
    """When the impedance is taken instead."""
    factor = count(book[IMPEDANCE].power_factor)
    return (
        f"Where the effective impedance at a power factor of {factor} is more, as in thick wires, it is taken instead, "
        "for a raceway of steel or of PVC; cables count as PVC, in armor as steel (disputed: drop-by)."
    )


def temperature(book: CodeBook) -> str:
    """At which temperature, and what another would change."""
    terms = book[TEMPERATURE]
    return (
        f"Wires are taken at {number(terms.base, 0)} C. A degree cooler takes off {count(terms.copper)} of the drop in "
        f"copper, {count(terms.aluminum)} in aluminum."
    )


def constant(book: CodeBook) -> str:
    """The constants of the trade."""
    terms = book[TRADE_CONSTANTS]
    return f"The trade's constant K is {count(terms.copper)} for copper and {count(terms.aluminum)} for aluminum."


SENTENCES = (
    Sentence((BRANCH_DROP,), branch),
    Sentence((FEEDER_DROP,), feeder),
    Sentence((RESISTANCE,), resistance),
    Sentence((IMPEDANCE,), impedance),
    Sentence((TEMPERATURE,), temperature),
    Sentence((TRADE_CONSTANTS,), constant),
)
