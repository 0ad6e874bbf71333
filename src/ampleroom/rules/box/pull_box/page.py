"""What ``rule pull-box`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.job.trade import size_text
from ampleroom.quantities import inches
from ampleroom.rules.box.pull_box.distances import ANGLE, OPPOSITE_COVER, SPACING, STRAIGHT
from ampleroom.rules.box.pull_box.marking import MARKING
from ampleroom.rules.page import Sentence

TRADE_WORDS = (
    *("pull box", "junction box", "large conductor", "4 awg", "#4"),
    *("straight pull", "angle pull", "u pull", "8 times", "6 times"),
)


def from_size(book: CodeBook) -> str:
    """From which size a box is sized by distances."""
    return f"The box for {size_text(book[PULL_BOX].from_size)} and larger is sized by distances."


def straight(book: CodeBook) -> str:
    """How long a box is for a straight pull."""
    return f"Straight through: {book[STRAIGHT].times} times the largest raceway."


def angle(book: CodeBook) -> str:
    """How long a box is for an angle pull, a U pull or a splice."""
    return (
        f"Angle pull, U pull or splice: {book[ANGLE].times} times the largest raceway of the row, and the others added."
    )


def spacing(book: CodeBook) -> str:
    """How far apart entries of the same conductors are."""
    return f"Entries of the same conductors are {book[SPACING].times} times the larger raceway apart."


def marking(book: CodeBook) -> str:
    """What a marking permits in a smaller box or conduit body."""
    terms = book[MARKING]
    text = (
        "A smaller box is listed and marked for its conductors: no more and no larger ones, below the raceway's fill."
    )
    if terms.by_area:
        text += f" Others may go in if all together take no more, {terms.insulation.upper()} unless the marking says."
    return text


def cover(book: CodeBook) -> str:
    """How far it is from a back entry to the cover."""
    spaces = ", ".join(f"{size_text(row.size)} {inches(row.space)}" for row in book[OPPOSITE_COVER].rows)
    return f"From an entry in the back to a cover that comes off: {spaces}"


SENTENCES = (
    Sentence((PULL_BOX,), from_size),
    Sentence((STRAIGHT,), straight),
    Sentence((ANGLE,), angle),
    Sentence((SPACING,), spacing),
    Sentence((MARKING,), marking),
    Sentence((OPPOSITE_COVER,), cover),
)
