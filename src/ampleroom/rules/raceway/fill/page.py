"""What ``rule raceway-fill`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import (
    BARE_WIRES,
    BORES,
    CABLE_IN_RACEWAY,
    COMPACT_WIRES,
    INSULATED_WIRES,
    METRIC_SIZES,
    NIPPLE,
    RACEWAY_FILL,
    ROUNDING,
)
from ampleroom.quantities import count, inches
from ampleroom.rules.page import Sentence, words
from ampleroom.rules.raceway.fill import SLEEVE

TRADE_WORDS = (
    *("raceway", "conduit", "conduit fill", "raceway fill", "fill", "emt", "pvc", "nipple", "sleeve", "pipe"),
    "cable in conduit",
)


def by_count(book: CodeBook) -> str:
    """What part of the bore one, two and more conductors may fill, in percent, and which column decides."""
    terms = book[RACEWAY_FILL]
    return (
        f"One conductor may fill {terms.one}% of the bore, two {terms.two}%, more than two {terms.more}%. The "
        "printed column of the table decides by default, and not the percentage worked out (disputed: "
        "fill-column)."
    )


def nipple(book: CodeBook) -> str:
    """Up to how many inches a raceway is a nipple, and to what percent it may be filled."""
    terms = book[NIPPLE]
    return f"A nipple of up to {inches(terms.longest)} may be filled to {terms.percent}%, whatever the count."


def rounding(book: CodeBook) -> str:
    """From which decimal a count of conductors of one size is rounded up."""
    return (
        "Where all conductors are one size, their count is rounded up from a decimal of "
        f"{count(book[ROUNDING].up_from)}; by default not in a nipple (disputed: nipple-rounding)."
    )


def cable(book: CodeBook) -> str:
    """As how many conductors a cable counts."""
    return f"A cable counts as {words(book[CABLE_IN_RACEWAY].counts)} conductor, as thick as its wider side."


def sleeve(book: CodeBook) -> str:
    """That a sleeve has no limit."""
    return "A short sleeve that only protects cable from damage has no limit."


def bore(book: CodeBook) -> str:
    """Where the bore of a raceway comes from."""
    return "The bore is that of the table, by the kind of raceway and its trade size."


def metric(book: CodeBook) -> str:
    """The metric designator of each trade size."""
    sizes = ", ".join(f"{row.size} {row.metric}" for row in book[METRIC_SIZES].rows)
    return f"Trade sizes and their metric designators: {sizes}."


def insulated(book: CodeBook) -> str:
    """Where the area of an insulated conductor comes from."""
    return "An insulated conductor takes the area the table has for its size and insulation."


def compact(book: CodeBook) -> str:
    """Where the area of a compact conductor comes from, and how to write one."""
    return "A compact conductor has a smaller area, from a table of its own. Write 'compact' before its insulation."


def bare(book: CodeBook) -> str:
    """Where the area of a bare conductor comes from, and what a ground of unknown insulation may be."""
    return "A bare conductor takes its own area. A ground whose insulation is not written may be bare or not."


SENTENCES = (
    Sentence((RACEWAY_FILL,), by_count),
    Sentence((NIPPLE,), nipple),
    Sentence((ROUNDING,), rounding),
    Sentence((CABLE_IN_RACEWAY,), cable),
    Sentence((SLEEVE,), sleeve),
    Sentence((BORES,), bore),
    Sentence((METRIC_SIZES,), metric),
    Sentence((INSULATED_WIRES,), insulated),
    Sentence((COMPACT_WIRES,), compact),
    Sentence((BARE_WIRES,), bare),
)
