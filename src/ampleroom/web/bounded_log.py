"""A log with a bound: on each line, on how many lines come in a while, and on all of it together."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from typing import TextIO

BURST = 300
"""Lines of one level that are written one after the other."""
A_MINUTE = 6
"""Lines of one level that are written every minute for good."""
LONGEST = 4_000
"""Letters of one entry, with its traceback."""
LARGEST = 20_000_000
"""Letters of the whole log of one server."""


class Bounded(logging.StreamHandler[TextIO]):
    """Writes what stays within the bounds, and how much did not.

    Warnings and errors are counted apart: a flood of refused requests must not hide an error.
    """

    def __init__(self, stream: TextIO | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        super().__init__(stream)
        self.clock = clock
        self.left: dict[int, float] = {}
        self.seen: dict[int, float] = {}
        self.missed: dict[int, int] = {}
        self.written = 0

    def emit(self, record: logging.LogRecord) -> None:
        """Write a record, or count it as left out where its level's allowance or the whole log's is used up."""
        if self.written > LARGEST:
            return
        level, now = record.levelno, self.clock()
        gained = (now - self.seen.get(level, now)) * A_MINUTE / 60
        self.left[level] = min(BURST, self.left.get(level, BURST) + gained)
        self.seen[level] = now
        if self.left[level] < 1:
            self.missed[level] = self.missed.get(level, 0) + 1
            return
        self.left[level] -= 1
        super().emit(record)

    def format(self, record: logging.LogRecord) -> str:
        """A record in words, shortened in the middle past ``LONGEST`` characters; first, how many were left out."""
        words = super().format(record)
        if len(words) > LONGEST:  # the end of a traceback says what went wrong
            words = words[: LONGEST // 2] + " ... " + words[-LONGEST // 2 :]
        if missed := self.missed.pop(record.levelno, 0):
            words = f"({missed} more of level {record.levelname} are left out: too many at once)\n{words}"
        self.written += len(words)
        if self.written > LARGEST:
            words += "\nthe log is full; nothing more is written until the server starts again"
        return words
