"""One thing under many assumptions: settled once for each way its unknown facts are taken, whoever asks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, TypeVar

from ampleroom.facts import Assumption, Fact, Unknown

T = TypeVar("T")


class Asked(Generic[T]):
    """A fact that was asked for while a thing was put together, and what followed from each of its values: the next
    fact, or the thing.
    """

    __slots__ = ("by_value", "unknown")

    def __init__(self, unknown: Unknown[Any]) -> None:
        self.unknown = unknown
        self.by_value: dict[Any, Asked[T] | T] = {}


class Cases(Generic[T]):
    """The cases of one side of a box, or of one leg of a circuit. ``settle`` puts it together under an assumption.

    Which facts are asked for, and which values they may have, depends on the values of those before, so equal values
    for all of them give an equal result.
    """

    __slots__ = ("first", "settle")

    def __init__(self, settle: Callable[[Assumption], T]) -> None:
        self.settle = settle
        self.first: Asked[T] | T | None = None

    def under(self, assumption: Assumption) -> T:
        """The thing as assumed; ``assumption`` then holds the facts it needed."""
        needed: dict[Fact, Unknown[Any]] = {}
        step = self.first
        while isinstance(step, Asked):
            needed[step.unknown.fact] = step.unknown
            step = step.by_value.get(assumption.value_of(step.unknown))
        if step is not None:
            assumption.needed.update(needed)
            return step
        settled = self.settle(assumption)
        self.keep(settled, assumption)
        return settled

    def keep(self, settled: T, assumption: Assumption) -> None:
        """Keeps what was put together under an assumption."""
        asked = list(assumption.needed.values())
        if not asked:
            self.first = settled
            return
        step = self.first = self.first if isinstance(self.first, Asked) else Asked(asked[0])
        for unknown, following in zip(asked, [*asked[1:], None], strict=True):
            if step.unknown.fact != unknown.fact:
                return  # the assumption was asked for something else before
            value = assumption.value_of(unknown)
            if following is None:
                step.by_value[value] = settled
                return
            known = step.by_value.get(value)
            if not isinstance(known, Asked):
                known = step.by_value[value] = Asked(following)
            step = known
