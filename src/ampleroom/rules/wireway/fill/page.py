"""What ``rule wireway-fill`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, CABLE_IN_RACEWAY, COMPACT_WIRES, INSULATED_WIRES
from ampleroom.rules.page import Sentence, words
from ampleroom.rules.raceway.fill.page import bare, compact, insulated
from ampleroom.rules.wireway.fill import GUTTER, WIREWAY

TRADE_WORDS = ("wireway", "wireway fill", "gutter", "gutter fill", "auxiliary gutter", "aux gutter", "trough")


def wireway(book: CodeBook) -> str:
    """What part of a wireway's inside conductors may fill, in percent."""
    return f"All conductors at any place of a metal wireway may fill {book[WIREWAY].percent}% of its inside."


def gutter(book: CodeBook) -> str:
    """What part of a gutter's inside conductors may fill, in percent."""
    return f"All conductors at any place of a metal auxiliary gutter may fill {book[GUTTER].percent}% of its inside."


def cable(book: CodeBook) -> str:
    """As what a cable in a wireway counts."""
    return (
        f"A cable takes a circle on its wider side, as in a raceway, where it counts as "
        f"{words(book[CABLE_IN_RACEWAY].counts)} conductor."
    )


SENTENCES = (
    Sentence((WIREWAY,), wireway),
    Sentence((GUTTER,), gutter),
    Sentence((CABLE_IN_RACEWAY,), cable),
    Sentence((INSULATED_WIRES,), insulated),
    Sentence((COMPACT_WIRES,), compact),
    Sentence((BARE_WIRES,), bare),
)
