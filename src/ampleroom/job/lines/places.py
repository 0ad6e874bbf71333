"""``box``, ``kind``, ``panel``, ``equipment``: what runs go to."""

from __future__ import annotations

import re

from ampleroom.job.lines.circuits import MOST_SPACES
from ampleroom.job.lines.rooms import read_room_name
from ampleroom.job.lines.statement import Statement, maybe, name_of, words_joined
from ampleroom.job.model import Box, Equipment, Kind, Panel
from ampleroom.job.unknown import UNKNOWN, Maybe
from ampleroom.job.words import AskedBack, Words


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


VOLTS = r"[1-9]\d{1,2}(?:/[1-9]\d{1,2})?"


JOINED_VOLTS = rf"({VOLTS})v(?:olts)?"
SUPPLY_VOLTS = ("120", "208", "240", "277", "480", "600")
"""A bare number that is one of these is volts. Common practice, no source."""

OF_THE_PANEL = re.compile(
    r"\b(?:\d+ ?spaces?|(?:main|bus) \d+ ?A?|\d+ ?A(?:mps?)? (?:main|bus)|[1-9]\d{1,2}/[1-9]\d{1,2} ?V|[13]-phase)\b",
    re.IGNORECASE,
)
"""What is said of a panel and of no place. A place may be called ``unit 12 A``."""


def read_panel(words: Words, word: str) -> Panel:
    """``panel P 120/240 V main 200 A``. Raises ``Unreadable``."""
    name = name_of(words, "panel")
    volts: tuple[int, ...] = ()
    numbers: dict[str, int] = {}
    phases = spaces = None
    while words.more and words.peek() != "at":
        at = words.i
        if words.take(","):
            continue
        if key := words.take("main", "bus", "terminals"):
            digits = words.joined("a", "amp", "amps", "c") or words.next(f"the number after {key!r}")
            if key in numbers:
                raise words.wrong(f"{key} is written twice", "keep one of them", at)
            numbers[key] = words.whole(digits, words.i - 1)
            words.take("a", "amp", "amps", "c")
        elif digits := words.joined("space", "spaces"):
            spaces = read_number_of_spaces(words, digits, at, spaces)
        elif words.peek().isdigit() and words.peek(1) in ("space", "spaces"):
            words.i += 2
            spaces = read_number_of_spaces(words, words.low[at], at, spaces)
        elif words.take("1-phase", "3-phase"):
            phases = int(words.low[at][0])
        elif written := re.fullmatch(JOINED_VOLTS, words.peek()) or re.fullmatch(VOLTS, words.peek()):
            words.i += 1
            if written[0][-1].isdigit() and not words.take("v", "volts"):
                refuse_bare_number(words, at, bool(volts), "bus" if "main" in numbers else "main")
            if volts:
                raise words.wrong("the volts are written twice", "keep one of them", at)
            volts = tuple(int(part) for part in written[0].rstrip("volts").split("/"))
        else:
            raise words.unknown(
                "word", ["main", "bus", "terminals", "1-phase", "3-phase", "40 spaces", "120/240 V", "at"]
            )
    where = words.where()
    known = (numbers.get("main"), numbers.get("bus"), numbers.get("terminals"), spaces)
    begins = words.i
    description = _description(words)
    if misplaced := OF_THE_PANEL.search(description):
        raise words.wrong(
            f"{misplaced[0]!r} stands after 'at', so it is part of the place",
            "write it before 'at': the place comes last",
            begins,
        )
    return Panel(name, volts, phases, *known, description, where)


def read_number_of_spaces(words: Words, digits: str, at: int, before: int | None) -> int:
    """``40 spaces`` of a panel. Raises ``Unreadable``."""
    if before is not None:
        raise words.wrong("the spaces are written twice", "keep one of them", at)
    return words.whole(digits, at, MOST_SPACES)


def refuse_bare_number(words: Words, at: int, has_volts: bool, rating: str) -> None:
    """Raise ``AskedBack`` for a number with no unit that may be amperes: ``120/240 200``, or ``200`` alone."""
    digits = words.peek(at - words.i)
    if digits.isdigit() and words.peek() not in ("a", "amp", "amps") and (has_volts or digits not in SUPPLY_VOLTS):
        raise AskedBack(at, at, f"{digits} what?", f"write {rating} {digits} A")


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
        f"{panel.spaces} spaces" if panel.spaces else "",
        _at(panel.description),
    )


def read_equipment(words: Words, word: str) -> Equipment:
    """``equipment K1 room garage at the kiln``. Raises ``Unreadable``."""
    name = name_of(words, "piece of equipment")
    room = read_room_name(words) if words.take("room") else ""
    where = words.where()
    return Equipment(name, _description(words), room, where)


def write_equipment(equipment: Equipment) -> str:
    """Equipment in the plain form."""
    room = f"room {equipment.room}" if equipment.room else ""
    return words_joined("equipment", equipment.name, room, _at(equipment.description))


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
