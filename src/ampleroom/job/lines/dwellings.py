"""``dwelling`` and ``load``: what the service of a dwelling carries."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from ampleroom.job.lines.circuits import AMPERES, POWERS, read_amperes
from ampleroom.job.lines.statement import Statement, maybe, plain, times, words_joined
from ampleroom.job.model import Dwelling, Load
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import Words

AREAS: dict[str, Decimal | None] = dict.fromkeys(("ft2", "ft²", "sqft", "sq ft", "square feet"))
WORDS_OF_A_DWELLING = (
    *("service 200 A", "240 V", "small-appliance 2", "laundry 1", "units 4", "existing", "metered 62 A", "at"),
)
"""What may follow the floor area of a dwelling, one example of each."""
WORDS_OF_A_LOAD = ("240 V", "5 controls", "new", "on circuit", "for")
"""What may follow the size of a load, one example of each."""


def read_dwelling(words: Words, word: str) -> Dwelling:
    """``dwelling 1850 ft2 service 200 A``. Raises ``Unreadable``."""
    at = words.i
    area, _ = words.amount(AREAS, "a floor area such as 1850 ft2")
    said: dict[str, Any] = {"area": area if area is UNKNOWN else words.positive(area, at)}
    where = words.where()
    while words.more:
        at = words.i
        if words.take(","):
            continue
        if words.take("at"):
            said["description"] = words.text_after()
        elif words.take("service"):
            said["service"] = read_rating(words)
        elif words.take("metered"):
            said["metered"] = read_amperes(words)
        elif words.take("existing"):
            said["existing"] = True
        elif words.take("units"):
            said["units"] = words.whole(words.next("how many dwellings"), at + 1)
        elif words.take("small-appliance", "laundry"):
            digits = words.next("how many circuits")
            key = words.low[at].replace("-", "_")
            said[key] = 0 if digits == "0" else words.whole(digits, at + 1, 1000)
        elif volts := read_volts(words):
            said["volts"] = volts
        else:
            raise words.unknown("word", WORDS_OF_A_DWELLING)
    return Dwelling(at=where, **said)


def read_rating(words: Words) -> Maybe[int]:
    """``200 A`` of a service. Raises ``Unreadable``."""
    at = words.i
    known, _ = words.amount(AMPERES, "amperes such as 200 A")
    return UNKNOWN if known is UNKNOWN else words.whole(plain(known), at)


def read_volts(words: Words) -> int | None:
    """``240 V`` if it stands here; of ``120/240 V`` the greater. Raises ``Unreadable``."""
    at = words.i
    digits = words.joined("v", "volt", "volts")
    if not digits and words.peek(1) in ("v", "volts"):
        digits = words.peek()
        words.i += 2
    return words.whole(digits.rpartition("/")[2], at) if digits else None


def write_dwelling(dwelling: Dwelling) -> str:
    """A dwelling in the plain form."""
    return words_joined(
        f"dwelling {maybe(dwelling.area)} ft2",
        f"service {maybe(dwelling.service)} A" if dwelling.service is not None else "",
        f"{dwelling.volts} V" if dwelling.volts is not None else "",
        f"units {dwelling.units}" if dwelling.units != 1 else "",
        f"small-appliance {dwelling.small_appliance}" if dwelling.small_appliance is not None else "",
        f"laundry {dwelling.laundry}" if dwelling.laundry is not None else "",
        "existing" if dwelling.existing else "",
        f"metered {plain(dwelling.metered)} A" if dwelling.metered is not None else "",
        f"at {dwelling.description}" if dwelling.description else "",
    )


def read_load(words: Words, word: str) -> Load:
    """``load range 12 kW on circuit 7``, ``load ac 24 A 240 V``: a load in VA. Raises ``Unreadable``."""
    count = words.known_count()
    kind = []
    while words.more and not words.is_amount(POWERS) and not words.is_amount(AMPERES):
        kind.append(words.next("a load"))
    if not kind:
        raise words.missing("the kind of load such as range")
    at = words.i
    in_amperes = words.is_amount(AMPERES)
    known, unit = words.amount(AMPERES if in_amperes else POWERS, "a load such as 12 kW")
    said: dict[str, Any] = {}
    where = words.where()
    while words.more:
        if words.take(","):
            continue
        if words.take("on"):
            words.take("circuit")
            said["circuit"] = words.next("a circuit's name")
        elif words.take("for"):
            said["label"] = words.text_after()
        elif words.take("new"):
            said["new"] = True
        elif words.peek(1) in ("controls", "control"):
            said["controls"] = words.whole(words.peek(), words.i, 1000)
            words.i += 2
        elif volts := read_volts(words):
            said["volts"] = volts
        else:
            raise words.unknown("word", WORDS_OF_A_LOAD)
    va: Maybe[Decimal] = UNKNOWN
    if known is not UNKNOWN:
        if in_amperes and "volts" not in said:
            raise words.wrong("amperes at how many volts?", "write one such as 24 A 240 V", at)
        factor = Decimal(said["volts"]) if in_amperes else POWERS[unit] or Decimal(1)
        va = words.positive(known * factor, at)
    return Load(" ".join(kind), va, count, at=where, **said)


def write_load(load: Load) -> str:
    """A load in the plain form."""
    return words_joined(
        "load",
        times(load.count) + load.kind,
        f"{maybe(load.va)} VA",
        f"{load.volts} V" if load.volts is not None else "",
        f"{load.controls} controls" if load.controls is not None else "",
        "new" if load.new else "",
        f"on circuit {load.circuit}" if load.circuit else "",
        f"for {load.label}" if load.label else "",
    )


STATEMENTS = (
    Statement(
        ("dwelling",),
        Dwelling,
        read_dwelling,
        write_dwelling,
        "dwelling 1850 ft2 service 200 A",
        "a dwelling's floor area, and what its service is rated for",
    ),
    Statement(
        ("load",), Load, read_load, write_load, "load range 12 kW on circuit 7", "a load of the dwelling's service"
    ),
)
