"""An answer without a sheet: one box, typed as parts with commas between them.

    square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12

Every part is read by the job sheet's own reader: as a line under a box, else as what stands after ``run B1 > ?``. There
is no second grammar; what a sheet learns to read, a question can say too. The parts become a sheet, and the sheet is
checked.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from ampleroom.ask_circuit import CIRCUIT, CircuitQuestion, parts_of
from ampleroom.ask_raceway import RacewayQuestion, plain_question
from ampleroom.check import book_for, check, check_box
from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook
from ampleroom.editions.adoption import Adoption
from ampleroom.editions.raceways import NIPPLE
from ampleroom.editions.standard_boxes import STANDARD_BOXES
from ampleroom.errors import AmpleroomError, EditionUnknown, SheetFaults
from ampleroom.fits import Fit, fits
from ampleroom.job.faults import Fault
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.lines.heads import AmendmentsFile
from ampleroom.job.model import (
    BOX_END,
    Base,
    Box,
    Carries,
    Circuit,
    Clamps,
    Device,
    Dwelling,
    Equipment,
    Item,
    Job,
    Kind,
    Load,
    Mounting,
    Panel,
    Part,
    Raceway,
    Rated,
    Route,
    Run,
    RunRaceway,
    SpaceShare,
    Stop,
)
from ampleroom.job.nicknames import ASKED_RACEWAYS
from ampleroom.job.one_line import read_line
from ampleroom.job.reader import read_sheet, read_with_faults
from ampleroom.job.sheet import Sheet, columns, without_remark
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable, number_word
from ampleroom.job.writer import write_job, written
from ampleroom.quantities import INCHES_PER_FOOT, TEN_THOUSANDTH, inches, volume
from ampleroom.record import Record, TupleRecord, replace
from ampleroom.report import Report, decimal_json
from ampleroom.rules.box.pull_box import NAME as PULL_BOX
from ampleroom.rules.box.volume.standard import how_many
from ampleroom.rules.raceway.filled import Subject, raceways_of
from ampleroom.sizing.pulls import is_about_pulls
from ampleroom.sizing.raceway import (
    FILLS,
    SizeOfKind,
    fits_in,
    largest_number,
    more_text,
    size_json,
    size_of_kind,
    size_text,
    sizes,
    subject_named,
)
from ampleroom.words import IF_FACTS_ALLOW, unsure
from ampleroom.worksheet import SubjectReport, Verdict

if TYPE_CHECKING:
    from ampleroom.sizing.circuit import CircuitSize

BOX = "B1"
"""The name of the box that is asked about."""
FILE = "question"
"""Stands for a file's name in faults and answers."""
LONGEST = 4000
"""Letters of a question; a longer one is a sheet."""
EXAMPLE = "square 4 x 1-1/2, 3 x 12/2 nm-b, clamps inside, receptacle #12"
LARGE_BODY = "conduit-body-large"
OF_A_WHOLE_SHEET = (
    Box,
    Kind,
    Panel,
    Equipment,
    Circuit,
    Raceway,
    Route,
    Run,
    Dwelling,
    Load,
    AmendmentsFile,
)
"""Lines about more than one box. Others, such as ``edition 2020``, a question may hold."""


class QuestionFaults(SheetFaults):
    """The parts of a question that cannot be read, each with its place in the text as typed."""

    unit = "part"


# ---- the parts, as typed -------------------------------------------------------------------------------------------

THOUSANDS = re.compile(r"(?<![\w./#-])\d{1,3}(?:,\d{3})+(?![\w/])")
"""``1,500``: its commas do not part anything."""
QUOTED = re.compile(r"""(?<![^\s,])(?:"(?=\S)([^"\n]*)(?<=\S)"|“(?=\S)([^”\n]*)(?<=\S)”)(?=[\s,]|$)""")
"""Words in quotes; the mark after a number is inches and opens nothing."""


class Piece(TupleRecord):
    """One part of a question: its number from 1, its text for the reader, and where each of its letters was typed."""

    part_number: int
    text: str
    places: tuple[int, ...]


def pieces_of(typed: str) -> list[Piece]:
    """The parts between commas and line ends. Commas in a number such as ``1,500``, and in quotes, part nothing."""
    whole = QUOTED.fullmatch(typed.strip())
    kept = set(range(len(typed)))
    together: set[int] = set()
    if whole:
        lead = len(typed) - len(typed.lstrip())
        kept -= {lead, lead + len(typed.strip()) - 1}
    else:
        for match in QUOTED.finditer(typed):
            kept -= {match.start(), match.end() - 1}
            together.update(range(*match.span()))
    for match in THOUSANDS.finditer(typed):
        if not together & set(range(*match.span())):
            kept -= {place for place in range(*match.span()) if typed[place] == ","}
    pieces: list[list[int]] = [[]]
    for place, letter in enumerate(typed):
        if place not in kept:
            continue
        if letter == "\n" or (letter == "," and place not in together):
            pieces.append([])
        else:
            pieces[-1].append(place)
    found_pieces: list[Piece] = []
    for places in pieces:
        while places and typed[places[0]].isspace():
            places.pop(0)
        while places and typed[places[-1]].isspace():
            places.pop()
        if places:
            text = "".join(typed[place] for place in places)
            found_pieces.append(Piece(len(found_pieces) + 1, text, tuple(places)))
    return found_pieces


# ---- the parts, as lines of a sheet --------------------------------------------------------------------------------


class Line(Record):
    """A line of the sheet that a question makes, of one part or several. ``lead`` is what stands before them."""

    lead: str
    pieces: tuple[Piece, ...]
    records: tuple[Any, ...]

    @property
    def text(self) -> str:
        """The line as a sheet has it, its parts with commas between."""
        return self.lead + ", ".join(piece.text for piece in self.pieces)

    @property
    def is_run(self) -> bool:
        """Whether it is a run of cable or conductors."""
        return self.lead.startswith("run ")

    @property
    def label(self) -> str:
        """What the last record on it is called, or nothing."""
        return str(getattr(self.records[-1], "label", ""))


class _QuestionReader:
    def __init__(self, typed: str) -> None:
        self.typed = typed
        self.lines: list[Line] = []
        self.faults: list[Fault] = []
        self.space = ""
        self.begins_unknown = False
        """Whether no line under a box begins as the part does that was read last."""

    def read(self) -> Job:
        """The one-box job that was typed. Raises ``AmpleroomError`` for nothing, ``QuestionFaults`` with the place of
        each slip.
        """
        for piece in pieces_of(self.typed):
            self.take(piece)
        if not self.lines and not self.faults:
            raise AmpleroomError(f"nothing is asked. Write a box and what goes into it, such as: {EXAMPLE}")
        job = self.job() if not self.faults else None
        if job is None or self.faults:
            raise QuestionFaults(FILE, self.faults)
        return job

    def take(self, piece: Piece) -> None:
        """Keeps a part as a line of its own or as more of the line before it, or notes its fault."""
        if without_remark(piece.text).strip() != piece.text:
            place = len(without_remark(piece.text))
            hint = "in a size, write # and the number together, such as #12"
            self.fault(piece, place, len(piece.text), "a question has no remarks", hint)
            return
        try:
            line = self.line_of(piece)
        except Unreadable as trouble:
            if not self.joined(piece):
                self.unreadable(piece, trouble)
            return
        if line.is_run and self.is_wires(line) and self.joined(piece):
            return
        if self.says_what_it_is(line) and any(map(self.says_what_it_is, self.lines)) and self.joined(piece):
            return  # 'plastic' alone is a box too, and after 'marked 34 in3' more words about it
        if line.is_run and self.is_ground(line) and self.lines and self.lines[-1].is_run and self.lines[-1].label:
            hint = f"write it before 'for {self.lines[-1].label}'"
            self.fault(piece, 0, len(piece.text), "which cable or wires does this ground belong to?", hint)
            return
        if not line.lead and isinstance(line.records[0], OF_A_WHOLE_SHEET):
            hint = f"a question is about one box, such as: {EXAMPLE}"
            word = piece.text.split()[0]
            self.fault(piece, 0, len(word), f"a line of a whole sheet begins with {word!r}", hint)
            return
        self.lines.append(line)
        for record in line.records:
            if isinstance(record, SpaceShare):
                self.space = record.name

    def line_of(self, piece: Piece) -> Line:
        """A part as a line of a sheet: by itself, or as what comes in."""
        try:
            records = read_line(piece.text)
            if not records:
                raise Unreadable(0, 0, "nothing is written here", f"write it as in a sheet, such as: {EXAMPLE}")
            if isinstance(records[0], Run) and records[0].stops[0].name == BOX_END:
                return Line(self.lead, (piece,), read_line(self.lead + piece.text))
            lead = "  " if isinstance(records[0], Item) else ""
            return Line(lead, (piece,), records)
        except Unreadable as trouble:
            self.begins_unknown = trouble.first == 0
            try:
                return Line(self.lead, (piece,), read_line(self.lead + piece.text))
            except Unreadable as other:
                skipped = len(self.lead.split())
                if other.first - skipped > trouble.first:
                    trouble = Unreadable(other.first - skipped, other.last - skipped, other.message, other.hint)
                raise trouble from None

    @property
    def lead(self) -> str:
        """What to write before a cable so that it comes into the box, or into the side named last."""
        return f"run {BOX}/{self.space} > ? " if self.space else f"run {BOX} > ? "

    def joined(self, piece: Piece) -> bool:
        """Whether a part goes on with the one before it, as in ``12/2 old, ground #16`` or ``marked 34 in3,
        plastic``.
        """
        if not self.lines or not self.lines[-1].lead:
            return False
        last = self.lines[-1]
        line = Line(last.lead, (*last.pieces, piece), last.records)
        try:
            records = read_line(line.text)
        except Unreadable:
            return False
        line = replace(line, records=records)
        if [type(record) for record in records] != [
            type(record) for record in last.records
        ] or line.label != last.label:
            return False  # it would only be taken for words about the part before it
        self.lines[-1] = line
        return True

    @staticmethod
    def says_what_it_is(line: Line) -> bool:
        """Whether a line says what the box is."""
        return any(isinstance(record, Base) for record in line.records)

    def is_wires(self, line: Line) -> bool:
        """Whether a line is wires with no cable, right after another run."""
        return bool(self.lines) and self.lines[-1].is_run and line.records[0].cable is None

    @staticmethod
    def is_ground(line: Line) -> bool:
        """Whether a line holds grounds and no other conductor."""
        run = line.records[0]
        return run.cable is None and all(group.role != "insulated" for group in run.wires)

    # ---- faults ----

    def fault(self, piece: Piece, first: int, end: int, message: str, hint: str = "") -> None:
        """One thing wrong with letters ``first`` to ``end`` of a part."""
        last = len(piece.text) - 1
        column = piece.places[min(first, last)] + 1
        if first > last:
            column += 1
        stop = max(column + 1, piece.places[min(max(end - 1, 0), last)] + 2)
        shown = piece.text if len(piece.text) <= 40 else piece.text[:37] + "..."
        typed = self.typed.replace("\n", " ").replace("\r", " ")
        located = f"part {piece.part_number}, {shown!r}: {message}"
        self.faults.append(Fault(FILE, 1, column, stop, located, hint, typed))

    def unreadable(self, piece: Piece, trouble: Unreadable) -> None:
        """Notes the fault of a part that no line of a sheet begins or goes on with."""
        column, end = columns(piece.text, trouble.first, trouble.last)
        hint = trouble.hint
        if not hint or hint.startswith(("start a line with", "write one of: through")):
            hint = f"write it as in a sheet, such as: {EXAMPLE}"
        if self.lines and self.lines[-1].label and self.begins_unknown and not re.search(r"\d", piece.text):
            hint += f". If it belongs to 'for {self.lines[-1].label}', put quotes around all of that"
        self.fault(piece, column - 1, end - 1, trouble.message, hint)

    def job(self) -> Job:
        """The parts as one job, with what only all of them together can tell."""
        heads = [line for line in self.lines if not line.lead]
        items = [line for line in self.lines if line.lead and not line.is_run]
        runs = [line for line in self.lines if line.is_run]
        made: list[Line | None] = [*heads, None, *items, *runs]
        texts = [f"box {BOX}" if line is None else line.text for line in made]
        if any(is_passed_body(record) for line in items for record in line.records):  # what is asked passes it
            lead = self.lead
            texts = [
                f"run ? > ? {text.removeprefix(lead)} through {BOX}" if text.startswith(lead) else text
                for text in texts
            ]
        text = "\n".join(texts) + "\n"
        job, faults = read_with_faults(Sheet(text, FILE), nothing_beside)
        for fault in faults:
            line = made[fault.line - 1] if 0 < fault.line <= len(made) else None
            if line is not None:
                self.of_a_line(line, fault, made)
        return job

    def of_a_line(self, line: Line, fault: Fault, made: list[Line | None]) -> None:
        """A fault of a line, told of the part it stands in."""

        def part(match: re.Match[str]) -> str:
            line_number = int(match[1])
            meant = made[line_number - 1] if 0 < line_number <= len(made) else None
            return f"in part {meant.pieces[0].part_number}" if meant else match[0]

        first, end = fault.column - 1 - len(line.lead), fault.end - 1 - len(line.lead)
        for piece in line.pieces:
            if first < len(piece.text) or piece is line.pieces[-1]:
                break
            first, end = first - len(piece.text) - 2, end - len(piece.text) - 2
        message = re.sub(r"\bon line (\d+)\b", part, fault.message)
        hint = re.sub(r"\bon line (\d+)\b", part, fault.hint)
        if hint.endswith("describe it on a line of its own"):
            hint = "a question is about one box; leave the name out, or write a sheet"
        self.fault(piece, max(first, 0), max(end, 1), message, hint)


def is_passed_body(record: Any) -> bool:
    """Whether a line is a conduit body with no volume marked, in which nothing may be spliced."""
    return isinstance(record, Base) and record.form == "conduit body" and record.volume is None


def nothing_beside(name: str) -> str:
    """Stands for reading a file beside the sheet: a question has none, so every name is a KeyError."""
    raise KeyError(name)


def read_question(typed: str) -> Job:
    """The job with one box that a question asks about, or ``QuestionFaults`` with all that cannot be read."""
    if len(typed) > LONGEST:
        raise AmpleroomError(f"the question has {len(typed)} letters; up to {LONGEST} are taken. Write a sheet for it")
    return _QuestionReader(typed).read()


# ---- the smallest standard box that would do -----------------------------------------------------------------------


class Candidate(Record):
    """A standard box: its line in a sheet, its room in in3, and how sure that is."""

    line: str
    room: Decimal
    confidence: str

    @property
    def text(self) -> str:
        """Its line, its volume in in3, and a mark where that is not sure."""
        return f"{self.line}, {volume(self.room)}{unsure(self.confidence)}"


class Smallest(Record):
    """The smallest boxes of one shape that would do: for certain, and if the facts not checked yet allow it."""

    shape: str
    certain: Candidate | None
    possible: Candidate | None

    @property
    def text(self) -> str:
        """``square 4 x 2-1/8, 30.30 in3``; with the smaller one that would do if the facts not checked yet allow it."""
        certain, possible = self.certain, self.possible
        if certain is None:
            return f"{possible.text}, {IF_FACTS_ALLOW}" if possible else ""
        if possible is None or possible.line == certain.line:
            return certain.text
        return f"{certain.text}; {IF_FACTS_ALLOW}, {possible.text}"


class Suggestion(Record):
    """The smallest standard box of each shape that would do, the smallest first; else why there is none. ``assumes``:
    what is taken as so, in sentences.
    """

    boxes: tuple[Smallest, ...] = ()
    reason: str = ""
    assumes: tuple[str, ...] = ()


ROOMY = 40
"""More than so many of everything fit only where the box's volume is not known."""


def more_note(fitting: list[Fit]) -> str:
    """What is said in place of a list of what else fits; empty where there is a list."""
    if not any(fit.possible for fit in fitting):
        return "nothing more"
    if all(fit.certain == 0 and fit.possible > ROOMY for fit in fitting):
        return "not known: no box volume yet"
    return ""


# Which shapes take what. Common practice, no source.
ON_A_CEILING = ("light", "alarm", "fan", "heater", "outlet", "equipment")
CAST_OR_MASONRY = ("masonry", "fs", "fd")
GANGABLE = "3 x 2 x "
MOST_GANGS = {"square": 2, "octagon": 1}


def smallest_boxes(job: Job, book: CodeBook) -> Suggestion:
    """Which standard boxes of the book's table would hold what is in the box, each tried by the whole rules."""
    box = job.boxes[0]
    items = job.items(box)
    if any(isinstance(item, SpaceShare) for item in items):
        return Suggestion(reason="no box is suggested in place of one with a barrier")
    findings = check_box(job, box, book).findings
    if large := [f.message for f in findings if f.rule == PULL_BOX]:
        return Suggestion(reason=large[0])
    if any(f.rule == LARGE_BODY for f in findings):
        from ampleroom.sizing.conduit_body import is_large, needed_body, needed_lines

        if not is_large(job, box.name, book):
            return Suggestion(reason="the size of its conductors is not known")
        lines = needed_lines(needed_body(job, box.name, book))
        return Suggestion(reason="; ".join(f"{label} {measure}" for label, measure in lines))
    devices = [item for item in items if isinstance(item, Device)]
    gangs = 0
    for device in devices:
        if device.gangs is UNKNOWN:
            return Suggestion(reason="how many gangs its devices take is not known")
        gangs += device.count * device.gangs
    base = next((item for item in items if isinstance(item, Base)), None)
    assumes, others = [], [item for item in items if not isinstance(item, Base)]
    face = ""
    if any(isinstance(item, Part) for item in others):
        if base is not None and base.form == "standard":
            face = base.face or str(base.size).rpartition(" x ")[0]
        else:
            others = [item for item in others if not isinstance(item, Part)]
            assumes.append("without the ring or cover, which may not fit")
    if any(isinstance(item, Clamps) and item.way == "tabs" for item in others):
        others = [Clamps("inside") if isinstance(item, Clamps) and item.way == "tabs" else item for item in others]
        assumes.append("with clamps inside in place of plastic tabs")
    if any(isinstance(item, Mounting) and (item.cavity or item.hole or item.way == "old-work") for item in others):
        assumes.append("without a look at the wall or the hole it must fit")
    if any(isinstance(item, Rated | Carries) for item in others):
        assumes.append("as listed for what it carries")
    smallest = []
    for shape in shapes_for(base, devices, items):
        candidates = list(candidates_of(shape, gangs, face, book))
        certain = possible = None
        for new, candidate in candidates:
            tried = replace(job, boxes=(replace(box, items=(new, *others)),))
            verdict = check_box(tried, tried.boxes[0], book).verdict
            if verdict is not Verdict.FAILS and possible is None:
                possible = candidate
            if verdict is Verdict.PASSES:
                certain = candidate
                break
        if possible is not None:
            smallest.append(Smallest(shape, certain, possible))
    if not smallest:
        return Suggestion(reason="no standard box in the code's table would do", assumes=tuple(assumes))
    if gangs and any(each.shape == "square" for each in smallest):
        assumes.append("without the ring or raised cover a device on a square box needs")
    return Suggestion(tuple(sorted(smallest, key=room_of)), assumes=tuple(assumes))


def room_of(box: Smallest) -> tuple[bool, Decimal]:
    """Those that do for certain first, the smaller first."""
    first = box.certain or box.possible
    return box.certain is None, first.room if first else Decimal(0)


def shapes_for(base: Base | None, devices: list[Device], items: tuple[Item, ...]) -> list[str]:
    """The shapes of box that may stand in a place: the one asked about, and those usual for what is in it."""
    asked = [base.shape] if base is not None and base.form == "standard" else []
    if asked and (asked[0] in CAST_OR_MASONRY or any(isinstance(item, Part) for item in items)):
        return asked
    usual = ["octagon", "square", "device"]
    if any(isinstance(item, Carries | Rated) for item in items):
        usual = ["octagon", "square"]
    elif devices:
        on_a_ceiling = all(name.split()[-1] in ON_A_CEILING for device in devices for name in device.names)
        usual = ["octagon", "square"] if on_a_ceiling else ["device", "square"]
    return list(dict.fromkeys([*asked, *usual]))


def candidates_of(shape: str, gangs: int, face: str, book: CodeBook) -> Iterator[tuple[Base, Candidate]]:
    """The standard boxes of a shape that take so many gangs, the smallest first."""
    if gangs > MOST_GANGS.get(shape, gangs):
        return
    pairs = []
    for row in book[STANDARD_BOXES].rows:
        size = row.size
        if row.shape != shape or (face and size.rpartition(" x ")[0] != face):
            continue
        new = Base("standard", shape=shape, size=size)
        if gangs > 1 and shape == "device":
            if not size.startswith(GANGABLE):
                continue
            new = replace(new, ganged=gangs)
        elif shape in ("fs", "fd"):
            if (size == "multiple cover") is not (gangs > 1):
                continue
            new = replace(new, gangs=gangs) if gangs > 1 else new
        elif gangs > 1 and shape == "masonry":
            new = replace(new, gangs=gangs)
        room = row.volume * how_many(new, row)[0]
        pairs.append((new, Candidate(written(new), room, book.confidence(STANDARD_BOXES, row))))
    yield from sorted(pairs, key=lambda pair: pair[1].room)


# ---- a raceway -----------------------------------------------------------------------------------------------------

RACEWAY = "R1"
ENDS = ("A", "B")
SIZE_LEFT_OUT = re.compile(rf"\bin ({'|'.join(RACEWAY_KINDS)})(?= *(?:,|$))", re.IGNORECASE)
"""``3 x #6 thhn in emt``: which size is asked."""


LENGTH_AFTER = re.compile(
    rf"(\bin (?:{'|'.join(RACEWAY_KINDS)})(?: [\d/-]+)?)(?: +(?P<nipple>nipple)| +(?P<many>\d[\d./-]*) *"
    r"(?P<unit>in\.?|inch(?:es)?|ft\.?|feet|foot|\"|'))(?= *(?:,|$))",
    re.IGNORECASE,
)
"""``in emt 3/4 nipple``, ``in emt 18 in``: how long it is."""
ORDINARY = Decimal(10)
"""Feet that the sheet of a question says where nothing is said of a length: one stick, which is no nipple."""


def without_length(typed: str) -> tuple[str, Decimal | None]:
    """A question without the length that stands after its raceway, spaces in its place; and that length in feet. A
    nipple is as long as one may be.
    """
    match = LENGTH_AFTER.search(typed)
    if match is None:
        return typed, None
    typed = typed[: match.end(1)] + " " * (match.end() - match.end(1)) + typed[match.end() :]
    if match["nipple"]:
        return typed, CodeBook(NEWEST_COMPARED)[NIPPLE].longest / INCHES_PER_FOOT
    value = number_word(match["many"])
    if value is None:
        raise AmpleroomError(f"{match['many']} {match['unit']} is not a length; write one such as 18 in or 40 ft")
    feet = value if match["unit"][0] in "fF'" else value / INCHES_PER_FOOT
    return typed, feet.quantize(TEN_THOUSANDTH).normalize() + 0


def is_about_raceway(job: Job) -> bool:
    """Whether a question names a raceway and what lies in it, and nothing of a box."""
    return not job.boxes[0].items and any(run.raceways for run in job.runs)


def raceway_job(job: Job, length: Decimal | None) -> Job:
    """The job with one raceway that a question asks about, and all of its cables and wires in it. ``length``: feet,
    where it stands after the raceway; where it stands nowhere the raceway is an ordinary run, longer than a nipple.

    Raises ``AmpleroomError`` where the question names several raceways.
    """
    named = [raceway for run in job.runs for raceway in run.raceways]
    kinds = {(raceway.kind, str(raceway.size)): raceway for raceway in named}
    if len(kinds) != 1 or named[0].name:
        raise AmpleroomError("a question is about one raceway, such as: 3 x #6 thhn, ground #10 in emt 3/4")
    lengths = [run.length for run in job.runs if run.length is not None]
    feet = lengths[-1] if lengths else ORDINARY if length is None else length
    raceway = Raceway(RACEWAY, ENDS, named[0].kind, named[0].size, feet)
    stops, lies_in = (Stop(ENDS[0]), Stop(ENDS[1])), (RunRaceway(RACEWAY),)
    runs = tuple([replace(run, stops=stops, through=(), raceways=lies_in, length=None) for run in job.runs])
    places = tuple([Equipment(name) for name in ENDS])
    return replace(job, boxes=(), equipment=places, raceways=(raceway,), runs=runs)


def with_smallest(job: Job) -> Job:
    """The job with the smallest raceway that does for certain, where the question leaves its size out."""
    if job.wireways:
        return with_smallest_wireway(job)
    raceway = job.raceways[0]
    if raceway.size is not UNKNOWN:
        return job
    ranked = sizes(subject_named(job, RACEWAY), job, book_for(job))
    if not ranked or not ranked[0].certain:
        return job
    return replace(job, raceways=(replace(raceway, size=ranked[0].certain),))


def raceway_suggestion(
    subject: Subject, job: Job, book: CodeBook, is_ordinary: bool
) -> tuple[Suggestion, tuple[SizeOfKind, ...]]:
    """The smallest raceway that would do, in a sentence and kind by kind. ``is_ordinary``: whether nothing was said of
    its length, so that a nipple is told of too.
    """
    ranked = tuple(sizes(subject, job, book))
    suggestion = suggestion_of(ranked)
    if not is_ordinary or not ranked:
        return suggestion, ranked
    longest = book[NIPPLE].longest
    short = Subject(replace(subject.raceway, length=longest / INCHES_PER_FOOT), subject.runs)
    nipple = size_of_kind(short, subject.raceway.kind, job, book)
    reason = f"{suggestion.reason}; in a nipple of {inches(longest)} or less: {size_text(nipple)}"
    assumes = f"as an ordinary run, longer than {inches(longest)}: the sheet says {ORDINARY} ft"
    return replace(suggestion, reason=reason, assumes=(assumes,)), ranked


def suggestion_of(ranked: tuple[SizeOfKind, ...]) -> Suggestion:
    """The smallest of the kind that was asked about, in a sentence."""
    own = ranked[0] if ranked else None
    if own is None:
        return Suggestion(reason="the kind of raceway is not in the table")
    lines = [f"{own.kind} {size_text(own)}", *more_text(own)]
    return Suggestion(reason="; ".join([line.rstrip(".") for line in lines]))


def of_several_kinds(smallest: Suggestion, ranked: tuple[SizeOfKind, ...], name: str) -> Suggestion:
    """The smallest of each kind that a name such as ``conduit`` may mean; the sheet has the first of them."""
    kinds = next(kinds for called, kinds in ASKED_RACEWAYS.values() if called == name)
    others = [f"{each.kind} {size_text(each)}" for each in ranked if each.kind in kinds[1:]]
    reason = "; ".join([smallest.reason, *others])
    return replace(smallest, reason=reason, assumes=(f"as {kinds[0]}: {name} may be another kind", *smallest.assumes))


class Most(Record):
    """The most of one kind of wire or cable that goes in, with the rest of the question in it too: for certain, and if
    the facts not checked yet allow it.
    """

    what: str
    certain: int
    possible: int
    has_insulation: bool = True
    """Whether the question says which insulation; of a cable it is always so."""

    @property
    def text(self) -> str:
        """``16 x #12 thhn at most``."""
        if self.possible >= MOST_IN_ONE:
            return f"{self.certain} x {self.what} for certain; how many more depends on how thick it is"
        if self.possible > self.certain:
            facts = IF_FACTS_ALLOW if self.has_insulation else f"by insulation: write it too, such as {self.what} thhn"
            return f"{self.certain} x {self.what} for certain, up to {self.possible} {facts}"
        return f"{self.certain} x {self.what} at most" if self.certain else f"no {self.what} fits"


MOST_IN_ONE = 4096
"""No raceway or wireway of the tables takes more of the thinnest wire."""
HOW_MANY = (*FILLS, "wireway-fill", "wireway-conductors")
"""The rules that decide how many go in."""


def with_most(job: Job) -> tuple[Job, Most]:
    """The job with as many of its first run as go in for certain, each number judged as if it were written; one where
    none does. Raises ``AmpleroomError`` where no size is named.
    """
    place = (job.raceways or job.wireways)[0]
    if UNKNOWN in (getattr(place, "size", None), *getattr(place, "inside", ())):
        raise AmpleroomError("how many go in depends on the size: write it too, such as: how many #12 thhn in 3/4 emt")
    first, *others = job.runs
    wires = first.wires[:1] if first.cable is None else ()
    what = written_run(replace(first, count=1, wires=wires) if wires else replace(first, count=1))

    def times(count: int) -> Job:
        if first.cable is not None:
            return replace(job, runs=(replace(first, count=count), *others))
        more = (first.wires[0]._replace(count=count), *first.wires[1:])
        return replace(job, runs=(replace(first, wires=more), *others))

    def verdict(count: int) -> Verdict:
        findings = check(times(count)).subjects[0].findings
        return max((each.verdict for each in findings if each.rule in HOW_MANY), default=Verdict.PASSES)

    certain = largest_number(lambda count: verdict(count).is_allowed, MOST_IN_ONE)
    possible = max(certain, largest_number(lambda count: verdict(count) is not Verdict.FAILS, MOST_IN_ONE))
    return times(certain or 1), Most(what, certain, possible, not wires or bool(wires[0].insulation))


def written_run(run: Run) -> str:
    """What lies in a run, as a sheet has it: ``#12 thhn``, ``12/2 nm-b``."""
    words = written(replace(run, stops=(Stop(ENDS[0]), Stop(ENDS[1])), raceways=()))
    return words.partition(f"{ENDS[0]} > {ENDS[1]} ")[2].removeprefix("1 x ")


# ---- a wireway ------------------------------------------------------------------------------------------------------

WIREWAY = "W1"
IN_WIREWAY = re.compile(r"\bin (?:an? )?(wireway|gutter)\b([^,\n]*)", re.IGNORECASE)
"""``40 x #12 thhn in wireway 4 x 4``: its section and what else its line would say; without a section it is asked."""


def wireway_job(job: Job, form: str, words: str) -> Job:
    """The job with one wireway or gutter that a question asks about, and all of its cables and wires in it.

    Raises ``AmpleroomError`` where the question has no wires, or is about a box too.
    """
    if job.boxes[0].items or not job.runs:
        raise AmpleroomError(f"write what lies in the {form} and no box, such as: 12 x #10 thhn in {form} 4 x 4")
    try:
        (wireway,) = read_line(f"{form} {WIREWAY} {words or '?'}")
    except Unreadable as trouble:
        hint = f": {trouble.hint}" if trouble.hint else ""
        raise AmpleroomError(f"in {form} {words}: {trouble.message}{hint}") from None
    stops, lies_in = (Stop(ENDS[0]), Stop(ENDS[1])), (RunRaceway(WIREWAY),)
    runs = tuple([replace(run, stops=stops, through=(), raceways=lies_in, length=None) for run in job.runs])
    return replace(
        job, boxes=(), equipment=tuple(map(Equipment, ENDS)), wireways=(replace(wireway, ends=()),), runs=runs
    )


def with_smallest_wireway(job: Job) -> Job:
    """The job with the smallest wireway that does for certain, where the question leaves its section out."""
    from ampleroom.sizing import wireway as sizing

    (wireway,) = job.wireways
    if wireway.inside != (UNKNOWN, UNKNOWN):
        return job
    ranked = sizing.sizes(sizing.subject_named(job, WIREWAY), job, book_for(job))
    if not ranked or not ranked[0].certain:
        return job
    side = Decimal(ranked[0].certain.partition(" ")[0])
    return replace(job, wireways=(sizing.square(wireway, side),))


def wireway_answer(question: str, sheet: str, report: Report, edition_from: str, adopted: Adoption | None) -> Answer:
    """The answer to a question about a wireway or gutter."""
    from ampleroom.sizing import wireway as sizing

    subject = sizing.subject_named(report.job, WIREWAY)
    ranked = tuple(sizing.sizes(subject, report.job, report.book))
    more = {WIREWAY: sizing.fits_in(subject, report.job, report.book)}
    return Answer(question, sheet, report, more, suggestion_of(ranked), edition_from, adopted, ranked)


# ---- a circuit -----------------------------------------------------------------------------------------------------


def with_smallest_circuit(job: Job) -> Job:
    """The job with the wire or the breaker that the question leaves out, where one does for certain."""
    from ampleroom.sizing import circuit as sizing

    return with_raceways(sizing.with_smallest(sizing.subject_named(job, CIRCUIT), job, book_for(job)))


def with_raceways(job: Job) -> Job:
    """The job with the smallest raceways without a name that do for certain, where their trade size is left out."""
    for subject in raceways_of(job):
        if subject.raceway.size is not UNKNOWN:
            continue
        found = size_of_kind(subject, subject.raceway.kind, job, book_for(job)).certain
        if found:
            lies_in = RunRaceway(kind=subject.raceway.kind, size=found)
            job = replace(job, runs=tuple([in_sized(run, lies_in) for run in job.runs]))
    return job


def in_sized(run: Run, lies_in: RunRaceway) -> Run:
    """A run that lies in a raceway, in this one instead."""
    return replace(run, raceways=(lies_in,)) if run.raceways else run


def circuit_answer(
    question: str, sheet: str, report: Report, edition_from: str, adopted: Adoption | None, also: tuple[str, ...]
) -> Answer:
    """The answer to a question about a circuit; ``also``: what else was taken as so."""
    from ampleroom.sizing import circuit as sizing

    size = sizing.size_of(sizing.subject_named(report.job, CIRCUIT), report.job, report.book)
    alone = () if any(run.routes for run in report.job.runs) else ("alone, with no other cable bundled to it",)
    said = [f"{each.wires}: {each.text}" for each in size.wires]
    said.append(f"largest breaker: {size.largest.text}")
    if size.smallest is not None:
        said.append(f"smallest breaker for its load: {size.smallest.text}")
    said += [f"conductor to its electrode, {each.electrode}: {each.text}" for each in size.electrodes]
    suggestion = Suggestion(reason="; ".join(said), assumes=(*alone, *also))
    return Answer(question, sheet, report, {}, suggestion, edition_from, adopted, circuit=size)


# ---- the answer ----------------------------------------------------------------------------------------------------


class Answer(Record):
    """A question answered: the verdict and the count, what else fits, the smallest box that would do, and the sheet."""

    question: str
    sheet: str
    report: Report
    more: dict[str, list[Fit]]
    """What else fits, by the box or each side of its barrier."""
    smallest: Suggestion
    edition_from: str
    """``asked``, ``question``, ``adopted`` or ``settings``."""
    adopted: Adoption | None = None
    sizes: tuple[SizeOfKind, ...] = ()
    """Of a question about a raceway, the smallest of each kind that would do."""
    circuit: CircuitSize | None = None
    """Of a question about a circuit, its thinnest wire and its breaker."""
    most: Most | None = None
    """Of a question how many go into a raceway or wireway, the most."""

    @property
    def box(self) -> SubjectReport:
        """The one box asked about, or the one raceway, wireway or circuit, with its findings."""
        subjects = self.report.subjects
        return next((each for each in subjects if each.kind == "circuit"), subjects[0])

    @property
    def sized(self) -> str:
        """What the smallest is told of: ``standard box``, ``raceway``, ``wireway``, ``gutter``, ``pull box``,
        ``conduit body`` or ``circuit``.
        """
        if self.sizes or self.circuit:
            return self.box.kind
        if any(finding.rule == LARGE_BODY for finding in self.box.findings):
            return self.box.kind
        return "pull box" if self.report.job.boxes and self.report.job.raceways else "standard box"

    @property
    def verdict(self) -> Verdict:
        """The verdict on that box."""
        return self.report.verdict

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was taken as meant though it is not written, where the reader tells such things."""
        return self.report.job.assumptions

    def to_json(self) -> dict[str, Any]:
        """The form of ``check --json``, and what a question has besides; ``docs/json.md``."""
        return {
            **self.report.to_json(),
            "schema": "ampleroom-ask/2",
            "question": self.question,
            "edition_from": self.edition_from,
            "sheet": self.sheet,
            "more": {
                place: [{"what": fit.addition, "certain": fit.certain, "possible": fit.possible} for fit in fitting]
                for place, fitting in self.more.items()
            },
            "more_notes": {
                place: f"{self.most.text}, as in the sheet below" if self.most else more_note(fitting)
                for place, fitting in self.more.items()
            },
            "most": None
            if self.most is None
            else {"what": self.most.what, "certain": self.most.certain, "possible": self.most.possible},
            "smallest": {
                "boxes": [
                    {
                        "shape": box.shape,
                        "certain": candidate_json(box.certain),
                        "possible": candidate_json(box.possible),
                        "text": box.text,
                    }
                    for box in self.smallest.boxes
                ],
                "reason": self.smallest.reason,
                "assumes": list(self.smallest.assumes),
            },
            "sizes": [size_json(size, self.report.book) for size in self.sizes],
            "circuit": circuit_size_json(self.circuit) if self.circuit else None,
            "sized": self.sized,
            "adopted": adoption_json(self.adopted) if self.adopted else None,
        }


def circuit_size_json(size: CircuitSize) -> dict[str, Any]:
    """The wire and the breaker of a circuit as JSON; its rules are loaded for one alone."""
    from ampleroom.sizing import circuit as sizing

    return sizing.size_json(size)


def candidate_json(candidate: Candidate | None) -> dict[str, Any] | None:
    """A standard box as JSON, ``volume`` in in3; None for none."""
    if candidate is None:
        return None
    return {"line": candidate.line, "volume": decimal_json(candidate.room), "confidence": candidate.confidence}


def adoption_json(adoption: Adoption) -> dict[str, Any]:
    """An adopted edition as JSON: the place, the edition, and every row known of that place with its source."""
    return {
        "place": adoption.place,
        "edition": adoption.edition,
        "text": adoption.text,
        "known": [
            {
                "edition": row.edition,
                "since": str(row.since) if row.since else None,
                "status": row.status,
                "source": row.source,
                "as_of": row.as_of,
                "note": row.note,
            }
            for row in adoption.rows
        ],
    }


def ask(typed: str, edition: int | None = None, adopted: Adoption | None = None, usual: int | None = None) -> Answer:
    """What the book says of one box, typed as parts with commas between them.

    ``edition`` goes before an edition written in the question, that before the edition of a place (``adopted``), that
    before ``usual``, the asker's own. Without any of them, ``EditionUnknown``: there is no default.
    """
    try:
        return answer_to(typed, edition, adopted, usual)
    except QuestionFaults:
        worded = plain_question(typed) if len(typed) <= LONGEST else None
        if worded is None:
            raise
    answer = answer_to(worded.plain, edition, adopted, usual, worded)
    return replace(answer, question=" ".join(typed.split()))


def answer_to(
    typed: str,
    edition: int | None,
    adopted: Adoption | None,
    usual: int | None,
    worded: RacewayQuestion | None = None,
) -> Answer:
    """What ``ask`` says of a question as it stands, or as ``worded`` has it: then the most of its first part may be
    asked.
    """
    if is_about_pulls(typed):
        return pulls_answer(typed, edition, adopted, usual)
    in_wireway = IN_WIREWAY.search(typed)
    length: Decimal | None = None
    also: tuple[str, ...] = ()
    if (parts := parts_of([piece.text for piece in pieces_of(typed)])) is not None:
        asked_about = CircuitQuestion(parts)
        job, also = read_sheet(Sheet(asked_about.sheet(), FILE)), asked_about.assumes
    elif in_wireway:
        typed_runs = typed[: in_wireway.start()] + " " * len(in_wireway[0]) + typed[in_wireway.end() :]
        job = wireway_job(read_question(typed_runs), in_wireway[1].lower(), in_wireway[2].strip())
    else:
        typed_runs, length = without_length(typed)
        job = read_question(SIZE_LEFT_OUT.sub(r"in \1 ?", typed_runs))
    is_ordinary = False
    if job.boxes and is_about_raceway(job):
        is_ordinary = length is None and all(run.length is None for run in job.runs)
        job = raceway_job(job, length)
    edition_from, year = edition_of(job.edition, edition, adopted, usual)
    most: Most | None = None
    if job.circuits:
        job = with_smallest_circuit(replace(job, edition=year))
    elif not job.boxes and worded is not None and worded.asks_most:
        job, most = with_most(replace(job, edition=year))
    elif not job.boxes:
        job = with_smallest(replace(job, edition=year))
    sheet = (f"# {adopted.text}\n" if adopted is not None else "") + write_job(replace(job, edition=year))
    job = read_sheet(Sheet(sheet, FILE))
    report = check(job)
    book = book_for(job)
    question = " ".join(typed.split())
    if job.circuits:
        return circuit_answer(question, sheet, report, edition_from, adopted, also)
    if not job.boxes:
        if job.wireways:
            return replace(wireway_answer(question, sheet, report, edition_from, adopted), most=most)
        subject = subject_named(job, RACEWAY)
        smallest, ranked = raceway_suggestion(subject, job, book, is_ordinary)
        if worded is not None and worded.no_kind:
            smallest = of_several_kinds(smallest, ranked, worded.no_kind)
        more = {RACEWAY: fits_in(subject, job, book)}
        return Answer(question, sheet, report, more, smallest, edition_from, adopted, ranked, most=most)
    sides = [item.name for item in job.items(job.boxes[0]) if isinstance(item, SpaceShare)]
    places = [f"{BOX}/{side}" for side in sides] or [BOX]
    more = {place: fits(job, place, book) for place in places}
    return Answer(question, sheet, report, more, smallest_boxes(job, book), edition_from, adopted)


def edition_of(
    written: int | None, edition: int | None, adopted: Adoption | None, usual: int | None
) -> tuple[str, int]:
    """Where the edition of a question comes from, and its year; ``written``: the one in the question itself.

    Raises ``EditionUnknown`` where there is none, ``AmpleroomError`` where the question and the place differ.
    """
    if adopted is not None and written not in (None, adopted.edition):
        raise AmpleroomError(
            f"the question says edition {written}, and {adopted.place} had adopted {adopted.edition}; keep one of them"
        )
    place_year = adopted.edition if adopted is not None else None
    ways = (("asked", edition), ("question", written), ("adopted", place_year), ("settings", usual))
    edition_from, year = next(((way, year) for way, year in ways if year is not None), ("", None))
    if year is None:
        raise EditionUnknown(
            "which edition of the code is adopted there? Ask your authority, and give the year: one of "
            + ", ".join(map(str, OFFERED))
        )
    CodeBook(year)  # refuses one that is not offered
    return edition_from, year


IN_QUESTION = re.compile(r"(?:^|,)\s*edition (\d{4})\s*(?=,|$)", re.IGNORECASE)


def pulls_answer(typed: str, edition: int | None, adopted: Adoption | None, usual: int | None) -> Answer:
    """The smallest pull box for pulls typed in a line: ``pull box, 3 in straight, 2 in angle``."""
    from ampleroom.sizing.pulls import pull_job

    written = IN_QUESTION.search(typed)
    edition_from, year = edition_of(int(written[1]) if written else None, edition, adopted, usual)
    job, told, assumes = pull_job(IN_QUESTION.sub("", typed), year)
    sheet = (f"# {adopted.text}\n" if adopted is not None else "") + write_job(job)
    report = check(read_sheet(Sheet(sheet, FILE)))
    smallest = Suggestion(reason=told, assumes=assumes)
    return Answer(" ".join(typed.split()), sheet, report, {}, smallest, edition_from, adopted)


__all__ = ["Answer", "QuestionFaults", "ask", "read_question"]
