"""What ``rule box-room-standard`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.quantities import number
from ampleroom.rules.box.volume.marked import MARKED
from ampleroom.rules.box.volume.marked.page import marked
from ampleroom.rules.page import Sentence

TRADE_WORDS = (
    "standard box",
    "metal box",
    "box volume",
    "box size",
    "box room",
    "1900 box",
    "4 square",
    "octagon",
    "handy box",
    "device box",
    "masonry box",
    "ganged boxes",
)


def standard(book: CodeBook) -> str:
    """How many standard boxes the table has, and their volumes, in3."""
    volumes = [row.volume for row in book[STANDARD_BOXES].rows]
    return (
        f"The table has {len(volumes)} boxes, from {number(min(volumes))} to {number(max(volumes))} in3. The page "
        "'box' has them."
    )


SENTENCES = (Sentence((STANDARD_BOXES,), standard), Sentence((MARKED,), marked))
