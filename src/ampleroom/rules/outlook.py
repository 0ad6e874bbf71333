"""Unknown facts at their best or at their worst. Every allowance is monotone in each of them, so two evaluations bound it."""

from __future__ import annotations

from typing import Any, TypeVar

from ampleroom.record import Record
from ampleroom.where import Where

T = TypeVar("T")


class Question(Record):
    """A fact nobody has looked at, as one would ask for it on the spot."""

    text: str
    at: Where
    effort: int = 0
    """What it takes to find out: 0 look in or read a marking, 1 take a device out, 2 trace a cable."""


class Outlook:
    """How unknown facts are taken while a space is put together, and which were asked for.

    ``well`` is the one fact taken at its best while all others are at their worst; ``given`` are facts tried at a value.
    """

    __slots__ = ("asked", "given", "hopeful", "well")

    def __init__(
        self, hopeful: bool = False, well: Question | None = None, given: dict[Question, Any] | None = None
    ) -> None:
        self.hopeful = hopeful
        self.well = well
        self.given = given or {}
        self.asked: dict[Question, Any] = {}
        """Every fact asked for, with its worst value."""

    def take(self, question: Question, best: T, worst: T) -> T:
        """The value of a fact that is not known."""
        self.asked[question] = worst
        if question in self.given:
            found: T = self.given[question]
            return found
        return best if self.hopeful or question == self.well else worst
