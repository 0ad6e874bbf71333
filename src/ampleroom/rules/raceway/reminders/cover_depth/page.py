"""What ``rule raceway-cover-depth`` says besides the rule itself: words it is found by, and its sentences by
edition.
"""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.page import Sentence, capital
from ampleroom.rules.raceway.reminders.cover_depth import COVER_DEPTHS

TRADE_WORDS = ("burial depth", "cover depth", "underground", "buried conduit", "trench depth")


def depths(book: CodeBook) -> str:
    """The least cover in each place, inches: of rigid and intermediate metal conduit, of any other raceway."""
    places = "; ".join(f"{row.place}: {inches(row.rigid)} and {inches(row.other)}" for row in book[COVER_DEPTHS].rows)
    return capital(
        f"cover of rigid or intermediate metal conduit, and of any other raceway, by what lies above: {places}"
    )


SENTENCES = (Sentence((COVER_DEPTHS,), depths),)
