"""Records on other lines of the sheet than they were read from."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar, get_args

from ampleroom.job.model import Box, Circuit, Item, Kind, Run, Wireway
from ampleroom.record import Record, late, source_of
from ampleroom.where import Where

R = TypeVar("R", bound=Record)
HOLDERS: dict[type, tuple[str, ...]] = {
    Box: ("items",),
    Kind: ("items",),
    Run: ("stops", "through", "raceways", "routes"),
    Wireway: ("apart",),
    Circuit: ("electrodes",),
}
"""Fields that hold records written in places of their own."""
KNOWN_LATE: dict[type, tuple[str, ...]] = {
    **dict.fromkeys(get_args(Item), ()),
    Box: ("name",),
    Kind: (),
    Run: ("kept_place_names",),
}
"""Records that are moved when somebody looks, and what is asked of each of them even after a small change."""


def moved(record: R, shift: int) -> R:
    """A record, and those in it, so many lines further down.

    Of a box, a line under it and a run this is worked out when somebody looks. After a tap hardly anything is looked at
    but the box itself, and of boxes alike only the first (``content_id``).
    """
    kind = type(record)
    known = KNOWN_LATE.get(kind)
    if known is None:
        return kind(*moved_fields(record, shift))
    source = source_of(record)
    if source is not None:
        _, record, before = source
        shift += before
    return late(record, moved_fields, shift, known)


def content_id(record: Record) -> int:
    """The same for records that say the same on lines of their own: read from equal lines, they are one record moved.
    It holds only as long as one of them lives: whoever keeps it must keep the record too.
    """
    source = source_of(record)
    return id(record) if source is None else id(source[1])


def moved_fields(record: Record, shift: int) -> tuple[Any, ...]:
    """The fields of a record, and those of the records in it, so many lines further down."""
    kind = type(record)
    fields = content_of(kind)(record)
    line, first, last = fields[-1]
    where = Where(line + shift, first, last)
    holders = HOLDERS.get(kind)
    if holders is None:
        return (*fields[:-1], where)
    by_name = dict(zip(kind._fields, fields, strict=True))
    for holder in holders:
        by_name[holder] = tuple([moved(part, shift) for part in by_name[holder]])
    by_name["at"] = where
    return tuple(by_name.values())


@cache
def content_of(kind: type[Record]) -> Callable[[Any], tuple[Any, ...]]:
    """What reads all fields of a record of a class; ``at`` is the last of them."""
    assert kind._fields[-1] == "at", kind
    return attrgetter(*kind._fields)
