"""What ``rule nameplate-breaker`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.equipment import AIR_CONDITIONER
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("mocp", "maximum overcurrent", "maximum fuse", "condenser breaker", "air conditioner", "nameplate")


def most(book: CodeBook) -> str:
    """What part of the marked maximum may be taken."""
    return f"The breaker has {count(book[AIR_CONDITIONER].percent)}% of the marked maximum at most."


SENTENCES = (Sentence((AIR_CONDITIONER,), most),)
