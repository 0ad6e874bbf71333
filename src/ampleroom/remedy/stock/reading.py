"""Reads a stock file: its sections and entries, and every fault with its place."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

from ampleroom.errors import FileTrouble, SheetFaults
from ampleroom.job.beside import text_file
from ampleroom.job.faults import Fault
from ampleroom.remedy.stock.entries import ENTRIES, MOST
from ampleroom.remedy.stock.items import Minutes, cents
from ampleroom.remedy.stock.whole import Stock
from ampleroom.toml_file import TomlFile, WrongValue, instead, read_number, read_words, shown

LABOR = ("per_hour", "minutes")
CHARGES = ("kind", "waste_percent")
TOP = ("currency", "labor", "charges", *ENTRIES)


def read_stock(path: Path) -> Stock:
    """The stock in a file. Raises ``SheetFaults`` with every fault and its place, ``FileTrouble`` where no text can be
    read.
    """
    try:
        text = text_file(path)
    except FileTrouble as trouble:
        if "there is no file" in str(trouble):
            raise FileTrouble(f"there is no stock file {path}; examples/stock.toml shows one") from None
        raise
    return stock_from_text(text, path.name)


def stock_from_text(text: str, file: str = "stock.toml") -> Stock:
    """The stock in a text; ``file`` is its name in faults. Raises ``SheetFaults`` with every fault and its place."""
    reader = _StockReader(text, file)
    stock = reader.read()
    if reader.file.faults:
        faults = [
            Fault(file, fault.line, fault.column, fault.end, fault.message, fault.hint, reader.file.source(fault.line))
            for fault in reader.file.faults
        ]
        raise SheetFaults(file, faults)
    return stock


class _StockReader:
    """Makes a stock of a file; what cannot be used is a fault of ``file``."""

    def __init__(self, text: str, name: str) -> None:
        self.file = TomlFile(text)
        self.name = name

    def read(self) -> Stock:
        """The stock, as far as it can be read."""
        data = self.file.data
        if data is None:
            return Stock()
        for key in data:
            if key not in TOP:
                self.file.fault(self.file.entry_place(key), f"unknown entry {key!r}", instead(key, TOP))
        entries = {kind: self.entries(kind, data.get(kind, [])) for kind in ENTRIES}
        labor, charges = self.section(data, "labor", LABOR), self.section(data, "charges", CHARGES)
        minutes = self.section(labor, "minutes", Minutes._fields, "labor.minutes")
        return Stock(
            boxes=tuple(entries["box"]),
            parts=tuple(entries["part"]),
            connectors=tuple(entries["connector"]),
            devices=tuple(entries["device"]),
            cables=tuple(entries["cable"]),
            lengths=tuple(entries["length"]),
            fittings=tuple(entries["fitting"]),
            breakers=tuple(entries["breaker"]),
            per_hour=self.amount("labor", labor, "per_hour", "88.00"),
            minutes=Minutes(**{key: self.amount("labor.minutes", minutes, key, "12") for key in minutes}),
            kind_charge=cents(self.amount("charges", charges, "kind", "6.00")),
            waste_percent=self.amount("charges", charges, "waste_percent", "10", Decimal(10)),
            currency=self.currency(data.get("currency", "USD")),
            file=self.name,
        )

    def section(self, data: dict[str, Any], name: str, known: tuple[str, ...], table: str = "") -> dict[str, Any]:
        """The known keys of a section; ``table`` is its name with that of the section it is in."""
        table = table or name
        values = data.get(name, {})
        if not isinstance(values, dict):
            place = self.file.table_place(table)
            self.file.fault(place, f"{name} is {shown(values)}", f"write [{table}] on a line of its own")
            return {}
        for key in values:
            if key not in known:
                self.file.fault(self.file.key_place(table, 0, key), f"unknown key {key!r}", instead(key, known))
        return {key: value for key, value in values.items() if key in known}

    def currency(self, value: object) -> str:
        """The currency's three letters."""
        try:
            return read_words("currency", value, "USD")
        except WrongValue as wrong:
            self.file.fault(self.file.entry_place("currency"), wrong.message, wrong.hint)
        return "USD"

    def amount(
        self, table: str, values: dict[str, Any], key: str, such_as: str, usual: Decimal = Decimal(0)
    ) -> Decimal:
        """A number of a section, from 0 to a million; the usual one where the section has none."""
        try:
            return read_number(key, values.get(key, usual), such_as, MOST)
        except WrongValue as wrong:
            self.file.fault(self.file.key_place(table, 0, key), wrong.message, wrong.hint)
        return usual

    def entries(self, kind: str, entries: object) -> list[Any]:
        """The entries of a kind that can be used; a name may be there once."""
        if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            how = "with one pair of brackets" if isinstance(entries, dict) else "as a value"
            self.file.fault(self.file.entry_place(kind), f"{kind} is written {how}", f"write [[{kind}]]")
            return []
        usable: list[Any] = []
        names: dict[str, int] = {}
        for index, entry in enumerate(entries):
            if not self.has_its_keys(kind, index, entry):
                continue
            try:
                record = ENTRIES[kind].read(entry)
                name = record.key if kind == "box" else record.name.casefold()
                if name in names:
                    line = self.file.table_place(kind, names[name]).line
                    raise WrongValue("name", f"{record.name!r} is there already, on line {line}", "write another name")
            except WrongValue as wrong:
                self.file.fault(self.file.value_place(kind, index, wrong.key), wrong.message, wrong.hint)
                continue
            names[name] = index
            usable.append(record)
        return usable

    def has_its_keys(self, kind: str, index: int, entry: dict[str, Any]) -> bool:
        """Whether an entry has every key it needs, and none that is not known."""
        shape = ENTRIES[kind]
        missing = [key for key in shape.needed if key not in entry]
        unknown = [key for key in entry if key not in shape.keys]
        for key in missing:
            place = self.file.table_place(kind, index)
            self.file.fault(place, f"a [[{kind}]] without {key}", f"write a line such as {key} = {shape.needed[key]}")
        for key in unknown:
            self.file.fault(self.file.key_place(kind, index, key), f"unknown key {key!r}", instead(key, shape.keys))
        return not missing and not unknown
