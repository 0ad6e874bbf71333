"""Where in a job sheet a fact was written."""

from __future__ import annotations

from ampleroom.record import TupleRecord


class Where(TupleRecord):
    """A stretch of words on one line; the sheet turns it into columns when somebody asks.

    Words are counted from 0, lines from 1. Line 0: the fact was not read from a sheet.
    """

    line: int
    first: int = 0
    last: int = 0


NOWHERE = Where(0)
