"""Which lines are worth trying by the words of the trade."""

from __future__ import annotations

from collections.abc import Sequence

from ampleroom.job.lines.box_base import BODIES
from ampleroom.job.nicknames import ASKED, BOX_LINES, BOXES, CABLES, COUNTS, DEVICES, HEADS, PARTS, QUADS, TO, WIREWAYS
from ampleroom.job.trade import DEVICE_KINDS
from ampleroom.job.trade import DEVICES as DEVICE_WORDS
from ampleroom.job.trade_words.tokens import singular


def may_mean_something(low: Sequence[str]) -> bool:
    """Whether a line whose first word nobody knows holds any word of the trade, or a number: a file of rubbish is many
    lines.
    """
    return any(word[0] in "0123456789#(" or word in KNOWN or singular(word) in KNOWN or "/" in word for word in low)


KNOWN = frozenset(
    word
    for table in (
        BOXES,
        PARTS,
        BOX_LINES,
        DEVICES,
        CABLES,
        HEADS,
        COUNTS,
        ASKED,
        QUADS,
        DEVICE_WORDS,
        DEVICE_KINDS,
        TO,
        BODIES,
        WIREWAYS,
    )
    for phrase in table
    for word in phrase.split()
) | {"home", "homerun", "home-run", "hr", "pull", "rough", "rough-in", "final", "inspection", "stage", "nec", "?"}
"""Every word that may begin or carry a line in the trade's words."""
