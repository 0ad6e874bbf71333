"""What ``rule support`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.box.support_ratings import FAN, LUMINAIRE
from ampleroom.rules.box.support_ratings.page import fan, luminaire
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.support import SMALL_EQUIPMENT

TRADE_WORDS = ("weight", "rating", "fan", "fan box", "luminaire", "fixture", "smoke alarm", "support")


def small_equipment(book: CodeBook) -> str:
    """What may hang on a device box besides luminaires and fans, pounds."""
    return f"Other equipment of {book[SMALL_EQUIPMENT].light_lb} lb or less may hang on a device box."


SENTENCES = (Sentence((FAN,), fan), Sentence((LUMINAIRE,), luminaire), Sentence((SMALL_EQUIPMENT,), small_equipment))
