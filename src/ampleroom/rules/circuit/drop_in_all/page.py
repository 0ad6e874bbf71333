"""What ``rule voltage-drop-in-all`` says besides the rule itself: words it is found by, and its sentences."""

from __future__ import annotations

from ampleroom.rules.circuit.drop.page import SENTENCES

TRADE_WORDS = ("voltage drop", "feeder", "subpanel", "5 %")

__all__ = ["SENTENCES", "TRADE_WORDS"]
