"""What ``rule box-room-clamp-assembly`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.rules.box.fill.clamps import CLAMPS
from ampleroom.rules.box.fill.clamps.page import clamp_assembly
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("clamp assembly", "box volume")

SENTENCES = (Sentence((CLAMPS,), clamp_assembly),)
