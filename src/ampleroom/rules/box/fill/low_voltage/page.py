"""What ``rule box-fill-low-voltage`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.job.trade import size_text
from ampleroom.rules.box.fill.low_voltage import LOW_VOLTAGE
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("low voltage", "class 2", "data", "thermostat wire", "doorbell", "signal", "box fill")


def low_voltage(book: CodeBook) -> str:
    """By which conductor size class 2, signal and data wires are counted."""
    size = size_text(book[LOW_VOLTAGE].count_as)
    return f"The code gives these wires no allowance. By default each counts as a {size} (disputed: low-voltage)."


SENTENCES = (Sentence((LOW_VOLTAGE,), low_voltage),)
