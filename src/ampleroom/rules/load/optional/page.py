"""What ``rule optional-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.loads import OPTIONAL, OPTIONAL_HEAT
from ampleroom.quantities import count
from ampleroom.rules.load.told import CHARGED, OF_GENERAL, RATINGS, steps
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("optional method", "optional calculation", "220.82")


def optional(book: CodeBook) -> str:
    """The steps."""
    terms = book[OPTIONAL]
    apart = " Charging stands beside that." if terms.charging_apart else ""
    return (
        f"For a service of {count(terms.least_amperes)} A or more. Of all but heat and cooling counts: "
        f"{steps(terms.rows, 'VA')}.{apart}"
    )


def heat(book: CodeBook) -> str:
    """Heat and cooling."""
    terms = book[OPTIONAL_HEAT]
    return (
        f"The largest of these counts: cooling {count(terms.cooling)}%, a heat pump {count(terms.heat_pump)}% with "
        f"{count(terms.beside_a_heat_pump)}% of the heat beside it, heat with fewer than {count(terms.controls)} "
        f"controls {count(terms.few)}%, with more {count(terms.many)}%, storage heat {count(terms.storage)}%."
    )


SENTENCES = (*OF_GENERAL, Sentence((OPTIONAL,), optional), Sentence((OPTIONAL_HEAT,), heat), CHARGED, RATINGS)
