"""What ``rule range-circuit`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import MAJOR_FRACTION, RANGE, RANGE_DEMAND
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("range", "stove", "least circuit", "40 A")


def least(book: CodeBook) -> str:
    """The least circuit of a large range."""
    terms = book[RANGE]
    return f"A range of {count(terms.kilowatts)} kW or more is on a circuit of {count(terms.amperes)} A or more."


def demand(book: CodeBook) -> str:
    """What one range counts for."""
    terms = book[RANGE_DEMAND]
    over, part_up_to, base_up_to, most = map(count, (terms.over, terms.part_up_to, terms.base_up_to, terms.most))
    return (
        f"A household range of over {over} and up to {part_up_to} kW counts for {count(terms.percent)}%, one of up to "
        f"{base_up_to} kW for {count(terms.base)} kW, and up to {most} kW {count(terms.percent_for_each)}% more for "
        "each kW over that."
    )


def fraction(book: CodeBook) -> str:
    """What of a part of a kilowatt counts."""
    return f"{count(book[MAJOR_FRACTION].kilowatts)} kW and more of a part counts as a whole kW."


DEMAND = (Sentence((RANGE_DEMAND,), demand), Sentence((MAJOR_FRACTION,), fraction))
SENTENCES = (Sentence((RANGE,), least),)
