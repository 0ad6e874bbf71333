"""What ``rule conduit-body-splices`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.conduit_body.splices import SHORT_RADIUS, SPLICES
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("conduit body", "lb", "splice", "capped elbow", "short radius", "tap")


def body_splices(book: CodeBook) -> str:
    """Which bodies take splices, taps and devices."""
    return "Splices, taps and devices are allowed only in a body marked with its volume."


def short_radius(book: CodeBook) -> str:
    """What a short-radius body does not take."""
    return "A short-radius body takes no splice, tap or device."


SENTENCES = (Sentence((SPLICES,), body_splices), Sentence((SHORT_RADIUS,), short_radius))
