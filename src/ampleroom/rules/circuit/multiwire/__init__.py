"""Multiwire circuits: what to see to where two circuits share a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.model import Run
from ampleroom.rules.circuit.outlets import Outlets
from ampleroom.rules.registry import remind, rule
from ampleroom.words import (
    MULTIWIRE_DISCONNECT,
    MULTIWIRE_GROUPING,
    MULTIWIRE_LEGS,
    MULTIWIRE_LOADS,
    MULTIWIRE_NEUTRAL,
)
from ampleroom.worksheet import Reminder

NAME = "multiwire"
DISCONNECT = Table("multiwire.disconnect", Cited, __file__)
GROUPING = Table("multiwire.grouping", Cited, __file__)
LEGS = Table("multiwire.legs", Cited, __file__)
NEUTRAL = Table("multiwire.neutral", Cited, __file__)
LOADS = Table("multiwire.loads", Cited, __file__)


@rule(
    NAME,
    title="Multiwire circuits",
    topic="reminder",
    about="outlets",
    tables=(DISCONNECT, GROUPING, LEGS, NEUTRAL, LOADS),
)
def multiwire(outlets: Outlets, book: CodeBook) -> Iterator[Reminder]:
    """Circuits that share a neutral open together at the panel and stand on different legs, and no device carries
    their neutral. A run that names several circuits is taken to share its neutral.

    Why: On one leg the neutral carries the sum of both with nothing to trip, and where it comes loose at a device, what
    is plugged in gets far too many volts.
    """
    shared = [run for run in outlets.runs if "+" in run.circuit]
    if not shared:
        return
    names = " and ".join(dict.fromkeys(name for run in shared for name in run.circuit.split("+")))
    yield remind(NAME, MULTIWIRE_LEGS.format(names), book[LEGS], caution=True)
    yield remind(NAME, MULTIWIRE_DISCONNECT.format(names), book[DISCONNECT])
    if any(outlets.source in run.place_names and not is_apart(run) for run in shared):
        yield remind(NAME, MULTIWIRE_GROUPING, book[GROUPING])
    if any(place.is_device for place in outlets.places):
        yield remind(NAME, MULTIWIRE_NEUTRAL, book[NEUTRAL])
    yield remind(NAME, MULTIWIRE_LOADS, book[LOADS])


def is_apart(run: Run) -> bool:
    """Whether it is plain at the panel which wires belong together: they come in one cable."""
    return run.cable is not None


__all__ = ["NAME", "multiwire"]
