"""The tabs of a workbook, or a CSV file, as rows of text, each cell with its place."""

from __future__ import annotations

import csv
import datetime
import io
from pathlib import Path
from typing import Any

from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.record import Record
from ampleroom.sheets.apostrophe import unguarded

MOST_BYTES = 60_000_000
MOST_ROWS = 200_000


class Cell(Record):
    """One cell: its tab and the tab's rank, its row and column from 0; printed as a spreadsheet names it."""

    tab: str
    rank: int
    row: int
    column: int

    def __str__(self) -> str:
        return f"tab {self.tab}, cell {letter(self.column)}{self.row + 1}"

    @property
    def place(self) -> tuple[int, int, int]:
        """Tab, row and column, to sort by."""
        return self.rank, self.row, self.column


class Table:
    """The rows of one tab as text, header first; ``row`` and ``first`` are where the header begins, from 0."""

    __slots__ = ("cells", "dates", "first", "name", "rank", "row")

    def __init__(self, name: str, cells: list[list[str]], row: int = 0, first: int = 0) -> None:
        self.name = name
        self.cells = cells
        self.row = row
        self.first = first
        self.dates: set[tuple[int, int]] = set()
        """The cells, by row and column from the header, that the workbook holds as dates."""
        self.rank = 0
        """Its place among the tabs of the workbook, from 0."""

    def cell(self, row: int = 0, place: int = 0) -> Cell:
        """So many rows under the header and columns after the first."""
        return Cell(self.name, self.rank, self.row + row, self.first + place)


def read_tables(data: bytes, name: str) -> list[Table]:
    """The tabs of a workbook (.xlsx, .xls, .ods), or the one of a CSV file."""
    if len(data) > MOST_BYTES:
        raise FileTrouble(
            f"{name} is {len(data) / 1e6:.0f} MB; the limit is {MOST_BYTES / 1e6:.0f} MB. Is it the right file?"
        )
    if name.lower().endswith(".csv"):
        return [csv_table(data, name)]
    try:
        from python_calamine import CalamineWorkbook
    except ImportError:
        raise AmpleroomError(
            "workbooks need python-calamine: ./run convert brings it, or pip install 'ampleroom[sheets]'"
        ) from None
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        return [sheet_table(book.get_sheet_by_name(tab), tab) for tab in book.sheet_names]
    except (FileTrouble, MemoryError, KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:  # its errors differ by the file's kind, and its panic is no Exception
        raise FileTrouble(f"{name} cannot be read as a workbook: {error}") from None


def sheet_table(sheet: Any, tab: str) -> Table:
    """One tab of a workbook as python-calamine reads it. Raises ``FileTrouble`` for more than ``MOST_ROWS`` rows."""
    start = sheet.start or (0, 0)
    rows = sheet.to_python(skip_empty_area=True)
    if len(rows) > MOST_ROWS:
        raise FileTrouble(f"tab {tab} has {len(rows)} rows; the limit is {MOST_ROWS}")
    table = Table(tab, [], *start)
    for row_number, row in enumerate(rows):
        table.cells.append([cell_text(value) for value in row])
        for column, value in enumerate(row):
            if isinstance(value, datetime.date | datetime.time | datetime.timedelta):
                table.dates.add((row_number, column))
    return table


def csv_table(data: bytes, name: str) -> Table:
    """A CSV file, its cells apart by comma, semicolon or tab. Raises ``FileTrouble`` where it is no UTF-8 or no CSV."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise FileTrouble(f"{name} is not UTF-8: byte {error.start + 1}. Save it as CSV UTF-8 and try again") from None
    sample = text[:4000]
    comma = max(",;\t", key=sample.count)
    try:
        rows = [
            [unguarded(cell.strip()).strip() for cell in row]
            for row in csv.reader(io.StringIO(text, newline=""), delimiter=comma)
        ]
    except csv.Error as error:
        raise FileTrouble(f"{name} cannot be read as CSV: {error}") from None
    if len(rows) > MOST_ROWS:
        raise FileTrouble(f"{name} has {len(rows)} rows; the limit is {MOST_ROWS}")
    return Table(Path(name).stem, rows)


def cell_text(value: Any) -> str:
    """A cell as a person sees it: 38, not 38.0."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else ""
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value).strip()


def letter(column: int) -> str:
    """0 -> A, 25 -> Z, 26 -> AA."""
    text = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text
