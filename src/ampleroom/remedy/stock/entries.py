"""One entry of a stock file: from its keys to a record, or ``WrongValue`` for the first key that cannot be used."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.runs import read_run
from ampleroom.job.lines.standard_boxes import standard_faces
from ampleroom.job.lines.statement import plain
from ampleroom.job.lines.wireways import is_section, read_section
from ampleroom.job.model import Base, Device, Part, Rated
from ampleroom.job.one_line import read_item
from ampleroom.job.sheet import words_of
from ampleroom.job.trade import RANK
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable, Words, number_word
from ampleroom.record import Record
from ampleroom.remedy.stock.items import (
    BREAKER_GUARDS,
    FITTINGS,
    MOUNTINGS,
    STOCK_CLAMPS,
    USES,
    StockBox,
    StockBreaker,
    StockCable,
    StockConnector,
    StockDevice,
    StockFitting,
    StockLength,
    StockPart,
)
from ampleroom.toml_file import WrongValue, instead, read_choices, read_flag, read_number, read_words, shown

MOST = 1_000_000
"""Money, minutes, feet or percent nobody means more of."""
CABLE_KINDS = ("nm-b", "uf-b", "mc", "ac", "old")

WIREWAYS = ("wireway", "gutter")

Entry = dict[str, Any]
"""The keys and values of an entry in the file."""


def price(entry: Entry, key: str, such_as: str = "3.10", usual: Decimal | None = None) -> Decimal:
    """A number of an entry, from 0 to a million: dollars or feet. ``usual``: where the entry has none."""
    return read_number(key, entry.get(key, usual), such_as, MOST)


def in_stock(entry: Entry) -> bool:
    """Whether it is at hand; true where the entry does not say."""
    return read_flag("in_stock", entry.get("in_stock", True))


def name_of(entry: Entry) -> str:
    """An entry's name."""
    return read_words("name", entry["name"], "deep square")


def item(entry: Entry, kind: type, name: str, such_as: str) -> Any:
    """The record an ``is`` line says, as a line of a sheet would; ``name`` is what the record's kind is called."""
    text = read_words("is", entry["is"], such_as)
    try:
        record = read_item(text)
    except Unreadable as trouble:
        raise WrongValue("is", trouble.message, trouble.hint or f'write it as is = "{such_as}"') from None
    if not isinstance(record, kind):
        raise WrongValue("is", f"{text!r} is no {name}", f'write it as is = "{such_as}"')
    return record


def hole(entry: Entry) -> tuple[Decimal, Decimal] | None:
    """Width and height of the hole an old-work box is put through, inches; None where the entry does not say."""
    if "hole" not in entry:
        return None
    parts = [number_word(part.strip()) for part in str(entry["hole"]).replace("in", "").split("x")]
    if len(parts) != 2 or parts[0] is None or parts[1] is None:
        raise WrongValue("hole", f"hole is {shown(entry['hole'])}", 'write width x height, such as "2-1/4 x 3-3/4"')
    return parts[0], parts[1]


def rated(entry: Entry) -> Rated | None:
    """What a box may carry; None where the entry does not say."""
    if "rated" not in entry:
        return None
    try:
        record = read_item(f"rated {entry['rated']}")
    except Unreadable as trouble:
        raise WrongValue("rated", trouble.message, 'write it as rated = "fan 70 lb"') from None
    return record if isinstance(record, Rated) else None


def box(entry: Entry) -> StockBox:
    """A ``[[box]]``."""
    base: Base = item(entry, Base, "box", "square 4 x 1-1/2")
    uses = read_choices("for", entry["for"], USES)
    if base.form == "measured" or "pull" in uses:
        if base.form != "measured" or uses != ("pull",):
            hint = 'write it as is = "inside 24 x 18 x 8 in" and for = ["pull"]'
            raise WrongValue("is", "a pull box is one with inside measures, and for pulls alone", hint)
    elif base.form not in ("standard", "marked") or base.volume is UNKNOWN or base.size is UNKNOWN:
        raise WrongValue(
            "is",
            "a box in stock needs a standard size or a marked volume",
            'write it as is = "marked 34 in3 plastic 2-gang"',
        )
    return StockBox(
        name_of(entry),
        base,
        uses,
        read_choices("mounting", entry["mounting"], MOUNTINGS),
        price(entry, "price"),
        read_choices("clamps", entry["clamps"], STOCK_CLAMPS)[0] if "clamps" in entry else "outside",
        price(entry, "cover_price", "0.90", Decimal(0)),
        hole(entry),
        rated(entry),
        in_stock(entry),
    )


def part(entry: Entry) -> StockPart:
    """A ``[[part]]``: a ring or cover."""
    record: Part = item(entry, Part, "ring or cover", "plaster ring 3.5 in3")
    if record.volume is UNKNOWN:
        raise WrongValue(
            "is", "a ring or cover in stock needs its marked volume", 'write it as is = "plaster ring 3.5 in3"'
        )
    mounting = read_choices("mounting", entry.get("mounting", list(MOUNTINGS)), MOUNTINGS)
    face = read_words("on", entry["on"], "square 4").lower()
    if face not in standard_faces():
        raise WrongValue("on", f"no standard box has the face {face!r}", instead(face, standard_faces()))
    return StockPart(name_of(entry), record, face, price(entry, "price"), mounting, in_stock(entry))


def connector(entry: Entry) -> StockConnector:
    """A ``[[connector]]``."""
    largest = read_words("largest", entry["largest"], "10").lstrip("#")
    if largest not in RANK:
        raise WrongValue("largest", f"no conductor size {largest!r}", 'write it as largest = "10"')
    kinds = read_choices("for", entry["for"], CABLE_KINDS)
    return StockConnector(name_of(entry), kinds, largest, price(entry, "price"), in_stock(entry))


def device(entry: Entry) -> StockDevice:
    """A ``[[device]]``."""
    record = item(entry, Device, "device", "switch + switch")
    return StockDevice(name_of(entry), record, price(entry, "price"), in_stock(entry))


def cable(entry: Entry) -> StockCable:
    """A ``[[cable]]``."""
    text = read_words("is", entry["is"], "12/2 nm-b")
    line = f"run a > b {text}"
    words = Words(1, words_of(line), line)
    words.i = 1
    try:
        run = read_run(words, "run")
    except Unreadable as trouble:
        raise WrongValue("is", trouble.message, trouble.hint or 'write it as is = "12/2 nm-b"') from None
    if run.cable is None:
        raise WrongValue("is", f"{text!r} is not a cable", 'write it as is = "12/2 nm-b"')
    feet = price(entry, "coil_feet", "250") if "coil_feet" in entry else None
    coil_price = price(entry, "coil_price", "165.00") if "coil_price" in entry else None
    if feet is None and coil_price is not None:
        raise WrongValue("coil_price", "a coil without a length", "write a line such as coil_feet = 250")
    if feet is not None and coil_price is None:
        raise WrongValue("coil_feet", "a coil without a price", "write a line such as coil_price = 165.00")
    return StockCable(name_of(entry), run.cable, price(entry, "per_foot", "0.70"), feet, coil_price, in_stock(entry))


def length(entry: Entry) -> StockLength:
    """A ``[[length]]``: wire, raceway or wireway by the foot."""
    stick = price(entry, "length", "10") if "length" in entry else None
    text = read_words("is", entry["is"], "emt 1/2").lower()
    if text.split()[0] in WIREWAYS:
        text = wireway_text(text)
    return StockLength(name_of(entry), text, price(entry, "per_foot", "0.70"), stick, in_stock(entry))


def wireway_text(text: str) -> str:
    """``wireway 4 x 4``, however its inside measures are written. Raises ``WrongValue`` for what is no wireway."""
    hint = f'write its inside measures: is = "{text.split()[0]} 4 x 4"'
    words = Words(1, words_of(text), text)
    words.i = 1
    try:
        sides = read_section(words) if is_section(words) else (UNKNOWN, UNKNOWN)
    except Unreadable as trouble:
        raise WrongValue("is", trouble.message, hint) from None
    one, other = sides
    if words.more or one is UNKNOWN or other is UNKNOWN:
        raise WrongValue("is", f"{text!r} is no wireway", hint)
    return f"{text.split()[0]} {plain(one)} x {plain(other)}"


def fitting(entry: Entry) -> StockFitting:
    """A ``[[fitting]]``: what joins, ends or holds one kind and trade size of raceway."""
    text = read_words("is", entry["is"], "emt 1 connector").lower()
    parts = text.split()
    if len(parts) != len(("kind", "size", "part")) or parts[0] not in RACEWAY_KINDS or parts[2] not in FITTINGS:
        hint = f'write the raceway, its trade size and one of {", ".join(FITTINGS)}: is = "emt 1 connector"'
        raise WrongValue("is", f"{text!r} is no fitting", hint)
    return StockFitting(name_of(entry), parts[0], parts[1], parts[2], price(entry, "price"), in_stock(entry))


BREAKER = re.compile(r"(\d{1,4}) ?a(?:mp|mps)? ([123])[- ]pole(?: (.+))?")


def breaker(entry: Entry) -> StockBreaker:
    """A ``[[breaker]]``."""
    text = " ".join(read_words("is", entry["is"], "20 A 1-pole").lower().split())
    match = BREAKER.fullmatch(text)
    guard = BREAKER_GUARDS.get((match[3] or "").removesuffix(" breaker").strip()) if match and match[3] else ""
    if match is None or guard is None or not int(match[1]):
        hint = f'write its amperes and poles, and {", ".join(BREAKER_GUARDS)} behind: is = "20 A 1-pole"'
        raise WrongValue("is", f"{text!r} is no breaker", hint)
    return StockBreaker(name_of(entry), int(match[1]), int(match[2]), guard, price(entry, "price"), in_stock(entry))


class EntryKind(Record):
    """A kind of entry: how it is read, the keys it must have with a line for each, and those it may have."""

    read: Callable[[Entry], Any]
    needed: dict[str, str]
    allowed: tuple[str, ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """All keys an entry may have."""
        return (*self.needed, *self.allowed)


ENTRIES = {
    "box": EntryKind(
        box,
        {
            "name": '"deep square"',
            "is": '"square 4 x 2-1/8"',
            "for": '["junction"]',
            "mounting": '["new-work"]',
            "price": "3.10",
        },
        ("clamps", "cover_price", "hole", "rated", "in_stock"),
    ),
    "part": EntryKind(
        part,
        {"name": '"ring"', "is": '"plaster ring 3.5 in3"', "on": '"square 4"', "price": "3.10"},
        ("mounting", "in_stock"),
    ),
    "connector": EntryKind(
        connector, {"name": '"connector 3/8"', "for": '["nm-b"]', "largest": '"10"', "price": "0.60"}, ("in_stock",)
    ),
    "device": EntryKind(
        device, {"name": '"double switch"', "is": '"switch + switch"', "price": "14.00"}, ("in_stock",)
    ),
    "cable": EntryKind(
        cable, {"name": '"12/2"', "is": '"12/2 nm-b"', "per_foot": "0.70"}, ("coil_feet", "coil_price", "in_stock")
    ),
    "fitting": EntryKind(
        fitting, {"name": '"EMT 1 connector"', "is": '"emt 1 connector"', "price": "1.40"}, ("in_stock",)
    ),
    "breaker": EntryKind(breaker, {"name": '"breaker 20 A"', "is": '"20 A 1-pole"', "price": "9.40"}, ("in_stock",)),
    "length": EntryKind(length, {"name": '"emt 1/2"', "is": '"emt 1/2"', "per_foot": "0.70"}, ("length", "in_stock")),
}
"""Every kind of entry by its name in the file."""
