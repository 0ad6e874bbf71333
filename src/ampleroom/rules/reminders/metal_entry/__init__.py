"""Reminder: metal that enters a nonmetallic box."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.trade import ARMORED_CABLES, METAL_RACEWAYS
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.reminders.covers import may_be_plastic
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "metal-into-nonmetallic"


METAL_ENTRY = Table("reminders.metal_entry", Cited, __file__)
"""That metal into a nonmetallic box is bonded through it."""


@rule(
    NAME,
    title="Metal into a nonmetallic box",
    topic="reminder",
    of_contents=True,
    tables=(METAL_ENTRY,),
)
def metal_into_nonmetallic(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """A nonmetallic box is made for nonmetallic raceway and sheathed cable. Metal raceway or armored cable may enter it
    only if the box has a way to bond all of them together, inside it or molded in.

    Why: A nonmetallic box breaks the metal path that clears a fault, and the raceway past it can stay live.
    """
    if space.is_conduit_body or not may_be_plastic(space):
        return
    raceways = [
        f"{raceway.kind.upper()} {raceway.name}" for raceway in space.raceways if raceway.kind in METAL_RACEWAYS
    ]
    cables = [met.run.cable.name for met in space.entering if met.run.cable and met.run.cable.kind in ARMORED_CABLES]
    metal = list(dict.fromkeys(raceways + cables))
    if not metal:
        return
    terms = book[METAL_ENTRY]
    sure = space.base is not None and space.base.material == "plastic"
    enters = f"{', '.join(metal)} {'enters' if len(metal) == 1 else 'enter'}"
    text = f"{enters} {'a nonmetallic box' if sure else 'a box that may be nonmetallic'}"
    text += ": such a box needs a listed means to bond the metal through it; a metal box does not"
    yield remind(NAME, text, terms, caution=True)
