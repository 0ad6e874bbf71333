"""Reminder: covers, finish and sheath."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.quantities import inches
from ampleroom.record import Record
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "covers"
SHEATHED = ("nm-b", "uf-b")


class Cover(Record):
    """Whether cover screws must match the box."""

    cite: str
    confidence: str
    screws: bool


class Finish(Record):
    """How far a box may be set back, and the gap around it, inches."""

    cite: str
    confidence: str
    set_back: Decimal
    gap: Decimal


class Sheath(Record):
    """Inches of sheath inside a box, and whether metal boxes need it too."""

    cite: str
    confidence: str
    inside: Decimal
    metal: bool


COVER = Table("reminders.cover", Cover, __file__)
FINISH = Table("reminders.finish", Finish, __file__)
SHEATH = Table("reminders.sheath", Sheath, __file__)
ACCESS = Table("reminders.access", Cited, __file__)
"""That a box stays reachable."""


@rule(
    NAME,
    title="Covers, finish and sheath",
    topic="reminder",
    of_contents=True,
    tables=(COVER, FINISH, SHEATH, ACCESS),
)
def covers(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Every finished box needs a cover, a faceplate or a canopy, and must stay reachable without damage to the
    building. Keep the front edge within 1/4 in. of a finish that does not burn, and flush with one that does. Keep
    gaps around the box to 1/8 in. Cable sheath must come at least 1/4 in. into the box and past any clamp.

    Why: An open or buried box is how a loose splice becomes a fire.
    """
    cover, finish, sheath = book.once(standing)
    yield cover
    if space.mounting is not None and space.mounting.way != "surface":
        yield finish
    sheathed = any(
        entering.run.cable is not None and entering.run.cable.kind in SHEATHED for entering in space.entering
    )
    if sheathed and (may_be_plastic(space) or book[SHEATH].metal):
        yield sheath


def may_be_plastic(space: Space) -> bool:
    """Whether the box is nonmetallic, or nobody says what it is made of: a box of a standard size is a metal one."""
    base = space.base
    return base is None or base.material == "plastic" or (not base.material and base.form in ("marked", "unmarked"))


def standing(book: CodeBook) -> tuple[Reminder, Reminder, Reminder]:
    """What is said of every box, of one in a wall, and of one with sheathed cable."""
    cover, access = book[COVER], book[ACCESS]
    screws = " with screws that match its threads" if cover.screws else ""
    text = f"it needs a cover, faceplate or canopy{screws}, and stays reachable"
    of_cover = remind(NAME, text, cover, cite=f"{cover.cite}, {access.cite}")

    finish = book[FINISH]
    text = (
        f"keep the front edge within {inches(finish.set_back)} of a finish that does not burn, flush with one that does"
    )
    text += f"; gaps at most {inches(finish.gap)}"
    of_finish = remind(NAME, text, finish)

    sheath = book[SHEATH]
    text = f"cable sheath comes at least {inches(sheath.inside)} into the box and past any clamp"
    return of_cover, of_finish, remind(NAME, text, sheath)
