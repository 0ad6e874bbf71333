"""What ``rule panel-spaces`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.page import Sentence
from ampleroom.rules.panel.spaces import SPACES

TRADE_WORDS = ("panel schedule", "panel full", "tandem breaker", "breaker space", "panel directory", "panel spaces")


def spaces(book: CodeBook) -> str:
    """How many breakers a panel takes."""
    return "A panel takes the breakers its label names, in the spaces it has; tandems only where the label allows them."


SENTENCES = (Sentence((SPACES,), spaces),)
