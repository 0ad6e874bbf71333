"""Lines that divide a box: a barrier, and the share of each side of it."""

from __future__ import annotations

import re
from decimal import Decimal

from ampleroom.job.lines.standard_boxes import GANG
from ampleroom.job.lines.statement import Statement, plain, words_joined
from ampleroom.job.model import Barrier, SpaceShare
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Words


def read_barrier(words: Words, word: str) -> Barrier:
    """``barrier metal``: a barrier, and its own volume in in3 where it is marked. Raises ``Unreadable``."""
    material = words.take("metal", "plastic", "nonmetallic")
    if not material:
        raise words.unknown("barrier material", ["metal", "plastic"])
    words.take("marked")
    volume = None
    if words.more:
        known = words.body()
        volume = None if known is UNKNOWN else known
    return Barrier("metal" if material == "metal" else "plastic", volume, words.where())


def write_barrier(barrier: Barrier) -> str:
    """A barrier in the plain form."""
    return words_joined(
        "barrier", barrier.material, f"marked {plain(barrier.volume)} in3" if barrier.volume is not None else ""
    )


SHARE = r"(\d{1,2})/(\d{1,2})"


def read_space(words: Words, word: str) -> SpaceShare:
    """``space left 1/2``: one side of a barrier and its share of the box. Raises ``Unreadable``."""
    from ampleroom.job.lines.statement import name_of

    name = name_of(words, "space")
    at = words.i
    if gang := GANG.fullmatch(words.peek()):
        words.i += 1
        return SpaceShare(name, gangs=words.whole(gang[1], at, 20), at=words.where())
    if words.peek().isdigit() and words.peek(1) in ("gang", "gangs"):
        words.i += 2
        return SpaceShare(name, gangs=words.whole(words.low[at], at, 20), at=words.where())
    if share := re.fullmatch(SHARE, words.peek()):
        words.i += 1
        top, bottom = int(share[1]), int(share[2])
        if not 0 < top < bottom:
            raise words.wrong(f"{share[0]} is not a share of a box", "write less than the whole, such as 1/3", at)
        return SpaceShare(name, share=(top, bottom), at=words.where())
    volume = words.room("the space's share such as 1/3, 2 gangs or 18 in3")
    if volume is UNKNOWN:
        raise words.wrong("a space's share cannot be ?", "write 1/3, 2 gangs or 18 in3", at)
    return SpaceShare(name, volume=volume, at=words.where())


def write_space(space: SpaceShare) -> str:
    """One side of a barrier in the plain form."""
    if space.gangs is not None:
        share = f"{space.gangs} gangs"
    elif space.share is not None:
        share = f"{space.share[0]}/{space.share[1]}"
    else:
        share = f"{plain(space.volume or Decimal(0))} in3"
    return f"space {space.name} {share}"


STATEMENTS = (
    Statement(("barrier",), Barrier, read_barrier, write_barrier, "barrier metal", "a barrier that divides the box"),
    Statement(
        ("space",),
        SpaceShare,
        read_space,
        write_space,
        "space left 2 gangs",
        "one side of a barrier; the lines that follow are in it",
    ),
)

__all__ = ["STATEMENTS"]
