"""Reading the tables, and which editions are offered."""

from __future__ import annotations

import os
from decimal import Decimal
from functools import cache
from importlib.machinery import SourceFileLoader
from types import CodeType
from typing import Any

from ampleroom.errors import EditionUnknown
from ampleroom.record import Record

TABLES = os.path.join(os.path.dirname(__file__), "tables")
"""The folder of the tables. No module may lie in it: one of a table's name would share its bytecode file."""

Block = dict[str, Any]


class TableLoader(SourceFileLoader):
    """Reads a file of tables as Python reads a module: keeps the bytecode in ``__pycache__`` beside it, and compiles
    again when the file's time or size changes.
    """

    def source_to_code(self, data: Any, path: Any, *, _optimization: int = -1) -> CodeType:  # type: ignore[override]
        """The tables of a TOML text as one Python expression, decimals exact."""
        import tomllib  # not for those who find it compiled

        tables = tomllib.loads(bytes(data).decode("utf-8"), parse_float=Decimal)
        code: CodeType = compile(repr(tables), path, "eval")
        return code


def tables_in(path: str) -> dict[str, Any]:
    """What a file of tables holds, by table name."""
    loader = TableLoader(f"ampleroom.editions.tables.{os.path.basename(path)}", path)
    code = loader.get_code(loader.name)
    assert code is not None  # a file has a source
    names: dict[str, Any] = {"__builtins__": {}, "Decimal": Decimal}
    if "datetime" in code.co_names:  # only the list of adoptions holds dates
        import datetime

        names["datetime"] = datetime
    tables: dict[str, Any] = eval(code, names)
    return tables


def topics() -> list[str]:
    """Every file of tables, by name."""
    return sorted(entry.name[:-5] for entry in os.scandir(TABLES) if entry.name.endswith(".toml"))


@cache
def topic(name: str) -> dict[str, Any]:
    """One file of tables, decimals kept exact."""
    return tables_in(os.path.join(TABLES, f"{name}.toml"))


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


class Mark(Record):
    """How one table was compared with one edition."""

    compared: bool
    from_memory: bool = False


MARKS = {"p": Mark(True), "c": Mark(True), "m": Mark(True, from_memory=True), "-": Mark(False)}
"""By the letter ``compared.toml`` has: read in print, compared through lists of changes, from memory, not compared."""

_COMPARED = topic("compared")
OFFERED: dict[int, Edition] = {
    year: Edition(year, str(year) in _COMPARED["provisional"], _COMPARED["provisional"].get(str(year), ""))
    for year in _COMPARED["editions"]
}
"""Every edition on offer by its year, oldest first."""
NEWEST_COMPARED = max(year for year, offered in OFFERED.items() if not offered.provisional)


def mark_of(table: str, year: int) -> Mark:
    """How a table, such as ``box_fill.grounds``, was compared with an edition on offer."""
    marks: str = _COMPARED["compared"][table]
    return MARKS[marks.split()[_COMPARED["editions"].index(year)]]


def edition(year: int) -> Edition:
    """The edition of that year, or an error that lists those offered."""
    if year not in OFFERED:
        raise EditionUnknown(f"no {year} edition is offered; the editions are {', '.join(map(str, OFFERED))}")
    return OFFERED[year]


def source_text(key: str) -> str:
    """What a source key stands for; a phrase that is no key stands for itself."""
    sources: dict[str, str] = topic("sources")["sources"]
    return sources.get(key, key)
