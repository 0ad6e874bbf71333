"""Reminder: class 2 wires beside power wires."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space
from ampleroom.worksheet import Reminder

NAME = "class-2-beside-power"


POWER_LIMITED = Table("reminders.power_limited", Cited, __file__)
"""That class 2 and power are kept apart."""


@rule(
    NAME,
    title="Class 2 beside power",
    topic="reminder",
    of_contents=True,
    tables=(POWER_LIMITED,),
)
def class_2_beside_power(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """Class 2, signal and data wires may not share a space with light and power conductors. A barrier keeps them apart.
    The few exceptions are in the article for the low-voltage system.

    Why: One nicked wire puts line voltage on a circuit that people touch.
    """
    voltages = {met.low_voltage for met in space.entering}
    if voltages == {True, False}:
        terms = book[POWER_LIMITED]
        text = (
            "class 2, signal or data wires share this space with power wires: put a barrier or a box of their "
            "own, unless "
        )
        text += "their article allows it here"
        yield remind(NAME, text, terms, caution=True)
