"""What ``rule appliance-ground-fault`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.by_place import APPLIANCES
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("dishwasher", "range gfci", "dryer gfci", "sump pump", "microwave", "wall oven", "cooktop")


def appliances(book: CodeBook) -> str:
    """Which appliances, and up to how much."""
    terms = book[APPLIANCES]
    limits = f"up to {count(terms.amperes)} A and {count(terms.to_ground)} V to ground"
    if not terms.rows:
        return f"No appliance is named ({limits} where one is)."
    return f"Named, {limits}: {', '.join(row.name for row in terms.rows)}."


SENTENCES = (Sentence((APPLIANCES,), appliances),)
