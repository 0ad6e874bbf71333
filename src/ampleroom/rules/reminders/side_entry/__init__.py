"""Reminder: side entries that the sheet does not say."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.quantities import inches
from ampleroom.rules.box.side_entry import SIDE_ENTRY
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "side-entry-clearance"


@rule(
    NAME,
    title="Side entries to check",
    topic="reminder",
    of_contents=True,
    tables=(SIDE_ENTRY,),
)
def side_entry_clearance(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """This reminder is for a box with a device and no side entry written in the sheet. It gives the distances to keep
    at every side entry in use. The code first asked for them in the 2023 edition.

    Why: Nearly every box has side entries in use, and only someone at the box can see which.
    """
    terms = book[SIDE_ENTRY]
    if terms.clearance and space.base is not None and space.devices and not space.is_conduit_body:
        if any(entry.wall == "side" for entry in space.side_entries):
            return
        text = (
            "where wiring enters a side wall, a device stays in front of that entry's middle or "
            f"{inches(Decimal(terms.clearance))} off the box wall"
        )
        yield remind(NAME, text, terms)
