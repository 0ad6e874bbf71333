"""One space under many assumptions: settled once for each way its unknown facts are taken, whoever asks."""

from __future__ import annotations

from typing import Any

from ampleroom.facts import Assumption, Fact, Unknown
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.space import Space


class SpaceCases:
    """The cases of one space of a box.

    Which facts are asked for depends on the values of those before, so equal values for all of them give an equal
    space.
    """

    __slots__ = ("builder", "made", "side_index")

    def __init__(self, builder: SpaceBuilder, side_index: int) -> None:
        self.builder = builder
        self.side_index = side_index
        self.made: dict[tuple[Fact, ...], tuple[dict[Fact, Unknown[Any]], dict[tuple[Any, ...], Space]]] = {}

    def space(self, assumption: Assumption) -> Space:
        """The space as assumed; ``assumption`` then holds the facts it needed."""
        for needed, by_values in self.made.values():
            values = tuple([assumption.value_of(unknown) for unknown in needed.values()])
            if (space := by_values.get(values)) is not None:
                assumption.needed.update(needed)
                return space
        space = self.builder.space(self.side_index, assumption)
        self.keep(space, assumption)
        return space

    def keep(self, space: Space, assumption: Assumption) -> None:
        """Keeps a space that was put together under an assumption."""
        needed = dict(assumption.needed)
        _, by_values = self.made.setdefault(tuple(needed), (needed, {}))
        by_values[tuple([assumption.value_of(unknown) for unknown in needed.values()])] = space
