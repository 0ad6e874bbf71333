"""Boxes that a run passes though its line does not say so: two of its raceways meet there, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise
from typing import Any

from ampleroom.job.model import Box, Job, Raceway, Run, SpaceShare, Through
from ampleroom.record import replace


def passed_between(
    run: Run, raceways: Mapping[str, Any], places: Mapping[str, Any], is_divided: Callable[[Box], bool]
) -> Iterator[Through]:
    """Where the conductors of a run go straight through, as its raceways say. Where two meet in several places, or in a
    box with a barrier, the sheet has to say it.

    ``raceways`` and ``places``: the records of the job by their names in lower case.
    """
    said = {place.name for place in (*run.stops, *said_in(run))}
    for one, other in pairwise(run.raceways):
        first, second = (raceways.get(each.name.casefold()) for each in (one, other))
        if not (isinstance(first, Raceway) and isinstance(second, Raceway)):
            continue
        ends = {end.casefold() for end in first.ends} & {end.casefold() for end in second.ends}
        box = places.get(ends.pop()) if len(ends) == 1 else None
        if isinstance(box, Box) and box.name not in said and not is_divided(box):
            said.add(box.name)
            yield Through(box.name, derived=True, at=other.at)


def with_passed_boxes(run: Run, job: Job) -> Run:
    """A run of a job whose names are in order, with the boxes it passes."""
    if len(run.raceways) < len(("one", "other")):
        return run
    passed = passed_between(
        run,
        {raceway.name.casefold(): raceway for raceway in job.raceways},
        {box.name.casefold(): box for box in job.boxes},
        lambda box: any(isinstance(item, SpaceShare) for item in job.items(box)),
    )
    return replace(run, through=(*said_in(run), *passed))


def said_in(run: Run) -> tuple[Through, ...]:
    """The places a run's own line says it passes."""
    return tuple([passed for passed in run.through if not passed.derived])


__all__ = ["passed_between", "said_in", "with_passed_boxes"]
