"""Move: the next trade size of a raceway that passes."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.job.unknown import UNKNOWN
from ampleroom.remedy.raceway_in_place import RacewayInPlace
from ampleroom.remedy.remedy import Disturbance, Move
from ampleroom.rules.raceway.sizes import bore_rows
from ampleroom.sizing.raceway import SizeOfKind, size_of_kind


def larger_raceway(placed: RacewayInPlace) -> Iterator[Move]:
    """The smallest trade size that passes, or the next one up that the stock file has. Where its three conductors may
    jam, the size after that too. A conduit body at its end is made for one trade size, so then none is offered.
    """
    if not placed.fill_fails or placed.bodies:
        return
    sized = smallest_that_passes(placed)
    if sized is None:
        return
    kind = placed.raceway.kind
    sizes = [row.size for row in bore_rows(kind, placed.book)]
    larger = [size for size in sizes[sizes.index(sized.certain) :] if placed.stock.length(f"{kind} {size}")]
    may_jam = sized.may_jam and larger[:1] == [sized.certain]
    for size in larger[: 2 if may_jam else 1]:
        yield as_size(placed, size, may_jam and size == sized.certain)


def smallest_that_passes(placed: RacewayInPlace) -> SizeOfKind | None:
    """The smallest trade size of its kind that passes for certain; None where it is not larger than now, or none is."""
    raceway = placed.raceway
    sizes = [row.size for row in bore_rows(raceway.kind, placed.book)]
    sized = size_of_kind(placed.subject, raceway.kind, placed.job, placed.book)
    if not sized.certain or raceway.size is UNKNOWN or raceway.size not in sizes:
        return None
    return sized if sizes.index(sized.certain) > sizes.index(raceway.size) else None


def as_size(placed: RacewayInPlace, size: str, may_jam: bool) -> Move:
    """The move to one trade size that the stock file has."""
    change, becomes = placed.resized(size)
    parts = placed.parts(placed.raceway.name, size, placed.subject.runs, placed.length)
    assert parts is not None  # the stock has its length
    stocked = placed.stock.length(f"{placed.raceway.kind} {size}")
    assert stocked is not None
    details = ("Its three conductors may jam in this size: the next size up is the safer one.",) if may_jam else ()
    return Move(
        placed.raceway.name,
        f"use {stocked.name} instead of {placed.raceway.size}",
        change,
        parts.buys,
        parts.minutes,
        Disturbance.NOTHING,
        notes=("the raceway can be reached along its whole way", *parts.notes),
        rates=parts.rates,
        details=details,
        becomes="" if becomes == placed.raceway.name else becomes,
    )
