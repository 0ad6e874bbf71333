"""A TOML file a user wrote, with the place of everything in it: stock files and local amendments are read through this.

A fault says what is wrong, where, and what to write instead: ``covered is 'none'``, at its key, ``write a number, such
as 4``.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from decimal import Decimal
from functools import cached_property

from ampleroom.errors import nearest
from ampleroom.record import Record
from ampleroom.toml_text import TomlFault, read_toml

NAME = r"""(?:"([^"]*)"|'([^']*)'|([^\s"'=.\[\]]+))"""
HEADER = re.compile(r"\s*\[+\s*([\w-]+(?:\s*\.\s*[\w-]+)*)\s*\]")
KEY = re.compile(rf"\s*{NAME}\s*=")
ENTRY = re.compile(rf"\s*\[*\s*{NAME}\s*[=.\]]")
WORDS = re.compile(r"""\"([^"]*)\"|'([^']*)'|([\w-]+(?:\.[\w-]+)*)""")
"""A text in quotes, or names joined by dots."""
LONGEST_SHOWN = 40
"""Letters of a wrong value that a fault repeats."""


class Place(Record):
    """Line and column from 1, and the column after the last letter."""

    line: int
    column: int
    end: int


class TomlFile:
    """What a TOML text says (``data``; None where it cannot be read at all) and its faults so far.

    A table may be there several times (``[[box]]``); ``index`` says which one, from 0.
    """

    def __init__(self, text: str) -> None:
        self.text = text.removeprefix("\ufeff").replace("\r\n", "\n")
        self.lines = self.text.split("\n")  # no other letter ends a line of TOML
        self.faults: list[TomlFault] = []
        self.data, unreadable = read_toml(self.text)
        self.faults += unreadable
        self._keys: dict[int, dict[str, Place]] = {}
        self._words: dict[tuple[int, str], dict[str, Place]] = {}

    # ---- faults ----------------------------------------------------------------------------------------------------

    def fault(self, place: Place, message: str, hint: str) -> None:
        """Adds a fault: what is wrong at a place, and what to write instead."""
        self.faults.append(TomlFault(place.line, place.column, place.end, message, hint))

    def source(self, line: int) -> str:
        """A line as written; nothing for a line past the end."""
        return self.lines[line - 1] if 0 < line <= len(self.lines) else ""

    # ---- places: each line is gone through once, however many faults have to be placed -----------------------------

    def entry_place(self, name: str) -> Place:
        """Where a name of the file's own level first stands, as a key or in a header."""
        return self._entries.get(name) or self._words_of(0, "").get(name) or Place(1, 1, 2)

    def table_place(self, table: str, index: int = 0) -> Place:
        """Where a table's name stands: in its own header, or as a key of the table it is in."""
        if index < len(headers := self._headers.get(table, ())):
            return headers[index]
        parent, _, name = table.rpartition(".")
        if parent in self._headers:
            return self.key_place(parent, 0, name)
        everywhere = self._words_of(0, "")
        return next((everywhere[word] for word in (table, name, parent) if word in everywhere), Place(1, 1, 2))

    def key_place(self, table: str, index: int, key: str) -> Place:
        """Where a key or another word of a table stands; the head of the table's first line where it is spelled another
        way.
        """
        start = self.table_place(table, index).line
        place = self._keys_of(start).get(key) or self._words_of(start, table).get(key)
        return place or Place(start, 1, len(self.source(start)) + 1)

    def value_place(self, table: str, index: int, key: str) -> Place:
        """Where a key and its value stand: to the end of the line, if the line begins with the key."""
        place = self.key_place(table, index, key)
        line = self.source(place.line).rstrip()
        return Place(place.line, place.column, len(line) + 1) if line[: place.column - 1].strip() == "" else place

    @cached_property
    def _headers(self) -> dict[str, list[Place]]:
        headers: dict[str, list[Place]] = {}
        for line_number, line in enumerate(self.lines, 1):
            if header := HEADER.match(line):
                place = Place(line_number, header.start(1) + 1, header.end(1) + 1)
                headers.setdefault("".join(header[1].split()), []).append(place)
        return headers

    @cached_property
    def _entries(self) -> dict[str, Place]:
        return _first_places(ENTRY, self.lines, 0, len(self.lines))

    def _keys_of(self, start: int) -> dict[str, Place]:
        """The keys that begin a line between line ``start`` and the next header."""
        if start not in self._keys:
            end = start
            while end < len(self.lines) and not self.lines[end].lstrip().startswith("["):
                end += 1
            self._keys[start] = _first_places(KEY, self.lines, start, end)
        return self._keys[start]

    def _words_of(self, start: int, table: str) -> dict[str, Place]:
        """Each word from line ``start`` to the next header that is no part of the table; of all lines where no table is
        named.
        """
        if (start, table) not in self._words:
            places: dict[str, Place] = {}
            for line_number in range(max(1, start), len(self.lines) + 1):
                line = self.lines[line_number - 1]
                header = HEADER.match(line) if table and line_number > start else None
                if header and not "".join(header[1].split()).startswith(f"{table}."):
                    break
                if not line.lstrip().startswith("#"):
                    for word, column in _words_in(line):
                        places.setdefault(word, Place(line_number, column, column + len(word)))
            self._words[start, table] = places
        return self._words[start, table]


def _first_places(pattern: re.Pattern[str], lines: list[str], start: int, end: int) -> dict[str, Place]:
    places: dict[str, Place] = {}
    for index in range(start, end):
        if name := pattern.match(lines[index]):
            group = name.lastindex or 0
            places.setdefault(name[group], Place(index + 1, name.start(group) + 1, name.end(group) + 1))
    return places


def _words_in(line: str) -> Iterator[tuple[str, int]]:
    """The words of a line and their columns; of names joined by dots also the first, the first two and so on."""
    for match in WORDS.finditer(line):
        group = match.lastindex or 0
        yield match[group], match.start(group) + 1
        if group == 3 and "." in match[group]:
            names = match[group].split(".")[:-1]
            for count in range(1, len(names) + 1):
                yield ".".join(names[:count]), match.start(group) + 1


# ---- values --------------------------------------------------------------------------------------------------------


class WrongValue(Exception):
    """A value that cannot be used: its key, what is wrong with it, and what to write instead."""

    def __init__(self, key: str, message: str, hint: str) -> None:
        super().__init__(message)
        self.key, self.message, self.hint = key, message, hint


def read_number(key: str, value: object, such_as: object, most: int | None = None) -> Decimal:
    """A value that is a number from 0 to ``most``; raises ``WrongValue`` for any other."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise WrongValue(key, f"{key} is {shown(value)}", f"write a number, such as {such_as}")
    if not Decimal(value).is_finite() or value < 0 or (most is not None and value > most):
        limits = "of 0 or more" if most is None else f"from 0 to {most}"
        raise WrongValue(key, f"{key} is {shown(value)}", f"write a number {limits}, such as {such_as}")
    return Decimal(value)


def read_words(key: str, value: object, such_as: str) -> str:
    """A value that is a text with something in it, its spaces made single; raises ``WrongValue`` for any other."""
    if not isinstance(value, str) or not value.strip():
        raise WrongValue(key, f"{key} is {shown(value)}", f'write it in quotes, such as "{such_as}"')
    return " ".join(value.split())


def read_flag(key: str, value: object) -> bool:
    """A value that is true or false; raises ``WrongValue`` for any other."""
    if not isinstance(value, bool):
        raise WrongValue(key, f"{key} is {shown(value)}", "write true or false")
    return value


def read_choices(key: str, value: object, known: Collection[str]) -> tuple[str, ...]:
    """A value that is a known word or a list of known words; raises ``WrongValue`` for any other."""
    chosen = [value] if isinstance(value, str) else value
    if not isinstance(chosen, list) or not chosen:
        raise WrongValue(key, f"{key} is {shown(value)}", instead("", known))
    for word in chosen:
        if word not in known:  # a number or a list is no word either
            raise WrongValue(key, f"{key} has {shown(word)}", instead(str(word), known))
    return tuple(chosen)


def wrong_kind(key: str, value: object, usual: object) -> WrongValue | None:
    """What is wrong with a value that must be of the kind of the usual one: a number of 0 or more, a text, true or
    false, a table. None where nothing is.
    """
    try:
        if isinstance(usual, bool):
            read_flag(key, value)
        elif isinstance(usual, int | Decimal):
            read_number(key, value, as_toml(usual))
        elif type(value) is not type(usual):
            how = "in quotes, such as" if isinstance(usual, str) else "as"
            raise WrongValue(key, f"{key} is {shown(value)}", f"write it {how} {as_toml(usual)}")
    except WrongValue as wrong:
        return wrong
    return None


def instead(word: str, known: Collection[str]) -> str:
    """What to write instead of a word that is not known: the nearest, or where none is near, any of them."""
    close = nearest(word, known, 1) if word else []
    return f"did you mean {close[0]!r}?" if close else "write one of " + ", ".join(known)


def shown(value: object) -> str:
    """A wrong value as a fault repeats it, cut short where it is long."""
    text = repr(value) if isinstance(value, str) else as_toml(value)
    return text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "..."


def as_toml(value: object) -> str:
    """A value as one would write it in the file."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{name} = {as_toml(entry)}" for name, entry in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(as_toml, value)) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return f'"{value}"' if isinstance(value, str) else str(value)
