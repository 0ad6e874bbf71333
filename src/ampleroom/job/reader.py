"""From a sheet to a job: every line by its first word, all faults collected, every fact with its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from ampleroom.editions.amendments import Amendments, read_amendments
from ampleroom.errors import FileTrouble, SheetFaults, nearest
from ampleroom.job.beside import Beside, beside_in
from ampleroom.job.faults import Fault
from ampleroom.job.lines import ON_THEIR_OWN, UNDER_A_BOX
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.heads import (
    Address,
    AmendmentsFile,
    Contractor,
    EditionYear,
    Permit,
    Phase,
    Title,
    UsualCable,
)
from ampleroom.job.model import (
    PANEL_END,
    Base,
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
    RunRaceway,
    Stop,
)
from ampleroom.job.sheet import Sheet, columns, sheet_from_file, words_of
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import AskedBack, FirstWordUnknown, Unreadable, Words
from ampleroom.job.writer import written
from ampleroom.quantities import plural
from ampleroom.record import replace
from ampleroom.where import NOWHERE, Where

if TYPE_CHECKING:
    from pathlib import Path

_ALONE = {word: statement for statement in ON_THEIR_OWN for word in statement.words}
_UNDER = {word: statement for statement in UNDER_A_BOX for word in statement.words}
STANDS_ALONE = "a line begins with " + ", ".join(statement.words[0] for statement in ON_THEIR_OWN)
_TWO_WORDS = ("conduit", "extension", "terminal", "fixture", "bonding", "wire")
STANDS_UNDER = "under a box stand " + ", ".join(
    " ".join(statement.example.split()[:2]) if statement.words[0] in _TWO_WORDS else statement.words[0]
    for statement in UNDER_A_BOX
)
MOST_WORDS = 200
"""Longer lines are not tried by the trade's words."""
_COUNTED = tuple(word for word, statement in _UNDER.items() if statement.counted)
MOST = 1000
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
}
"""Lines that give something a name."""
KEEPS_BOX_OPEN = {"run", "wires", "note"}
"""Lines that may stand among a box's lines without ending them."""


class _Open:
    """The box or kind whose lines are being read."""

    def __init__(self, head: Box | Kind) -> None:
        self.head = head
        self.items: list[Item] = []
        self.is_broken = False


class _Said(NamedTuple):
    """What one line says by itself. ``more``: items that the same line says too, as in ``box A 4 square deep``."""

    word: str
    record: Any
    is_item: bool
    more: tuple[Item, ...] = ()
    no_at: bool = False
    """A place was written without ``at``: its first word may be the name of a kind."""


def read_one_line(number: int, raw: str, hints: bool, under: bool = True) -> _Said | None:
    """What a line says; None: nothing. ``Unreadable`` if it cannot be read."""
    start = raw.split(None, 1)[:1]
    if not start or not (words := words_of(start[0])):
        return None
    if words[0].lower() in _ALONE:
        return _line(number, raw, hints, False)
    said = _line(0, raw, hints, under)
    return _numbered(said, number) if said.is_item else _line(number, raw, hints, under)


def _numbered(said: _Said, number: int) -> _Said:
    """A line read as of line 0, with its number."""

    def at(record: Any) -> Any:
        return replace(record, at=record.at._replace(line=number))

    return said._replace(record=at(said.record), more=tuple(map(at, said.more)))


@lru_cache(maxsize=20_000)
def _line(number: int, raw: str, hints: bool, under: bool) -> _Said:
    """What a line says, kept: the same line in the same place says the same, and of a sheet read again after a tap all lines
    but one are known. Lines under a box are alike by the hundred; they are read as of line 0.

    A line is read as it stands; if it cannot be, by the trade's words for the same (``trade_words``).
    """
    said = words_of(raw)
    try:
        word, record = _plainly(Words(number, said, raw, hints), under)
    except Unreadable as trouble:
        return _by_trade_words(number, said, raw, hints, trouble)
    return _Said(word, record, word not in _ALONE)


def _plainly(words: Words, under: bool) -> tuple[str, Any]:
    """A line in the plain form: its first word and its record."""
    word = words.low[0]
    try:
        if word in _ALONE:
            words.i = 1
            record = _ALONE[word].read(words, word)
        elif word in _UNDER:
            words.i = 1
            record = _UNDER[word].read(words, word)
        else:
            record = _counted(words, under)
        if words.more:
            raise words.too_much()
    except Unreadable as trouble:
        trouble.first, trouble.last = words.as_written(trouble.first, trouble.last)
        raise
    return word, record


def _by_trade_words(number: int, said: list[str], raw: str, hints: bool, trouble: Unreadable) -> _Said:
    """A line by the trade's words, or the clearest fault there is of it."""
    from ampleroom.job import trade_words  # read only when somebody writes so

    line = trade_words.tokens_of(said)
    low = [word.lower() for word in said]

    def read(plain: list[trade_words.Token]) -> tuple[str, Any]:
        words = Words(number, [token.word for token in plain], raw, hints, [token[1:] for token in plain])
        return _plainly(words, True)

    if len(said) > MOST_WORDS or any(letter.isdigit() and not letter.isascii() for letter in raw):
        raise trouble
    if low[0] not in _ALONE and not low[0].endswith((":", "-")) and not trade_words.may_mean_something(low):
        raise trouble
    for plain in trade_words.on_its_own(line, low):
        try:
            (word, head), *others = map(read, plain)
        except Unreadable as closer:
            trouble = _clearer(trouble, closer)
            continue
        no_at = word == "box" and bool(head.description) and "at" not in low and "@" not in low
        return _Said(word, head, word not in _ALONE, tuple(item for _, item in others), no_at)
    if low[0] in _ALONE and low[0] not in _UNDER:
        raise trouble
    pieces = [line, *trade_words.pieces_apart(line)]
    items: list[tuple[str, Any]] = []
    for piece in pieces:
        found: list[tuple[str, Any]] = []
        try:
            found = _items(piece, read, trouble)
        except AskedBack:
            raise
        except Unreadable as closer:
            if piece is line:
                trouble = _clearer(trouble, closer)
                continue
        if piece is line:
            items = found
            break
        if not found or (items and any(isinstance(record, Base) for _, record in found)):
            raise trouble
        items += found
    if not items:
        raise trouble
    (word, first), *rest = items
    return _Said(word, first, True, tuple(item for _, item in rest))


def _items(line: list[Any], read: Callable[[list[Any]], tuple[str, Any]], trouble: Unreadable) -> list[tuple[str, Any]]:
    """The records of a line, or a piece of one, under a box."""
    from ampleroom.job import trade_words

    try:
        item = read(line)
        if item[0] not in _ALONE:
            return [item]
    except Unreadable:
        pass
    for plain in trade_words.under_a_box(line):
        if plain[0][0].low in _ALONE:
            continue
        try:
            return [read(piece) for piece in plain]
        except Unreadable as closer:
            trouble = _clearer(trouble, closer)
    raise trouble


def _clearer(trouble: Unreadable, other: Unreadable) -> Unreadable:
    """The one that came further; a question back is always the clearer."""
    if isinstance(other, AskedBack):
        raise other
    return other if other.first > trouble.first or isinstance(trouble, FirstWordUnknown) else trouble


def _counted(words: Words, under: bool) -> Any:
    """``3 x switch #14``; anything else begins with a word nobody knows."""
    count = words.known_count()
    word = words.peek()
    if words.i and word in _COUNTED:
        words.i += 1
        return _UNDER[word].read(words, word, count)  # type: ignore[call-arg]
    if words.i:
        raise words.unknown("word", [*_COUNTED])
    trouble = words.unknown("word", [*_ALONE, *_UNDER] if under else [*_ALONE])
    if not trouble.hint.startswith("did you mean"):
        trouble.hint = STANDS_UNDER if under else STANDS_ALONE
    raise FirstWordUnknown(trouble.first, trouble.last, trouble.message, trouble.hint)


class _Reader:
    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.lines: list[str] = []
        self.faults: list[Fault] = []
        self.more_faults = 0
        self.found: dict[type, list[Any]] = {}
        self.open: _Open | None = None
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
        self.lines = self.sheet.text.removeprefix("\ufeff").split("\n")
        for number, raw in enumerate(self.lines, 1):
            try:
                said = read_one_line(number, raw, len(self.faults) < HINTED, self.open is not None)
                if said is not None:
                    self.take(said, raw)
            except Unreadable as trouble:
                self.fault(Where(number, trouble.first, trouble.last), trouble.message, trouble.hint)
                self.keep_name(number, words_of(raw))
        self.close("")
        return self.job()

    def take(self, said: _Said, raw: str) -> None:
        if self.end_of_box(said.word):
            self.closers.append(said.record.at.line)
        if said.is_item:
            for item in (said.record, *said.more):
                self.add(item, raw)
        elif type(said.record) is Box or type(said.record) is Kind:
            self.open = _Open(said.record)
            self.open.items += said.more
            if said.no_at:
                self.no_at.add(said.record.at.line)
        else:
            self.keep(said.record)

    def keep_name(self, number: int, said: list[str]) -> None:
        """A line with one bad word keeps its name, and a box its lines: one slip is one fault."""
        word = said[0].lower()
        if word not in _ALONE and word not in _UNDER:
            close = nearest(word, NAMED) if len(self.faults) < HINTED and not word[:1].isdigit() else []
            word = close[0] if close and (len(said) < 3 or said[2].lower() == "at" or close[0] != "box") else word
        self.end_of_box(word)
        kind = NAMED.get(word)
        if kind is None or len(said) < 2 or said[1] in ("?", ">", ",", "x") or "/" in said[1]:
            return
        at = Where(number, 1, 1)
        if kind is Box or kind is Kind:
            self.open = _Open(kind(said[1], at=at))
            self.open.is_broken = True
        else:
            record = Raceway(said[1], ("", ""), "", UNKNOWN, at=at) if kind is Raceway else kind(said[1], at=at)
            self.broken.setdefault(kind, []).append(record)

    def end_of_box(self, word: str) -> bool:
        """Whether a line that begins with this word ends the lines of the box above; they are closed then."""
        if word in _ALONE and word not in KEEPS_BOX_OPEN:
            self.close(word)
            return True
        return False

    def add(self, item: Item, raw: str) -> None:
        if self.open is None:
            if self.stray:
                return
            self.stray = True
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
        usual = self.only(UsualCable, "the usual cable")
        address, permit = self.only(Address, "the address"), self.only(Permit, "the permit")
        contractor, phase = self.only(Contractor, "the contractor"), self.only(Phase, "the phase")
        several = {kind: tuple(records) for kind, records in self.found.items()}
        kinds = {kind.name.casefold() for kind in (*several.get(Kind, ()), *self.broken.get(Kind, ()))}
        boxes = tuple([self.settled_box(box, kinds) for box in several.get(Box, ())])
        raceways = {raceway.name.casefold() for raceway in several.get(Raceway, ())}
        settle = RunSettler(several.get(Panel, ()), raceways, usual.kind if usual else "", self.fault)
        return Job(
            title=title.text if title else "",
            address=address.text if address else "",
            permit=permit.text if permit else "",
            contractor=contractor.text if contractor else "",
            phase=phase.text if phase else "",
            usual_cable=usual.kind if usual else "",
            edition=edition.year if edition else None,
            amendments_file=amendments.name if amendments else "",
            readings=several.get(ReadingChoice, ()),
            notes=several.get(Note, ()),
            dwelling=self.only(Dwelling, "the dwelling"),
            kinds=several.get(Kind, ()),
            boxes=boxes,
            panels=several.get(Panel, ()),
            equipment=several.get(Equipment, ()),
            circuits=several.get(Circuit, ()),
            raceways=several.get(Raceway, ()),
            routes=several.get(Route, ()),
            loads=several.get(Load, ()),
            runs=tuple([settle.settled(run) for run in several.get(Run, ())]),
            sheet=self.sheet,
        )

    def settled_box(self, box: Box, kinds: set[str]) -> Box:
        """A box whose place stands without ``at``: a word that is the name of a kind is one, any other begins the place."""
        if box.at.line in self.no_at:
            first, _, rest = box.description.partition(" ")
            if first.casefold() in kinds:
                return replace(box, kind=first, description=rest)
        elif box.kind and box.kind is not UNKNOWN and box.kind.casefold() not in kinds:
            return self.without_kind(box, kinds)
        return box

    def without_kind(self, box: Box, kinds: set[str]) -> Box:
        """``box A handy``, ``box A kitchen``: one word after the name that is no kind of the job's."""
        from ampleroom.job import trade_words

        word = str(box.kind)
        if nearest(word, kinds):
            return box  # a kind, mistyped
        raw = self.lines[box.at.line - 1]
        token = [trade_words.Token(word, 2, 2)]
        try:
            plain = next(trade_words.box_alone(token), None)
            if plain is not None:
                read = [_plainly(Words(box.at.line, [t.word for t in piece], raw, True, [t[1:] for t in piece]), True)
                        for piece in plain]  # fmt: skip
                return replace(box, kind="", items=(*(item for _, item in read), *box.items))
        except Unreadable:
            return box
        if box.description or not trade_words.place_begins(token, 0):
            return box
        return replace(box, kind="", description=word)


class RunSettler:
    """What a run leaves to the rest of the sheet: the panel of a home run, the usual cable, a raceway with no name."""

    def __init__(
        self, panels: Iterable[Panel], raceways: set[str], usual: str, fault: Callable[[Where, str, str], None]
    ) -> None:
        self.panels = tuple(panels)
        self.raceways = raceways
        self.usual = usual
        self.fault = fault

    def settled(self, run: Run) -> Run:
        changes: dict[str, Any] = {}
        if run.kind_assumed and self.usual and run.cable is not None:
            changes |= {"cable": run.cable._replace(kind=self.usual), "kind_assumed": False}
        if run.raceways:
            raceways = tuple(map(self.raceway, run.raceways))
            if raceways != run.raceways:
                changes["raceways"] = raceways
        if run.stops[0].name == PANEL_END:
            changes["stops"] = (self.panel_end(run), *run.stops[1:])
        return replace(run, **changes) if changes else run

    def raceway(self, raceway: RunRaceway) -> RunRaceway:
        """``in emt``, where no raceway has that name: one of that kind, of a size nobody wrote."""
        kind = raceway.name.lower()
        if kind in RACEWAY_KINDS and kind not in self.raceways:
            return RunRaceway("", kind, UNKNOWN, raceway.at)
        return raceway

    def panel_end(self, run: Run) -> Stop:
        """The job's panel; a far end nobody found where there is none; asked back where there are several."""
        at = run.stops[0].at
        if len(self.panels) == 1:
            return Stop(self.panels[0].name, at=at)
        if self.panels:
            names = " or ".join(f"run {panel.name} > {run.stops[1].name}" for panel in self.panels[:4])
            self.fault(at, "which panel does this home run go to?", f"write {names}")
        return Stop(UNKNOWN, at=at)


def read_run_line(text: str, job: Job | None = None) -> Run:
    """A ``run`` or ``wires`` line by itself, for a job whose usual cable and panel it may mean; ``Unreadable`` if it is none."""
    said = read_one_line(1, text, True)
    if said is None or not isinstance(said.record, Run):
        raise Unreadable(0, 0, "that is no run", "such as: run P > J1 12/2 nm-b")
    troubles: list[Unreadable] = []

    def fault(where: Where, message: str, hint: str) -> None:
        troubles.append(Unreadable(where.first, where.last, message, hint))

    panels, usual = (job.panels, job.usual_cable) if job else ((), "")
    raceways = {raceway.name.casefold() for raceway in job.raceways} if job else set[str]()
    run = RunSettler(panels, raceways, usual, fault).settled(said.record)
    if troubles:
        raise troubles[0]
    return run


def read_with_faults(sheet: Sheet, beside: Beside | None = None) -> tuple[Job, list[Fault]]:
    """The job as far as it can be read, and every fault: for a page that shows both at once."""
    job, faults, _ = read_with_closers(sheet, beside)
    return job, faults


def read_with_closers(sheet: Sheet, beside: Beside | None = None) -> tuple[Job, list[Fault], list[int]]:
    """The same, and the numbers of the lines that end the lines of the box above, in order."""
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
    job = checked_names(job, reader.fault, reader.broken)
    if job.amendments_file:
        job = replace(job, amendments=_amendments(job, reader, beside))
    if reader.more_faults:
        last = len(reader.lines)
        said = f"and {plural(reader.more_faults, 'more fault')} not listed"
        reader.faults.append(Fault(sheet.file, last, 1, 2, said, "put those above right first; is it the right file?"))
    return job, reader.faults, reader.closers


def _amendments(job: Job, reader: _Reader, beside: Beside | None) -> Amendments | None:
    line = reader.found[AmendmentsFile][0].at
    try:
        text = (beside or beside_in(reader.sheet.folder))(job.amendments_file)
    except (OSError, KeyError, FileTrouble, UnicodeDecodeError):
        reader.fault(
            line,
            f"there is no file {job.amendments_file!r} beside the sheet",
            "the name is that of a TOML file in the same folder",
        )
        return None
    amendments, faults = read_amendments(text)
    rows = text.replace("\r\n", "\n").split("\n")
    for fault in faults:
        row = rows[fault.line - 1] if fault.line <= len(rows) else ""
        reader.faults.append(
            Fault(job.amendments_file, fault.line, fault.column, fault.column + 1, fault.message, fault.hint, row)
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


def read_item(text: str) -> Item:
    """One line of a box by itself, such as ``square 4 x 1-1/2``; ``Unreadable`` if it is none."""
    said = words_of(text)
    if not said:
        raise Unreadable(0, 0, "nothing is written", "such as: square 4 x 1-1/2")
    if said[0].lower() in _ALONE:
        raise Unreadable(0, 0, f"{said[0]!r} is no line of a box", "such as: square 4 x 1-1/2")
    found = read_one_line(1, text, True)
    assert found is not None  # it has words
    if found.more:
        several = ", and ".join(written(item) for item in (found.record, *found.more))
        raise Unreadable(0, len(said) - 1, "that says several things", f"write each by itself: {several}")
    item: Item = replace(found.record, at=NOWHERE)
    return item


def read_line(text: str) -> tuple[Any, ...]:
    """All that one line of a sheet says by itself, whatever stands around it; nothing for an empty one. ``Unreadable`` if it
    cannot be read."""
    said = read_one_line(1, text, True)
    return () if said is None else (said.record, *said.more)


__all__ = [
    "Beside",
    "RunSettler",
    "read_item",
    "read_job",
    "read_line",
    "read_one_line",
    "read_run_line",
    "read_sheet",
    "read_with_closers",
    "read_with_faults",
]
