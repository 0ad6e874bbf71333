"""What ``rule conduit-body-large`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.pull_box import PULL_BOX
from ampleroom.editions.raceways import (
    BARE_WIRES,
    BORES,
    CABLE_IN_RACEWAY,
    COMPACT_WIRES,
    INSULATED_WIRES,
    RACEWAY_FILL,
)
from ampleroom.job.trade import size_text
from ampleroom.rules.box.pull_box.distances import ANGLE, OPPOSITE_COVER, SPACING, STRAIGHT
from ampleroom.rules.box.pull_box.marking import MARKING
from ampleroom.rules.box.pull_box.page import cover, spacing
from ampleroom.rules.conduit_body.passing.page import areas, raceway_cable, raceway_fill
from ampleroom.rules.page import Sentence

TRADE_WORDS = ("conduit body", "lb", "ll", "lr", "large conductor", "4 awg", "#4", "marked for", "pull box")


def from_size(book: CodeBook) -> str:
    """From which size a conduit body goes by its marking."""
    return f"A conduit body with {size_text(book[PULL_BOX].from_size)} and larger goes by its marking or its distances."


def marking(book: CodeBook) -> str:
    """What a marking permits."""
    terms = book[MARKING]
    text = "The conductors may be no more and no larger than marked, and below the fill of the raceway."
    if terms.by_area:
        text += " Others may go in if all together take no more than the marked ones"
        return f"{text}, {terms.insulation.upper()} where the marking names no insulation."
    return f"{text} No other number or size may go in."


def distance(book: CodeBook) -> str:
    """How long a body without a marking is."""
    return f"Without a marking: {book[STRAIGHT].times} times its trade size straight, {book[ANGLE].times} at a turn."


SENTENCES = (
    Sentence((PULL_BOX,), from_size),
    Sentence((MARKING,), marking),
    Sentence((STRAIGHT, ANGLE), distance),
    Sentence((SPACING,), spacing),
    Sentence((OPPOSITE_COVER,), cover),
    Sentence((RACEWAY_FILL,), raceway_fill),
    Sentence((CABLE_IN_RACEWAY,), raceway_cable),
    Sentence((BORES, INSULATED_WIRES, COMPACT_WIRES, BARE_WIRES), areas),
)
