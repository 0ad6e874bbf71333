"""What ``rule raceway-bend-radius`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.page import Sentence
from ampleroom.rules.raceway.bends import BENDS
from ampleroom.rules.raceway.bends.page import bends
from ampleroom.rules.raceway.reminders.bend_radius import BEND_RADII

TRADE_WORDS = ("bend", "bend radius", "radius", "bender", "conduit bend")


def radius(book: CodeBook) -> str:
    """The least bend radius by trade size, inches, for other than one-shot and full-shoe benders."""
    radii = ", ".join(f"{row.size}: {inches(row.other)}" for row in book[BEND_RADII].rows)
    return f"A one-shot or full-shoe bender may bend tighter than other ways. Their least radius by trade size: {radii}"


SENTENCES = (Sentence((BEND_RADII,), radius), Sentence((BENDS,), bends))
