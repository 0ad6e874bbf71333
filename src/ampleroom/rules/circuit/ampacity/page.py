"""What ``rule conductor-ampacity`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.rules.circuit.protection import page as protection
from ampleroom.rules.circuit.protection.page import SENTENCES as OF_PROTECTION
from ampleroom.rules.circuit.range_circuit.page import DEMAND

TRADE_WORDS = ("ampacity", "load", "derating", "hot attic", "ambient", "roof", "heat")

OF_AMPACITY = tuple(
    sentence
    for sentence in OF_PROTECTION
    if sentence.tell not in (protection.next_size, protection.ratings, protection.small, protection.dwelling)
)
"""All that an ampacity is made of."""
SENTENCES = (*OF_AMPACITY, *DEMAND)
