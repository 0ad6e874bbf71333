"""What ``rule box-fill-clamps`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.fill.clamps import CLAMPS
from ampleroom.rules.page import Sentence, allowances, capital

TRADE_WORDS = ("clamp", "cable clamp", "internal clamp", "connector", "locknut", "bushing", "box fill")


def clamps(book: CodeBook) -> str:
    """The allowances all clamps inside a box take together."""
    return f"{capital(allowances(book[CLAMPS].together))} for all clamps inside the box together."


def clamp_assembly(book: CodeBook) -> str:
    """What a clamp assembly takes, in allowances or off the box volume."""
    taken = book[CLAMPS].assembly
    if taken:
        return f"A clamp assembly takes {allowances(taken)} like any other clamp, and nothing comes off the box volume."
    return f"A clamp assembly takes {allowances(taken)}. The part of it left inside comes off the box volume."


SENTENCES = (Sentence((CLAMPS,), clamps), Sentence((CLAMPS,), clamp_assembly))
