"""What ``rule side-entry-clearance`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.rules.box.side_entry import SIDE_ENTRY
from ampleroom.rules.box.side_entry.page import side_entry
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("side entry", "side wall", "entry", "clearance")

SENTENCES = (Sentence((SIDE_ENTRY,), side_entry),)
