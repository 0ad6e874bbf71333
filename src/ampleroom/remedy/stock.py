"""What can be bought and what work costs: a plain TOML file the user owns. Each part says what it is as a sheet would.

[labor]
per_hour = 88.00

[[box]]
name     = "deep square"
is       = "square 4 x 2-1/8"
for      = ["junction"]
mounting = ["new-work", "surface"]
clamps   = "outside"
price    = 3.10
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from typing import Any

from ampleroom.errors import FileTrouble, SheetFaults, nearest
from ampleroom.job.beside import text_file
from ampleroom.job.cables import sizes_of
from ampleroom.job.faults import Fault
from ampleroom.job.lines.runs import read_run
from ampleroom.job.lines.standard_boxes import standard_faces
from ampleroom.job.model import Base, Cable, Device, Part, Rated
from ampleroom.job.one_line import read_item
from ampleroom.job.sheet import words_of
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable, Words, number_word
from ampleroom.record import Record, replace
from ampleroom.toml_text import read_toml

Money = Decimal
"""Dollars, or whatever the file's ``currency`` says."""

USES = ("device", "junction", "ceiling")
MOUNTINGS = ("new-work", "old-work", "surface", "masonry")
STOCK_CLAMPS = ("outside", "inside", "none", "tabs", "push-in")


class StockBox(Record):
    """A box one can buy."""

    name: str
    base: Base
    uses: tuple[str, ...]
    mounting: tuple[str, ...]
    price: Money
    clamps: str = "outside"
    cover_price: Money = Decimal(0)
    """A blank cover for it, where it holds no device."""
    hole: tuple[Decimal, Decimal] | None = None
    rated: Rated | None = None
    in_stock: bool = True

    @property
    def key(self) -> str:
        """Its name as one word, for a kind in a sheet."""
        word = re.sub(r"[^\w.-]+", "-", self.name.lower()).strip("-")
        return f"box-{word}" if word in ("", "x", "at", "for") else word

    @property
    def gangs(self) -> int | None:
        by_gang = self.base.shape in ("device", "masonry", "fs", "fd")
        return self.base.gangs or (self.base.ganged if by_gang else None)


class StockPart(Record):
    """A ring or cover, and the box faces it goes on: ``square 4``."""

    name: str
    part: Part
    on: str
    price: Money
    mounting: tuple[str, ...] = MOUNTINGS
    in_stock: bool = True


class StockConnector(Record):
    """A cable connector that clamps outside the box."""

    name: str
    kinds: tuple[str, ...]
    largest: str
    price: Money
    in_stock: bool = True


class StockDevice(Record):
    """A device; two names: a combination on one yoke."""

    name: str
    device: Device
    price: Money
    in_stock: bool = True


class StockCable(Record):
    name: str
    cable: Cable
    per_foot: Money
    coil_feet: Decimal | None = None
    coil_price: Money | None = None
    in_stock: bool = True


class StockLength(Record):
    """Wire or raceway by the foot: ``#12 thhn``, ``emt 3/4``."""

    name: str
    what: str
    per_foot: Money
    length: Decimal | None = None
    """The length of a stick, feet."""
    in_stock: bool = True


class Minutes(Record):
    """Minutes of work; ``finished`` where the finish is up."""

    new_box: Decimal = Decimal(12)
    another_box: Decimal = Decimal(25)
    another_box_finished: Decimal = Decimal(90)
    ring: Decimal = Decimal(12)
    ring_finished: Decimal = Decimal(45)
    connector: Decimal = Decimal(6)
    connector_finished: Decimal = Decimal(25)
    second_box: Decimal = Decimal(30)
    second_box_finished: Decimal = Decimal(110)
    combination_device: Decimal = Decimal(12)
    another_run: Decimal = Decimal(25)
    another_run_finished: Decimal = Decimal(100)
    device: Decimal = Decimal(10)
    cable_per_foot: Decimal = Decimal("0.4")
    raceway_per_foot: Decimal = Decimal("1.2")


class Stock(Record):
    """All that can be bought, and what work and variety cost."""

    boxes: tuple[StockBox, ...] = ()
    parts: tuple[StockPart, ...] = ()
    connectors: tuple[StockConnector, ...] = ()
    devices: tuple[StockDevice, ...] = ()
    cables: tuple[StockCable, ...] = ()
    lengths: tuple[StockLength, ...] = ()
    per_hour: Money = Decimal(0)
    minutes: Minutes = Minutes()
    kind_charge: Money = Decimal(0)
    """For each different kind of box the van must carry."""
    waste_percent: Decimal = Decimal(10)
    currency: str = "USD"
    file: str = ""

    @property
    def keys(self) -> frozenset[str]:
        return frozenset(box.key for box in self.boxes)

    def labor(self, minutes: Decimal) -> Money:
        return cents(self.per_hour * minutes / 60)

    def connector_for(self, cable: Cable | None) -> StockConnector | None:
        """The cheapest connector that takes a cable, the thickest there is where its size is not known; None where none does."""
        if cable is None:
            return None
        size = sizes_of(cable)[-1] if cable.size is UNKNOWN else cable.size
        fitting = [
            connector
            for connector in self.connectors
            if cable.kind in connector.kinds and RANK[size] <= RANK[connector.largest] and connector.in_stock
        ]
        return min(fitting, key=lambda connector: connector.price, default=None)

    def cable(self, cable: Cable) -> StockCable | None:
        return next((kept for kept in self.cables if kept.cable.name == cable.name), None)

    def only_in_stock(self) -> Stock:
        """The same without what would have to be ordered."""
        return replace(
            self,
            boxes=tuple(box for box in self.boxes if box.in_stock),
            parts=tuple(part for part in self.parts if part.in_stock),
            connectors=tuple(connector for connector in self.connectors if connector.in_stock),
            devices=tuple(device for device in self.devices if device.in_stock),
            cables=tuple(cable for cable in self.cables if cable.in_stock),
            lengths=tuple(length for length in self.lengths if length.in_stock),
        )


def money(amount: Money, currency: str) -> str:
    """``$163.66``; of another currency ``163.66 CAD``."""
    return f"${amount:.2f}" if currency == "USD" else f"{amount:.2f} {currency}"


def cents(amount: Money) -> Money:
    return amount.quantize(Decimal("0.01"))


# ---- reading -------------------------------------------------------------------------------------------------------

KEYS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "box": (("name", "is", "for", "mounting", "price"), ("clamps", "cover_price", "hole", "rated", "in_stock")),
    "part": (("name", "is", "on", "price"), ("mounting", "in_stock")),
    "connector": (("name", "for", "largest", "price"), ("in_stock",)),
    "device": (("name", "is", "price"), ("in_stock",)),
    "cable": (("name", "is", "per_foot"), ("coil_feet", "coil_price", "in_stock")),
    "length": (("name", "is", "per_foot"), ("length", "in_stock")),
}
TOP = ("currency", "labor", "charges", *KEYS)
LABOR = ("per_hour", "minutes")
CHARGES = ("kind", "waste_percent")


def read_stock(path: Path) -> Stock:
    """The stock in a file, or every fault in it with its place."""
    try:
        text = text_file(path)
    except FileTrouble as trouble:
        if "there is no file" in str(trouble):
            raise FileTrouble(f"there is no stock file {path}; examples/stock.toml shows one") from None
        raise
    return stock_from_text(text, path.name)


def stock_from_text(text: str, file: str = "stock.toml") -> Stock:
    reader = _StockReader(text.replace("\r\n", "\n"), file)
    stock = reader.read()
    if reader.faults:
        raise SheetFaults(file, reader.faults)
    return stock


class _Wrong(Exception):
    """One key of one entry cannot be used."""

    def __init__(self, key: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.key, self.message, self.hint = key, message, hint


class _StockReader:
    def __init__(self, text: str, file: str) -> None:
        self.lines = text.split("\n")
        self.places = _Places(self.lines)
        self.text = text
        self.file = file
        self.faults: list[Fault] = []

    def read(self) -> Stock:
        data, unreadable = read_toml(self.text)
        for fault in unreadable:
            self.add(fault.line, fault.column, fault.end, fault.message, fault.hint)
        if data is None:
            return Stock()
        for key in data:
            if key not in TOP:
                self.unknown_key("entry", key, TOP, *self.entry(key))
        found = {kind: self.entries(kind, data.get(kind, [])) for kind in KEYS}
        labor, charges = self.section(data, "labor"), self.section(data, "charges")
        for name, values, known in (("labor", labor, LABOR), ("charges", charges, CHARGES)):
            for key in values:
                if key not in known:
                    self.unknown_key("key", key, known, *self.place(name, 0, key))
        return Stock(
            boxes=tuple(found["box"]),
            parts=tuple(found["part"]),
            connectors=tuple(found["connector"]),
            devices=tuple(found["device"]),
            cables=tuple(found["cable"]),
            lengths=tuple(found["length"]),
            per_hour=self.amount("labor", labor, "per_hour"),
            minutes=self.minutes(labor.get("minutes", {})),
            kind_charge=cents(self.amount("charges", charges, "kind")),
            waste_percent=self.amount("charges", charges, "waste_percent", Decimal(10)),
            currency=self.currency(data.get("currency", "USD")),
            file=self.file,
        )

    def section(self, data: dict[str, Any], name: str) -> dict[str, Any]:
        found = data.get(name, {})
        if isinstance(found, dict):
            return found
        line, column = self.entry(name)
        self.add(line, column, column + len(name), f"{name} is no section", f"write [{name}] on a line of its own")
        return {}

    def currency(self, value: Any) -> str:
        if isinstance(value, str) and value.strip():
            return value.strip()
        line, column = self.entry("currency")
        self.add(line, column, column + len("currency"), f"currency is {value!r}, not words", 'currency = "USD"')
        return "USD"

    def entries(self, kind: str, entries: Any) -> list[Any]:
        """The entries of a kind that can be used; a name is there once."""
        if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            line, column = self.entry(kind)
            how = "with one pair of brackets" if isinstance(entries, dict) else "as a value"
            self.add(line, column, column + len(kind), f"{kind} is written {how}", f"write [[{kind}]]")
            return []
        found: list[Any] = []
        names: dict[str, int] = {}
        for number, entry in enumerate(entries):
            if not self.has_its_keys(kind, number, entry):
                continue
            try:
                made = MAKE[kind](entry)
                key = made.key if kind == "box" else made.name.casefold()
                if key in names:
                    said = self.header(kind, names[key])
                    raise _Wrong("name", f"{made.name!r} is there already, on line {said}", "give one another name")
            except _Wrong as wrong:
                line, column = self.place(kind, number, wrong.key)
                self.add(line, column, len(self.lines[line - 1].rstrip()) + 1, wrong.message, wrong.hint)
                continue
            names[key] = number
            found.append(made)
        return found

    def has_its_keys(self, kind: str, number: int, entry: dict[str, Any]) -> bool:
        needed, allowed = KEYS[kind]
        line = self.header(kind, number)
        missing = [key for key in needed if key not in entry]
        unknown = [key for key in entry if key not in needed + allowed]
        for key in missing:
            hint = f"a [[{kind}]] has " + ", ".join(needed)
            self.add(line, 1, len(self.lines[line - 1]) + 1, f"{key!r} is missing", hint)
        for key in unknown:
            self.unknown_key("key", key, needed + allowed, *self.place(kind, number, key))
        return not missing and not unknown

    def minutes(self, given: Any) -> Minutes:
        known = Minutes._fields
        if not isinstance(given, dict):
            line, column = self.place("labor", 0, "minutes")
            self.add(
                line,
                column,
                column + len("minutes"),
                "minutes is no section",
                "write [labor.minutes] on a line of its own",
            )
            return Minutes()
        for key in given:
            if key not in known:
                self.unknown_key("key", key, known, *self.place("labor.minutes", 0, key))
        values = {key: value for key, value in given.items() if key in known}
        return Minutes(**{key: self.amount("labor.minutes", values, key) for key in values})

    def amount(self, section: str, values: dict[str, Any], key: str, usual: Decimal = Decimal(0)) -> Decimal:
        value = values.get(key, usual)
        if is_amount(value):
            return Decimal(value)
        line, column = self.place(section, 0, key)
        self.add(line, column, column + len(key), f"{key} is {shown(value)}", AMOUNT)
        return usual

    # ---- places ----------------------------------------------------------------------------------------------------

    def unknown_key(self, what: str, key: str, known: tuple[str, ...], line: int, column: int) -> None:
        close = nearest(key, known)
        hint = f"did you mean {close[0]!r}?" if close else "known: " + ", ".join(known)
        self.add(line, column, column + len(key), f"unknown {what} {key!r}", hint)

    def header(self, kind: str, number: int) -> int:
        """The line of a section's header, or of the so-manyth of a list of entries."""
        lines = self.places.headers.get(kind, ())
        return lines[number] if number < len(lines) else 1

    def place(self, kind: str, number: int, key: str) -> tuple[int, int]:
        """The line and column of a key under a header; of the header where it is written another way."""
        start = self.header(kind, number)
        return self.places.keys_below(start).get(key, (start, 1))

    def entry(self, key: str) -> tuple[int, int]:
        """The line and column of an entry of the file itself, or of its header."""
        return self.places.entries.get(key, (1, 1))

    def add(self, line: int, column: int, end: int, message: str, hint: str = "") -> None:
        source = self.lines[line - 1] if 0 < line <= len(self.lines) else ""
        self.faults.append(Fault(self.file, line, column, end, message, hint, source))


WORD = r"""(?:"([^"]*)"|'([^']*)'|([^\s"'=.\[\]]+))"""
HEADER = re.compile(r"\s*\[+\s*([\w-]+(?:\s*\.\s*[\w-]+)*)\s*\]")
KEY = re.compile(rf"\s*{WORD}\s*=")
ENTRY = re.compile(rf"\s*\[*\s*{WORD}\s*[=.\]]")


class _Places:
    """Where each header and key of the file stands. Lines are gone through once, however many faults have to be placed."""

    def __init__(self, lines: list[str]) -> None:
        self.lines = lines
        self.below: dict[int, dict[str, tuple[int, int]]] = {}

    @cached_property
    def headers(self) -> dict[str, list[int]]:
        """The lines of the headers of each name."""
        by_name: dict[str, list[int]] = {}
        for i, line in enumerate(self.lines, 1):
            if header := HEADER.match(line):
                by_name.setdefault("".join(header[1].split()), []).append(i)
        return by_name

    @cached_property
    def entries(self) -> dict[str, tuple[int, int]]:
        """The first place of each word that begins a line or a header."""
        return self.first(ENTRY, 0, len(self.lines))

    def keys_below(self, start: int) -> dict[str, tuple[int, int]]:
        """The keys between the header on a line and the next header."""
        if start not in self.below:
            end = start
            while end < len(self.lines) and not self.lines[end].lstrip().startswith("["):
                end += 1
            self.below[start] = self.first(KEY, start, end)
        return self.below[start]

    def first(self, pattern: re.Pattern[str], start: int, end: int) -> dict[str, tuple[int, int]]:
        places: dict[str, tuple[int, int]] = {}
        for i in range(start, end):
            if word := pattern.match(self.lines[i]):
                group = word.lastindex or 0
                places.setdefault(word[group], (i + 1, word.start(group) + 1))
        return places


AMOUNT = "a number from 0 to a million"


def is_amount(value: Any) -> bool:
    """Whether it is money, minutes, feet or percent somebody may mean."""
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return False
    return Decimal(value).is_finite() and 0 <= value <= 1_000_000


def shown(value: Any) -> str:
    """A value as a fault names it."""
    text = str(value) if isinstance(value, Decimal) else repr(value)
    return text if len(text) <= 40 else text[:40] + "..."


def _text(entry: dict[str, Any], key: str) -> str:
    value = entry[key]
    if not isinstance(value, str) or not value.strip():
        raise _Wrong(key, f"{key} is {shown(value)}, not words", f'{key} = "..."')
    return " ".join(value.split())


def _price(entry: dict[str, Any], key: str, usual: Decimal | None = None) -> Decimal:
    value: Any = entry.get(key, usual)
    if not is_amount(value):
        raise _Wrong(key, f"{key} is {shown(value)}", AMOUNT)
    return Decimal(value)


def _flag(entry: dict[str, Any]) -> bool:
    value = entry.get("in_stock", True)
    if not isinstance(value, bool):
        raise _Wrong("in_stock", f"in_stock is {shown(value)}", "true or false")
    return value


def _choices(entry: dict[str, Any], key: str, known: tuple[str, ...]) -> tuple[str, ...]:
    value = entry.get(key, list(known))
    values = [value] if isinstance(value, str) else value
    if not isinstance(values, list) or not values:
        raise _Wrong(key, f"{key} is {shown(value)}", "known: " + ", ".join(known))
    for word in values:
        if word not in known:  # a number or a list is no word either
            close = nearest(str(word), known)
            raise _Wrong(
                key,
                f"{key}: {word!r} is not known",
                f"did you mean {close[0]!r}?" if close else "known: " + ", ".join(known),
            )
    return tuple(values)


WHAT: dict[type, str] = {Base: "box", Part: "ring or cover", Device: "device"}


def _is(entry: dict[str, Any], kind: type, such_as: str) -> Any:
    """The record an ``is`` line says."""
    text = _text(entry, "is")
    try:
        record = read_item(text)
    except Unreadable as trouble:
        raise _Wrong("is", trouble.message, trouble.hint or f"such as: {such_as}") from None
    if not isinstance(record, kind):
        raise _Wrong("is", f"{text!r} is no {WHAT[kind]}", f"such as: {such_as}")
    return record


def _box(entry: dict[str, Any]) -> StockBox:
    base: Base = _is(entry, Base, "square 4 x 1-1/2")
    if base.form not in ("standard", "marked") or base.volume is UNKNOWN or base.size is UNKNOWN:
        raise _Wrong(
            "is", "a box one can buy has a standard size or a marked volume", "such as: marked 34 in3 plastic 2-gang"
        )
    hole = None
    if "hole" in entry:
        parts = [number_word(part.strip()) for part in str(entry["hole"]).replace("in", "").split("x")]
        if len(parts) != 2 or parts[0] is None or parts[1] is None:
            raise _Wrong("hole", f"{entry['hole']!r} is no hole", 'width x height, such as "2-1/4 x 3-3/4"')
        hole = (parts[0], parts[1])
    rated = None
    if "rated" in entry:
        try:
            item = read_item(f"rated {entry['rated']}")
        except Unreadable as trouble:
            raise _Wrong("rated", trouble.message, 'such as "fan 70 lb"') from None
        rated = item if isinstance(item, Rated) else None
    return StockBox(
        _text(entry, "name"),
        base,
        _choices(entry, "for", USES),
        _choices(entry, "mounting", MOUNTINGS),
        _price(entry, "price"),
        _choices(entry, "clamps", STOCK_CLAMPS)[0] if "clamps" in entry else "outside",
        _price(entry, "cover_price", Decimal(0)),
        hole,
        rated,
        _flag(entry),
    )


def _part(entry: dict[str, Any]) -> StockPart:
    part: Part = _is(entry, Part, "plaster ring 3.5 in3")
    if part.volume is UNKNOWN:
        raise _Wrong(
            "is", "a ring or cover one can buy is marked, or said to be unmarked", "such as: plaster ring 3.5 in3"
        )
    mounting = _choices(entry, "mounting", MOUNTINGS)
    on = _text(entry, "on").lower()
    if on not in standard_faces():
        close = nearest(on, standard_faces())
        hint = f"did you mean {close[0]!r}?" if close else "known: " + ", ".join(standard_faces())
        raise _Wrong("on", f"no standard box has the face {on!r}", hint)
    return StockPart(_text(entry, "name"), part, on, _price(entry, "price"), mounting, _flag(entry))


def _connector(entry: dict[str, Any]) -> StockConnector:
    largest = _text(entry, "largest").lstrip("#")
    if largest not in RANK:
        raise _Wrong("largest", f"no conductor size {largest!r}", 'such as "10"')
    kinds = _choices(entry, "for", ("nm-b", "uf-b", "mc", "ac", "old"))
    return StockConnector(_text(entry, "name"), kinds, largest, _price(entry, "price"), _flag(entry))


def _device(entry: dict[str, Any]) -> StockDevice:
    return StockDevice(
        _text(entry, "name"), _is(entry, Device, "switch + switch"), _price(entry, "price"), _flag(entry)
    )


def _cable(entry: dict[str, Any]) -> StockCable:
    said = f"run a > b {_text(entry, 'is')}"
    words = Words(1, words_of(said), said)
    words.i = 1
    try:
        run = read_run(words, "run")
    except Unreadable as trouble:
        raise _Wrong("is", trouble.message, trouble.hint or "such as: 12/2 nm-b") from None
    if run.cable is None:
        raise _Wrong("is", f"{entry['is']!r} is no cable", "such as: 12/2 nm-b")
    coil = _price(entry, "coil_feet") if "coil_feet" in entry else None
    coil_price = _price(entry, "coil_price") if "coil_price" in entry else None
    if (coil is None) != (coil_price is None):
        raise _Wrong(
            "coil_feet" if coil is not None else "coil_price",
            "a coil has both a length and a price",
            "coil_feet and coil_price",
        )
    return StockCable(_text(entry, "name"), run.cable, _price(entry, "per_foot"), coil, coil_price, _flag(entry))


def _length(entry: dict[str, Any]) -> StockLength:
    length = _price(entry, "length") if "length" in entry else None
    return StockLength(
        _text(entry, "name"), _text(entry, "is").lower(), _price(entry, "per_foot"), length, _flag(entry)
    )


MAKE: dict[str, Callable[[dict[str, Any]], Any]] = {
    "box": _box,
    "part": _part,
    "connector": _connector,
    "device": _device,
    "cable": _cable,
    "length": _length,
}
