"""Cards: one a thing judged, each with its pictures and its whole worksheet.

A card is plain data that the template lays out, so a later topic (a raceway, a pull box, a circuit) adds a maker of its own
to ``CARD_MAKERS`` and touches nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from ampleroom.editions import READINGS
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.room import room_outline
from ampleroom.pictures.svg import svg
from ampleroom.quantities import count, number
from ampleroom.report import Report, readings_of
from ampleroom.worksheet import BoxReport, Fact, Finding, Line, Verdict, Worksheet


@dataclass(frozen=True, slots=True)
class Card:
    """One thing judged: its name, verdict in words, and blocks to be laid out in order.

    A block is ``{"kind": "text" | "lines" | "list" | "pictures" | "caution" | "photos", ...}``.
    """

    code: str
    """Short, on its label too."""
    subject: str
    title: str
    verdict: Verdict
    message: str
    blocks: tuple[dict[str, Any], ...] = field(default=())

    def data(self) -> dict[str, Any]:
        return {
            "code": self.code,
            "subject": self.subject,
            "title": self.title,
            "verdict": self.verdict.word,
            "shape": self.verdict.shape,
            "message": self.message,
            "blocks": list(self.blocks),
        }


Photos = dict[str, list[bytes]]
"""Photographs kept with a box: JPEG bytes by the box's name."""


def box_cards(report: Report, photos: Photos) -> Iterator[Card]:
    """A card for every box, in the order of the sheet."""
    for rank, box in enumerate(report.boxes, 1):
        message = (
            max(box.findings, key=lambda finding: finding.verdict).message
            if box.findings
            else "nothing is written in it"
        )
        yield Card(
            f"B{rank:03}", box.name, box.description, box.verdict, message, tuple(box_blocks(box, report, photos))
        )


CARD_MAKERS: tuple[Callable[[Report, Photos], Iterator[Card]], ...] = (box_cards,)


def box_blocks(box: BoxReport, report: Report, photos: Photos) -> Iterator[dict[str, Any]]:
    yield pictures_block(box, report)
    for finding in box.findings:
        yield from finding_blocks(finding, report)
    cautions = [reminder for reminder in box.reminders if reminder.caution]
    for reminder in cautions:
        yield {"kind": "caution", "text": reminder.text + cited(reminder.cite)}
    others = [
        reminder.text + cited(reminder.cite) + unsure(reminder.confidence)
        for reminder in box.reminders
        if not reminder.caution
    ]
    if others:
        yield {"kind": "list", "title": "To look at on the spot", "items": others, "ticks": True}
    leaned = [
        f"{name}: read as {READINGS[name].choices[report.book.reading(name)]}"
        for finding in box.findings
        for name in readings_of(finding)
        if READINGS[name].is_open
    ]
    if leaned:
        yield {
            "kind": "list",
            "title": "Disputed points, as read here",
            "items": list(dict.fromkeys(leaned)),
            "ticks": False,
        }
    if photos.get(box.name):
        yield {
            "kind": "photos",
            "title": "Photographs",
            "files": [photo_file(box.name, place) for place in range(len(photos[box.name]))],
        }


def photo_file(box: str, place: int) -> str:
    """The name a photograph has among the packet's files: no letter of the box's name that could be a path."""
    safe = "".join(letter if letter.isalnum() and letter.isascii() else f"_{ord(letter):x}" for letter in box)
    return f"photo-{safe}-{place}.jpg"


def pictures_block(box: BoxReport, report: Report) -> dict[str, Any]:
    """What enters it, and the room of each of its spaces."""
    drawings = [box_picture(report.job, report.job.box(box.name), report.book)]
    drawings += [room_outline(finding) for finding in box.fill_findings]
    return {
        "kind": "pictures",
        "pictures": [
            {
                "svg": svg(drawing, "print", prefix=f"c{place}", page=False),
                "alt": drawing.description,
                "wide": drawing.wide,
                "high": drawing.high,
            }
            for place, drawing in enumerate(drawings)
        ],
    }


def finding_blocks(finding: Finding, report: Report) -> Iterator[dict[str, Any]]:
    where = ""
    if finding.at.line:
        where = f", line {finding.at.line} of the sheet"
    cite = f"{finding.cite}, {report.book.edition.title}{where}{unsure(finding.confidence)}"
    yield {
        "kind": "finding",
        "verdict": finding.verdict.word,
        "shape": finding.verdict.shape,
        "text": finding.message,
        "cite": cite,
    }
    sheet = finding.worksheet
    if sheet is not None:
        if finding.best is not None:
            even = "What is not known is taken at its best here, and even so it fails."
            yield {
                "kind": "text",
                "text": even if finding.verdict is Verdict.FAILS else "What is not known is taken at its worst here.",
            }
        yield lines_block(sheet)
        if finding.best is not None and finding.worst is not None and finding.verdict is not Verdict.FAILS:
            yield {"kind": "text", "text": "At its best: " + best_text(finding.best)}
    if finding.facts:
        yield {
            "kind": "list",
            "title": "Go and find out",
            "items": [fact_text(fact) for fact in finding.facts],
            "ticks": True,
        }


def lines_block(sheet: Worksheet) -> dict[str, Any]:
    return {
        "kind": "lines",
        "unit": sheet.unit,
        "room": [line_row(line) for line in sheet.room],
        "fill": [line_row(line, rank) for rank, line in enumerate(sheet.fill, 1)],
        "there": number(sheet.there),
        "needed": number(sheet.needed),
        "result": result_text(sheet),
    }


def line_row(line: Line, rank: int = 0) -> list[str]:
    """Number, what, why, the sum, the amount, where it stands."""
    times = str(line.count) if isinstance(line.count, Fraction) else count(line.count)
    why = line.why + unsure(line.confidence)
    return [str(rank or ""), line.what, why, f"{times} x {number(line.each)}", number(line.amount), line.cite]


def result_text(sheet: Worksheet) -> str:
    if not sheet.margin.is_finite():
        return "not known"
    if sheet.margin == 0:
        return "exactly full"
    return f"{number(abs(sheet.margin))} {sheet.unit} {'to spare' if sheet.margin > 0 else 'short'}"


def best_text(sheet: Worksheet) -> str:
    return f"room {number(sheet.there)}, fill {number(sheet.needed)} {sheet.unit}: {result_text(sheet)}."


def fact_text(fact: Fact) -> str:
    return fact.question + (f": {fact.settles}" if fact.settles else "")


def cited(cite: str) -> str:
    return f" ({cite})" if cite else ""


def unsure(confidence: str) -> str:
    return "" if confidence in ("two sources", "computed") else f" ({confidence})"


__all__ = ["CARD_MAKERS", "Card", "Photos", "box_cards"]
