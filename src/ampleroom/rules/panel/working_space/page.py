"""What ``rule working-space`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence
from ampleroom.rules.panel.working_space import NOT_IN, SPACE, STEPS

TRADE_WORDS = ("panel clearance", "clear space", "working clearance", "panel in a closet", "panel in a bathroom")


def space(book: CodeBook) -> str:
    """The clear room before a panel."""
    terms = book[SPACE]
    return (
        f"Up to {count(terms.volts)} V to ground {count(terms.depth)} ft are clear before a panel. Above that "
        f"{count(terms.bare)} ft, {count(terms.grounded)} ft with grounded parts opposite, {count(terms.live)} ft with "
        f"live parts on both sides. The space is {count(terms.width)} in. wide and {count(terms.height)} ft high."
    )


def places(book: CodeBook) -> str:
    """Where no panel is."""
    return "No panel is in a clothes closet, nor in the bathroom of a dwelling."


def steps(book: CodeBook) -> str:
    """Nor there."""
    return "No panel is over the steps of a stairway."


SENTENCES = (Sentence((SPACE,), space), Sentence((NOT_IN,), places), Sentence((STEPS,), steps))
