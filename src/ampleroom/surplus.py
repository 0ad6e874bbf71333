"""A verdict in hands: how many cables of one kind are too many in a box that fails, worked out by the count itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from ampleroom.job.graph import RunAtBox
from ampleroom.job.model import Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.words import too_many_text

MOST_CABLES = 12
"""So many cables of one kind are taken out at most."""
MOST_WAYS = 32
"""Where cables of one name differ (in their ground, or one is looped), so many ways to take some of them out are
tried."""


class TooMany:
    """What is too many in a box, or a side of it; nothing is worked out before ``text`` is asked for.

    Any two are equal: what they say follows from the finding they are part of.
    """

    __slots__ = ("passes", "runs", "side")

    def __init__(self, runs: Sequence[RunAtBox], side: str, passes: Callable[[Sequence[RunAtBox]], bool]) -> None:
        """``runs``: those at the box; ``side``: of its barrier, or empty; ``passes``: whether the fill passes with
        these runs.
        """
        self.runs = runs
        self.side = side
        self.passes = passes

    def __eq__(self, other: object) -> bool:
        return isinstance(other, TooMany)

    def __hash__(self) -> int:
        return hash(TooMany)

    @property
    def text(self) -> str:
        """``one 12/2 cable too many``; empty where no one kind of cable answers, or not exactly."""
        text, most = "", MOST_CABLES
        for name in self.kinds:
            if cables := self.least(name, most):
                text, most = too_many_text(cables, name), cables - 1
        return text

    @property
    def kinds(self) -> dict[str, dict[Any, list[int]]]:
        """The cables that can be taken out, by their name; under it those that are alike in all, by their places in
        ``runs``.
        """
        met = [id(run) for run, _ in self.runs]
        kinds: dict[str, dict[Any, list[int]]] = {}
        for place, (run, at) in enumerate(self.runs):
            cable = run.cable
            if cable is None or run.wires or run.count is UNKNOWN or at.space != self.side or met.count(id(run)) > 1:
                continue
            if cable.size is UNKNOWN or UNKNOWN in (cable.of, cable.ground):
                continue
            old = "old " if cable.kind == "old" else ""
            alike = (cable, run.material, type(at), getattr(at, "slack", ""), getattr(at, "loop", None))
            kinds.setdefault(f"{old}{cable.size}/{cable.of}", {}).setdefault(alike, []).append(place)
        return kinds

    def least(self, name: str, most: int = MOST_CABLES) -> int:
        """How many cables of a name would have to go, whichever they are; 0 where no number up to ``most`` is exact."""
        groups = list(self.kinds[name].values())
        there = [sum(number_of(self.runs[place][0]) for place in group) for group in groups]
        for cables in range(1, min(sum(there), most) + 1):
            ways = list(shares(cables, there))
            if len(ways) > MOST_WAYS:
                return 0
            passing = [self.passes(self.without(groups, way)) for way in ways]
            if any(passing):
                return cables if all(passing) else 0
        return 0

    def without(self, groups: list[list[int]], numbers: Sequence[int]) -> list[RunAtBox]:
        """The runs with so many cables of each group taken out, the last ones first."""
        left: list[RunAtBox | None] = list(self.runs)
        for group, taken in zip(groups, numbers, strict=True):
            for place in reversed(group):
                run, at = self.runs[place]
                count = number_of(run)
                out = min(taken, count)
                taken -= out
                if out:
                    left[place] = (replace(run, count=count - out), at) if out < count else None
        return [each for each in left if each is not None]


def number_of(run: Run) -> int:
    """How many cables a run is; those of an unknown number are never taken out."""
    assert run.count is not UNKNOWN
    return run.count


def shares(cables: int, there: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Every way to take ``cables`` cables from heaps of so many."""
    if not there:
        if not cables:
            yield ()
        return
    for first in range(min(cables, there[0]) + 1):
        for rest in shares(cables - first, there[1:]):
            yield (first, *rest)
