"""Local amendments: one more block for a table, with a place, read from a file beside the job
(``amendments_file.py``).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from ampleroom.editions.tables import Block, topics
from ampleroom.record import Record

NO_TABLES: Mapping[str, list[Block]] = {}
NOT_OF_THE_CODE = {"cables"}
"""Dated tables that are no code: a place can amend what a cable may do, not what its maker put in it."""


@cache
def amendable_topics() -> tuple[str, ...]:
    """Every topic of tables that a place may change: an edition's numbers stand in them."""
    return tuple(name for name in topics() if name not in NOT_OF_THE_CODE)


class Amendments(Record):
    """What one place changed: blocks by table name."""

    place: str
    source: str = ""
    tables: Mapping[str, list[Block]] = NO_TABLES

    def blocks(self, table: str, year: int) -> list[Block]:
        """The blocks of a table in force in a year, each marked with the place and a citation that names it."""
        return [
            {**block, "amended_by": self.place, "cite": block.get("cite", f"{self.place} amendment")}
            for block in self.tables.get(table, ())
            if block["from"] <= year
        ]
