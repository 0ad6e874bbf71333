"""Reading the tables, and which editions are offered."""

from __future__ import annotations

import os
from collections.abc import Callable
from decimal import Decimal
from functools import cache
from importlib.machinery import SourceFileLoader
from types import CodeType
from typing import Any, Generic, TypeVar

from ampleroom.errors import EditionUnknown
from ampleroom.record import Record

PACKAGE = os.path.dirname(os.path.dirname(__file__))
LISTS = os.path.join(os.path.dirname(__file__), "lists")
"""The folder of what is no table of numbers: editions, readings, sources, adoptions. No module may lie beside a TOML
file of its own name in any folder: the two would share one bytecode file."""
ROOMS = ("editions", "rules")
"""The folders below which every ``table.toml`` is a file of dated tables."""

Block = dict[str, Any]
"""One dated block of a table, as written."""
T = TypeVar("T", bound=Record)


class TableLoader(SourceFileLoader):
    """Reads a TOML file as Python reads a module: keeps the bytecode in ``__pycache__`` beside it, and compiles again
    when the file's time or size changes.
    """

    def source_to_code(self, data: Any, path: Any, *, _optimization: int = -1) -> CodeType:  # type: ignore[override]
        """The content of a TOML text as one Python expression, decimals exact."""
        import tomllib  # not for those who find it compiled

        content = tomllib.loads(bytes(data).decode("utf-8"), parse_float=Decimal)
        code: CodeType = compile(repr(content), path, "eval")
        return code


@cache
def read_toml(path: str) -> dict[str, Any]:
    """What a TOML file of the package holds, decimals exact. Raises ``OSError`` where there is none."""
    loader = TableLoader(f"ampleroom.{os.path.basename(path)}", path)
    kept = getattr(__spec__.loader, "kept", None)  # of a command of the checkout, which keeps what it compiled
    code = kept.compiled(loader) if kept else loader.get_code(loader.name)
    assert code is not None  # a file has a source
    names: dict[str, Any] = {"__builtins__": {}, "Decimal": Decimal}
    if "datetime" in code.co_names:  # only the list of adoptions holds dates
        import datetime

        names["datetime"] = datetime
    content: dict[str, Any] = eval(code, names)
    return content


def listed(name: str) -> dict[str, Any]:
    """One of the lists that are no tables of numbers: ``readings``, ``sources`` ..."""
    return read_toml(os.path.join(LISTS, f"{name}.toml"))


class Table(Generic[T]):
    """A table of the code book: its published name, such as ``box_fill.grounds``, the record it is read into, and the
    ``table.toml`` beside a module that has its dated blocks.

    >>> class Grounds(Record):
    ...     cite: str
    ...     confidence: str
    ...     covered: Decimal | None
    >>> GROUNDS = Table("box_fill.grounds", Grounds, __file__)  # doctest: +SKIP
    """

    __slots__ = ("name", "path", "record", "row")

    def __init__(self, name: str, record: type[T], module_file: str, row: type[Record] | None = None) -> None:
        self.name = name
        self.record = record
        self.path = os.path.join(os.path.dirname(module_file), "table.toml")
        self.row = row
        """Of a table whose ``rows`` are a list: the record of one of them."""

    @property
    def blocks(self) -> list[Block]:
        """The dated blocks, oldest first."""
        topic, _, name = self.name.partition(".")
        dated: list[Block] = read_toml(self.path)[topic][name]
        return dated

    def read(self, block: Block) -> T:
        """The record of a table in force. Raises ``KeyError`` where the block lacks a field that has no default."""
        values = fields_of(self.record, block)
        if self.row is not None:
            values["rows"] = tuple([self.row(**fields_of(self.row, row)) for row in block["rows"]])
        return self.record(**values)


def fields_of(record: type[Record], block: Block) -> dict[str, Any]:
    """The values of a record's fields: numbers as ``Decimal``, since a place may amend any of them to a fraction."""
    values: dict[str, Any] = {}
    for field, kind in record.__annotations__.items():
        if field in block:
            value = block[field]
            values[field] = KINDS[kind](value) if kind in KINDS else value
    return values


def _by_name(rows: dict[str, Any]) -> dict[str, Decimal]:
    return {name: Decimal(value) for name, value in rows.items()}


KINDS: dict[str, Callable[[Any], Any]] = {
    "Decimal": Decimal,
    "Decimal | None": lambda value: None if value == "all" else Decimal(value),
    "dict[str, Decimal]": _by_name,
    "tuple[str, ...]": tuple,
    "tuple[int, ...]": tuple,
}
"""How a value is read, by the kind its field is declared to have; any other stays as it is written."""


def cases_beside(module_file: str) -> list[dict[str, Any]]:
    """The cases in the ``cases.toml`` beside a module. Raises ``OSError`` where there is none."""
    cases: list[dict[str, Any]] = read_toml(os.path.join(os.path.dirname(module_file), "cases.toml"))["case"]
    return cases


@cache
def table_files() -> dict[str, str]:
    """The file of every table of the code book by the table's name, by topic and name. For those who ask for a table by
    its name; a rule has its ``Table``, which knows its file."""
    files_by_name: dict[str, str] = {}
    for room in ROOMS:
        for folder, _, files in os.walk(os.path.join(PACKAGE, room)):
            if "table.toml" in files:
                path = os.path.join(folder, "table.toml")
                files_by_name |= {
                    f"{topic}.{name}": path for topic, tables in read_toml(path).items() for name in tables
                }
    return dict(sorted(files_by_name.items()))


def topics() -> list[str]:
    """Every topic of the code book's tables, by name: ``box_fill``, ``raceways`` ..."""
    return sorted({name.partition(".")[0] for name in table_files()})


def tables_of(topic: str) -> list[str]:
    """The tables of a topic, without its name."""
    return [name.partition(".")[2] for name in table_files() if name.startswith(f"{topic}.")]


def blocks(table: str) -> list[Block]:
    """The dated blocks of a table such as ``box_fill.grounds``, oldest first. Raises ``KeyError`` where there is
    none.
    """
    topic, _, name = table.partition(".")
    dated: list[Block] = read_toml(table_files()[table])[topic][name]
    return dated


def row_key(dated: list[Block]) -> tuple[str, ...]:
    """What tells the rows of a table from one another: ``("kind", "size")``; none where its rows are no list."""
    return tuple(next((block["keys"] for block in dated if "keys" in block), ()))


class Cited(Record):
    """A table that says only where a rule stands."""

    cite: str
    confidence: str


class Edition(Record):
    """One edition of the code book. A provisional one runs on the blocks of an earlier edition and says so."""

    year: int
    provisional: bool = False
    note: str = ""

    @property
    def title(self) -> str:
        """Its year, and whether it is provisional."""
        return f"{self.year} edition (provisional)" if self.provisional else f"{self.year} edition"


class Mark(Record):
    """How one table was compared with one edition."""

    compared: bool
    from_memory: bool = False


MARKS = {"p": Mark(True), "c": Mark(True), "m": Mark(True, from_memory=True), "-": Mark(False)}
"""By the letter ``compared.toml`` has: read in print, compared through lists of changes, from memory, not compared."""

_COMPARED = listed("compared")
OFFERED: dict[int, Edition] = {
    year: Edition(year, str(year) in _COMPARED["provisional"], _COMPARED["provisional"].get(str(year), ""))
    for year in _COMPARED["editions"]
}
"""Every edition on offer by its year, oldest first."""
NEWEST_COMPARED = max(year for year, offered in OFFERED.items() if not offered.provisional)


def mark_of(table: str, year: int) -> Mark:
    """How a table, such as ``box_fill.grounds``, was compared with an edition on offer. A table that is not in the
    matrix was compared with none: every answer that leans on it says so.
    """
    marks: str | None = _COMPARED["compared"].get(table)
    return MARKS["-"] if marks is None else MARKS[marks.split()[_COMPARED["editions"].index(year)]]


def edition(year: int) -> Edition:
    """The edition of that year, or an error that lists those offered."""
    if year not in OFFERED:
        raise EditionUnknown(f"no {year} edition is offered; the editions are {', '.join(map(str, OFFERED))}")
    return OFFERED[year]


def source_text(key: str) -> str:
    """What a source key stands for; a phrase that is no key stands for itself."""
    sources: dict[str, str] = listed("sources")["sources"]
    return sources.get(key, key)
