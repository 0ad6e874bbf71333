"""The line that says how a box sits in the wall."""

from __future__ import annotations

from ampleroom.job.lines.statement import Statement, plain, words_joined
from ampleroom.job.model import Mounting
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Words

WAYS = ("new-work", "old-work", "surface", "masonry")


def read_mounting(words: Words, word: str) -> Mounting:
    """``mounted old-work cavity 3-1/2 in``: how a box sits, in inches. Raises ``Unreadable``."""
    way, cavity, hole, finished, existing = "", None, None, False, False
    while words.more:
        at = words.i
        if words.take(","):
            continue
        if named := words.take(*WAYS):
            way = named
        elif words.take("finished"):
            finished = True
        elif words.take("existing"):
            existing = True
        elif words.take("cavity"):
            known = words.inches("a depth such as 3-1/2 in")
            cavity = None if known is UNKNOWN else known
        elif words.take("hole"):
            values, _ = words.dimensions("the size of the hole such as 2 x 3 in")
            if len(values) != 2 or UNKNOWN in values:
                raise words.wrong("a hole takes a width and a height", "write: hole 2 x 3 in", at)
            hole = (values[0], values[1])
        else:
            raise words.unknown("mounting", [*WAYS, "finished", "existing", "cavity", "hole"])
    return Mounting(way, cavity, hole, finished, existing, words.where())  # type: ignore[arg-type]


def write_mounting(mounting: Mounting) -> str:
    """How a box sits, in the plain form."""
    cavity = f"cavity {plain(mounting.cavity)} in" if mounting.cavity is not None else ""
    hole = f"hole {plain(mounting.hole[0])} x {plain(mounting.hole[1])} in" if mounting.hole else ""
    return words_joined(
        "mounted",
        mounting.way,
        cavity,
        hole,
        "finished" if mounting.finished else "",
        "existing" if mounting.existing else "",
    )


STATEMENTS = (
    Statement(
        ("mounted",),
        Mounting,
        read_mounting,
        write_mounting,
        "mounted old-work cavity 3-1/2 in finished",
        "how the box sits in the wall",
    ),
)

__all__ = ["STATEMENTS", "WAYS"]
