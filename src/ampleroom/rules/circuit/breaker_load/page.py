"""What ``rule breaker-load`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions.protection import CONTINUOUS
from ampleroom.rules.circuit.continuous.page import EQUIPMENT, share
from ampleroom.rules.circuit.range_circuit.page import DEMAND
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("breaker", "load", "continuous", "125 %", "trips")

SENTENCES = (Sentence((CONTINUOUS,), share), *EQUIPMENT, *DEMAND)
