"""What ``rule large-conductors`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.job.trade import size_text
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("pull box", "junction box", "large conductor", "4 awg", "#4")


def pull_box(book: CodeBook) -> str:
    """From which size a box is sized by distances."""
    return f"The box for {size_text(book[PULL_BOX].from_size)} and larger is sized by distances."


SENTENCES = (Sentence((PULL_BOX,), pull_box),)
