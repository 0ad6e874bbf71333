"""What ``rule standard-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.rules.load.told import OF_THE_STANDARD, RATINGS

TRADE_WORDS = ("service calculation", "load calculation", "standard method", "dwelling load", "demand load")
SENTENCES = (*OF_THE_STANDARD, RATINGS)
