"""From a sheet to a job: every line by its first word, all faults collected, every fact with its place."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from ampleroom.editions.amendments import Amendments, read_amendments
from ampleroom.errors import FileTrouble, SheetFaults
from ampleroom.job.faults import Fault
from ampleroom.job.lines import ON_THEIR_OWN, UNDER_A_BOX
from ampleroom.job.lines.heads import AmendmentsFile, EditionYear, Title
from ampleroom.job.model import (
    Box,
    Circuit,
    Dwelling,
    Equipment,
    Item,
    Job,
    Kind,
    Load,
    Note,
    Panel,
    Raceway,
    ReadingChoice,
    Route,
    Run,
)
from ampleroom.job.sheet import Sheet, columns, sheet_from_file, words_of
from ampleroom.job.words import Unreadable, Words
from ampleroom.quantities import plural
from ampleroom.record import replace
from ampleroom.where import NOWHERE, Where

Beside = Callable[[str], str]
"""Reads the text of a file that lies beside the sheet, by its name."""

_ALONE = {word: statement for statement in ON_THEIR_OWN for word in statement.words}
_UNDER = {word: statement for statement in UNDER_A_BOX for word in statement.words}
_COUNTED = tuple(word for word, statement in _UNDER.items() if statement.counted)
MOST = 1000
"""More faults than this are counted, not listed."""
HINTED = 100
"""So many faults get a search for the nearest known word; in a file of rubbish it would take for ever."""
KEEPS_BOX_OPEN = {"run", "wires", "note"}
"""Lines that may stand among a box's lines without ending them."""


class _Open:
    """The box or kind whose lines are being read."""

    def __init__(self, head: Box | Kind) -> None:
        self.head = head
        self.items: list[Item] = []


class _Said(NamedTuple):
    """What one line says by itself."""

    word: str
    record: Any
    is_item: bool


def _said(number: int, raw: str, hints: bool) -> _Said | None:
    """What a line says; None: nothing. ``Unreadable`` if it cannot be read."""
    start = raw.split(None, 1)[:1]
    if not start or not (words := words_of(start[0])):
        return None
    if words[0].lower() in _ALONE:
        return _line(number, raw, hints)
    said = _line(0, raw, hints)
    _, first_word, last_word = said.record.at
    return _Said(said.word, replace(said.record, at=Where(number, first_word, last_word)), True)


@lru_cache(maxsize=20_000)
def _line(number: int, raw: str, hints: bool) -> _Said:
    """What a line says, kept: the same line in the same place says the same, and of a sheet read again after a tap all lines
    but one are known. Lines under a box are alike by the hundred; they are read as of line 0."""
    words = Words(number, words_of(raw), raw, hints)
    word = words.low[0]
    if word in _ALONE:
        words.i = 1
        record = _ALONE[word].read(words, word)
    elif word in _UNDER:
        words.i = 1
        record = _UNDER[word].read(words, word)
    else:
        record = _counted(words)
    if words.more:
        raise words.too_much()
    return _Said(word, record, word not in _ALONE)


def _counted(words: Words) -> Any:
    """``3 x switch #14``; anything else begins with a word nobody knows."""
    count = words.known_count()
    word = words.peek()
    if words.i and word in _COUNTED:
        words.i += 1
        return _UNDER[word].read(words, word, count)  # type: ignore[call-arg]
    raise words.unknown("word", [*_COUNTED] if words.i else [*_ALONE, *_UNDER])


class _Reader:
    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.lines: list[str] = []
        self.faults: list[Fault] = []
        self.more_faults = 0
        self.found: dict[type, list[Any]] = {}
        self.open: _Open | None = None
        self.closed_by = ""

    def read(self) -> Job:
        self.lines = self.sheet.text.removeprefix("\ufeff").split("\n")
        for number, raw in enumerate(self.lines, 1):
            try:
                said = _said(number, raw, len(self.faults) < HINTED)
                if said is not None:
                    self.take(said, raw)
            except Unreadable as trouble:
                self.end_of_box(words_of(raw)[0].lower())
                self.fault(Where(number, trouble.first, trouble.last), trouble.message, trouble.hint)
        self.close("")
        return self.job()

    def take(self, said: _Said, raw: str) -> None:
        self.end_of_box(said.word)
        if said.is_item:
            self.add(said.record, raw)
        elif type(said.record) is Box or type(said.record) is Kind:
            self.open = _Open(said.record)
        else:
            self.keep(said.record)

    def end_of_box(self, word: str) -> None:
        if word in _ALONE and word not in KEEPS_BOX_OPEN:
            self.close(word)

    def add(self, item: Item, raw: str) -> None:
        if self.open is None:
            ended = f"the {self.closed_by!r} line above ended the box" if self.closed_by else "there is no box above"
            raise Unreadable(
                0, 0, f"{words_of(raw)[0]!r} stands under no box", f"{ended}; write it under 'box NAME' or 'kind NAME'"
            )
        self.open.items.append(item)

    def keep(self, record: Any) -> None:
        self.found.setdefault(type(record), []).append(record)

    def close(self, word: str) -> None:
        if self.open is not None:
            head, items = self.open.head, tuple(self.open.items)
            if isinstance(head, Box):
                self.keep(Box(head.name, head.description, head.kind, items, head.at))
            else:
                self.keep(replace(head, items=items))
            self.open = None
        self.closed_by = word

    def fault(self, where: Where, message: str, hint: str = "") -> None:
        if len(self.faults) >= MOST:
            self.more_faults += 1
            return
        raw = self.lines[where.line - 1] if 0 < where.line <= len(self.lines) else ""
        column, end = columns(raw, where.first, where.last)
        self.faults.append(Fault(self.sheet.file, where.line, column, end, message, hint, raw))

    def only(self, kind: type, what: str) -> Any:
        """The one line of its kind; a second is a fault."""
        found = self.found.get(kind, [])
        for again in found[1:]:
            self.fault(again.at, f"{what} was already given on line {found[0].at.line}", "keep one of the two")
        return found[0] if found else None

    def job(self) -> Job:
        title = self.only(Title, "the job's name")
        edition = self.only(EditionYear, "the edition")
        amendments = self.only(AmendmentsFile, "the amendments file")
        several = {kind: tuple(records) for kind, records in self.found.items()}
        return Job(
            title=title.text if title else "",
            edition=edition.year if edition else None,
            amendments_file=amendments.name if amendments else "",
            readings=several.get(ReadingChoice, ()),
            notes=several.get(Note, ()),
            dwelling=self.only(Dwelling, "the dwelling"),
            kinds=several.get(Kind, ()),
            boxes=several.get(Box, ()),
            panels=several.get(Panel, ()),
            equipment=several.get(Equipment, ()),
            circuits=several.get(Circuit, ()),
            raceways=several.get(Raceway, ()),
            routes=several.get(Route, ()),
            loads=several.get(Load, ()),
            runs=several.get(Run, ()),
            sheet=self.sheet,
        )


def read_with_faults(sheet: Sheet, beside: Beside | None = None) -> tuple[Job, list[Fault]]:
    """The job as far as it can be read, and every fault: for a page that shows both at once."""
    from ampleroom.job.names import checked_names

    reader = _Reader(sheet)
    job = reader.read()
    if not job.boxes and not reader.faults and not job.panels and not job.runs:
        last = sheet.text.rstrip("\n").count("\n") + 1
        said = (
            f"{plural(last, 'line')} read; 'new' writes a starter sheet"
            if sheet.text.strip()
            else "it is empty; 'new' writes a starter sheet"
        )
        reader.fault(Where(1), "there is no box in this sheet", said)
    job = checked_names(job, reader.fault)
    if job.amendments_file:
        job = replace(job, amendments=_amendments(job, reader, beside))
    if reader.more_faults:
        last = len(reader.lines)
        said = f"and {plural(reader.more_faults, 'more fault')} not listed"
        reader.faults.append(Fault(sheet.file, last, 1, 2, said, "put those above right first; is it the right file?"))
    return job, reader.faults


def _amendments(job: Job, reader: _Reader, beside: Beside | None) -> Amendments | None:
    line = reader.found[AmendmentsFile][0].at
    try:
        text = (beside or _beside_file(reader.sheet))(job.amendments_file)
    except (OSError, KeyError, FileTrouble, UnicodeDecodeError):
        reader.fault(
            line,
            f"there is no file {job.amendments_file!r} beside the sheet",
            "the name is that of a TOML file in the same folder",
        )
        return None
    amendments, faults = read_amendments(text)
    rows = text.split("\n")
    for fault in faults:
        row = rows[fault.line - 1] if fault.line <= len(rows) else ""
        reader.faults.append(
            Fault(job.amendments_file, fault.line, fault.column, fault.column + 1, fault.message, fault.hint, row)
        )
    return amendments


def _beside_file(sheet: Sheet) -> Beside:
    def read(name: str) -> str:
        if sheet.folder is None or Path(name).is_absolute() or ".." in Path(name).parts:
            raise FileTrouble(name)
        return (sheet.folder / name).read_text("utf-8")

    return read


def read_sheet(sheet: Sheet, beside: Beside | None = None) -> Job:
    """The job in a sheet, or ``SheetFaults`` with all that cannot be read."""
    job, faults = read_with_faults(sheet, beside)
    if faults:
        raise SheetFaults(sheet.file, faults)
    return job


def read_job(source: str | Path, *, beside: Beside | None = None) -> Job:
    """A job from a sheet's text, or from a file by its path. A text holds at least one line end; a path none.

    >>> read_job("box J1\\n  square 4 x 1-1/2\\nrun J1 > ? 2 x 12/2 nm-b\\n").boxes[0].name
    'J1'
    """
    if isinstance(source, Path) or "\n" not in source:
        return read_sheet(sheet_from_file(Path(source)), beside)
    return read_sheet(Sheet(source.replace("\r\n", "\n")), beside)


def read_item(text: str) -> Item:
    """One line of a box by itself, such as ``square 4 x 1-1/2``; ``Unreadable`` if it is none."""
    said = words_of(text)
    if not said:
        raise Unreadable(0, 0, "nothing is written", "such as: square 4 x 1-1/2")
    if said[0].lower() in _ALONE:
        raise Unreadable(0, 0, f"{said[0]!r} is no line of a box", "such as: square 4 x 1-1/2")
    found = _said(1, text, True)
    assert found is not None  # it has words
    item: Item = replace(found.record, at=NOWHERE)
    return item


def read_line(text: str) -> tuple[Any, ...]:
    """All that one line of a sheet says by itself, whatever stands around it; nothing for an empty one. ``Unreadable`` if it
    cannot be read."""
    said = _said(1, text, True)
    return () if said is None else (said.record, *getattr(said, "more", ()))


__all__ = ["Beside", "read_item", "read_job", "read_line", "read_sheet", "read_with_faults"]
