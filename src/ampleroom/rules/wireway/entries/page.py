"""What ``rule wireway-entries`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.job.trade import size_text
from ampleroom.quantities import count
from ampleroom.rules.box.pull_box.distances import SPACING, STRAIGHT
from ampleroom.rules.page import Sentence
from ampleroom.rules.wireway.entries import GUTTER, WIREWAY

TRADE_WORDS = ("wireway as a pull box", "entries of a wireway", "pull through a gutter")


def wireway(book: CodeBook) -> str:
    """When the distances of a pull box apply in a wireway."""
    return "A metal wireway that large conductors are pulled through keeps the distances of a pull box."


def gutter(book: CodeBook) -> str:
    """When they apply in a gutter."""
    return "A metal auxiliary gutter that large conductors are pulled through keeps the same distances."


def large(book: CodeBook) -> str:
    """From which size conductors are large."""
    return f"Conductors are large from {size_text(book[PULL_BOX].from_size)} on."


def turning(book: CodeBook) -> str:
    """How far apart entries are where conductors turn, as a multiple of the larger trade size."""
    return (
        f"Entries of the same conductors are {count(book[SPACING].times)} times the larger one apart where they turn."
    )


def straight(book: CodeBook) -> str:
    """The same where they go straight through."""
    return f"Where they go straight through, those are {count(book[STRAIGHT].times)} times the larger one apart."


SENTENCES = (
    Sentence((WIREWAY,), wireway),
    Sentence((GUTTER,), gutter),
    Sentence((PULL_BOX,), large),
    Sentence((SPACING,), turning),
    Sentence((STRAIGHT,), straight),
)
