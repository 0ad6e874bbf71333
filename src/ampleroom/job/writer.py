"""From a job to a sheet: for jobs that came from elsewhere. A job read from a sheet keeps its own text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from ampleroom.job.lines import STATEMENTS
from ampleroom.job.lines.heads import usual_cable_text
from ampleroom.job.model import Box, Item, Job, Kind

_WRITERS = {statement.record: statement.write for statement in STATEMENTS}


def written(record: Any) -> str:
    """One record as a line of a sheet."""
    return _WRITERS[type(record)](record)


def write_job(job: Job) -> str:
    """The whole job as a sheet; ``read_job(write_job(job)) == job``."""
    return "\n".join(_lines(job)) + "\n"


def _lines(job: Job) -> Iterator[str]:
    if job.title:
        yield f"job {job.title}"
    for word in ("address", "permit", "contractor", "phase"):
        if text := getattr(job, word):
            yield f"{word} {text}"
    if job.edition is not None:
        yield f"edition {job.edition}"
    if job.amendments_file:
        yield f"amendments {job.amendments_file}"
    if said := usual_cable_text(job.usual_cable, job.cables_together):
        yield said
    yield from map(written, job.readings)
    yield from map(written, job.notes)
    yield from block([job.dwelling] if job.dwelling else [])
    yield from block(job.loads)
    yield from block(job.panels)
    yield from block(job.circuits)
    yield from block(job.equipment)
    yield from block(job.routes)
    places: tuple[Kind | Box, ...] = (*job.kinds, *job.boxes)
    for place in places:
        yield ""
        yield written(place)
        yield from map(indented, place.items)
    yield from block(job.raceways)
    yield from block(job.wireways)
    yield from block(job.runs)


def block(records: Iterable[Any]) -> Iterator[str]:
    """Records one a line after an empty line; nothing where there are none."""
    lines = [written(record) for record in records]
    if lines:
        yield ""
        yield from lines


def indented(item: Item) -> str:
    """A line under a box, as it stands there."""
    return "  " + written(item)
