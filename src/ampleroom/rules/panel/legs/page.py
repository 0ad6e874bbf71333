"""What ``rule panel-legs`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.rules.circuit.multiwire import LEGS
from ampleroom.rules.page import Sentence
from ampleroom.rules.panel.legs import BALANCE, TWO_POLE

TRADE_WORDS = ("panel balance", "panel legs", "two pole breaker", "double pole breaker", "phase balance", "same leg")


def poles(book: CodeBook) -> str:
    """Where the poles of a breaker sit."""
    return "The poles of one breaker sit on different legs, next to each other in one column."


def shared(book: CodeBook) -> str:
    """Where circuits sit that share a neutral."""
    return "Circuits that share a neutral sit on different legs."


def balance(book: CodeBook) -> str:
    """How far the legs may differ."""
    return "No rule says how even the load on the legs must be; keeping it even is common practice."


SENTENCES = (Sentence((TWO_POLE,), poles), Sentence((LEGS,), shared), Sentence((BALANCE,), balance))
