"""The kinds of subject a check judges: which of them a job has, how one is judged, and what it is called.

To add a kind, register it; report, counts, text, JSON, page, packet, workbook and map show it as it is. What a surface
shows otherwise than for any kind stands in a small table of that surface, by the kind's name. The functions of a kind
that few jobs have import its rules when they are called, as those of raceways in ``check`` do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from ampleroom.editions import CodeBook
from ampleroom.job.graph import Graph
from ampleroom.job.model import Job
from ampleroom.quantities import plural
from ampleroom.record import Record
from ampleroom.worksheet import Purpose, SubjectReport


class Kind(Record):
    """A kind of subject: what a report calls it, which of it a job has, and how one is judged."""

    name: str
    """``box``, as in ``SubjectReport.kind``."""
    several: str
    """``boxes``"""
    subjects: Callable[[Job], Iterable[Any]]
    """Those of a job, in the order of the sheet."""
    judge: Callable[[Any, Graph, CodeBook], SubjectReport]
    """All that is found of one of them, from itself, the graph of its job and the code book."""
    covers: tuple[str, ...] = ()
    """The kinds of ``job.subjects`` that are judged with it, and so are no longer told as not judged."""
    headline: Purpose | None = None
    """What is weighed whose margin is said beside a subject's name."""


KINDS: dict[str, Kind] = {}
"""Every kind that is judged, by name, in the order answers show them."""


def register(kind: Kind) -> Kind:
    """Have a kind judged in every check from now on. Raises ``ValueError`` where its name is taken."""
    if kind.name in KINDS:
        raise ValueError(f"two kinds of subject are named {kind.name}")
    KINDS[kind.name] = kind
    return kind


def judged_names() -> frozenset[str]:
    """The kinds of ``job.subjects`` that some kind judges."""
    return frozenset(name for kind in KINDS.values() for name in kind.covers)


def so_many(count: int, name: str) -> str:
    """``1 box``, ``2 conduit bodies``."""
    return plural(count, name, KINDS[name].several if name in KINDS else "")


def headline_of(name: str) -> Purpose | None:
    """The purpose whose margin heads subjects of this kind; None for a kind without one or not registered."""
    return KINDS[name].headline if name in KINDS else None


__all__ = ["KINDS", "Kind", "headline_of", "judged_names", "register", "so_many"]
