"""What ``rule distribution-block`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.quantities import inches, volume
from ampleroom.rules.box.distribution_block import BLOCK_IN_BOX
from ampleroom.rules.box.pull_box.distances import OPPOSITE_COVER
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("power distribution block", "distribution block", "junction box", "pull box", "tap block")


def in_box(book: CodeBook) -> str:
    """When a box may hold a block."""
    terms = book[BLOCK_IN_BOX]
    if not terms.over:
        return "Nothing is stated of power distribution blocks in pull and junction boxes."
    return f"In boxes of more than {volume(terms.over)}, and no smaller than its instructions say."


def terminals(book: CodeBook) -> str:
    """The room at its terminals."""
    spaces = ", ".join(f"{size_text(row.size)} {inches(row.space)}" for row in book[OPPOSITE_COVER].rows)
    return f"From its terminals to the wall they face: {spaces}"


SENTENCES = (Sentence((BLOCK_IN_BOX,), in_box), Sentence((OPPOSITE_COVER,), terminals))
