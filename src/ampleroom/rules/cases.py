"""One space under many assumptions: settled once for each way its unknown facts are taken, whoever asks."""

from __future__ import annotations

from typing import Any

from ampleroom.facts import Assumption, Fact, Unknown
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.space import Space


class Asked:
    """A fact that was asked for while a space was put together, and what followed from each of its values: the next
    fact, or the space.
    """

    __slots__ = ("by_value", "unknown")

    def __init__(self, unknown: Unknown[Any]) -> None:
        self.unknown = unknown
        self.by_value: dict[Any, Asked | Space] = {}


class SpaceCases:
    """The cases of one space of a box.

    Which facts are asked for, and which values they may have, depends on the values of those before, so equal values
    for all of them give an equal space.
    """

    __slots__ = ("builder", "first", "side_index")

    def __init__(self, builder: SpaceBuilder, side_index: int) -> None:
        self.builder = builder
        self.side_index = side_index
        self.first: Asked | Space | None = None

    def space(self, assumption: Assumption) -> Space:
        """The space as assumed; ``assumption`` then holds the facts it needed."""
        needed: dict[Fact, Unknown[Any]] = {}
        step = self.first
        while isinstance(step, Asked):
            needed[step.unknown.fact] = step.unknown
            step = step.by_value.get(assumption.value_of(step.unknown))
        if step is not None:
            assumption.needed.update(needed)
            return step
        space = self.builder.space(self.side_index, assumption)
        self.keep(space, assumption)
        return space

    def keep(self, space: Space, assumption: Assumption) -> None:
        """Keeps a space that was put together under an assumption."""
        asked = list(assumption.needed.values())
        if not asked:
            self.first = space
            return
        step = self.first = self.first if isinstance(self.first, Asked) else Asked(asked[0])
        for unknown, following in zip(asked, [*asked[1:], None], strict=True):
            if step.unknown.fact != unknown.fact:
                return  # the assumption was asked for something else before
            value = assumption.value_of(unknown)
            if following is None:
                step.by_value[value] = space
                return
            known = step.by_value.get(value)
            if not isinstance(known, Asked):
                known = step.by_value[value] = Asked(following)
            step = known
