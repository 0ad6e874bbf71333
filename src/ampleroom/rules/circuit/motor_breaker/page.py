"""What ``rule motor-breaker`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.motors import DEVICE, SINGLE_PHASE, THREE_PHASE, WILL_NOT_START
from ampleroom.editions.protection import STANDARD
from ampleroom.quantities import count
from ampleroom.rules.circuit.motor_wire.page import single, three
from ampleroom.rules.circuit.motors import BREAKER
from ampleroom.rules.circuit.protection.page import ratings
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("motor", "horsepower", "hp", "breaker of a motor", "short circuit", "locked rotor", "starting")


def devices(book: CodeBook) -> str:
    """What part of the current each device may have."""
    rows = []
    for row in book[DEVICE].rows:
        others = "" if row.wound is None else f" ({count(row.wound)}% of a wound-rotor or DC motor)"
        design = "" if row.efficient is None else f" ({count(row.efficient)}% of an energy-efficient one)"
        rows.append(f"{row.device} {count(row.percent)}%{others}{design}")
    return f"Largest device by the motor's current, or the next standard rating: {'; '.join(rows)}."


def starting(book: CodeBook) -> str:
    """What it may have where it does not start."""
    rows = []
    for row in book[WILL_NOT_START].rows:
        more = (
            "" if row.small is None or row.larger is None else f" to {count(row.small)} A, {count(row.larger)}% above"
        )
        rows.append(f"{row.device} {count(row.percent)}%{more}")
    return f"Most where it does not start on that: {'; '.join(rows)}. A panel breaker is an {BREAKER}."


SENTENCES = (
    Sentence((DEVICE,), devices),
    Sentence((WILL_NOT_START,), starting),
    Sentence((STANDARD,), ratings),
    Sentence((SINGLE_PHASE,), single),
    Sentence((THREE_PHASE,), three),
)
