"""Names that look alike and are not the same: composed or not, with letters nobody sees, in other alphabets."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from typing import Any

from ampleroom.job.model import Job
from ampleroom.record import Record
from ampleroom.where import Where

CYRILLIC_AND_GREEK = (
    "АA ВB ЕE ЅS ІI ЈJ КK МM НH ОO РP СC ТT ХX УY аa еe ѕs іi јj оo рp сc хx уy һh ԁd ԛq ԝw Ԝw "
    "ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX οo νv ιi ϲc ϳj"
)
"""A letter and the Latin one it is drawn as. Common practice, no source: the shapes in common fonts, from memory."""
DRAWN_AS = str.maketrans({pair[0]: pair[1] for pair in CYRILLIC_AND_GREEK.split()})


class LookAlike(Record):
    """Two names of one kind that a reader cannot tell apart, and where the second was given."""

    kind: str
    first: str
    second: str
    first_at: Where
    at: Where

    @property
    def text(self) -> str:
        """What to tell of the two, in a sentence or two."""
        return (
            f"{self.kind} {self.second} looks like {self.kind} {self.first} on line {self.first_at.line} but "
            f"is written with other letters ({letters_apart(self.first, self.second)}). If they are one, write "
            "both alike"
        )


def drawn(name: str) -> str:
    """What a name looks like: the same text for two names that look alike, upper and lower case alike."""
    if name.isascii():
        return name.casefold()
    seen = "".join(letter for letter in unicodedata.normalize("NFKC", name) if unicodedata.category(letter) != "Cf")
    return unicodedata.normalize("NFKC", seen.translate(DRAWN_AS).casefold())


def letters_apart(first: str, second: str) -> str:
    """The letters of the second name, outside ASCII, that the first has not; of the first, where the second has
    none.
    """
    letters = [letter for letter in second if letter not in first and not letter.isascii()]
    letters = letters or [letter for letter in first if letter not in second and not letter.isascii()]
    return ", ".join(
        dict.fromkeys(f"U+{ord(letter):04X} {unicodedata.name(letter, 'no name')}" for letter in letters[:3])
    )


def look_alikes(job: Job) -> tuple[LookAlike, ...]:
    """Every name that looks like one given before it: places, circuits, kinds, raceways and routes, each among
    themselves.
    """
    kinds = (
        ("place", job.places()),
        ("kind", job.kinds),
        ("circuit", job.circuits),
        ("raceway", job.raceways),
        ("route", job.routes),
    )
    return tuple(pair for kind, records in kinds for pair in alike(kind, records))


def alike(kind: str, records: Iterable[Any]) -> Iterator[LookAlike]:
    """Those of some records of one kind whose names look like one given before."""
    records = list(records)
    if all(record.name.isascii() for record in records):
        return  # one that differs from all others in letters of ASCII is seen to differ
    seen: dict[str, Any] = {}
    for record in records:
        first = seen.setdefault(drawn(record.name), record)
        if first.name.casefold() != record.name.casefold():
            yield LookAlike(kind, first.name, record.name, first.at, record.at)


__all__ = ["LookAlike", "drawn", "look_alikes"]
