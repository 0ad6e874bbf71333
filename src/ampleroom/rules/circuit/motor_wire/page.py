"""What ``rule motor-wire`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.motors import CURRENT, DISCONNECT, OVERLOAD, SEVERAL, SINGLE_PHASE, THREE_PHASE, WIRE
from ampleroom.quantities import count
from ampleroom.rules.circuit.ampacity.page import OF_AMPACITY
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("motor", "horsepower", "hp", "full load amperes", "overload", "compressor", "pump", "dust collector")


def share(book: CodeBook) -> str:
    """What a wire needs."""
    return f"The wire has {count(book[WIRE].percent)}% of the motor's current in the table."


def beside(book: CodeBook) -> str:
    """What other load counts."""
    terms = book[SEVERAL]
    return (
        f"Beside the largest motor at {count(terms.largest)}%, other load counts at {count(terms.others)}%, and at "
        f"{count(terms.continuous)}% where it is continuous."
    )


def single(book: CodeBook) -> str:
    """From which horsepower to which the table of single-phase motors goes."""
    rows = book[SINGLE_PHASE].rows
    return f"Single-phase motors are listed from {rows[0].hp} hp to {rows[-1].hp} hp."


def three(book: CodeBook) -> str:
    """The same of three-phase motors."""
    rows = book[THREE_PHASE].rows
    return f"Three-phase motors are listed from {rows[0].hp} hp to {rows[-1].hp} hp."


def overload(book: CodeBook) -> str:
    """How an overload device is set."""
    terms = book[OVERLOAD]
    return (
        f"The overload device goes by the nameplate: {count(terms.marked)}% with a service factor of "
        f"{count(terms.service_factor)} or a rise of {count(terms.rise)} C, at most {count(terms.marked_starting)}% if "
        f"it trips on starting; {count(terms.other)}% of any other, at most {count(terms.other_starting)}%."
    )


def disconnect(book: CodeBook) -> str:
    """What a disconnect has."""
    return f"The disconnect has {count(book[DISCONNECT].percent)}% of the table current."


def which(book: CodeBook) -> str:
    """Which current is taken for what."""
    return "Wire, breaker and disconnect go by the table, the overload device by the nameplate."


SENTENCES = (
    Sentence((WIRE,), share),
    Sentence((SEVERAL,), beside),
    Sentence((SINGLE_PHASE,), single),
    Sentence((THREE_PHASE,), three),
    Sentence((OVERLOAD,), overload),
    Sentence((DISCONNECT,), disconnect),
    Sentence((CURRENT,), which),
    *OF_AMPACITY,
)
