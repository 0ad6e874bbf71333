"""Reminder: free conductor."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.record import Record
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "free-conductor"


class FreeConductor(Record):
    """Inches of free conductor, and how far it reaches outside a small opening."""

    cite: str
    confidence: str
    length: Decimal
    outside: Decimal
    opening_under: Decimal
    """Inches: an opening smaller than this in any direction is a small one."""
    spliced: bool
    """Whether a splice may make up the length."""


FREE_CONDUCTOR = Table("reminders.free_conductor", FreeConductor, __file__)


@rule(
    NAME,
    title="Free conductor",
    topic="reminder",
    of_contents=True,
    tables=(FREE_CONDUCTOR,),
    readings=("spliced-free-length",),
)
def free_conductor(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Leave at least 6 in. of each conductor free wherever it is spliced or terminated, measured from where it leaves
    its sheath or raceway. If the opening is under 8 in. in any direction, the conductor must also reach at least 3
    in. outside it. Conductors that pass through without a splice are exempt.

    Why: The next person to work in the box needs enough wire to hold on to.
    """
    if any(entering.how == "ends" for entering in space.entering):
        yield book.once(free_length)


def free_length(book: CodeBook) -> Reminder:
    """The reminder of how much free conductor to leave, in inches; by the reading chosen, also whether spliced."""
    terms = book[FREE_CONDUCTOR]
    text = (
        f"leave {terms.length} in. of free conductor from the sheath or raceway, reaching {terms.outside} in. outside "
        f"an opening under {terms.opening_under} in."
    )
    readings: tuple[str, ...] = ()
    if not terms.spliced:
        if book.reading("spliced-free-length") == "unspliced":
            text += "; of one piece, not made up by a splice"
        else:
            readings = ("spliced-free-length",)
    return remind(NAME, text, terms, readings=readings)
