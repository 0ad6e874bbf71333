"""From what people type to the plain form of a sheet. Tried only on a line that cannot be read as it stands.

Each family, one file each, gives one way to write the line plainly; whoever asks reads it by the usual grammar, which
has the last word. So nothing that is readable changes its meaning, and no second grammar grows here. A word of the
plain form remembers the words it stands for, so that a fault still points at what was typed.
"""

from __future__ import annotations

from ampleroom.job.trade_words.boxes import box_alone
from ampleroom.job.trade_words.job_lines import on_its_own, place_begins
from ampleroom.job.trade_words.known import may_mean_something
from ampleroom.job.trade_words.runs import comes_in
from ampleroom.job.trade_words.tokens import Line, Token, tokens_of
from ampleroom.job.trade_words.under_box import pieces_apart, under_a_box

__all__ = [
    "Line",
    "Token",
    "box_alone",
    "comes_in",
    "may_mean_something",
    "on_its_own",
    "pieces_apart",
    "place_begins",
    "tokens_of",
    "under_a_box",
]
