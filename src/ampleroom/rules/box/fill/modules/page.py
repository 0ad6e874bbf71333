"""What ``rule box-fill-modules`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.fill.modules import MODULES
from ampleroom.rules.page import Sentence, allowances

TRADE_WORDS = ("module", "relay", "smart relay", "control module", "box fill")


def modules(book: CodeBook) -> str:
    """The allowances a control module with no yoke takes."""
    each = allowances(book[MODULES].each)
    return (
        f"The code gives no number. By default {each} for each module, or the volume of its body if that is more "
        "(disputed: relay-module)."
    )


SENTENCES = (Sentence((MODULES,), modules),)
