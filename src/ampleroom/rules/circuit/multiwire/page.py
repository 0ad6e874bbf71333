"""What ``rule multiwire`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.circuit.multiwire import DISCONNECT, GROUPING, LEGS, LOADS, NEUTRAL
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("mwbc", "multi wire", "shared neutral", "handle tie", "common trip", "opposite legs")


def panel(book: CodeBook) -> str:
    """What is asked at the panel."""
    return (
        "All its hots open together, by a multipole breaker or handle ties, and stand on different legs. Hots and "
        "neutral are tied together there unless they come in one cable or raceway of their own."
    )


def devices(book: CodeBook) -> str:
    """What is asked beyond it."""
    return (
        "The neutral is pigtailed at devices. Loads are from a hot to the neutral alone, unless it feeds one appliance "
        "or its breaker opens all hots together."
    )


SENTENCES = (Sentence((DISCONNECT, LEGS, GROUPING), panel), Sentence((NEUTRAL, LOADS), devices))
