"""Box volume: what a clamp assembly with terminations takes away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import CodeBook
from ampleroom.rules.box.fill.clamps import CLAMPS
from ampleroom.rules.registry import rule
from ampleroom.rules.space import Space, exactly

if TYPE_CHECKING:
    pass

NAME = "box-room-clamp-assembly"


@rule(NAME, title="Clamp assemblies", topic="room", of_contents=True, tables=(CLAMPS,))
def assembly_lines(space: Space, book: CodeBook) -> Iterator[Line]:
    """A clamp assembly is made for certain nonmetallic boxes, and the cable is terminated inside it. Take the volume of
    the part that stays in the box off the box volume, and count no clamp allowance for it. The code first said so in
    the 2014 edition.

    Why: It takes up room like any other body in the box, and only its maker can say how much.
    """
    clamps = space.clamps
    if clamps is None or clamps.way != "assembly" or book[CLAMPS].assembly:
        return
    terms = book[CLAMPS]
    yield Counted(
        NAME,
        "Clamp assembly left inside",
        exactly(1),
        -clamps.volume,
        "its volume, taken off",
        terms.cite,
        terms.confidence,
    )
