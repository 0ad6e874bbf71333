"""From a job to a workbook: the template with drop-downs and notes, a job filled in, and its results. Text is always
text: nothing that begins with = is ever a formula.
"""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from ampleroom.arithmetic import Counted, Line, Unit
from ampleroom.errors import AmpleroomError
from ampleroom.job.model import Job
from ampleroom.report import Report, decimal_json
from ampleroom.sheets.apostrophe import guarded
from ampleroom.sheets.remarks import Remarks
from ampleroom.sheets.tabs import TABS, Row, Tab
from ampleroom.words import CAUTION
from ampleroom.worksheet import Verdict

EMPTY_ROWS = 400
"""Rows of a template that have drop-downs."""

NO_DATE = datetime.datetime(2000, 1, 1)
"""A workbook says this date, so that the same job gives the same bytes."""

LONGEST = 32_767
"""The most letters of a cell, by the format."""

RESULT_COLUMNS = (
    "Name",
    "At",
    "Verdict",
    "Fill",
    "Volume or allowed fill",
    "Spare",
    "Unit",
    "Kind",
    "Section",
    "Edition",
    "What was found",
)
LINE_COLUMNS = ("Name", "Part", "Line", "Count", "Each", "Sum", "Amount", "Unit", "Section", "Why", "How sure")


def workbook(job: Job | None = None, report: Report | None = None) -> bytes:
    """A workbook of a job (an empty template without one), with its results where a report is given."""
    try:
        import xlsxwriter
    except ImportError:
        raise AmpleroomError(
            "workbooks need XlsxWriter: ./run convert brings it, or pip install 'ampleroom[sheets]'"
        ) from None
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties(
        {
            "title": (job.title if job else "") or "Ampleroom job",
            "author": "Ampleroom",
            "comments": CAUTION,
            "created": NO_DATE,
        }
    )
    looks = {
        "head": book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1, "bg_color": "#E8E4DA"}),
        "text": book.add_format({"num_format": "@", "text_wrap": True, "valign": "top"}),
        "fails": book.add_format({"bold": True, "font_color": "#B3261E", "num_format": "@", "valign": "top"}),
        "number": book.add_format({"num_format": "0.00##", "valign": "top"}),
    }
    read_me(book, looks)
    remarks = Remarks(job) if job else None
    for tab in TABS:
        write_tab(book, tab, list(tab.rows(job, remarks)) if job and remarks else None, looks)
    if report is not None:
        write_results(book, report, looks)
    book.close()
    return out.getvalue()


def read_me(book: Any, looks: dict[str, Any]) -> None:
    """Add the tab that tells how to fill in the workbook."""
    sheet = book.add_worksheet("Read me")
    sheet.set_column(0, 0, 100, looks["text"])
    words = [
        "One row a box, one row a run. Fill in what you know; write ? for what is not known.",
        "Every run once: its conductors count in every box it reaches. From and To are boxes, panels, or ?.",
        "Point at a column's head for what belongs there. Words are those of a job sheet (docs/sheet.md).",
        "Then: ampleroom convert this-workbook.xlsx --to job.job, and ampleroom check job.job",
        *(f"{tab.name}: {tab.says}." for tab in TABS),
        CAUTION,
    ]
    for row, text in enumerate(words):
        sheet.write_string(row, 0, text, looks["text"])


def write_tab(book: Any, tab: Tab, filled: list[Row] | None, looks: dict[str, Any]) -> None:
    """One tab with its rows, or with room for many where there are none yet."""
    sheet = book.add_worksheet(tab.name)
    sheet.freeze_panes(1, 1)
    rows = filled or []
    last = len(rows) + (EMPTY_ROWS if filled is None else 50)
    for place, column in enumerate(tab.columns):
        sheet.set_column(place, place, column.wide, looks["text"])
        sheet.write_string(0, place, column.name, looks["head"])
        if column.note:
            sheet.write_comment(0, place, column.note, {"x_scale": 2, "font_size": 9})
        if column.choices:
            sheet.data_validation(
                1, place, last, place, {"validate": "list", "source": list(column.choices), "error_type": "warning"}
            )
    for row, cells in enumerate(rows, 1):
        for place, column in enumerate(tab.columns):
            text = cells.get(column.name, "")
            if text:
                write_text(sheet, row, place, text, looks["text"])
    if rows:
        sheet.autofilter(0, 0, len(rows), len(tab.columns) - 1)


def write_results(book: Any, report: Report, looks: dict[str, Any]) -> None:
    """Add the tabs Results, its failing rows marked and what was not judged below them, and Worksheets."""
    sheet = book.add_worksheet("Results")
    head(sheet, RESULT_COLUMNS, (10, 26, 12, 11, 11, 13, 7, 13, 16, 20, 70), looks)
    for row, cells in enumerate(result_rows(report, lambda value, _: as_number(value)), 1):
        fails = cells[2] == Verdict.FAILS.word
        put(sheet, row, cells, looks, looks["fails"] if fails else looks["text"])
    lines = book.add_worksheet("Worksheets")
    head(lines, LINE_COLUMNS, (10, 14, 34, 8, 10, 24, 12, 7, 18, 60, 14), looks)
    for row, cells in enumerate(line_rows(report), 1):
        put(lines, row, cells, looks, looks["text"])
    if report.not_judged:
        put(sheet, len(report.findings) + 1, not_judged_row(report), looks, looks["text"])
    sheet.write_string(len(report.findings) + 3, 0, CAUTION, looks["text"])


def head(sheet: Any, names: tuple[str, ...], widths: tuple[int, ...], looks: dict[str, Any]) -> None:
    """Write the column heads of a tab, set widths in characters, and freeze the first row and column."""
    sheet.freeze_panes(1, 1)
    for place, (name, wide) in enumerate(zip(names, widths, strict=True)):
        sheet.set_column(place, place, wide)
        sheet.write_string(0, place, name, looks["head"])


def put(sheet: Any, row: int, cells: list[Any], looks: dict[str, Any], text_look: Any) -> None:
    """Write one row: a float as a number, everything else as text, never as a formula."""
    for place, value in enumerate(cells):
        if isinstance(value, float):
            sheet.write_number(row, place, value, looks["number"])
        elif value:
            write_text(sheet, row, place, str(value), text_look)


def write_text(sheet: Any, row: int, place: int, text: str, look: Any) -> None:
    """Text is text, whatever it begins with; the library would drop what is too long for a cell without a word."""
    if len(text) > LONGEST:
        raise AmpleroomError(
            f"tab {sheet.get_name()}, row {row + 1} would hold {len(text)} letters in one cell, and a "
            f"workbook's cell holds {LONGEST}: keep this job as a sheet, or shorten {shortened_head(text)!r}"
        )
    sheet.write_string(row, place, text, look)


def shortened_head(text: str) -> str:
    """The first 40 characters of a text, with ``...``, to name it in a message."""
    return " ".join(text[:40].split()) + " ..."


def result_rows(report: Report, shown: Callable[[Decimal, Unit], Any]) -> list[list[Any]]:
    """One row a finding of every subject; its amounts as ``shown`` has them, in the unit beside them."""
    rows: list[list[Any]] = []
    for subject in report.subjects:
        for finding in subject.findings:
            sheet = finding.worksheet
            amounts = ["", "", "", ""]
            if sheet is not None:
                amounts = [
                    *(shown(value, sheet.unit) for value in (sheet.needed, sheet.there, sheet.margin)),
                    sheet.unit.plain,
                ]
            words = [subject.kind, finding.cite, report.book.title, finding.message]
            rows.append([finding.subject, subject.description, finding.verdict.word, *amounts, *words])
    return rows


def not_judged_row(report: Report) -> list[str]:
    """A row on the whole job: how many things in the sheet no rule judged."""
    return ["", "", Verdict.OPEN.word, "", "", "", "", "", "", report.book.title, report.not_judged_text]


def as_number(value: Decimal) -> Any:
    """A number to reckon with; what is not known is left empty."""
    return float(value) if value.is_finite() else ""


def line_rows(report: Report) -> list[list[Any]]:
    """One row a line of each worksheet that decides, and one for everything a line is made of.

    The amounts of a half, such as ``Box fill``, add up to its sum; the parts of a line have ``part of`` and its label
    there.
    """
    rows: list[list[Any]] = []
    for finding in report.findings:
        sheet = finding.worksheet
        if sheet is None:
            continue
        for title, lines in ((sheet.purpose.have, sheet.have), (sheet.purpose.need, sheet.need)):
            for line in lines:
                rows += [
                    line_row(finding.subject, f"part of {line.label}" if depth else title, part)
                    for depth, part in line.with_parts()
                ]
    return rows


def line_row(subject: str, half: str, line: Line) -> list[Any]:
    """One line of a worksheet under ``LINE_COLUMNS``."""
    return [
        subject,
        half,
        line.label,
        (decimal_json(line.count) or "?") if isinstance(line, Counted) else "",
        as_number(line.each) if isinstance(line, Counted) else "",
        line.steps,
        as_number(line.amount),
        line.unit.plain,
        line.cite,
        line.why,
        line.confidence,
    ]


def results_csv(report: Report) -> str:
    """The results as comma-separated values; text that begins like a formula gets an apostrophe."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(RESULT_COLUMNS)
    for row in result_rows(report, lambda value, unit: unit.number(value) if value.is_finite() else ""):
        table.writerow(map(guarded, row))
    if report.not_judged:
        table.writerow(not_judged_row(report))
    return out.getvalue()
