"""Reminder: cable that comes in without a clamp."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Table
from ampleroom.job.model import Base
from ampleroom.record import Record
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "cable-without-clamp"


class Unclamped(Record):
    """In a box of how many gangs cable needs no clamp, and within how many inches it is fastened then."""

    cite: str
    confidence: str
    within: Decimal
    gangs: Decimal


UNCLAMPED = Table("reminders.unclamped", Unclamped, __file__)


@rule(
    NAME,
    title="Cable without a clamp",
    topic="reminder",
    of_contents=True,
    tables=(UNCLAMPED,),
)
def cable_without_clamp(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Cable may enter with no clamp only in a small single-gang nonmetallic box, and then it is fastened to the framing
    close to the box. In a metal box, or a nonmetallic box of several gangs, secure every cable to the box.

    Why: A cable that gets pulled moves its splices, and a sharp edge cuts it.
    """
    if space.clamps is None or space.clamps.way != "none" or space.base is None or space.is_conduit_body:
        return
    if not any(met.run.cable is not None for met in space.entering):
        return
    terms = book[UNCLAMPED]
    if is_metal(space.base):
        box = "a metal box"
    elif gangs_of(space) > terms.gangs:
        box = f"a box of {gangs_of(space)} gangs"
    else:
        return
    text = (
        f"cable comes into {box} with no clamp: secure it to the box. Only a single-gang nonmetallic box does without, "
    )
    text += f"with the cable fastened within {terms.within} in."
    yield remind(NAME, text, terms, caution=True)


def is_metal(base: Base) -> bool:
    """Whether a box is known to be metal: a standard size is, unless it says plastic."""
    return base.material == "metal" or (base.form == "standard" and base.material != "plastic")


def gangs_of(space: Space) -> int:
    """The gangs of the box, or as many as its yokes need where the sheet does not say."""
    base = space.base
    assert base is not None
    if base.gangs is not None or base.ganged > 1:
        return (base.gangs or 1) * base.ganged
    return sum(settled.device.count * settled.gangs for settled in space.devices)
