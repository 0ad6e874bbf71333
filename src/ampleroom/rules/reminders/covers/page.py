"""What ``rule covers`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.page import Sentence
from ampleroom.rules.reminders.covers import ACCESS, COVER, FINISH, SHEATH

TRADE_WORDS = (
    "cover",
    "faceplate",
    "blank cover",
    "finish",
    "set back",
    "gap",
    "sheath",
    "drywall screw",
    "access",
    "buried box",
)


def cover(book: CodeBook) -> str:
    """What closes a box, and by which screws."""
    if book[COVER].screws:
        return (
            "The box needs a cover, faceplate or canopy, with screws that match its threads. Drywall screws are not "
            "allowed."
        )
    return "The box needs a cover, faceplate or canopy."


def access(book: CodeBook) -> str:
    """That a box stays within reach."""
    return "The box must stay reachable."


def finish(book: CodeBook) -> str:
    """How far back the front edge may sit and how wide a gap may be, inches."""
    terms = book[FINISH]
    back, gap = inches(terms.set_back), inches(terms.gap)
    return (
        f"The front edge is set back {back} at most in a finish that does not burn, and flush with one that does. Gaps "
        f"around the box are {gap} at most."
    )


def sheath(book: CodeBook) -> str:
    """How far cable sheath comes into a box, inches."""
    terms = book[SHEATH]
    inside = inches(terms.inside)
    boxes = "any box" if terms.metal else "a nonmetallic box"
    return f"Cable sheath comes {inside} or more into {boxes} and past any clamp."


SENTENCES = (
    Sentence((COVER,), cover),
    Sentence((ACCESS,), access),
    Sentence((FINISH,), finish),
    Sentence((SHEATH,), sheath),
)
