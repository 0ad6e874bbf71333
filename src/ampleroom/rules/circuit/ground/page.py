"""What ``rule equipment-ground`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.grounding import EQUIPMENT, INCREASE, PATH
from ampleroom.editions.resistance import RESISTANCE
from ampleroom.job.trade import size_text
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = (
    *("equipment ground", "equipment grounding conductor", "egc size", "ground size", "no ground", "upsized"),
)


def equipment(book: CodeBook) -> str:
    """The table, copper and aluminum."""
    rows = "; ".join(
        f"{count(row.up_to)} A {size_text(row.copper)} copper or {size_text(row.aluminum)} aluminum"
        for row in book[EQUIPMENT].rows
    )
    return f"The thinnest ground by the breaker before it, up to so many amperes: {rows}."


def increase(book: CodeBook) -> str:
    """What an increase is told from."""
    if book[INCREASE].where_it_lies:
        return (
            "Conductors have grown where they are thicker than the thinnest with enough ampacity where they lie: what "
            "heat and company take is no increase."
        )
    return "Conductors have grown where they are thicker than the thinnest by the table alone, whatever the reason."


def path(book: CodeBook) -> str:
    """What may be a ground without a wire."""
    terms = book[PATH]
    return (
        f"A ground without a wire: {', '.join(terms.raceways)} all along, and the armor of {', '.join(terms.armor)}. "
        f"Only under terms: {', '.join(terms.flexible)}."
    )


def sections(book: CodeBook) -> str:
    """The sections of the conductors."""
    rows = {row.size: row.circular_mils for row in book[RESISTANCE].rows}
    sizes = ", ".join(f"{size_text(size)} {count(mils)}" for size, mils in rows.items())
    return f"Sections in circular mils: {sizes}."


SENTENCES = (
    Sentence((EQUIPMENT,), equipment),
    Sentence((INCREASE,), increase),
    Sentence((PATH,), path),
    Sentence((RESISTANCE,), sections),
)
