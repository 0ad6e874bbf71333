"""From a sheet to a job: every line by its first word, all faults collected, every fact with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ampleroom.editions.amendments import Amendments
from ampleroom.errors import FileTrouble, SheetFaults, nearest
from ampleroom.job.beside import Beside, beside_in
from ampleroom.job.faults import Fault
from ampleroom.job.lines.heads import Address, AmendmentsFile, Contractor, EditionYear, Permit, Phase, Title, UsualCable
from ampleroom.job.model import (
    BOX_END,
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
    SpaceShare,
    Stop,
    Wireway,
)
from ampleroom.job.one_line import ALONE, UNDER, OneLine, read_one_line
from ampleroom.job.settling import BoxSettler, RunSettler
from ampleroom.job.sheet import Sheet, columns, sheet_from_file, words_of
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable
from ampleroom.quantities import plural
from ampleroom.record import replace
from ampleroom.where import Where

if TYPE_CHECKING:
    from pathlib import Path

MOST_FAULTS = 1000
"""More faults than this are counted, not listed."""
HINTED = 100
"""So many faults get a search for the nearest known word; in a file of rubbish it would take for ever."""
NAMED: dict[str, type] = {
    "box": Box,
    "kind": Kind,
    "panel": Panel,
    "equipment": Equipment,
    "circuit": Circuit,
    "raceway": Raceway,
    "route": Route,
    "wireway": Wireway,
    "gutter": Wireway,
}
"""Lines that give something a name."""
KEEPS_BOX_OPEN = {"run", "wires", "note"}
"""Lines that may stand among a box's lines without ending them."""


class OpenBox:
    """The box or kind whose lines are being read."""

    def __init__(self, head: Box | Kind) -> None:
        self.head = head
        self.items: list[Item] = []
        self.is_broken = False


class SheetReader:
    """Reads one sheet: ``read`` gives the job, and every fault stands in ``faults``."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.lines: list[str] = []
        self.faults: list[Fault] = []
        self.more_faults = 0
        self.records: dict[type, list[Any]] = {}
        """What was read, by its class, in the order of the sheet."""
        self.open: OpenBox | None = None
        self.closed_by = ""
        self.stray = False
        """Whether a line that stands under no box was told since the last head: one missing head is one fault."""
        self.no_at: set[int] = set()
        """Lines of boxes whose place is written without ``at``."""
        self.closers: list[int] = []
        """Numbers of the lines that end the lines of the box above; the heads of boxes are among them."""
        self.broken: dict[type, list[Any]] = {}
        """Places, raceways and circuits of which no more than the name could be read."""

    def read(self) -> Job:
        """The job as far as its lines can be read one by one; names are not checked yet."""
        self.lines = self.sheet.text.removeprefix("\ufeff").split("\n")
        for line_number, raw in enumerate(self.lines, 1):
            try:
                line = read_one_line(line_number, raw, len(self.faults) < HINTED, self.open is not None)
                if line is not None:
                    self.take(line, raw)
            except Unreadable as trouble:
                self.fault(Where(line_number, trouble.first, trouble.last), trouble.message, trouble.hint)
                self.keep_name(line_number, words_of(raw))
        self.close("")
        return self.job()

    def take(self, line: OneLine, raw: str) -> None:
        """Puts what a line says where it belongs: under the open box, or among the records. Raises ``Unreadable``."""
        if self.end_of_box(line.word):
            self.closers.append(line.record.at.line)
        if line.is_item:
            for item in (line.record, *line.more):
                self.add(item, raw)
        elif type(line.record) is Box or type(line.record) is Kind:
            self.open = OpenBox(line.record)
            self.open.items += line.more
            if line.no_at:
                self.no_at.add(line.record.at.line)
        else:
            self.keep(self.at_this_box(line.record) if type(line.record) is Run else line.record)

    def at_this_box(self, run: Run) -> Run:
        """A cable written under a box as a run of that box, or of the side named last. Raises ``Unreadable`` where no
        box is open.
        """
        stop = run.stops[0]
        if stop.name != BOX_END:
            return run
        if self.open is None or isinstance(self.open.head, Kind):
            hint = "write it with the places it goes to, such as: run J1 > J2 12/2"
            raise Unreadable(0, 0, "where does this cable go?", hint)
        side = next((item.name for item in reversed(self.open.items) if isinstance(item, SpaceShare)), "")
        return replace(run, stops=(Stop(self.open.head.name, side, stop.at), *run.stops[1:]))

    def keep_name(self, line_number: int, typed: list[str]) -> None:
        """A line with one bad word keeps its name, and a box its lines: one slip is one fault."""
        word = typed[0].lower()
        if word not in ALONE and word not in UNDER:
            close = nearest(word, NAMED) if len(self.faults) < HINTED and not word[:1].isdigit() else []
            word = close[0] if close and (len(typed) < 3 or typed[2].lower() == "at" or close[0] != "box") else word
        self.end_of_box(word)
        kind = NAMED.get(word)
        if kind is None or len(typed) < 2 or typed[1] in ("?", ">", ",", "x") or "/" in typed[1]:
            return
        at = Where(line_number, 1, 1)
        if kind is Box or kind is Kind:
            self.open = OpenBox(kind(typed[1], at=at))
            self.open.is_broken = True
        else:
            record = Raceway(typed[1], ("", ""), "", UNKNOWN, at=at) if kind is Raceway else kind(typed[1], at=at)
            self.broken.setdefault(kind, []).append(record)

    def end_of_box(self, word: str) -> bool:
        """Whether a line that begins with this word ends the lines of the box above; they are closed then."""
        if word in ALONE and word not in KEEPS_BOX_OPEN:
            self.close(word)
            return True
        return False

    def add(self, item: Item, raw: str) -> None:
        """One more line of the open box. Raises ``Unreadable`` where there is none, once for each missing head."""
        if self.open is None:
            if self.stray:
                return
            self.stray = True
            word = words_of(raw)[0]
            hint = f"the {self.closed_by!r} line above ended the box: move this line up" if self.closed_by else ""
            raise Unreadable(0, 0, f"{word!r} belongs under a box", hint or "add a line above it, such as: box J1")
        self.open.items.append(item)

    def keep(self, record: Any) -> None:
        """One more record of its class."""
        self.records.setdefault(type(record), []).append(record)

    def close(self, word: str) -> None:
        """Ends the lines of the open box, if any, at a line that begins with this word."""
        if self.open is not None:
            head, items = self.open.head, tuple(self.open.items)
            if self.open.is_broken:
                self.broken.setdefault(type(head), []).append(replace(head, items=items))
            elif isinstance(head, Box):
                self.keep(Box(head.name, head.description, head.kind, items, head.at))
            else:
                self.keep(replace(head, items=items))
            self.open = None
        self.closed_by = word
        self.stray = False

    def fault(self, where: Where, message: str, hint: str = "") -> None:
        """Tells a fault at a place of the sheet; past ``MOST_FAULTS`` it is only counted."""
        if len(self.faults) >= MOST_FAULTS:
            self.more_faults += 1
            return
        raw = self.lines[where.line - 1] if 0 < where.line <= len(self.lines) else ""
        column, end = columns(raw, where.first, where.last)
        self.faults.append(Fault(self.sheet.file, where.line, column, end, message, hint, raw))

    def only(self, kind: type, name: str) -> Any:
        """The one line of its kind; a second is a fault."""
        lines = self.records.get(kind, [])
        for again in lines[1:]:
            self.fault(again.at, f"{name} is already on line {lines[0].at.line}", "keep one of them")
        return lines[0] if lines else None

    def job(self) -> Job:
        """All records as one job, each settled by what the rest of the sheet says."""
        title = self.only(Title, "the job's name")
        edition = self.only(EditionYear, "the edition")
        amendments = self.only(AmendmentsFile, "the amendments file")
        usual = self.only(UsualCable, "the usual cable")
        address, permit = self.only(Address, "the address"), self.only(Permit, "the permit")
        contractor, phase = self.only(Contractor, "the contractor"), self.only(Phase, "the phase")
        several = {kind: tuple(records) for kind, records in self.records.items()}
        kinds = {kind.name.casefold() for kind in (*several.get(Kind, ()), *self.broken.get(Kind, ()))}
        settle_box = BoxSettler(self.lines, kinds, self.no_at)
        raceways = {raceway.name.casefold() for raceway in several.get(Raceway, ())}
        settle_run = RunSettler(several.get(Panel, ()), raceways, usual.kind if usual else "", self.fault)
        return Job(
            title=title.text if title else "",
            address=address.text if address else "",
            permit=permit.text if permit else "",
            contractor=contractor.text if contractor else "",
            phase=phase.text if phase else "",
            usual_cable=usual.kind if usual else "",
            cables_together=usual.together if usual else None,
            edition=edition.year if edition else None,
            amendments_file=amendments.name if amendments else "",
            readings=several.get(ReadingChoice, ()),
            notes=several.get(Note, ()),
            dwelling=self.only(Dwelling, "the dwelling"),
            kinds=several.get(Kind, ()),
            boxes=tuple([settle_box.settled(box) for box in several.get(Box, ())]),
            panels=several.get(Panel, ()),
            equipment=several.get(Equipment, ()),
            circuits=several.get(Circuit, ()),
            raceways=several.get(Raceway, ()),
            wireways=several.get(Wireway, ()),
            routes=several.get(Route, ()),
            loads=several.get(Load, ()),
            runs=tuple([settle_run.settled(run) for run in several.get(Run, ())]),
            sheet=self.sheet,
        )


def read_with_faults(sheet: Sheet, beside: Beside | None = None) -> tuple[Job, list[Fault]]:
    """The job as far as it can be read, and every fault: for a page that shows both at once."""
    job, faults, _ = read_with_closers(sheet, beside)
    return job, faults


NO_BOX = "there is no box in this sheet"
"""The fault of a sheet that holds nothing to judge."""


def read_with_closers(sheet: Sheet, beside: Beside | None = None) -> tuple[Job, list[Fault], list[int]]:
    """The same, and the numbers of the lines that end the lines of the box above, in order."""
    from ampleroom.job.names import checked_names

    reader = SheetReader(sheet)
    job = reader.read()
    others = (job.panels, job.runs, job.wireways, job.dwelling)
    if not job.boxes and not reader.faults and not any(others):
        last = sheet.text.rstrip("\n").count("\n") + 1
        state = f"{plural(last, 'line')} read" if sheet.text.strip() else "it is empty"
        reader.fault(Where(1), NO_BOX, f"{state}; 'new' writes a starter sheet")
    job = checked_names(job, reader.fault, reader.broken)
    if job.amendments_file:
        job = replace(job, amendments=read_amendments_beside(job, reader, beside))
    if reader.more_faults:
        last = len(reader.lines)
        message = f"and {plural(reader.more_faults, 'more fault')} not listed"
        reader.faults.append(Fault(sheet.file, last, 1, 2, message, "fix those above first. Is it the right file?"))
    return job, reader.faults, reader.closers


def read_amendments_beside(job: Job, reader: SheetReader, beside: Beside | None) -> Amendments | None:
    """What the amendments file beside the sheet says; None where there is no such file. Its faults are told with the
    sheet's.
    """
    line = reader.records[AmendmentsFile][0].at
    try:
        text = (beside or beside_in(reader.sheet.folder))(job.amendments_file)
    except (OSError, KeyError, FileTrouble, UnicodeDecodeError):
        reader.fault(
            line,
            f"there is no file {job.amendments_file!r} beside the sheet",
            "write the name of a TOML file in the sheet's folder",
        )
        return None
    from ampleroom.editions.amendments_file import read_amendments  # few jobs have amendments

    amendments, faults = read_amendments(text)
    rows = text.replace("\r\n", "\n").split("\n")
    for fault in faults:
        row = rows[fault.line - 1] if fault.line <= len(rows) else ""
        reader.faults.append(
            Fault(job.amendments_file, fault.line, fault.column, fault.end, fault.message, fault.hint, row)
        )
    return amendments


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
    if not isinstance(source, str) or "\n" not in source:
        return read_sheet(sheet_from_file(source), beside)
    return read_sheet(Sheet(source.replace("\r\n", "\n")), beside)


__all__ = [
    "Beside",
    "SheetReader",
    "read_job",
    "read_sheet",
    "read_with_closers",
    "read_with_faults",
]
