"""What ``rule wireway-splices`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, CABLE_IN_RACEWAY, COMPACT_WIRES, INSULATED_WIRES
from ampleroom.rules.page import Sentence
from ampleroom.rules.raceway.fill.page import bare, compact, insulated
from ampleroom.rules.wireway.fill.page import cable
from ampleroom.rules.wireway.splices import GUTTER, WIREWAY

TRADE_WORDS = ("splices in a wireway", "taps", "gutter taps", "tap", "splice in a gutter")


def wireway(book: CodeBook) -> str:
    """What part of a wireway's inside splices and conductors may fill together, in percent."""
    return (
        "In a metal wireway conductors, splices and taps together may fill "
        f"{book[WIREWAY].percent}% of its inside at that place."
    )


def gutter(book: CodeBook) -> str:
    """The same of a gutter."""
    return (
        "In a metal auxiliary gutter conductors, splices and taps together may fill "
        f"{book[GUTTER].percent}% of its inside at that place."
    )


SENTENCES = (
    Sentence((WIREWAY,), wireway),
    Sentence((GUTTER,), gutter),
    Sentence((CABLE_IN_RACEWAY,), cable),
    Sentence((INSULATED_WIRES,), insulated),
    Sentence((COMPACT_WIRES,), compact),
    Sentence((BARE_WIRES,), bare),
)
