"""Disputed points, each a named reading with its default first."""

from __future__ import annotations

from ampleroom.editions.tables import listed
from ampleroom.record import Record


class Reading(Record):
    """A point the book leaves open: what is asked, the ways to read it, and where that was discussed.

    A reading that is not ``judged`` belongs to work this version does not do yet, so no sheet may set it.
    """

    row: int
    name: str
    asks: str
    choices: dict[str, str]
    source: str
    judged: bool = True

    @property
    def default(self) -> str:
        """As the book is plainly read; where it is silent, the cautious way."""
        return next(iter(self.choices))

    @property
    def is_open(self) -> bool:
        """Whether there is more than one way to read it."""
        return len(self.choices) > 1


READINGS: dict[str, Reading] = {row["name"]: Reading(**row) for row in listed("readings")["reading"]}
