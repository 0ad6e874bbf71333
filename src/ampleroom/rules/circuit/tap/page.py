"""What ``rule tap-conductor`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.protection import BRANCH
from ampleroom.editions.resistance import RESISTANCE
from ampleroom.job.trade import size_text
from ampleroom.quantities import count
from ampleroom.rules.circuit.ground.page import sections
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("tap", "tap rule", "fixture tap", "range tap", "ten foot tap", "240.21")


def thinnest(book: CodeBook) -> str:
    """The thinnest tap by the rating of its circuit."""
    rows = [row for row in book[BRANCH].rows if row.tap]
    sizes = "; ".join(f"{count(row.rating)} A {size_text(row.tap)} {row.material}" for row in rows)
    return f"The thinnest tap by the rating of its branch circuit: {sizes}."


SENTENCES = (Sentence((BRANCH,), thinnest), Sentence((RESISTANCE,), sections))
