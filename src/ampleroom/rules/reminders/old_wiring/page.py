"""What ``rule old-wiring`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.old_wiring import NM_TEMPERATURE, REDUCED_GROUND

TRADE_WORDS = ("old wiring", "old cable", "aluminum", "no ground", "reduced ground", "knob and tube")


def reduced_ground(book: CodeBook) -> str:
    """When grounds were thinner than their conductors, and what they no longer serve."""
    return (
        f"A ground thinner than the conductors was usual {book[REDUCED_GROUND].usual_era}. It does not serve new work."
    )


def nm_temperature(book: CodeBook) -> str:
    """Since when nonmetallic cable is marked for 90 C."""
    year = book[NM_TEMPERATURE].marked_since
    return f"Cable from before about {year} is for lower temperatures than most new luminaires call for."


SENTENCES = (Sentence((REDUCED_GROUND,), reduced_ground), Sentence((NM_TEMPERATURE,), nm_temperature))
