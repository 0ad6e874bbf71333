"""Reminder: a depth the sheet does not say."""

from __future__ import annotations

from collections.abc import Iterator

from ampleroom.editions import CodeBook
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import inches
from ampleroom.rules.box.depth import BY_CONDUCTOR, least_depth
from ampleroom.rules.registry import remind, rule
from ampleroom.rules.space import Space, depth_of
from ampleroom.worksheet import Reminder

NAME = "depth-unknown"


@rule(NAME, title="Depth to measure", topic="reminder", of_contents=True, tables=(BY_CONDUCTOR,))
def depth_unknown(space: Space, book: CodeBook) -> Iterator[Reminder]:
    """If the sheet does not say how deep a box is, this reminder gives the least depth its device needs, so that
    somebody can measure it.

    Why: A box can have enough volume and still be too shallow.
    """
    if space.base is None or space.is_conduit_body:
        return
    if space.base.depth is UNKNOWN or any(settled.device.projects is UNKNOWN for settled in space.devices):
        return  # an open finding says it
    if depth_of(space.base, space.base_size, [ring.part for ring in space.rings], book) is None:
        need = least_depth(space, book)
        if need is not None:  # a box without a device needs none
            text = f"its depth is not in the sheet: it needs {inches(need.depth)} {need.why}"
            yield remind(NAME, text, need)
