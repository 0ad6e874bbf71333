"""Reads a file of local amendments.

    place  = "Cold Harbor"
    source = "Ordinance 12-4"

    [[box_fill.grounds]]
    from    = 2020
    cite    = "Cold Harbor 314.16(B)(5)"
    covered = 2

Only what is stricter or different is written; all else falls through from the code book. A row of a list is named by
what tells it from the others: ``rows = [{ kind = "emt", size = "1/2", area = 0.30 }]``.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import islice
from typing import Any

from ampleroom.editions.amendments import Amendments, amendable_topics
from ampleroom.editions.tables import Block, blocks, row_key, tables_of
from ampleroom.record import Record
from ampleroom.toml_file import Place, TomlFile, WrongValue, as_toml, instead, shown, wrong_kind
from ampleroom.toml_text import TomlFault

ALWAYS = {"from", "cite", "source"}
MOST = 100
"""More faults than this are not listed: each is looked for in the text."""


def read_amendments(text: str) -> tuple[Amendments, list[TomlFault]]:
    """The amendments in a TOML text, and every fault in it. With faults, the amendments have no tables."""
    return AmendmentsReader(text).read()


class AmendmentsReader:
    """Reads one file of amendments."""

    def __init__(self, text: str) -> None:
        self.file = TomlFile(text)

    def read(self) -> tuple[Amendments, list[TomlFault]]:
        """The amendments, and every fault of the file, at most ``MOST`` and one that says there are more."""
        data, faults = self.file.data, list(self.file.faults)
        if data is None:
            return Amendments(""), faults
        faults += islice(self.faults_of_file(data), MOST + 1)
        if len(faults) > MOST:
            faults[MOST:] = [
                fault(Place(faults[MOST].line, 1, 2), "and more faults, not listed", "fix those above first")
            ]
        tables = {
            f"{topic}.{table}": amended
            for topic in amendable_topics()
            if isinstance(data.get(topic), dict)
            for table, amended in data[topic].items()
        }
        source = data.get("source", "")
        source = source if isinstance(source, str) else ""  # a fault says so
        return Amendments(str(data.get("place", "")), source, {} if faults else tables), faults

    def faults_of_file(self, data: dict[str, Any]) -> Iterator[TomlFault]:
        """What is wrong in a file that is TOML."""
        if not isinstance(data.get("place"), str) or not data["place"].strip():
            yield fault(
                Place(1, 1, 2),
                "the file does not name the place it is for",
                'write a line such as place = "Cold Harbor"',
            )
        if not isinstance(data.get("source", ""), str):
            wrong = f"source is {shown(data['source'])}"
            yield fault(self.file.entry_place("source"), wrong, 'write it in quotes, such as "Ordinance 12-4"')
        for topic, tables in data.items():
            if topic in ("place", "source"):
                continue
            place = self.file.entry_place(topic)
            if topic not in amendable_topics():
                yield fault(place, f"nothing called {topic!r} can be amended", instead(topic, amendable_topics()))
            elif not isinstance(tables, dict):
                header = f"[[{topic}.{tables_of(topic)[0]}]]"
                yield fault(place, f"{topic} is {shown(tables)}", f"write one of its tables, such as {header}")
            else:
                for table, amended in tables.items():
                    yield from self.faults_of_table(topic, table, amended)

    def faults_of_table(self, topic: str, table: str, amended: object) -> Iterator[TomlFault]:
        """What is wrong in the amended blocks of one table."""
        name, known = f"{topic}.{table}", tables_of(topic)
        place = self.file.table_place(name)
        if table not in known:
            yield fault(place, f"no table {table!r} in {topic}", instead(table, known))
            return
        if not isinstance(amended, list):
            yield fault(place, f"{name} is written with one pair of brackets", f"write [[{name}]]")
            return
        book = _Book(name)
        for index, block in enumerate(amended):
            if isinstance(block, dict):
                yield from BlockInFile(self.file, book, index).faults(block)
            else:
                yield fault(place, f"{name} holds {shown(block)}", f"write [[{name}]], and its values on lines below")


class _Book:
    """What the code book has in a table: the keys a place may amend, with a usual value of each."""

    def __init__(self, table: str) -> None:
        self.table = table
        self.usual: Block = {}
        self.may_be_all: set[str] = set()
        """Keys that say "all" in some edition."""
        for block in blocks(table):
            self.usual |= block
            self.may_be_all |= {key for key, value in block.items() if value == "all"}
        self.usual.pop("keys", None)
        self.keys = sorted(set(self.usual) - ALWAYS)


class BlockInFile(Record):
    """One block of a table in the file: the index-th with its heading, from 0."""

    file: TomlFile
    book: _Book
    index: int

    def fault(self, key: str, message: str, hint: str) -> TomlFault:
        """A fault at a key or another word of the block."""
        return fault(self.file.key_place(self.book.table, self.index, key), message, hint)

    def wrong_value(self, wrong: WrongValue) -> TomlFault:
        """The fault of a value that cannot be used."""
        return self.fault(wrong.key, wrong.message, wrong.hint)

    def faults(self, block: Block) -> Iterator[TomlFault]:
        """What is wrong in the block."""
        table = self.book.table
        if "from" not in block:
            heading = self.file.table_place(table, self.index)
            yield fault(heading, f"since which edition? [[{table}]] does not say", "write a line such as from = 2020")
        elif type(block["from"]) is not int:  # true is an int too
            yield self.fault("from", f"from is {shown(block['from'])}", "write the year of an edition, such as 2020")
        for key in ("cite", "source"):
            if wrong := wrong_kind(key, block.get(key, ""), "Ordinance 12-4"):
                yield self.wrong_value(wrong)
        for key, value in block.items():
            if key not in ALWAYS:
                yield from self.faults_of_value(key, value)

    def faults_of_value(self, key: str, value: object) -> Iterator[TomlFault]:
        """What is wrong with one value of the block."""
        table, usual = self.book.table, self.book.usual.get(key)
        if usual is None:
            yield self.fault(key, f"{table} has no {key!r}", instead(key, self.book.keys))
        elif value == "all" and key in self.book.may_be_all:
            return
        elif key == "rows" and isinstance(usual, list):
            yield from self.faults_of_rows(value, usual)
        elif isinstance(usual, list):
            others = [other for other in self.book.keys if other != key]
            yield self.fault(key, f"the {key} of {table} cannot be amended", "write one of " + ", ".join(others))
        else:
            if wrong := wrong_kind(key, value, usual):
                yield self.wrong_value(wrong)
                return
            for name, row in value.items() if isinstance(value, dict) else ():
                if name not in usual:
                    yield self.fault(name, f"{table} has no row {name!r}", instead(name, usual))
                elif wrong := wrong_kind(name, row, usual[name]):
                    yield self.wrong_value(wrong)

    def faults_of_rows(self, value: object, rows: list[Block]) -> Iterator[TomlFault]:
        """What is wrong in amended rows of a list: each names its row by its keys, and then what is different in it."""
        table, keys = self.book.table, row_key(blocks(self.book.table))
        numbers = {key: usual for key, usual in rows[0].items() if isinstance(usual, int | Decimal)}
        sample = f"rows = [{as_toml({key: rows[0][key] for key in keys} | numbers)}]"
        if not isinstance(value, list) or not value or not all(isinstance(row, dict) for row in value):
            yield self.fault("rows", f"the rows of {table} are no list of rows", f"write them as {sample}")
            return
        every = {key: usual for row in rows for key, usual in row.items()}
        for row in value:
            named = [row.get(key) for key in keys]
            if named not in [[known[key] for key in keys] for known in rows]:
                row_name = ", ".join(f"{key} {shown(name)}" for key, name in zip(keys, named, strict=True))
                word = next((name for name in named if isinstance(name, str)), "rows")
                yield self.fault(word, f"{table} has no row with {row_name}", f"name one it has, such as {sample}")
                continue
            for key, amended in row.items():
                if key in keys:
                    continue
                if key not in every:
                    yield self.fault(key, f"the rows of {table} have no {key!r}", instead(key, every))
                elif isinstance(every[key], list):
                    yield self.fault(key, f"the {key} of a row of {table} cannot be amended", instead("", numbers))
                elif wrong := wrong_kind(key, amended, every[key]):
                    yield self.wrong_value(wrong)


def fault(place: Place, message: str, hint: str) -> TomlFault:
    """A fault at a place: what is wrong, and what to write instead."""
    return TomlFault(place.line, place.column, place.end, message, hint)
