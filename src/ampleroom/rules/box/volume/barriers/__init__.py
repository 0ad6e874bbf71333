"""Box volume: what barriers take away, and how a divided box is shared out."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.editions.tables import Cited, Table
from ampleroom.job.model import Barrier
from ampleroom.quantities import number, volume
from ampleroom.record import Record
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

if TYPE_CHECKING:
    from fractions import Fraction
from ampleroom.rules.box.volume.clamp_assembly import NAME as CLAMP_ASSEMBLY

NAME = "box-room-barriers"


class BarrierRoom(Record):
    """What a barrier with no marking takes, in3, and whether the book states it."""

    cite: str
    confidence: str
    stated: bool
    metal: Decimal
    nonmetallic: Decimal


BARRIER = Table("box_room.barrier", BarrierRoom, __file__)
SPACES = Table("box_room.spaces", Cited, __file__)
"""That each space a barrier makes is judged alone."""


@rule(
    NAME,
    title="Barriers and spaces",
    topic="room",
    tables=(BARRIER, SPACES),
    readings=("early-barrier", "crossing-conductor"),
)
def barriers_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """A barrier divides a box into spaces. Count each space by itself, against its share of the box volume. A conductor
    that crosses the barrier counts on both sides. What the barrier itself takes off the volume depends on the
    edition.

    Why: Room on the far side of a barrier does not help the wires on this side.
    """
    terms = book[BARRIER]
    for barrier in space.of(Barrier):
        label = f"{'Metal' if barrier.material == 'metal' else 'Nonmetallic'} barrier"
        takes, why = barrier.volume, "the volume marked on it, taken off"
        if takes is None:
            takes = terms.metal if barrier.material == "metal" else terms.nonmetallic
            why = "not marked: taken off"
        readings: tuple[str, ...] = ()
        if not terms.stated and not book.is_amended(BARRIER.name):
            readings = ("early-barrier",)
            if book.reading("early-barrier") == "takes-nothing":
                takes, why = Decimal(0), "the code gives no number before 2017; leave room for it anyway"
            else:
                why += "; before 2017 none is stated"
        yield Counted(NAME, label, exactly(1), -takes, why, terms.cite, terms.confidence, readings)


def shared_out(lines: tuple[Line, ...], space: Space, book: CodeBook) -> tuple[Line, ...]:
    """The room of one side: the whole box less what the other sides have of it, and never more than the sheet says this
    side has. A clamp assembly takes its room from the side it is in.
    """
    if space.share is None:
        return lines
    whole = tuple(line for line in lines if line.rule != CLAMP_ASSEMBLY)
    own = tuple(line for line in lines if line.rule == CLAMP_ASSEMBLY)
    total = sum((line.amount for line in whole), Decimal(0))
    if total.is_finite():
        return (*whole, *share_lines(total, space, book), *own)
    if (most := space.share.volume) is None:
        return lines
    terms = book[SPACES]
    return Counted(NAME, "This side", exactly(1), most, "as the sheet says", terms.cite, terms.confidence), *own


def share_lines(total: Decimal, space: Space, book: CodeBook) -> Iterator[Line]:
    """What brings the room of the whole box, in3, down to that of one side."""
    terms = book[SPACES]
    share, basis = share_of(space)
    label = "The other side's share" if len(space.all_shares) == 2 else "The other sides' share"
    others = Counted(
        NAME, label, share - 1, total, f"{basis}; the whole has {volume(total)}", terms.cite, terms.confidence
    )
    yield others
    most = space.share.volume if space.share else None
    if most is not None and (there := total + others.amount) > most:
        why = f"the sheet says this side has {volume(most)}"
        yield Counted(NAME, "More than this side has", exactly(1), most - there, why, terms.cite, terms.confidence)


def share_of(space: Space) -> tuple[Fraction, str]:
    """This side's share of the box, and in words."""
    from fractions import Fraction  # only now: few boxes have sides

    share = space.share
    assert share is not None
    if share.gangs is not None:
        total = sum(other.gangs or 0 for other in space.all_shares)
        return Fraction(share.gangs, total), f"this side has {share.gangs} of {total} gangs"
    if share.share is not None:
        return Fraction(*share.share), f"this side has {share.share[0]}/{share.share[1]}"
    whole = sum((other.volume or Decimal(0) for other in space.all_shares), Decimal(0))
    part = share.volume or Decimal(0)
    return Fraction(part) / Fraction(whole), f"this side has {number(part)} of {number(whole)} as written"
