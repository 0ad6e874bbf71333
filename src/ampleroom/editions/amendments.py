"""Local amendments: one more block for a table, with a place, read from a file beside the job.

    place  = "Cold Harbor"
    source = "Ordinance 12-4"

    [[box_fill.grounds]]
    from    = 2020
    cite    = "Cold Harbor 314.16(B)(5)"
    covered = 2

Only what is stricter or different is written; all else falls through from the code book. A row of a list is named by what
tells it from the others: ``rows = [{ kind = "emt", size = "1/2", area = 0.30 }]``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache, lru_cache
from itertools import islice
from typing import Any

from ampleroom.editions.tables import Block, blocks, row_key, tables_of, topics
from ampleroom.errors import nearest
from ampleroom.record import Record

NO_TABLES: Mapping[str, list[Block]] = {}
ALWAYS = {"from", "cite", "source"}
MOST = 100
"""More faults than this are not listed: each is looked for in the text."""
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
        found = []
        for block in self.tables.get(table, ()):
            if block["from"] <= year:
                found.append({**block, "amended_by": self.place, "cite": block.get("cite", f"{self.place} amendment")})
        return found


class AmendmentFault(Record):
    """One thing wrong in an amendments file: line, column, what, and what to do."""

    line: int
    column: int
    message: str
    hint: str


def read_amendments(text: str) -> tuple[Amendments, list[AmendmentFault]]:
    """The amendments in a TOML text, and every fault found in it."""
    from ampleroom.toml_text import read_toml  # few jobs have amendments

    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    data, unreadable = read_toml(text)
    faults = [AmendmentFault(one.line, one.column, one.message, one.hint) for one in unreadable]
    if data is None:
        return Amendments(""), faults
    faults += islice(_faults(data, text), MOST + 1)
    if len(faults) > MOST:
        faults[MOST:] = [AmendmentFault(faults[MOST].line, 1, "and more faults, not listed", "mend those above first")]
    tables = {
        f"{topic_name}.{table}": found
        for topic_name in amendable_topics()
        if isinstance(data.get(topic_name), dict)
        for table, found in data[topic_name].items()
    }
    source = data.get("source", "")
    return Amendments(str(data.get("place", "")), str(source), {} if faults else tables), faults


def _faults(data: dict[str, Any], text: str) -> Iterator[AmendmentFault]:
    if not isinstance(data.get("place"), str) or not data["place"].strip():
        yield AmendmentFault(
            1, 1, "the file does not say whose amendments these are", 'write: place = "Name of the city"'
        )
    for name, value in data.items():
        if name in ("place", "source"):
            continue
        topics = amendable_topics()
        if name not in topics:
            yield _fault(text, name, f"no topic {name!r} can be amended", nearest(name, topics) or list(topics))
            continue
        if not isinstance(value, dict):
            yield _fault(text, name, f"{name} is {value!r}, and holds tables", [f"[[{name}.{tables_of(name)[0]}]]"])
            continue
        for table, found in value.items():
            yield from _table_faults(name, table, found, text)


def _table_faults(name: str, table: str, found: Any, text: str) -> Iterator[AmendmentFault]:
    known = tables_of(name)
    if table not in known:
        word = f"{name}.{table}" if f"{name}.{table}" in text else table
        yield _fault(text, word, f"no table {table!r} in {name}", nearest(table, known) or known)
        return
    if not isinstance(found, list):
        yield _fault(
            text, f"{name}.{table}", f"{name}.{table} is written with one pair of brackets", [f"[[{name}.{table}]]"]
        )
        return
    model: Block = {}
    for block in blocks(f"{name}.{table}"):
        model |= block
    model.pop("keys", None)
    may_be_all = {key for block in blocks(f"{name}.{table}") for key, value in block.items() if value == "all"}
    for number, block in enumerate(found):
        place = _Place(text, f"{name}.{table}", number)
        if not isinstance(block, dict):
            yield place.fault(table, f"{name}.{table} holds {block!r}, which is no block", [f"[[{name}.{table}]]"])
            continue
        if type(block.get("from")) is not int:  # true is an int too
            yield place.fault(place.table, "the block does not say from which edition", ["from = 2020"])
        for key in ("cite", "source"):
            if not isinstance(block.get(key, ""), str):
                yield place.fault(key, f"{key} is {block[key]!r}, not words", [f'{key} = "Ordinance 12-4"'])
        for key, value in block.items():
            if key not in ALWAYS:
                yield from _value_faults(key, value, model, may_be_all, place)


def _value_faults(
    key: str, value: object, model: Block, may_be_all: set[str], place: _Place
) -> Iterator[AmendmentFault]:
    if key not in model:
        known = nearest(key, model) or sorted(set(model) - ALWAYS)
        yield place.fault(key, f"{place.table} has no {key!r}", known)
    elif value == "all" and key in may_be_all:
        return
    elif key == "rows" and isinstance(model[key], list):
        yield from _row_faults(value, model[key], place)
    elif isinstance(model[key], list):
        yield place.fault(key, f"the {key} of {place.table} cannot be amended", sorted(set(model) - ALWAYS - {key}))
    elif not _same_kind(value, model[key]):
        yield place.fault(key, f"{key} is {value!r}, not the kind of value the book has there", [as_toml(model[key])])
    elif isinstance(value, dict):
        for name, one in value.items():
            if name not in model[key]:
                yield place.fault(
                    name, f"{place.table} has no row {name!r}", nearest(name, model[key]) or list(model[key])
                )
            elif not _same_kind(one, model[key][name]):
                said = f"{name} is {one!r}, not the kind of value the book has there"
                yield place.fault(name, said, [as_toml(model[key][name])])


def _row_faults(value: object, rows: list[Block], place: _Place) -> Iterator[AmendmentFault]:
    """What is wrong in amended rows of a list: each names its row by its keys, and then what is different in it."""
    keys = row_key(blocks(place.table))
    sample = {key: rows[0][key] for key in keys} | {
        key: one for key, one in rows[0].items() if isinstance(one, int | Decimal)
    }
    if not isinstance(value, list) or not value or not all(isinstance(row, dict) for row in value):
        yield place.fault("rows", f"the rows of {place.table} are a list of rows", [f"rows = [{as_toml(sample)}]"])
        return
    every = {key: one for row in rows for key, one in row.items()}
    for row in value:
        named = [row.get(key) for key in keys]
        if named not in [[known[key] for key in keys] for known in rows]:
            said = ", ".join(f"{key} {one!r}" for key, one in zip(keys, named, strict=True))
            written = next((one for one in named if isinstance(one, str)), "rows")
            yield place.fault(written, f"{place.table} has no row with {said}", [f"rows = [{as_toml(sample)}]"])
            continue
        for key, one in row.items():
            if key in keys:
                continue
            if key not in every:
                yield place.fault(key, f"the rows of {place.table} have no {key!r}", nearest(key, every) or list(every))
            elif isinstance(every[key], list) or not _same_kind(one, every[key]):
                said = f"{key} is {one!r}, not the kind of value the book has there"
                yield place.fault(key, said, [as_toml(every[key])])


def as_toml(value: object) -> str:
    """A value of the book as one would write it in the file."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{name} = {as_toml(one)}" for name, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(as_toml, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return f'"{value}"' if isinstance(value, str) else str(value)


def _same_kind(value: object, usual: object) -> bool:
    numbers = (int, Decimal)
    if isinstance(usual, bool) or isinstance(value, bool):
        return isinstance(usual, bool) and isinstance(value, bool)
    if isinstance(usual, numbers):
        return isinstance(value, numbers) and Decimal(value).is_finite() and value >= 0
    return type(value) is type(usual)


class _Place(Record):
    """Where one block of a table stands in the text: the number-th with its heading."""

    text: str
    table: str
    number: int

    def fault(self, word: str, message: str, instead: list[str]) -> AmendmentFault:
        """A fault at the first line of the block that holds the word."""
        heads = _lines(self.text)[1].get(self.table, [])
        start = heads[self.number] if self.number < len(heads) else 0
        return _fault(self.text, word, message, instead, start)


@lru_cache(maxsize=2)
def _lines(text: str) -> tuple[list[str], dict[str, list[int]]]:
    """The lines of a text, and where the blocks of every table begin, from 0; kept, as every fault asks for them."""
    lines = text.split("\n")  # no other letter ends a line of TOML
    heads: dict[str, list[int]] = {}
    for at, line in enumerate(lines):
        if "[[" in line and (bare := line.replace(" ", "")).startswith("[[") and "]]" in bare:
            heads.setdefault(bare[2 : bare.index("]]")], []).append(at)
    return lines, heads


def _fault(text: str, word: str, message: str, instead: list[str], before: int = 0) -> AmendmentFault:
    """A fault at the first line that holds the word; so many lines at the head of the text are left out."""
    whole = re.compile(rf"(?<![\w.-]){re.escape(word)}(?![\w-])")
    for number, line in enumerate(islice(_lines(text)[0], before, None), before + 1):
        if word in line and (found := whole.search(line)) and not line.lstrip().startswith("#"):
            return AmendmentFault(number, found.start() + 1, message, "known: " + ", ".join(instead))
    return AmendmentFault(before + 1, 1, message, "known: " + ", ".join(instead))
