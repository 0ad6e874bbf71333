"""Facts nobody has checked, and the worst and best case of one finding.

A fact is one field of one record, known by where it stands in the sheet and never by a name or a sentence, so it is
asked once however many findings lean on it. Which end of it is worse is for each finding to say: a thicker wire is
worse for box fill and better for voltage drop.

A finding *declares* the worse end of a field only where that holds whatever the other facts are. Two weighings then
bound any number of such facts. What it does not declare is tried at every value: slow, and never wrong. A rule's author
who forgets a declaration loses time and no answer; a wrong declaration is what ``tests/test_bounds.py`` looks for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import islice
from typing import Any, Generic, Literal, TypeAlias, TypeVar

from ampleroom.record import TupleRecord
from ampleroom.where import Where

T = TypeVar("T")
MOST_CASES = 256
"""So many cases of a finding are tried; past them it is open."""
MOST_WEIGHINGS = 60
"""A finding on a raceway that takes more cases than this lists its facts and does not say of each what it would settle:
each would have to be tried as often again."""
MOST_SHARING = 40
"""So many runs are put into one raceway to see whether they fit; of more it is asked at once."""


class Fact(TupleRecord):
    """Whose fact it is, and which: a place in the sheet, a part of what is written there, and a field of it."""

    at: Where
    record: int
    """The record itself, by its ``id``, where it was not read from a sheet; else 0."""
    part: str
    """Which of several alike on one line: ``2`` of the third group of wires; of a line in a kind, also the box."""
    field: str


def fact_of(record: Any, field: str, part: str = "") -> Fact:
    """The fact that is a field of a record; the record has its place in ``at``."""
    at: Where = record.at
    return Fact(at, 0 if at.line else id(record), part, field)


class Unknown(TupleRecord, Generic[T]):
    """A fact nobody has checked. ``choices`` go from small to large: all there are, or the two ends of a range."""

    fact: Fact
    text: str
    """What to find out, as one asks for it at the box."""
    choices: tuple[T, ...]
    names: tuple[str, ...] = ()
    """The choices in words; empty: they are words already."""
    is_range: bool = False
    unit: str = ""
    """Of a range: ``in3``, or empty for a count."""
    effort: int = 0
    """What it takes to find out: 0 look in or read a marking, 1 take a device out, 2 trace a cable."""

    def name_of(self, value: T) -> str:
        """One of the choices in words."""
        return self.names[self.choices.index(value)] if self.names else str(value)


Values: TypeAlias = Mapping[Fact, Any]
End: TypeAlias = Literal["small", "large", "neither"] | tuple[Any, ...]
"""Which end of a fact is worse. ``neither``: the finding does not lean on it. A tuple: the values of a range between
which the finding only gets better or only worse, so that the worst and the best are among them."""
Ends: TypeAlias = Mapping[str, End]
"""The worse end by field; a field that is not in it is tried at every value."""


class Undeclared(Exception):
    """A finding leans on a range and does not say which end is worse; trying both ends would prove nothing."""


class Assumption:
    """One way to take the unknown facts: some at a value, the rest at their worse (or better) end."""

    __slots__ = ("at_worst", "ends", "needed", "values")

    def __init__(self, ends: Ends, at_worst: bool = True, values: Values | None = None) -> None:
        self.ends = ends
        self.at_worst = at_worst
        self.values = values or {}
        self.needed: dict[Fact, Unknown[Any]] = {}
        """Every unknown fact that was asked for, in order."""

    def take(self, unknown: Unknown[T]) -> T:
        """The value assumed for a fact; the fact is noted as needed."""
        self.needed[unknown.fact] = unknown
        return self.value_of(unknown)

    def value_of(self, unknown: Unknown[T]) -> T:
        """The value assumed for a fact. Raises ``Undeclared`` for a range whose worse end was not declared."""
        if unknown.fact in self.values:
            set_value: T = self.values[unknown.fact]
            return set_value
        end = self.ends.get(unknown.fact.field)
        if end is None and unknown.is_range:
            raise Undeclared(f"which end of {unknown.fact.field} is worse?")
        is_last = self.at_worst if end != "small" else not self.at_worst
        return to_try(unknown, end)[-1 if is_last else 0]

    @property
    def open_facts(self) -> list[Unknown[Any]]:
        """The facts that were neither set to a value nor have a declared end."""
        return [
            unknown
            for fact, unknown in self.needed.items()
            if fact not in self.values and not isinstance(self.ends.get(fact.field), str)
        ]


def to_try(unknown: Unknown[T], end: End | None) -> tuple[T, ...]:
    """The values among which the worst and the best are."""
    return end if isinstance(end, tuple) else unknown.choices


def cases(
    weigh: Callable[[Assumption], T], ends: Ends, at_worst: bool, values: Values
) -> Iterator[tuple[T, Assumption]]:
    """A finding with its declared facts at one end and each other fact at every value it may have.

    A fact may be needed only if another has a certain value (the size of a ground, where there is one). So facts are
    branched on in the order in which the weighing asks for them.
    """
    waiting = [values]
    while waiting:
        assumption = Assumption(ends, at_worst, waiting.pop())
        yield weigh(assumption), assumption
        taken = dict(assumption.values)
        for unknown in assumption.open_facts:
            value = assumption.value_of(unknown)
            others = (other for other in to_try(unknown, ends.get(unknown.fact.field)) if other != value)
            waiting += [{**taken, unknown.fact: other} for other in others]
            taken[unknown.fact] = value


class Bounds(TupleRecord, Generic[T]):
    """The worst and the best a finding can be, and the unknown facts it leans on."""

    worst: T
    best: T
    needed: Mapping[Fact, Unknown[Any]]
    is_complete: bool = True
    """False where there were more cases than anyone would wait for: then it is never called passed or failed."""


def bounds(
    weigh: Callable[[Assumption], T], ends: Ends, rank: Callable[[T], Any], values: Values | None = None
) -> Bounds[T]:
    """The worst and the best case of a finding. ``rank`` orders what ``weigh`` gives, the least being the worst;
    ``values`` sets facts to try what would follow from them.

    Raises ``Undeclared`` where the finding leans on a range and does not declare its worse end.
    """
    tried = list(islice(cases(weigh, ends, True, values or {}), MOST_CASES + 1))
    needed = {fact: unknown for _, assumption in tried for fact, unknown in assumption.needed.items()}
    worst = min((outcome for outcome, _ in tried), key=rank)
    if not needed:
        return Bounds(worst, worst, needed)
    hopeful = list(islice(cases(weigh, ends, False, values or {}), MOST_CASES + 1))
    needed |= {fact: unknown for _, assumption in hopeful for fact, unknown in assumption.needed.items()}
    best = max((outcome for outcome, _ in hopeful), key=rank)
    return Bounds(worst, best, needed, max(len(tried), len(hopeful)) <= MOST_CASES)
