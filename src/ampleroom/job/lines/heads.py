"""Lines about the whole job: its name, its edition, its inspector's readings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ampleroom.editions.readings import READINGS
from ampleroom.editions.tables import OFFERED
from ampleroom.errors import nearest
from ampleroom.job.lines.runs import CABLE_KINDS
from ampleroom.job.lines.statement import Statement, words_joined
from ampleroom.job.model import Note, ReadingChoice
from ampleroom.job.words import Words
from ampleroom.record import Record
from ampleroom.where import Where


class Title(Record):
    """The name of the job."""

    text: str
    at: Where


class EditionYear(Record):
    """The edition of the code, by its year."""

    year: int
    at: Where


class AmendmentsFile(Record):
    """The name of the file with what the place changed."""

    name: str
    at: Where


class Address(Record):
    """Where the job is."""

    text: str
    at: Where


class Permit(Record):
    """The number of the permit."""

    text: str
    at: Where


class Contractor(Record):
    """Who does the work."""

    text: str
    at: Where


class Phase(Record):
    """Which inspection the paper is for."""

    text: str
    at: Where


class UsualCable(Record):
    """The kind of cable meant where a run names none, and how many lie bundled at most."""

    kind: str
    together: int | None
    at: Where


PHASES = ("rough-in", "final")


def read_text(kind: type, expected: str) -> Callable[[Words, str], Any]:
    """A reader of a line whose whole rest is free text."""

    def read(words: Words, word: str) -> Any:
        at = Where(words.line, 1, max(1, len(words.typed) - 1))
        text = words.text_after()
        if not text:
            raise words.missing(expected, "leave out the #, which begins a remark" if "#" in words.raw else "")
        return kind(text, at)

    return read


def read_phase(words: Words, word: str) -> Phase:
    """``phase rough-in``. Raises ``Unreadable``."""
    phase = words.take(*PHASES, "rough", "roughin")
    if not phase:
        raise words.unknown("phase", PHASES)
    if phase == "rough":
        words.take("in")
    return Phase("final" if phase == "final" else "rough-in", words.where(1))


def read_usual_cable(words: Words, word: str) -> UsualCable:
    """``cable mc``, ``cable nm-b spaced``, ``cable up to 4 together``. Raises ``Unreadable``."""
    kind = CABLE_KINDS.get(words.peek(), "")
    words.i += bool(kind)
    together: int | None = None
    if words.take("spaced"):
        together = 1
    elif words.take_all("up", "to"):
        together = words.whole(words.next("how many cables, such as 4"), words.i - 1)
        words.take("together", "bundled")
    elif not kind:
        raise words.unknown("kind of cable", (*CABLE_KINDS, "spaced", "up to 4 together"))
    return UsualCable(kind, together, words.where(1))


def usual_cable_text(kind: str, together: int | None) -> str:
    """``cable nm-b up to 4 together`` as a sheet has it; empty where nothing is said."""
    company = "" if together is None else "spaced" if together == 1 else f"up to {together} together"
    return words_joined("cable", kind, company) if kind or company else ""


def read_title(words: Words, word: str) -> Title:
    """``job Boathouse studio``. Raises ``Unreadable``."""
    at = Where(words.line, 1, max(1, len(words.typed) - 1))
    text = words.text_after()
    if not text:
        raise words.missing("the job's name")
    return Title(text, at)


def read_edition(words: Words, word: str) -> EditionYear:
    """``edition 2020``; refuses a year that is no edition. Raises ``Unreadable``."""
    year = words.next("a year such as 2020")
    if year not in map(str, OFFERED):
        raise words.wrong(f"edition {year!r} is not offered", "write one of: " + ", ".join(map(str, OFFERED)))
    return EditionYear(int(year), words.where(1))


def read_amendments_file(words: Words, word: str) -> AmendmentsFile:
    """``amendments cold-harbor.toml``. Raises ``Unreadable``."""
    return AmendmentsFile(words.text_after() or words.next("a file's name"), words.where(1))


def read_reading(words: Words, word: str) -> ReadingChoice:
    """``reading wide-device by-gang``: a disputed point and the way it is read. Raises ``Unreadable``."""
    name = words.next("a reading's name").lower()
    if name not in READINGS:
        raise words.unknown("reading", READINGS, words.i - 1)
    reading = READINGS[name]
    if not reading.judged:
        raise words.wrong(
            f"{name} is about marked conduit bodies, which this version does not judge", "take out this line"
        )
    choice = words.next("the way to read it").lower()
    if choice not in reading.choices:
        close = nearest(choice, reading.choices)
        hint = f"did you mean {close[0]!r}?" if close else "write " + " or ".join(reading.choices)
        raise words.wrong(f"{name} cannot be read as {choice!r}", hint)
    return ReadingChoice(name, choice, words.where(1))


def read_note(words: Words, word: str) -> Note:
    """``note`` and all the rest of the line. Raises ``Unreadable``."""
    at = Where(words.line, 1, max(1, len(words.typed) - 1))
    text = words.text_after()
    if not text:
        raise words.missing("the note's text")
    return Note(text, at)


STATEMENTS = (
    Statement(("job",), Title, read_title, lambda title: f"job {title.text}", "job Boathouse studio", "the job's name"),
    Statement(
        ("address",),
        Address,
        read_text(Address, "the job's address"),
        lambda line: f"address {line.text}",
        "address 12 Wharf Lane, Cold Harbor",
        "where the job is; printed on the paper",
    ),
    Statement(
        ("permit",),
        Permit,
        read_text(Permit, "the permit's number"),
        lambda line: f"permit {line.text}",
        "permit 26-0417",
        "the permit's number; printed on the paper",
    ),
    Statement(
        ("contractor",),
        Contractor,
        read_text(Contractor, "the contractor's name"),
        lambda line: f"contractor {line.text}",
        "contractor Night shift crew",
        "who does the work; printed on the paper",
    ),
    Statement(
        ("phase",),
        Phase,
        read_phase,
        lambda line: f"phase {line.text}",
        "phase rough-in",
        "which inspection the paper is for: rough-in or final",
    ),
    Statement(
        ("cable",),
        UsualCable,
        read_usual_cable,
        lambda line: usual_cable_text(line.kind, line.together),
        "cable nm-b",
        "the kind of cable meant where a run names none, and how many lie bundled at most: up to 4 together",
    ),
    Statement(
        ("edition",),
        EditionYear,
        read_edition,
        lambda edition: f"edition {edition.year}",
        "edition 2020",
        "the edition of the code adopted here",
    ),
    Statement(
        ("amendments",),
        AmendmentsFile,
        read_amendments_file,
        lambda file: f"amendments {file.name}",
        "amendments cold-harbor.toml",
        "a file beside the sheet with what the place changed",
    ),
    Statement(
        ("reading", "readings"),
        ReadingChoice,
        read_reading,
        lambda reading: f"reading {reading.name} {reading.choice}",
        "reading wide-device by-gang",
        "a disputed point, read the way this inspector reads it",
    ),
    Statement(
        ("note",),
        Note,
        read_note,
        lambda note: f"note {note.text}",
        "note Finish goes up on the 14th.",
        "a remark that is printed with the job",
    ),
)
