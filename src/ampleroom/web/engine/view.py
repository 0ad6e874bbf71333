"""A job and a box as the page shows them: verdicts, lines and runs that can be changed, pictures."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from ampleroom.check import book_for, check, check_box, subject_reports
from ampleroom.editions import OFFERED, CodeBook
from ampleroom.fits import room_for
from ampleroom.job import Fault, Job
from ampleroom.job.model import Base, Box, Clamps, Device, Part, Run, SpaceShare, Stop, Through
from ampleroom.job.reader import NO_BOX
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.writer import written
from ampleroom.packet.cards import codes_of
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.job_map import job_map_with_places
from ampleroom.pictures.kinds import beside, rooms
from ampleroom.pictures.room import room_bar, room_picture
from ampleroom.pictures.svg import svg
from ampleroom.quantities import number
from ampleroom.record import replace
from ampleroom.report import Report, counts_json, edition_json, not_judged_json
from ampleroom.rules.kinds import headline_of, so_many
from ampleroom.rules.runs_at_box import direction
from ampleroom.web.edits import COMMON
from ampleroom.web.engine.around import around
from ampleroom.web.engine.box_rows import box_sides
from ampleroom.web.engine.request import edition_of, offered_editions, opened, text_of, whole
from ampleroom.words import (
    CAUTION,
    CHECK_ONCE,
    DISPUTED,
    ON_SITE,
    big_word,
    capital,
    check_heading,
    headline_text,
    lowered,
    range_of_margin,
    short_message,
    subject_message,
)
from ampleroom.worksheet import SubjectReport, Verdict


def answer_job(data: dict[str, Any]) -> dict[str, Any]:
    """The whole job as a list: every subject with its verdict, and every fault of the sheet."""
    job, faults = opened(text_of(data))
    year = edition_of(job, data)
    report = check(job, year)
    return {
        "title": job.title,
        "edition": edition_json(report.book, report.not_compared),
        "edition_written": job.edition,
        "faults": [fault_data(fault) for fault in faults_of_lines(faults)],
        "verdict": report.verdict.word,
        "counts": counts_json(report.counts),
        "counts_by_kind": {kind: counts_json(counts) for kind, counts in report.counts_by_kind.items()},
        "counts_text": report.counts_text,
        "kinds_shown": [
            {"kind": kind, "text": so_many(len(subjects), kind)} for kind, subjects in report.by_kind.items()
        ],
        "not_judged": not_judged_json(report.not_judged),
        "subjects": [
            subject_row(subject, code) for subject, code in zip(report.subjects, codes_of(report), strict=True)
        ],
        "subjects_text": report.subjects_text,
        "questions_heading": CHECK_ONCE,
        "questions": [report.question_json(question) for question in report.questions],
        "panels": [panel.name for panel in job.panels],
        "circuits": [circuit.name for circuit in job.circuits],
        "kinds": [kind.name for kind in job.kinds],
        "notes": [note.text for note in job.notes],
        "assumptions": list(job.assumptions),
        "warnings": report.warnings_json(),
        "readings": [{"name": reading.name, "choice": reading.choice} for reading in job.readings],
        "caution": CAUTION,
    }


def answer_standing(data: dict[str, Any]) -> dict[str, Any]:
    """How a whole job stands, for the list of jobs: its verdict, how many lines cannot be read, the counts in a few
    words.

    A job whose edition nobody has chosen yet needs a check, and says so; it is no trouble.
    """
    job, faults = opened(text_of(data))
    unread = len(faults_of_lines(faults))
    if job.edition is None and data.get("edition") is None:
        return {"verdict": Verdict.OPEN.word, "text": NO_EDITION_YET, "unread": unread}
    report = check(job, edition_of(job, data))
    counts = report.counts_text if report.subjects else NO_SUBJECT_YET
    text = "; ".join(filter(None, (counts, lowered(report.not_judged_text))))
    return {"verdict": report.verdict.word, "text": text, "unread": unread}


def faults_of_lines(faults: Iterable[Fault]) -> list[Fault]:
    """The faults to mark in a sheet: that a sheet just begun holds no box yet is no fault of its first line."""
    return [fault for fault in faults if fault.message != NO_BOX]


def fault_data(fault: Fault) -> dict[str, Any]:
    """A fault as JSON: line, column and end counted from 1, message, hint."""
    return {"line": fault.line, "column": fault.column, "end": fault.end, "message": fault.message, "hint": fault.hint}


NO_EDITION_YET = "code edition not set yet"
NO_SUBJECT_YET = "nothing in it yet"

PAGES: dict[str, str] = {"box": "box", "conduit body": "box"}
"""The page a row of the list leads to, by kind. A kind without a page of its own opens its worksheet."""


def subject_row(subject: SubjectReport, card: str = "") -> dict[str, Any]:
    """A subject's row of the list; ``margin`` is a number in the unit of its kind's headline, or null.

    ``card``: the code on its card and label. ``brief``: its message beside its name and verdict.
    """
    headline = headline_of(subject.kind)
    known = [margin for margin in deciding_margins(subject) if margin.is_finite()]
    return {
        "kind": subject.kind,
        "page": PAGES.get(subject.kind, "worksheet"),
        "name": subject.name,
        "at": subject.description,
        "verdict": subject.verdict.word,
        "message": subject_message(subject, headline),
        "brief": capital(short_message(subject_message(subject, headline), subject.name)),
        "card": card,
        "margin_text": headline_text(subject, headline),
        "margin": headline.unit.number(min(known)) if headline and known else None,
        "cautions": len(subject.cautions),
    }


def deciding_margins(subject: SubjectReport) -> list[Decimal]:
    """What is left by the findings that give a subject its verdict, in the unit of its kind's headline; none where it
    is open or another rule decides.
    """
    headline = headline_of(subject.kind)
    return [
        finding.worksheet.margin
        for finding in subject.fill_findings
        if finding.worksheet
        and finding.worksheet.purpose == headline
        and finding.verdict is subject.verdict
        and subject.verdict is not Verdict.OPEN
    ]


def answer_check(data: dict[str, Any]) -> dict[str, Any]:
    """What ``check --json`` prints; a sheet of which not every line can be read is refused, as there."""
    job = whole(text_of(data))
    return check(job, edition_of(job, data)).to_json()


def answer_show(data: dict[str, Any]) -> dict[str, Any]:
    """What ``show NAME --json`` prints."""
    job = whole(text_of(data))
    report = check(job, edition_of(job, data))
    return report.subject_alone_json(report.subject(text_of(data, "box")))


def answer_box(data: dict[str, Any]) -> dict[str, Any]:
    """One box: verdict, worksheets, pictures, and its lines and runs as they can be changed.

    Of any other subject the same, with nothing in it that a tap could change.
    """
    job, faults = opened(text_of(data))
    name, kind = text_of(data, "box"), data.get("kind")
    year = edition_of(job, data)
    if kind is None or PAGES.get(kind) == "box":
        box = job.box(name)
        return {**box_view(job, box, book_for(job, year), len(faults)), "around": around(job, box)}
    return subject_view(check(job, year), kind, name, len(faults))


def box_view(job: Job, box: Box, book: CodeBook, faults: int = 0) -> dict[str, Any]:
    """A box's view; ``faults``: how many the whole sheet has."""
    judged = check_box(job, box, book)
    return {
        **subject_view(Report(job, book, (judged,)), judged.kind, judged.name, faults),
        "says": spoken(judged, in_hands(job, judged, book)),
        "box_kind": "?" if box.kind is UNKNOWN else box.kind,
        "items": [
            {**item_data(index, item), "side": side}
            for index, (item, side) in enumerate(zip(box.items, sides_of(job, box), strict=True))
        ],
        "clamps": clamps_of(job, box),
        "from_kind": [written(item) for item in job.items(box) if not any(item is own for own in box.items)],
        "runs": [run_data(index, run, box) for index, run in job.runs_at(box.name)],
        "spaces": [item.name for item in job.items(box) if isinstance(item, SpaceShare)],
        "sides": [{**side, **side_verdict(judged, box, side["side"])} for side in box_sides(job, box, book)],
    }


def side_verdict(judged: SubjectReport, box: Box, side: str) -> dict[str, Any]:
    """The verdict on one side of a divided box alone, in the same words as the box's; on a whole box nothing more."""
    if not side:
        return {}
    name = f"{box.name}/{side}"
    alone = replace(judged, name=name, findings=tuple(each for each in judged.findings if each.subject == name))
    surplus = next((finding.surplus.text for finding in alone.findings if finding.surplus), "")
    return {
        "verdict": alone.verdict.word,
        "message": subject_message(alone, headline_of(alone.kind)),
        "says": spoken(alone, capital(surplus)),
    }


def subject_view(report: Report, kind: str, name: str, faults: int = 0) -> dict[str, Any]:
    """A subject of any kind: verdict, worksheets, pictures. What only a box has is empty."""
    subject = Report(report.job, report.book, report.of(kind)).subject(name)
    alone = Report(report.job, report.book, (subject,), not_compared=report.not_compared)
    return {
        **alone.subject_json(subject),
        "edition": edition_json(report.book, report.not_compared),
        "faults": faults,
        "says": spoken(subject),
        "box_kind": "",
        "items": [],
        "clamps": {},
        "from_kind": [],
        "runs": [],
        "spaces": [],
        "sides": [],
        "pictures": pictures_of(alone, subject),
        "readings_used": alone.readings_json(),
        "caution": CAUTION,
    }


def in_hands(job: Job, box: SubjectReport, book: CodeBook) -> str:
    """A box's verdict in cables: what is too many, or what there is room for. Empty where neither is exact."""
    surplus = next((finding.surplus.text for finding in box.findings if finding.surplus), "")
    return capital(surplus) if surplus else room_for(job, box, book)


def spoken(subject: SubjectReport, hands: str = "") -> dict[str, str]:
    """The verdict's number in big letters, for the head of the page and to be heard after a tap; the same in cables
    (``hands``); and the cards' headings."""
    headline = headline_of(subject.kind)
    amount = headline_text(subject, headline, headline.unit.spoken if headline else "")
    return {
        "big": capital(headline_text(subject, headline) or big_word(subject)),
        "short": headline_text(subject, headline, ""),
        "hands": hands,
        "range": range_of_margin(subject, headline),
        "aloud": ", ".join(filter(None, (subject.verdict.word, amount))),
        "check": check_heading([fact for finding in subject.findings for fact in finding.facts]),
        "on_site": ON_SITE,
        "disputed": DISPUTED,
    }


def sides_of(job: Job, box: Box) -> list[str]:
    """The side of the barrier each line under a box is written on; empty: it is of the whole box."""
    sides = []
    side = ""
    for item in job.items(box):
        side = item.name if isinstance(item, SpaceShare) else side
        sides.append("" if isinstance(item, COMMON | SpaceShare) else side)
    return sides[len(sides) - len(box.items) :]


def clamps_of(job: Job, box: Box) -> dict[str, str]:
    """Where the clamps are, by side; under the empty name those of the whole box."""
    side, by_side = "", {}
    for item in job.items(box):
        side = item.name if isinstance(item, SpaceShare) else side
        if isinstance(item, Clamps):
            by_side[side] = "?" if item.way is UNKNOWN else str(item.way)
    return by_side


def pictures_of(report: Report, subject: SubjectReport) -> list[dict[str, str]]:
    """A subject's pictures: what fills it, wide and narrow, and what enters it."""
    drawings = [("room", room_picture(finding)) for finding in rooms(subject)]
    drawings += [("bar", room_bar(finding)) for finding in rooms(subject)]
    drawings += [("entering", drawing) for drawing in beside(report, subject)]
    return [{"what": shows, **drawing_data(drawing, page=shows != "bar")} for shows, drawing in drawings]


def drawing_data(drawing: Drawing, page: bool = True) -> dict[str, str]:
    """A picture for the page: SVG in light and dark colors, its words for a screen reader, its title. ``page``: on a
    background of its own.
    """
    return {"svg": svg(drawing, "auto", page=page), "alt": drawing.description, "title": drawing.title}


def item_data(index: int, item: Any) -> dict[str, Any]:
    """A line under a box, as text and by what it is."""
    kinds: dict[type, str] = {Base: "base", Part: "part", Clamps: "clamps", Device: "device"}
    row: dict[str, Any] = {
        "index": index,
        "text": written(item),
        "is": kinds.get(type(item), "other"),
        "line": item.at.line,
    }
    if isinstance(item, Device):
        row["count"] = item.count
    if isinstance(item, Clamps):
        row["way"] = "?" if item.way is UNKNOWN else item.way
    if isinstance(item, Device):
        row["size"] = size_text(item.size)
    return row


def run_data(index: int, run: Run, box: Box) -> dict[str, Any]:
    """A run as one of its boxes sees it."""
    stops: tuple[Stop | Through, ...] = (*run.stops, *run.through)
    met = next((met for met in stops if met.name == box.name), run.stops[0])
    here = "ends"
    if isinstance(met, Through):
        here = {"straight": "passes", "landed": "landed", "loop": "looped"}[met.slack]
    return {
        "index": index,
        "text": written(run),
        "line": run.at.line,
        "side": met.space,
        "name": run.cable.name if run.cable else "wires",
        "count": "?" if run.count is UNKNOWN else run.count,
        "where": direction(run, box.name),
        "far": [("?" if stop.name is UNKNOWN else stop.name) for stop in run.stops if stop.name != box.name],
        "here": here,
        "circuit": run.circuit,
        "length": "" if run.length is None else "?" if run.length is UNKNOWN else number(run.length, 0),
    }


def answer_editions(data: dict[str, Any]) -> dict[str, Any]:
    """Every subject's verdict under every edition, side by side."""
    job, _ = opened(text_of(data))
    rows: dict[tuple[str, str, int], dict[str, Any]] = {}
    for year in OFFERED:
        met: Counter[tuple[str, str]] = Counter()  # two of one name are two rows
        for subject in subject_reports(job, book_for(job, year)):
            row = subject_row(subject)
            met[subject.kind, subject.name] += 1
            place = (subject.kind, subject.name, met[subject.kind, subject.name])
            head = {key: row[key] for key in ("kind", "page", "name", "at")}
            rows.setdefault(place, {**head, "by_edition": {}})["by_edition"][str(year)] = row
    return {"editions": offered_editions(), "subjects": list(rows.values()), "caution": CAUTION}


def answer_map(data: dict[str, Any]) -> dict[str, Any]:
    """The map of the whole job as a picture, and where each place stands on it, so that one can be found and tapped."""
    job, _ = opened(text_of(data))
    report = check(job, edition_of(job, data))
    drawing, spots = job_map_with_places(report)
    pages = {subject.name: (subject.kind, PAGES.get(subject.kind, "worksheet")) for subject in report.subjects}
    return {
        **drawing_data(drawing),
        "wide": round(drawing.wide),
        "high": round(drawing.high),
        "places": [
            {
                "name": spot.name,
                "kind": pages.get(spot.name, ("", ""))[0],
                "page": pages.get(spot.name, ("", ""))[1],
                "x": round(spot.x),
                "y": round(spot.y),
                "wide": round(spot.wide),
                "high": round(spot.high),
            }
            for spot in spots
        ],
    }
