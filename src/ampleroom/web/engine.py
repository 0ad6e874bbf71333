"""What the page asks, answered from a sheet's text: the same functions on the server and in the browser's Python.

Every answer is plain data, the JSON of ``--json`` where there is one. Nothing is kept between calls but the last few sheets
as they were read, so that a question after a tap need not read the sheet again.
"""

from __future__ import annotations

import base64
from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from typing import Any

from ampleroom.check import book_for, box_reports, check, check_box
from ampleroom.editions import NEWEST_COMPARED, OFFERED, READINGS, CodeBook
from ampleroom.errors import AmpleroomError, SheetFaults
from ampleroom.explain import explain
from ampleroom.fits import Fit, fits, how_many
from ampleroom.job import Fault, Job, Sheet, read_with_faults
from ampleroom.job.cables import COMMON
from ampleroom.job.edit import edited
from ampleroom.job.model import Base, Box, Clamps, Device, Part, Run, SpaceShare, Stop, Through
from ampleroom.job.trade import size_text
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.writer import written
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.job_map import job_map
from ampleroom.pictures.room import before_and_after, room_outline, room_picture
from ampleroom.pictures.svg import svg
from ampleroom.quantities import number
from ampleroom.remedy import Stock, stock_from_text
from ampleroom.remedy.box import first_fact, remedies, why_nothing
from ampleroom.remedy.plan import Limits, plan, reexamine
from ampleroom.remedy.present import box_json, plan_json, reexamined_json, takeoff_json
from ampleroom.remedy.takeoff import takeoff
from ampleroom.remedy.trial import Trial
from ampleroom.report import CAUTION, Report, edition_json, line_json
from ampleroom.rules import RULES
from ampleroom.rules.space import direction
from ampleroom.web.edits import change_for
from ampleroom.worksheet import BoxReport, Verdict

LARGEST_SHEET = 4_000_000
"""Letters of a sheet the page works on; larger ones are for the command line."""


class Question(AmpleroomError):
    """A question the engine cannot answer as it was put."""


@lru_cache(maxsize=24)
def opened(text: str, file: str = "sheet.job") -> tuple[Job, tuple[Fault, ...]]:
    """A sheet read, with its faults; an edition nobody wrote is taken as the newest compared one, and said."""
    if len(text) > LARGEST_SHEET:
        raise Question(
            f"the sheet has {len(text)} letters; the page takes up to {LARGEST_SHEET}. Use the command line for it"
        )
    job, faults = read_with_faults(Sheet(text.replace("\r\n", "\n"), file), beside=nothing_beside)
    return job, tuple(faults)


def nothing_beside(name: str) -> str:
    raise KeyError(name)


def edition_of(job: Job, data: dict[str, Any]) -> int:
    """The edition asked for, the sheet's, or the newest."""
    asked = data.get("edition")
    if isinstance(asked, int) and asked in OFFERED:
        return asked
    return job.edition if job.edition is not None else NEWEST_COMPARED


def text_of(data: dict[str, Any], key: str = "sheet") -> str:
    value = data.get(key)
    if not isinstance(value, str):
        raise Question(f"{key!r} is missing")
    return value


def stock_of(data: dict[str, Any]) -> Stock:
    text = data.get("stock")
    return stock_read(text) if isinstance(text, str) and text.strip() else Stock()


@lru_cache(maxsize=8)
def stock_read(text: str) -> Stock:
    return stock_from_text(text)


# ---- the job -------------------------------------------------------------------------------------------------------


def answer_job(data: dict[str, Any]) -> dict[str, Any]:
    """The whole job as a list: every box with its verdict, and every fault of the sheet."""
    job, faults = opened(text_of(data))
    year = edition_of(job, data)
    report = check(job, year)
    return {
        "title": job.title,
        "edition": edition_json(report.book),
        "edition_written": job.edition,
        "faults": [fault_data(fault) for fault in faults],
        "verdict": report.verdict.word,
        "counts": {verdict.word: count for verdict, count in report.counts.items()},
        "boxes": [box_row(box) for box in report.boxes],
        "panels": [panel.name for panel in job.panels],
        "circuits": [circuit.name for circuit in job.circuits],
        "kinds": [kind.name for kind in job.kinds],
        "notes": [note.text for note in job.notes],
        "readings": [{"name": reading.name, "choice": reading.choice} for reading in job.readings],
        "caution": CAUTION,
    }


def fault_data(fault: Fault) -> dict[str, Any]:
    return {"line": fault.line, "column": fault.column, "end": fault.end, "message": fault.message, "hint": fault.hint}


def box_row(box: BoxReport) -> dict[str, Any]:
    worst = max(box.findings, key=lambda finding: finding.verdict, default=None)
    margins = [
        finding.worksheet.margin
        for finding in box.fill_findings
        if finding.worksheet and finding.worksheet.unit == "in3"
    ]
    known = [margin for margin in margins if margin.is_finite()]
    return {
        "name": box.name,
        "at": box.description,
        "verdict": box.verdict.word,
        "message": worst.message if worst else "nothing is written in it yet",
        "margin": number(min(known)) if known else None,
        "cautions": sum(reminder.caution for reminder in box.reminders),
    }


# ---- one box -------------------------------------------------------------------------------------------------------


def answer_box(data: dict[str, Any]) -> dict[str, Any]:
    """One box: verdict, worksheets, pictures, and its lines and runs as they can be changed."""
    job, faults = opened(text_of(data))
    box = job.box(text_of(data, "box"))
    return box_view(job, box, book_for(job, edition_of(job, data)), len(faults))


def box_view(job: Job, box: Box, book: CodeBook, faults: int = 0) -> dict[str, Any]:
    found = check_box(job, box, book)
    report = Report(job, book, (found,))
    return {
        **report.box_json(found),
        "edition": edition_json(book),
        "faults": faults,
        "kind": "?" if box.kind is UNKNOWN else box.kind,
        "items": [item_data(index, item) for index, item in enumerate(box.items)],
        "from_kind": [written(item) for item in job.items(box) if not any(item is own for own in box.items)],
        "runs": [run_data(index, run, box) for index, run in enumerate(job.runs) if touches(run, box)],
        "spaces": [item.name for item in job.items(box) if isinstance(item, SpaceShare)],
        "pictures": pictures_of(job, box, found, book),
        "readings_used": report.to_json()["readings"],
        "caution": CAUTION,
    }


def pictures_of(job: Job, box: Box, found: BoxReport, book: CodeBook) -> list[dict[str, str]]:
    drawings = [("room", room_picture(finding)) for finding in found.fill_findings]
    drawings += [("outline", room_outline(finding)) for finding in found.fill_findings]
    drawings += [("entering", box_picture(job, box, book))]
    return [
        {"what": what, "svg": svg(drawing, "auto"), "alt": drawing.description, "title": drawing.title}
        for what, drawing in drawings
    ]


def item_data(index: int, item: Any) -> dict[str, Any]:
    """A line under a box, as text and by what it is."""
    kinds = {Base: "base", Part: "part", Clamps: "clamps", Device: "device"}
    found: dict[str, Any] = {
        "index": index,
        "text": written(item),
        "is": kinds.get(type(item), "other"),
        "line": item.at.line,
    }
    if isinstance(item, Clamps):
        found["way"] = "?" if item.way is UNKNOWN else item.way
    if isinstance(item, Device):
        found["size"] = size_text(item.size)
    return found


def touches(run: Run, box: Box) -> bool:
    return any(stop.name == box.name for stop in run.stops) or any(passed.name == box.name for passed in run.through)


def run_data(index: int, run: Run, box: Box) -> dict[str, Any]:
    """A run as one of its boxes sees it."""
    meetings: tuple[Stop | Through, ...] = (*run.stops, *run.through)
    met = next((met for met in meetings if met.name == box.name), run.stops[0])
    here = "ends"
    if isinstance(met, Through):
        here = {"straight": "passes", "landed": "landed", "loop": "looped"}[met.slack]
    return {
        "index": index,
        "text": written(run),
        "line": run.at.line,
        "name": run.cable.name if run.cable else "wires",
        "count": "?" if run.count is UNKNOWN else run.count,
        "where": direction(run.stops, box.name),
        "far": [("?" if stop.name is UNKNOWN else stop.name) for stop in run.stops if stop.name != box.name],
        "here": here,
        "circuit": run.circuit,
    }


def answer_edit(data: dict[str, Any]) -> dict[str, Any]:
    """A change made by a tap: the sheet's text as it is then, and the box as it is then."""
    text = text_of(data)
    job, _ = opened(text)
    edit = data.get("edit")
    if not isinstance(edit, dict):
        raise Question("'edit' is missing")
    made = change_for(job, edit)
    after = made.text if made.text is not None else edited(job, made.change)
    return after_edit(after, made.box or str(data.get("box") or ""), data)


def after_edit(after: str, name: str, data: dict[str, Any]) -> dict[str, Any]:
    job, faults = opened(after)
    found: dict[str, Any] = {
        "sheet": after,
        "title": job.title,
        "faults": [fault_data(fault) for fault in faults],
        "view": None,
    }
    if name:
        box = next((box for box in job.boxes if box.name.casefold() == name.casefold()), None)
        if box is not None:
            found["view"] = box_view(job, box, book_for(job, edition_of(job, data)), len(faults))
    return found


# ---- what fits, remedies -------------------------------------------------------------------------------------------


def answer_fits(data: dict[str, Any]) -> dict[str, Any]:
    job, _ = opened(text_of(data))
    book = book_for(job, edition_of(job, data))
    place = text_of(data, "box")
    what = data.get("what")
    found = [how_many(job, place, what, book)] if isinstance(what, str) and what.strip() else fits(job, place, book)
    return {"box": place, "edition": edition_json(book), "more": [fit_data(fit) for fit in found], "caution": CAUTION}


def fit_data(fit: Fit) -> dict[str, Any]:
    return {"what": fit.what, "certain": fit.certain, "possible": fit.possible, "text": fit.text}


def answer_remedies(data: dict[str, Any]) -> dict[str, Any]:
    """Every remedy of one box, each with a picture of before and after."""
    job, _ = opened(text_of(data))
    stock = stock_of(data)
    trial = Trial(job, book_for(job, edition_of(job, data)))
    box = job.box(text_of(data, "box"))
    passes = trial.reports[box.name].verdict is Verdict.PASSES
    found = [] if passes else remedies(trial, box, stock)
    nothing = None if passes or found else why_nothing(trial, box, stock)
    answer = box_json(trial, box.name, found, nothing, first_fact(trial, box), stock)
    for row, remedy in zip(answer["remedies"], found, strict=True):
        after = trial.after(remedy.change)[box.name]
        before = trial.reports[box.name]
        if before.fill_findings and after.fill_findings:
            drawing = before_and_after(before.fill_findings[0], after.fill_findings[0], remedy.what)
            row["picture"] = {"svg": svg(drawing, "auto"), "alt": drawing.description}
    return answer


def answer_apply(data: dict[str, Any]) -> dict[str, Any]:
    """The sheet with a remedy made: the one chosen for a box, or the whole plan."""
    job, _ = opened(text_of(data))
    stock = stock_of(data)
    book = book_for(job, edition_of(job, data))
    name = data.get("box")
    if isinstance(name, str) and name:
        box = job.box(name)
        found = remedies(Trial(job, book), box, stock)
        chosen = data.get("choose", 1)
        if not isinstance(chosen, int) or not 1 <= chosen <= len(found):
            raise Question(f"there is no remedy number {chosen}; the list has {len(found)}")
        return after_edit(edited(job, found[chosen - 1].change), box.name, data)
    made = plan(job, book, stock, limits_of(data), solver=False)
    return after_edit(edited(job, made.change), "", data)


def limits_of(data: dict[str, Any]) -> Limits:
    given = data.get("limits")
    given = given if isinstance(given, dict) else {}
    kinds = given.get("most_kinds")
    try:
        margin = Decimal(str(given.get("margin", "0") or "0"))
    except InvalidOperation:
        raise Question("'margin' is a number of in3") from None
    return Limits(
        bool(given.get("no_plaster")),
        bool(given.get("only_in_stock")),
        kinds if isinstance(kinds, int) and not isinstance(kinds, bool) and kinds >= 0 else None,
        str(given.get("spare", "") or ""),
        margin if margin.is_finite() and margin >= 0 else Decimal(0),
    )


def answer_plan(data: dict[str, Any]) -> dict[str, Any]:
    job, _ = opened(text_of(data))
    made = plan(
        job,
        book_for(job, edition_of(job, data)),
        stock_of(data),
        limits_of(data),
        solver=bool(data.get("solver", True)),
        seconds=20,
    )
    return plan_json(made)


def answer_takeoff(data: dict[str, Any]) -> dict[str, Any]:
    job, _ = opened(text_of(data))
    return takeoff_json(job, takeoff(job, stock_of(data)))


def answer_editions(data: dict[str, Any]) -> dict[str, Any]:
    """Every box's verdict under every edition, side by side."""
    job, _ = opened(text_of(data))
    columns = {}
    for year in OFFERED:
        book = book_for(job, year)
        columns[year] = {box.name: box_row(box) for box in box_reports(job, book)}
    return {
        "editions": [
            {"year": year, "provisional": offered.provisional, "note": offered.note}
            for year, offered in OFFERED.items()
        ],
        "boxes": [
            {
                "name": box.name,
                "at": box.description,
                "by_edition": {str(year): columns[year][box.name] for year in OFFERED},
            }
            for box in job.boxes
        ],
        "caution": CAUTION,
    }


def answer_against(data: dict[str, Any]) -> dict[str, Any]:
    job, _ = opened(text_of(data))
    then = data.get("against")
    if not isinstance(then, int) or then not in OFFERED:
        raise Question("'against' is a year: one of " + ", ".join(map(str, OFFERED)))
    return reexamined_json(reexamine(job, stock_of(data), edition_of(job, data), then, solver=False))


# ---- rules, map, words ---------------------------------------------------------------------------------------------


def answer_rule(data: dict[str, Any]) -> dict[str, Any]:
    name = text_of(data, "name")
    if name in READINGS:
        reading = READINGS[name]
        return {
            "name": name,
            "title": name,
            "says": [reading.asks],
            "why": "",
            "choices": reading.choices,
            "cautious": reading.cautious,
        }
    if name == "box-fill":
        name = "box-fill-conductors"
    year = data.get("edition")
    found = explain(name, year if isinstance(year, int) and year in OFFERED else None)
    return {
        "name": found.rule.name,
        "title": found.rule.title,
        "says": found.rule.says,
        "why": found.rule.why,
        "editions": [
            {"since": change.since, "text": change.text, "confidence": change.confidence} for change in found.changes
        ],
        "example": {
            "edition": found.example_edition,
            "sheet": found.example,
            "lines": [line_json(line) for line in found.lines],
        },
        "sources": list(found.sources),
        "caution": CAUTION,
    }


def answer_rules(data: dict[str, Any]) -> dict[str, Any]:
    return {
        "rules": [{"name": rule.name, "title": rule.title} for rule in RULES.values()],
        "readings": [
            {"name": reading.name, "asks": reading.asks, "choices": reading.choices}
            for reading in READINGS.values()
            if reading.is_open and reading.judged
        ],
    }


def answer_map(data: dict[str, Any]) -> dict[str, Any]:
    job, _ = opened(text_of(data))
    drawing = job_map(check(job, edition_of(job, data)))
    return {"svg": svg(drawing, "auto"), "alt": drawing.description, "title": drawing.title}


def answer_words(data: dict[str, Any]) -> dict[str, Any]:
    """What the page offers to tap: boxes, cables, devices, clamps, editions."""
    rows = CodeBook(NEWEST_COMPARED)["box_room.standard"]["rows"]
    return {
        "boxes": [{"line": f"{row['shape']} {row['size']}", "volume": number(Decimal(row["volume"]))} for row in rows],
        "cables": list(COMMON),
        "old_cables": ["14/2 old", "12/2 old", "14/2 ac", "12/2 mc"],
        "sizes": ["14", "12", "10"],
        "devices": ["switch", "3-way switch", "receptacle", "gfci receptacle", "dimmer", "timer"],
        "clamps": ["inside", "outside", "tabs", "none", "?"],
        "editions": [{"year": year, "provisional": offered.provisional} for year, offered in OFFERED.items()],
        "newest": NEWEST_COMPARED,
        "caution": CAUTION,
    }


# ---- packet and workbooks ------------------------------------------------------------------------------------------


def answer_packet(data: dict[str, Any]) -> dict[str, Any]:
    from ampleroom.packet import fingerprint, packet

    job, _ = opened(text_of(data))
    year = edition_of(job, data)
    report = check(job, year)
    mended = bought = None
    if data.get("stock"):
        stock = stock_of(data)
        mended, bought = plan(job, report.book, stock, solver=False), takeoff(job, stock)
    photos = {
        str(name): [base64.b64decode(photo) for photo in found if isinstance(photo, str)]
        for name, found in (data.get("photos") or {}).items()
        if isinstance(found, list)
    }
    pdf = packet(
        report,
        paper="a4" if data.get("paper") == "a4" else "us-letter",
        plan=mended,
        takeoff=bought,
        photos=photos,
        only_failing=bool(data.get("only_failing")),
    )
    return {
        "pdf": base64.b64encode(pdf).decode("ascii"),
        "fingerprint": fingerprint(job),
        "name": f"{job.title or 'job'}.pdf",
    }


def answer_workbook(data: dict[str, Any]) -> dict[str, Any]:
    from ampleroom.sheets.writing import workbook

    job, _ = opened(text_of(data))
    return {
        "xlsx": base64.b64encode(workbook(job, check(job, edition_of(job, data)))).decode("ascii"),
        "name": f"{job.title or 'job'}.xlsx",
    }


def answer_import(data: dict[str, Any]) -> dict[str, Any]:
    """A file brought in: a sheet's text as it is, a workbook turned into one."""
    from ampleroom.job import sheet_from_bytes, write_job

    name = text_of(data, "name")
    try:
        content = base64.b64decode(text_of(data, "content"), validate=True)
    except ValueError:
        raise Question("'content' is not base64") from None
    if name.lower().endswith((".xlsx", ".xls", ".ods", ".csv")):
        from ampleroom.sheets.reading import job_from_tables, read_tables

        return {"sheet": write_job(job_from_tables(read_tables(content, name), name))}
    return {"sheet": sheet_from_bytes(content, name).text.replace("\r\n", "\n").removeprefix("\ufeff")}


ACTIONS: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
    "job": answer_job,
    "box": answer_box,
    "edit": answer_edit,
    "fits": answer_fits,
    "remedies": answer_remedies,
    "apply": answer_apply,
    "plan": answer_plan,
    "takeoff": answer_takeoff,
    "editions": answer_editions,
    "against": answer_against,
    "rule": answer_rule,
    "rules": answer_rules,
    "map": answer_map,
    "words": answer_words,
    "packet": answer_packet,
    "workbook": answer_workbook,
    "import": answer_import,
}


def answer(action: str, data: dict[str, Any]) -> dict[str, Any]:
    """The answer to one question; what a person can put right comes back as ``error``, never as a traceback."""
    if action not in ACTIONS:
        return {"error": f"no question {action!r}", "kind": "question"}
    try:
        return ACTIONS[action](data)
    except SheetFaults as trouble:
        faults = [{**fault_data(fault), "file": fault.file} for fault in trouble.faults]
        return {"error": f"{len(faults)} lines cannot be read", "kind": "faults", "faults": faults}
    except AmpleroomError as trouble:
        return {"error": str(trouble), "kind": "question"}


def answer_json(action: str, text: str) -> str:
    """The same between texts of JSON, for the browser's Python."""
    import json

    return json.dumps(answer(action, json.loads(text)), ensure_ascii=False)
