"""What ``rule box-fill-fittings`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.fill.fittings import FITTINGS
from ampleroom.rules.page import Sentence, allowances, capital

TRADE_WORDS = ("stud", "hickey", "fixture stud", "support fitting", "box fill")


def fittings(book: CodeBook) -> str:
    """The allowances of each kind of stud or hickey."""
    return f"{capital(allowances(book[FITTINGS].each_kind))} for each kind of fitting."


SENTENCES = (Sentence((FITTINGS,), fittings),)
