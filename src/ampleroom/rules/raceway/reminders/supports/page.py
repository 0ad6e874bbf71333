"""What ``rule raceway-supports`` says besides the rule itself: words it is found by, and its sentences by edition."""

from __future__ import annotations

from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import SUPPORTS
from ampleroom.quantities import count
from ampleroom.rules.page import Sentence, capital
from ampleroom.rules.raceway.reminders.supports import PVC_SUPPORTS, THREADED_SUPPORTS

TRADE_WORDS = ("strap", "conduit strap", "support", "hanger", "conduit support")
SHOWN = ("emt", "ent", "fmc")


def by_kind(book: CodeBook) -> str:
    """How far apart common kinds of raceway are supported, in feet."""
    rows = [row for row in book[SUPPORTS].rows if row.kind in SHOWN]
    spacings = ", ".join(f"{row.kind.upper()} every {count(row.every)} ft" for row in rows)
    return f"{capital(spacings)}; each other kind has its own distance."


def threaded(book: CodeBook) -> str:
    """How far apart straight threaded conduit may be supported, in feet."""
    most = max(row.every for row in book[THREADED_SUPPORTS].rows)
    return f"Straight rigid or intermediate conduit with threaded couplings may go up to {count(most)} ft, by size."


def pvc(book: CodeBook) -> str:
    """How far apart PVC conduit is supported, in feet, from the smallest trade size to the largest."""
    spacings = [row.every for row in book[PVC_SUPPORTS].rows]
    return f"PVC conduit goes {count(min(spacings))} to {count(max(spacings))} ft between supports, by size."


SENTENCES = (
    Sentence((SUPPORTS,), by_kind),
    Sentence((THREADED_SUPPORTS,), threaded),
    Sentence((PVC_SUPPORTS,), pvc),
)
