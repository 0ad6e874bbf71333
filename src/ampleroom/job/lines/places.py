"""``box``, ``kind``, ``panel``, ``equipment``: what runs go to."""

from __future__ import annotations

import re

from ampleroom.job.lines.statement import Statement, maybe, name_of, words_joined
from ampleroom.job.model import Box, Equipment, Kind, Panel
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import Words


def read_box(words: Words, word: str) -> Box:
    """``box J1 nail-on at ridge``: the head of a box. Raises ``Unreadable``."""
    name = name_of(words, "box")
    kind: Maybe[str] = ""
    if words.more and words.peek() not in ("at", ","):
        kind = UNKNOWN if words.take("?") else words.next("a kind")
    where = words.where()
    return Box(name, _description(words), kind, at=where)


def _description(words: Words) -> str:
    words.take(",")
    if words.take("at"):
        text = words.text_after()
        if not text:
            raise words.missing("the place after 'at'")
        return text
    if words.more:
        raise words.unknown("word", ["at"])
    return ""


def _at(text: str) -> str:
    return f"at {text}" if text else ""


def write_box(box: Box) -> str:
    """The head of a box in the plain form."""
    return words_joined("box", box.name, maybe(box.kind) if box.kind else "", _at(box.description))


def read_kind(words: Words, word: str) -> Kind:
    """``kind nail-on for the van``: the head of a kind. Raises ``Unreadable``."""
    name = name_of(words, "kind")
    where = words.where()
    description = ""
    if words.take("for"):
        description = words.text_after()
    elif words.more:
        raise words.unknown("word", ["for"])
    return Kind(name, description=description, at=where)


def write_kind(kind: Kind) -> str:
    """The head of a kind in the plain form."""
    return words_joined("kind", kind.name, f"for {kind.description}" if kind.description else "")


VOLTS = re.compile(r"[1-9]\d{1,2}(?:/[1-9]\d{1,2})?")


JOINED_VOLTS = re.compile(rf"({VOLTS.pattern})v(?:olts)?")


def read_panel(words: Words, word: str) -> Panel:
    """``panel P 120/240 V main 200 A``. Raises ``Unreadable``."""
    name = name_of(words, "panel")
    volts: tuple[int, ...] = ()
    numbers: dict[str, int] = {}
    phases = None
    while words.more and words.peek() != "at":
        at = words.i
        if words.take(","):
            continue
        if key := words.take("main", "bus", "terminals"):
            number = words.joined("a", "amp", "amps", "c") or words.next(f"the number after {key!r}")
            numbers[key] = words.whole(number, words.i - 1)
            words.take("a", "amp", "amps", "c")
        elif words.take("1-phase", "3-phase"):
            phases = int(words.low[at][0])
        elif volts_joined := JOINED_VOLTS.fullmatch(words.peek()):
            volts = tuple(int(part) for part in volts_joined[1].split("/"))
            words.i += 1
        elif VOLTS.fullmatch(words.peek()):
            volts = tuple(int(part) for part in words.peek().split("/"))
            words.i += 1
            words.take("v", "volts")
        else:
            raise words.unknown("word", ["main", "bus", "terminals", "1-phase", "3-phase", "120/240 V", "at"])
    where = words.where()
    known = (numbers.get("main"), numbers.get("bus"), numbers.get("terminals"))
    return Panel(name, volts, phases, *known, _description(words), where)


def write_panel(panel: Panel) -> str:
    """A panel in the plain form."""
    return words_joined(
        "panel",
        panel.name,
        "/".join(map(str, panel.volts)) + " V" if panel.volts else "",
        f"{panel.phases}-phase" if panel.phases else "",
        f"main {panel.main} A" if panel.main else "",
        f"bus {panel.bus} A" if panel.bus else "",
        f"terminals {panel.terminals} C" if panel.terminals else "",
        _at(panel.description),
    )


def read_equipment(words: Words, word: str) -> Equipment:
    """``equipment K1 at kiln room``. Raises ``Unreadable``."""
    name = name_of(words, "piece of equipment")
    where = words.where()
    return Equipment(name, _description(words), where)


def write_equipment(equipment: Equipment) -> str:
    """Equipment in the plain form."""
    return words_joined("equipment", equipment.name, _at(equipment.description))


STATEMENTS = (
    Statement(
        ("box",),
        Box,
        read_box,
        write_box,
        "box J1 at ridge, over the stair",
        "a box; the lines under it say what it is and holds",
    ),
    Statement(
        ("kind",),
        Kind,
        read_kind,
        write_kind,
        "kind nail-on for the van's one-gang box",
        "a kind of box, described once: box W1 nail-on at east wall",
    ),
    Statement(("panel",), Panel, read_panel, write_panel, "panel P 120/240 V main 200 A at kitchen wall", "a panel"),
    Statement(
        ("equipment",),
        Equipment,
        read_equipment,
        write_equipment,
        "equipment K1 at kiln room",
        "something a run ends in that is no box",
    ),
)
