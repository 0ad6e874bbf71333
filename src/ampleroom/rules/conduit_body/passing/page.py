"""What ``rule conduit-body-passing`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from collections import Counter

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import BARE_WIRES, BORES, CABLE_IN_RACEWAY, INSULATED_WIRES, RACEWAY_FILL, ROUNDING
from ampleroom.job.trade import size_text
from ampleroom.quantities import count, plural
from ampleroom.rules.conduit_body.passing import CROSS_SECTION
from ampleroom.rules.page import FROM_MEMORY, Sentence, times

TRADE_WORDS = ("conduit body", "lb", "ll", "lr", "raceway", "conduit fill", "pass through")


def cross_section(book: CodeBook) -> str:
    """The cross-section of a body against that of its raceway."""
    return f"The cross-section of the body is at least {times(book[CROSS_SECTION].times)} that of the raceway."


def raceway_fill(book: CodeBook) -> str:
    """How much of a raceway one, two and more conductors may fill, percent."""
    terms = book[RACEWAY_FILL]
    one, two, more = (f"{share}%" for share in (terms.one, terms.two, terms.more))
    return f"One conductor may fill {one} of the raceway, two may fill {two}, and more than two {more}."


def rounding(book: CodeBook) -> str:
    """From which decimal a count of like conductors rounds up."""
    return f"A count of conductors all of one size rounds up from a decimal of {count(book[ROUNDING].up_from)}."


def raceway_cable(book: CodeBook) -> str:
    """As how many conductors a cable counts."""
    return f"A cable counts as {plural(book[CABLE_IN_RACEWAY].counts, 'conductor').replace('1 ', 'one ', 1)}."


def areas(book: CodeBook) -> str:
    """Where the areas come from, and which of them rest on memory."""
    text = "The areas of raceways and of insulated and bare wires come from the code's tables."
    remembered: Counter[str] = Counter()
    for bore in book[BORES].rows:
        if bore.confidence == FROM_MEMORY:
            remembered[bore.kind] += 1
    for table in (INSULATED_WIRES, BARE_WIRES):
        for wire in book[table].rows:
            if wire.confidence == FROM_MEMORY:
                remembered[wire.types or size_text(wire.size)] += 1
    if remembered:
        of = ", ".join(f"{name.upper()} ({plural(rows, 'row')})" for name, rows in remembered.items())
        text += f" From memory: {of}."
    return text


SENTENCES = (
    Sentence((CROSS_SECTION,), cross_section),
    Sentence((RACEWAY_FILL,), raceway_fill),
    Sentence((ROUNDING,), rounding),
    Sentence((CABLE_IN_RACEWAY,), raceway_cable),
    Sentence((BORES, INSULATED_WIRES, BARE_WIRES), areas),
)
