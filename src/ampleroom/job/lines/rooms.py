"""The line that says which room or place a box is in."""

from __future__ import annotations

from ampleroom.job.lines.statement import Statement, maybe, words_joined
from ampleroom.job.model import Room
from ampleroom.job.trade import ROOMS
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Words

PHRASES = tuple(sorted(((tuple(name.split()), room) for name, room in ROOMS.items()), key=lambda each: -len(each[0])))
"""What a room may be called, word by word, those of more words first."""
NEAR = ("counter", "near sink", "near tub", "away")


def read_room_name(words: Words) -> str:
    """The name of a room at the cursor, such as ``kitchen`` or ``living room``. Raises ``Unreadable``."""
    for phrase, room in PHRASES:
        if words.take_all(*phrase):
            return room
    if words.take("basement"):
        raise words.wrong("is the basement finished?", "write basement unfinished, or basement finished")
    raise words.unknown("room", ROOMS)


def read_room(words: Words, word: str) -> Room:
    """``room kitchen counter``: the room a box is in, and what its receptacles serve. Raises ``Unreadable``."""
    name = UNKNOWN if words.take("?") else read_room_name(words)
    near, is_protected = "", False
    while words.more:
        if words.take(","):
            continue
        if words.take("counter", "countertop"):
            near = "counter"
        elif words.take_all("near", "sink") or words.take("sink"):
            near = "sink"
        elif words.take_all("near", "tub") or words.take_all("near", "shower"):
            near = "tub"
        elif words.take("away"):
            near = "away"
        elif words.take("gfci"):
            is_protected = True
        else:
            raise words.unknown("word", [*NEAR, "gfci"])
    return Room(name, near, is_protected, words.where())  # type: ignore[arg-type]


def write_room(room: Room) -> str:
    """The room of a box in the plain form."""
    near = {"sink": "near sink", "tub": "near tub"}.get(room.near, room.near)
    return words_joined("room", maybe(room.name), near, "gfci" if room.protected else "")


STATEMENTS = (
    Statement(
        ("room",),
        Room,
        read_room,
        write_room,
        "room kitchen counter",
        "the room or place the box is in: what protection is asked for there",
    ),
)

__all__ = ["STATEMENTS", "read_room_name"]
