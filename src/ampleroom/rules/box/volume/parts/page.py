"""What ``rule box-room-parts`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import number
from ampleroom.rules.box.volume.marked import MARKED
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("ring", "cover", "extension ring", "plaster ring", "mud ring", "raised cover", "box volume")


def parts(book: CodeBook) -> str:
    """What a ring or cover with no marking adds, in3."""
    adds = book[MARKED].unmarked_part
    return f"An unmarked ring or cover of no standard size adds {f'{number(adds)} in3' if adds else 'nothing'}."


SENTENCES = (Sentence((MARKED,), parts),)
