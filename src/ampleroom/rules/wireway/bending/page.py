"""What ``rule wireway-bending`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.quantities import inches
from ampleroom.rules.box.pull_box.distances import OPPOSITE_COVER
from ampleroom.rules.page import Sentence
from ampleroom.rules.wireway.bending import GUTTER, WIREWAY

TRADE_WORDS = ("bending space", "wire bending space", "gutter width", "deflection")


def wireway(book: CodeBook) -> str:
    """Where a bending space is called for in a wireway."""
    return "A metal wireway is as wide across as the bending space of the conductors that turn in it."


def gutter(book: CodeBook) -> str:
    """Where a bending space is called for in a gutter."""
    return "A metal auxiliary gutter is as wide across as the bending space of the conductors that turn in it."


def spaces(book: CodeBook) -> str:
    """The bending space of every size, inches."""
    rows = ", ".join(f"{size_text(row.size)} {inches(row.space)}" for row in book[OPPOSITE_COVER].rows)
    return f"The bending spaces, one wire to a terminal: {rows}"


SENTENCES = (Sentence((WIREWAY,), wireway), Sentence((GUTTER,), gutter), Sentence((OPPOSITE_COVER,), spaces))
