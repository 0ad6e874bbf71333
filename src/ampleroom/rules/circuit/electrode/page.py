"""What ``rule electrode-conductor`` says besides the rule: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.grounding import ELECTRODE
from ampleroom.editions.resistance import RESISTANCE
from ampleroom.job.trade import size_text
from ampleroom.rules.circuit.ground.page import sections
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("grounding electrode", "electrode conductor", "gec", "ground rod", "service ground", "250.66")


def by_service(book: CodeBook) -> str:
    """The table, copper and aluminum."""
    rows = "; ".join(
        f"{up_to(row.copper_up_to)} copper or {up_to(row.aluminum_up_to)} aluminum: {size_text(row.copper)} copper or "
        f"{size_text(row.aluminum)} aluminum"
        for row in book[ELECTRODE].rows
    )
    return f"The thinnest conductor by the largest wire of the service, of up to so much: {rows}."


def up_to(size: str) -> str:
    """``#2``; ``more`` of any size."""
    return "more" if size == "all" else size_text(size)


def alone(book: CodeBook) -> str:
    """What is enough to one kind of electrode."""
    terms = book[ELECTRODE]
    rod = f"{size_text(terms.rod_copper)} copper or {size_text(terms.rod_aluminum)} aluminum"
    return (
        f"Enough in any case to nothing but a rod, a pipe or a plate: {rod}; to nothing but an electrode encased in "
        f"concrete: {size_text(terms.encased_copper)} copper."
    )


SENTENCES = (Sentence((ELECTRODE,), by_service), Sentence((ELECTRODE,), alone), Sentence((RESISTANCE,), sections))
