"""What ``rule receptacle-rating`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.protection import RECEPTACLES, SINGLE_RECEPTACLE
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("receptacle rating", "15 amp receptacle", "single receptacle", "dedicated circuit", "cord load")


def ratings(book: CodeBook) -> str:
    """Which receptacles each circuit takes, and what one cord may draw."""
    terms = book[RECEPTACLES]
    rows = "; ".join(
        f"{count(row.circuit)} A: {' or '.join(map(str, row.ratings)) + ' A' if row.ratings else 'no receptacles'}"
        for row in terms.rows
    )
    cords = ", ".join(f"{count(most)} A on {rating} A" for rating, most in terms.cord_loads.items())
    return f"By the rating of the circuit: {rows}. One cord draws at most: {cords}."


def single(book: CodeBook) -> str:
    """The rule of one alone."""
    return "A single receptacle alone on a circuit: no less than the circuit."


SENTENCES = (Sentence((RECEPTACLES,), ratings), Sentence((SINGLE_RECEPTACLE,), single))
