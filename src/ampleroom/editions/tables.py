"""Reading the tables, and which editions are offered."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from ampleroom.errors import EditionUnknown
from ampleroom.record import Record

TABLES = Path(__file__).with_name("tables")

Block = dict[str, Any]


@cache
def topic(name: str) -> dict[str, Any]:
    """One file of tables, decimals kept exact."""
    return tomllib.loads((TABLES / f"{name}.toml").read_text("utf-8"), parse_float=Decimal)


def blocks(table: str) -> list[Block]:
    """The dated blocks of a table such as ``box_fill.grounds``, oldest first."""
    file, _, name = table.partition(".")
    found: list[Block] = topic(file)[name]
    return found


def row_key(table: str) -> tuple[str, ...]:
    """What tells the rows of a table from one another: ``("kind", "size")``; none where its rows are no list."""
    return tuple(next((block["keys"] for block in blocks(table) if "keys" in block), ()))


class Edition(Record):
    """One edition of the code book. A provisional one runs on the blocks of an earlier edition and says so."""

    year: int
    provisional: bool = False
    note: str = ""

    @property
    def title(self) -> str:
        return f"{self.year} edition (provisional)" if self.provisional else f"{self.year} edition"


OFFERED: dict[int, Edition] = {row["year"]: Edition(**row) for row in topic("editions")["edition"]}
NEWEST_COMPARED = max(year for year, offered in OFFERED.items() if not offered.provisional)


def edition(year: int) -> Edition:
    """The edition of that year, or an error that lists those offered."""
    if year not in OFFERED:
        raise EditionUnknown(f"no {year} edition is offered; the editions are {', '.join(map(str, OFFERED))}")
    return OFFERED[year]


def source_text(key: str) -> str:
    """What a source key stands for; a phrase that is no key stands for itself."""
    sources: dict[str, str] = topic("sources")["sources"]
    return sources.get(key, key)
