"""What ``rule box-fill-terminal-blocks`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.fill.terminal_blocks import TERMINAL_BLOCKS
from ampleroom.rules.page import Sentence, allowances, capital

TRADE_WORDS = ("terminal block", "terminal strip", "wire connector", "splicing connector", "box fill")


def terminal_blocks(book: CodeBook) -> str:
    """The allowances a terminal block takes."""
    each = book[TERMINAL_BLOCKS].each
    if not each:
        return (
            f"The code gives a terminal block {allowances(each)}. Leave room for it anyway (disputed: "
            "early-terminal-block)."
        )
    return f"{capital(allowances(each))} for each terminal block."


SENTENCES = (Sentence((TERMINAL_BLOCKS,), terminal_blocks),)
