"""What ``rule dwelling-service`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.rules.circuit.protection.page import SENTENCES

TRADE_WORDS = ("dwelling service", "service conductors", "main feeder", "83 percent", "service entrance")

__all__ = ["SENTENCES", "TRADE_WORDS"]
