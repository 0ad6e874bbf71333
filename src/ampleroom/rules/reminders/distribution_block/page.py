"""What ``rule distribution-block-on-site`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.distribution_block import ON_SITE

TRADE_WORDS = ("power distribution block", "distribution block", "live parts", "through conductors")


def on_site(book: CodeBook) -> str:
    """What is looked at on the spot."""
    side = "also on the supply side of the service, if listed for it" if book[ON_SITE].supply_side else "load side only"
    return f"Listed, no live part exposed with the cover off, nothing in front of its terminals; {side}."


SENTENCES = (Sentence((ON_SITE,), on_site),)
