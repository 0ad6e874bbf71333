"""Records of the places of a job: boxes and their kinds, panels, equipment."""

from __future__ import annotations

from collections.abc import Sequence

from ampleroom.job.model.box_lines import Item, written_at
from ampleroom.job.unknown import Maybe
from ampleroom.record import Record
from ampleroom.where import Where


class Kind(Record):
    """A kind of box used again and again: what it is, said once."""

    name: str
    items: tuple[Item, ...] = ()
    description: str = ""
    at: Where = written_at()


class Box(Record):
    """A box at a place. ``kind`` UNKNOWN: which box goes here is still to be chosen."""

    name: str
    description: str = ""
    kind: Maybe[str] = ""
    items: tuple[Item, ...] = ()
    at: Where = written_at()


def items_of_kinds(kinds: Sequence[Kind]) -> dict[str, tuple[Item, ...]]:
    """What stands under each ``kind`` line, by the kind's name; of two of one name the first."""
    return {kind.name: kind.items for kind in reversed(kinds)}


class Panel(Record):
    """A panel: its supply in volts and phases, and the amperes of its main breaker and bus."""

    name: str
    volts: tuple[int, ...] = ()
    phases: int | None = None
    main: int | None = None
    bus: int | None = None
    terminals: int | None = None
    spaces: int | None = None
    """How many breakers of one pole it has places for, a tandem counted as one; None: not written."""
    description: str = ""
    at: Where = written_at()


class Equipment(Record):
    """Something a run ends in that is no box of ours: a kiln, a water heater, a luminaire with its own wiring space."""

    name: str
    description: str = ""
    room: str = ""
    """The room or place it stands in, one of ``ROOMS`` of ``job.trade``; empty where nobody wrote it."""
    at: Where = written_at()
