"""Cards: one a thing judged, each with its pictures and its whole worksheet.

A card is plain data that the template lays out. Every kind of subject has one as it is; what only one kind has on it
stands in ``BLOCKS``, its letter in ``LETTERS``, its pictures in ``pictures.kinds``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from hashlib import sha256
from typing import Any

from ampleroom.arithmetic import Line
from ampleroom.editions import READINGS
from ampleroom.errors import AmpleroomError
from ampleroom.packet.glyphs import displayable
from ampleroom.pictures.drawing import Drawing, Shape, Text, shortened, text_width
from ampleroom.pictures.kinds import beside, rooms
from ampleroom.pictures.room import room_outline
from ampleroom.pictures.svg import svg
from ampleroom.record import Record
from ampleroom.report import Report
from ampleroom.rules.kinds import headline_of
from ampleroom.words import (
    BEST_CASE,
    CASE_SHOWN,
    DISPUTED,
    ON_SITE,
    ONLY_DIFFERENCE,
    WORST_CASE,
    capital,
    check_heading,
    cited,
    fact_text,
    subject_message,
    sum_text,
    unsure,
)
from ampleroom.worksheet import Finding, SubjectReport, Verdict, Worksheet

PAGE_WIDE = 487.0
"""Points between the margins of the narrower of the papers."""
ENTERING_SCALE = 0.62
SMALLEST_SCALE = 0.5
OUTLINE_SCALE = 0.55
"""Points on paper for a pixel on a screen; what enters is drawn a little smaller where then all stands in one row."""
HIGHEST = 320.0
"""No picture of what enters a box is higher, in points."""
HIGHEST_TREE = 590.0
"""Nor is the tree of a circuit or the directory of a panel, which has a page for itself where it must."""
GAP = 14.0
"""Between two pictures."""


class Card(Record):
    """One thing judged: its name, verdict in words, and blocks to be laid out in order.

    A block is ``{"kind": "text" | "lines" | "list" | "pictures" | "caution" | "photos", ...}``.
    """

    code: str
    """Short, on its label too."""
    kind: str
    """``box``: the kind of its subject."""
    subject: str
    title: str
    verdict: Verdict
    message: str
    blocks: tuple[dict[str, Any], ...] = ()

    def data(self) -> dict[str, Any]:
        """The card as plain data for the packet's JSON."""
        return {
            "code": self.code,
            "subject_kind": self.kind,
            "subject": self.subject,
            "title": self.title,
            "verdict": self.verdict.word,
            "shape": self.verdict.shape,
            "message": self.message,
            "blocks": list(self.blocks),
        }


Photos = dict[str, list[bytes]]
"""Photographs kept with a box: the bytes of each by the box's name."""


LETTERS: dict[str, str] = {"box": "B", "conduit body": "B", "circuit": "C", "panel": "P"}
"""The letter a card's code begins with, by kind: boxes and conduit bodies are numbered together. Any other kind has
S."""


def codes_of(report: Report) -> Iterator[str]:
    """The code of every subject's card, which is on its label too, in the order of the report: ``B001``."""
    ranks: Counter[str] = Counter()
    for subject in report.subjects:
        letter = LETTERS.get(subject.kind, "S")
        ranks[letter] += 1
        yield f"{letter}{ranks[letter]:03}"


def cards_of(report: Report, photos: Photos) -> Iterator[Card]:
    """A card for every subject, in the order of the report."""
    for subject, code in zip(report.subjects, codes_of(report), strict=True):
        blocks = tuple(subject_blocks(subject, report, photos))
        yield Card(
            code,
            subject.kind,
            subject.name,
            subject.description,
            subject.verdict,
            message_of(subject),
            blocks,
        )


def message_of(box: SubjectReport) -> str:
    """The message that decides."""
    return subject_message(box, headline_of(box.kind))


BLOCKS: dict[str, Callable[[SubjectReport, Report], Iterator[dict[str, Any]]]] = {}
"""What a card has between its pictures and its findings, by kind: what only subjects of that kind have."""


def subject_blocks(box: SubjectReport, report: Report, photos: Photos) -> Iterator[dict[str, Any]]:
    """The blocks of a subject's card: pictures, what its kind adds, findings, reminders, photographs."""
    yield from pictures_block(box, report)
    if box.kind in BLOCKS:
        yield from BLOCKS[box.kind](box, report)
    for finding in box.findings:
        yield from finding_blocks(finding, report, message_of(box))
    cautions = box.cautions
    for reminder in cautions:
        yield {"kind": "caution", "text": reminder.text + cited(reminder.cite)}
    others = [
        reminder.text + cited(reminder.cite) + unsure(reminder.confidence)
        for reminder in box.reminders
        if not reminder.caution
    ]
    if others:
        yield {"kind": "list", "title": ON_SITE, "items": others, "ticks": True}
    leaned = [
        f"{capital(READINGS[name].asks)} {capital(READINGS[name].choices[report.book.reading(name)])} ({name})"
        for finding in box.findings
        for name in finding.all_readings
        if READINGS[name].is_open
    ]
    if leaned:
        yield {
            "kind": "list",
            "title": DISPUTED,
            "items": list(dict.fromkeys(leaned)),
            "ticks": False,
        }
    if photos.get(box.name):
        yield {
            "kind": "photos",
            "title": "Photographs",
            "files": [photo_file(box.name, place, photo) for place, photo in enumerate(photos[box.name])],
        }


PHOTO_KINDS = {b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n\x1a\n": "png"}
"""How a photograph begins, and the ending of its name."""


def photo_file(box: str, place: int, photo: bytes) -> str:
    """The name a photograph has among the packet's files: nothing of the box's name, which could be a path."""
    kind = next((kind for start, kind in PHOTO_KINDS.items() if photo.startswith(start)), None)
    if kind is None:
        raise AmpleroomError(f"photograph {place + 1} of {box} is neither JPEG nor PNG; save it as JPEG and try again")
    return f"photo-{sha256(box.encode('utf-8')).hexdigest()[:8]}-{place}.{kind}"


def pictures_block(subject: SubjectReport, report: Report) -> Iterator[dict[str, Any]]:
    """Its pictures by kind, such as what enters a box, and the room of each worksheet, in rows as wide as the page."""
    others = beside(report, subject, title=False)
    outlines = [room_outline(finding) for finding in rooms(subject)]
    if not others and not outlines:
        return
    highest = HIGHEST_TREE if subject.kind in ("circuit", "panel") else HIGHEST
    taken = sum(room.wide * OUTLINE_SCALE + GAP for room in outlines)
    drawings = [
        *((other, scale_of(other, taken, highest)) for other in others),
        *((room, OUTLINE_SCALE) for room in outlines),
    ]
    rows: list[list[dict[str, Any]]] = [[]]
    left = PAGE_WIDE
    for place, (drawing, scale) in enumerate(drawings):
        scale = min(scale, PAGE_WIDE / drawing.wide)
        if rows[-1] and drawing.wide * scale > left + 0.1:
            rows.append([])
            left = PAGE_WIDE
        rows[-1].append(picture_data(drawing, f"c{place}", scale))
        left -= drawing.wide * scale + GAP
    yield {"kind": "pictures", "rows": rows}


def scale_of(drawing: Drawing, taken: float, highest: float) -> float:
    """Points for a pixel of a picture that stands beside rooms, which have taken so many points of the width."""
    in_one_row = (PAGE_WIDE - taken) / drawing.wide
    return min(ENTERING_SCALE, highest / drawing.high, in_one_row if in_one_row >= SMALLEST_SCALE else ENTERING_SCALE)


def picture_data(drawing: Drawing, prefix: str, scale: float) -> dict[str, Any]:
    """A picture for the page: its shapes as SVG, its words apart. The page sets words in a quarter of the time a
    picture takes.
    """
    shapes: list[Shape] = [shape for shape in drawing.shapes if not isinstance(shape, Text)]
    return {
        "svg": svg(
            Drawing(drawing.wide, drawing.high, drawing.title, drawing.description, shapes), "print", prefix, page=False
        ),
        "alt": drawing.description,
        "wide": round(drawing.wide * scale, 1),
        "high": round(drawing.high * scale, 1),
        "scale": round(scale, 4),
        "words": [word_data(shape) for shape in drawing.shapes if isinstance(shape, Text)],
    }


def word_data(shape: Text) -> list[Any]:
    """Where a word begins, its size, weight and shade, and itself, no wider than it was meant to be."""
    wide = text_width(shape.text, shape.size, shape.bold)
    start = shape.x - {"start": 0.0, "middle": wide / 2, "end": wide}[shape.anchor]
    words = displayable(shape.text)
    if words != shape.text:
        words = shortened(words, wide, shape.size, shape.bold)
    return [round(start, 1), round(shape.y, 1), shape.size, shape.bold, shape.role == "faint", words]


def finding_blocks(finding: Finding, report: Report, above: str) -> Iterator[dict[str, Any]]:
    """What a rule says and its whole worksheet; its message only where it does not stand at the card's head already."""
    where = ""
    if finding.at.line:
        where = f", line {finding.at.line} of the sheet"
    cite = f"{finding.cite}, {report.book.edition.title}{where}{unsure(finding.confidence)}"
    yield {
        "kind": "finding",
        "verdict": finding.verdict.word,
        "shape": finding.verdict.shape,
        "text": "" if finding.message == above else finding.message,
        "cite": cite,
    }
    sheet = finding.worksheet
    if sheet is not None:
        if finding.best is not None:
            yield {"kind": "text", "text": CASE_SHOWN[finding.verdict is Verdict.FAILS]}
        yield lines_block(sheet)
        if finding.best is not None and finding.worst is not None:
            other, case = (finding.worst, WORST_CASE) if sheet is finding.best else (finding.best, BEST_CASE)
            items = [*difference(sheet, other), totals_text(other)]
            yield {"kind": "list", "title": capital(ONLY_DIFFERENCE.format(case)), "items": items, "ticks": False}
    if finding.facts:
        yield {
            "kind": "list",
            "title": check_heading(finding.facts),
            "items": [fact_text(fact) for fact in finding.facts],
            "ticks": True,
        }


def difference(shown: Worksheet, other: Worksheet) -> Iterator[str]:
    """The lines of another case that are not in the table, and those of the table that are not in it."""
    for line in other.lines:
        if line not in shown.lines:
            yield f"{line.label}: {line.text}, {line.cite}: {line.why}{unsure(line.confidence)}"
    whats = {line.label for line in other.lines}
    for line in shown.lines:
        if line not in other.lines and line.label not in whats:
            yield f"left out: {line.label}, {line.unit.amount(line.amount)}"


def totals_text(sheet: Worksheet) -> str:
    """The sum of a worksheet in words."""
    return sum_text(sheet)


def lines_block(sheet: Worksheet) -> dict[str, Any]:
    """A worksheet as a table: rows of both halves, each sum under its own, and the result."""
    there, needed = sheet.there_printed, sheet.needed_printed
    return {
        "kind": "lines",
        "unit": sheet.unit.plain,
        "have_title": sheet.purpose.have,
        "need_title": sheet.purpose.need,
        "have": [row for line in sheet.have for row in line_rows(line)],
        "need": [row for rank, line in enumerate(sheet.need, 1) for row in line_rows(line, rank)],
        "there": there,
        "needed": needed,
        "result": sum_text(sheet).replace(" - ", " − "),
    }


def line_rows(line: Line, rank: int = 0) -> Iterator[list[Any]]:
    """A line and all it is made of, each as label, reason, sum, section, and how deep it stands."""
    for depth, part in line.with_parts():
        label = f"{rank}  {part.label}" if rank and not depth else part.label
        yield [label, part.why + unsure(part.confidence), part.sum_text, part.cite, depth]


__all__ = ["BLOCKS", "LETTERS", "Card", "Photos", "cards_of", "codes_of"]
