"""What the page asks, answered from a sheet's text: the same functions on the server and in the browser's Python.

Every answer is plain data, the JSON of ``--json`` where there is one. Nothing is kept between calls but the last few sheets
as they were read, so that a question after a tap need not read the sheet again.
"""

from __future__ import annotations

import base64
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from typing import Any

from ampleroom.check import book_for, box_reports, check, check_box
from ampleroom.editions import NEWEST_COMPARED, OFFERED, READINGS, CodeBook
from ampleroom.errors import AmpleroomError, NameUnknown, SheetFaults
from ampleroom.explain import explain, explanation_json, reading_json, rules_json
from ampleroom.fits import Fit, fits, how_many
from ampleroom.fits import trial as tried_with
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
from ampleroom.remedy.plan import Limits, Plan, plan, reexamine
from ampleroom.remedy.present import box_json, plan_json, reexamined_json, takeoff_json
from ampleroom.remedy.remedy import Remedy
from ampleroom.remedy.takeoff import takeoff
from ampleroom.remedy.trial import Trial
from ampleroom.report import CAUTION, Report, edition_json
from ampleroom.rules import RULES
from ampleroom.rules.space import direction
from ampleroom.web.edits import change_for
from ampleroom.worksheet import BoxReport, Verdict

LARGEST_SHEET = 4_000_000
"""Letters of a sheet the page works on; larger ones are for the command line."""
USUAL_SHEET = 60_000
"""Some 400 boxes: as read, about 1 MB of memory."""
WORKBOOKS = (".xlsx", ".xls", ".ods")
SECONDS = 20.0
"""How long the solver may take, where there is one."""
FILE = "sheet.job"
"""The name of every sheet here: it has none of its own."""


class Question(AmpleroomError):
    """A question the engine cannot answer as it was put."""


def opened(text: str) -> tuple[Job, tuple[Fault, ...]]:
    """A sheet read, with its faults; the last ones are kept as read: many of a usual size, a few large ones."""
    if len(text) > LARGEST_SHEET:
        raise Question(
            f"the sheet has {len(text)} letters; the page takes up to {LARGEST_SHEET}. Use the command line for it"
        )
    return usual_sheet(text) if len(text) <= USUAL_SHEET else large_sheet(text)


def read(text: str) -> tuple[Job, tuple[Fault, ...]]:
    job, faults = read_with_faults(Sheet(text.replace("\r\n", "\n"), FILE), beside=nothing_beside)
    return job, tuple(faults)


usual_sheet = lru_cache(maxsize=128)(read)
large_sheet = lru_cache(maxsize=6)(read)


def whole(text: str) -> Job:
    """A sheet of which every line can be read: what is handed on may not leave out what nobody could read."""
    job, faults = opened(text)
    if faults:
        raise SheetFaults(FILE, faults)
    return job


def nothing_beside(name: str) -> str:
    raise KeyError(name)


def edition_of(job: Job, data: dict[str, Any]) -> int:
    """The edition asked for, the sheet's, or the newest compared one; the answer says which."""
    asked = data.get("edition")
    if asked is not None:
        return offered_year(asked)
    return job.edition if job.edition is not None else NEWEST_COMPARED


def offered_year(year: Any) -> int:
    if not isinstance(year, int) or isinstance(year, bool):
        raise Question("'edition' is a year")
    return CodeBook(year).year  # refuses one that is not offered


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
    try:
        return stock_from_text(text)
    except RecursionError:
        raise Question("the stock file is nested too deep to be read") from None


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


def answer_check(data: dict[str, Any]) -> dict[str, Any]:
    """What ``check --json`` prints; a sheet of which not every line can be read is refused, as there."""
    job = whole(text_of(data))
    return check(job, edition_of(job, data)).to_json()


def answer_show(data: dict[str, Any]) -> dict[str, Any]:
    """What ``show BOX --json`` prints."""
    job = whole(text_of(data))
    report = check(job, edition_of(job, data))
    return report.box_alone_json(report.box(text_of(data, "box")))


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
    if edit["do"] != "set-text":
        refuse_new_faults(text, after)
    return after_edit(after, made.box or str(data.get("box") or ""), data)


def refuse_new_faults(before: str, after: str) -> None:
    """A tap never leaves a line that cannot be read; what somebody types may."""
    known = {fault.message for fault in opened(before)[1]}
    job, faults = opened(after)
    new = next((fault for fault in faults if fault.message not in known), None)
    if new is not None and job.boxes:
        hint = f"; {new.hint}" if new.hint else ""
        raise Question(f"line {new.line} could not be read any more: {new.message}{hint}")


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
    """How many more of each common cable, or of ``what``, would still go in; for one, the box as it would be then."""
    job, _ = opened(text_of(data))
    book = book_for(job, edition_of(job, data))
    name, *sides = text_of(data, "box").split("/")
    place = "/".join([job.box(name).name, *sides])
    what = data.get("what")
    if not isinstance(what, str) or not what.strip():
        found = fits(job, place, book)
        return {**fits_head(job, book, place), "more": [fit_data(fit) for fit in found], "caution": CAUTION}
    what = " ".join(what.split())
    tried = tried_with(job, place, what, book)
    return {
        **Report(job, book, (tried.report,)).to_json(),
        **fits_head(job, book, place),
        "fits": tried.verdict.word,
        "what": what,
        "more": [fit_data(how_many(job, place, what, book))],
    }


def fits_head(job: Job, book: CodeBook, place: str) -> dict[str, Any]:
    return {
        "schema": "ampleroom-fits/1",
        "job": {"title": job.title, "file": job.file},
        "edition": edition_json(book),
        "box": place,
    }


def fit_data(fit: Fit) -> dict[str, Any]:
    return {"what": fit.what, "certain": fit.certain, "possible": fit.possible, "text": fit.text}


@dataclass(frozen=True, slots=True)
class Mending:
    """One box with the remedies that are offered for it, in the order of their numbers."""

    trial: Trial
    box: Box
    stock: Stock
    passes: bool
    found: list[Remedy]


def mending(data: dict[str, Any]) -> Mending:
    job, _ = opened(text_of(data))
    limits = limits_of(data)
    stock = stock_of(data)
    stock = stock.only_in_stock() if limits.only_in_stock else stock
    trial = Trial(job, book_for(job, edition_of(job, data)), limits.spare)
    box = job.box(text_of(data, "box"))
    passes = trial.reports[box.name].verdict is Verdict.PASSES
    found = [] if passes else remedies(trial, box, stock, limits.margin)
    if limits.no_plaster:
        found = [remedy for remedy in found if remedy.disturbance.word != "plaster"]
    return Mending(trial, box, stock, passes, found)


def answer_remedies(data: dict[str, Any]) -> dict[str, Any]:
    """Every remedy of one box, each with a picture of before and after."""
    made = mending(data)
    trial, box = made.trial, made.box
    nothing = None if made.passes or made.found else why_nothing(trial, box, made.stock)
    answer = box_json(trial, box.name, made.found, nothing, first_fact(trial, box), made.stock)
    for row, remedy in zip(answer["remedies"], made.found, strict=True):
        after = trial.after(remedy.change)[box.name]
        before = trial.reports[box.name]
        if before.fill_findings and after.fill_findings:
            drawing = before_and_after(before.fill_findings[0], after.fill_findings[0], remedy.what)
            row["picture"] = {"svg": svg(drawing, "auto"), "alt": drawing.description}
    return answer


def answer_apply(data: dict[str, Any]) -> dict[str, Any]:
    """The sheet with a remedy made: the one chosen for a box, or the whole plan."""
    if data.get("box"):
        made = mending(data)
        chosen = data.get("choose", 1)
        if not isinstance(chosen, int) or isinstance(chosen, bool) or not 1 <= chosen <= len(made.found):
            raise Question(f"there is no remedy number {chosen}; the list has {len(made.found)}")
        return after_edit(edited(made.trial.job, made.found[chosen - 1].change), made.box.name, data)
    planned = plan_of(data)
    return after_edit(edited(planned.job, planned.change), "", data)


def limits_of(data: dict[str, Any]) -> Limits:
    given = data.get("limits")
    given = given if isinstance(given, dict) else {}
    kinds = given.get("most_kinds")
    if kinds is not None and (not isinstance(kinds, int) or isinstance(kinds, bool) or kinds < 0):
        raise Question("'most_kinds' is how many kinds of box at most: 0 or more")
    try:
        margin = Decimal(str(given.get("margin") or "0"))
    except InvalidOperation:
        raise Question("'margin' is a number of in3") from None
    if not margin.is_finite() or not 0 <= margin < 1000:
        raise Question("'margin' is out of reach; a number of in3 such as 2.25")
    return Limits(
        bool(given.get("no_plaster")),
        bool(given.get("only_in_stock")),
        kinds,
        str(given.get("spare") or ""),
        margin,
    )


def plan_of(data: dict[str, Any]) -> Plan:
    """The plan for the whole job; shown and made alike, so that what is made is what was shown."""
    job, _ = opened(text_of(data))
    book = book_for(job, edition_of(job, data))
    return plan(job, book, stock_of(data), limits_of(data), solver=bool(data.get("solver", True)), seconds=SECONDS)


def answer_plan(data: dict[str, Any]) -> dict[str, Any]:
    return plan_json(plan_of(data))


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
    if then is None:
        raise Question("'against' is a year: one of " + ", ".join(map(str, OFFERED)))
    then = offered_year(then)
    now, solver = edition_of(job, data), bool(data.get("solver", True))
    found = reexamine(job, stock_of(data), now, then, limits_of(data), solver=solver, seconds=SECONDS)
    return reexamined_json(found)


# ---- rules, map, words ---------------------------------------------------------------------------------------------


def answer_rule(data: dict[str, Any]) -> dict[str, Any]:
    """A rule or a disputed point in plain words; the latter in the form of a rule too, for the page."""
    name = text_of(data, "name").lower()
    if name in READINGS:
        found = reading_json(READINGS[name])
        return {
            "schema": "ampleroom-rule/1",
            "reading": found,
            **found,
            "title": name,
            "says": [found["asks"]],
            "why": "",
            "caution": CAUTION,
        }
    if name == "box-fill":
        name = "box-fill-conductors"
    if name not in RULES:
        raise NameUnknown("rule or disputed point", name, [*RULES, *READINGS])
    year = data.get("edition")
    return explanation_json(explain(name, None if year is None else offered_year(year)))


def answer_rules(data: dict[str, Any]) -> dict[str, Any]:
    """All rules, and every disputed point."""
    return rules_json()


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

    job = whole(text_of(data))
    year = edition_of(job, data)
    report = check(job, year)
    mended = bought = None
    if data.get("stock"):
        stock = stock_of(data)
        solver = bool(data.get("solver", True))
        mended, bought = plan(job, report.book, stock, solver=solver, seconds=SECONDS), takeoff(job, stock)
    pdf = packet(
        report,
        paper="a4" if data.get("paper") == "a4" else "us-letter",
        plan=mended,
        takeoff=bought,
        photos=photos_of(data),
        only_failing=bool(data.get("only_failing")),
    )
    return {
        "pdf": base64.b64encode(pdf).decode("ascii"),
        "fingerprint": fingerprint(job),
        "name": f"{job.title or 'job'}.pdf",
    }


def photos_of(data: dict[str, Any]) -> dict[str, list[bytes]]:
    """The photographs of each box, as the page keeps them: encoded by itself, in base64."""
    given = data.get("photos")
    if given is None:
        return {}
    if not isinstance(given, dict) or not all(isinstance(found, list) for found in given.values()):
        raise Question("'photos' is a list of photographs for each box")
    return {name: [from_base64(photo, "photos") for photo in found] for name, found in given.items()}


def from_base64(text: Any, key: str) -> bytes:
    try:
        return base64.b64decode(text, validate=True)
    except (ValueError, TypeError):
        raise Question(f"{key!r} is not base64") from None


def answer_workbook(data: dict[str, Any]) -> dict[str, Any]:
    from ampleroom.sheets.writing import workbook

    job = whole(text_of(data))
    return {
        "xlsx": base64.b64encode(workbook(job, check(job, edition_of(job, data)))).decode("ascii"),
        "name": f"{job.title or 'job'}.xlsx",
    }


def answer_import(data: dict[str, Any]) -> dict[str, Any]:
    """A file brought in: a sheet's text as it is, a workbook turned into one."""
    from ampleroom.job import sheet_from_bytes, write_job

    name = text_of(data, "name")
    content = from_base64(text_of(data, "content"), "content")
    if name.lower().endswith((*WORKBOOKS, ".csv")):
        from ampleroom.sheets.reading import job_from_tables, read_tables

        return {"sheet": write_job(job_from_tables(read_tables(content, name), name))}
    return {"sheet": sheet_from_bytes(content, name).text.replace("\r\n", "\n").removeprefix("\ufeff")}


ACTIONS: dict[str, Callable[[dict[str, Any]], dict[str, Any]]] = {
    "job": answer_job,
    "check": answer_check,
    "show": answer_show,
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
