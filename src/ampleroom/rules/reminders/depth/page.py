"""What ``rule depth-unknown`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.rules.box.depth import BY_CONDUCTOR
from ampleroom.rules.box.depth.page import conductor_depth
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("depth", "deep", "measure")

SENTENCES = (Sentence((BY_CONDUCTOR,), conductor_depth),)
