"""From a workbook or CSV files to a sheet: every row a line, every fault at its tab and cell."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from ampleroom.errors import SheetFaults, nearest
from ampleroom.job.beside import Beside, beside_in, file_bytes
from ampleroom.job.faults import Fault
from ampleroom.job.model import Job
from ampleroom.job.reader import read_with_faults
from ampleroom.job.sheet import TOKEN, Sheet, words_of
from ampleroom.sheets.own_names import IGNORE, OwnNames, remembered
from ampleroom.sheets.remarks import SIGN
from ampleroom.sheets.tables import MOST_BYTES, Cell, Table, read_tables
from ampleroom.sheets.tabs import BY_NAME, TABS, Column, Tab, parted


class Lines:
    """The sheet being made, and for every line the cell each of its words came from."""

    __slots__ = ("cells", "texts")

    def __init__(self) -> None:
        self.texts: list[str] = []
        self.cells: list[list[Cell]] = []

    def add(self, pieces: Iterable[tuple[str, Cell]], indent: str = "") -> None:
        """A line of several pieces, each from a cell."""
        texts, cells = [], []
        for text, cell in pieces:
            texts.append(harmless(text))
            cells += [cell] * len(words_of(texts[-1]))
        self.texts.append(indent + " ".join(texts))
        self.cells.append(cells)

    def remark(self, text: str) -> None:
        """A line for people only, for every line of a cell."""
        for words in filter(None, (" ".join(piece.split()) for piece in text.splitlines())):
            self.texts.append(f"{SIGN} {words}")
            self.cells.append([])

    def gap(self) -> None:
        """An empty line, where there is none yet."""
        if self.texts and self.texts[-1]:
            self.texts.append("")
            self.cells.append([])

    def cell(self, line: int, word: int) -> Cell | None:
        """The cell a word of a line came from; lines from 1, words from 0. None for a line that came from no cell."""
        if not 0 < line <= len(self.cells) or not self.cells[line - 1]:
            return None
        cells = self.cells[line - 1]
        return cells[min(word, len(cells) - 1)]


def harmless(text: str) -> str:
    """A cell's text on one line, and no part of it a remark."""
    text = " ".join(text.split())
    return re.sub(r"(?:^|(?<=\s))#(?![\d?])", "no.", text)


class Import:
    """A workbook on its way to a sheet; ``names``: the user's own names of columns."""

    __slots__ = ("faults", "file", "lines", "names")

    def __init__(self, file: str, names: OwnNames) -> None:
        self.file = file
        self.names = names
        self.lines = Lines()
        self.faults: list[Fault] = []

    def fault(self, cell: Cell, message: str, hint: str, source: str = "") -> None:
        """Adds a fault: what is wrong in a cell, what to write instead, and what stands there."""
        self.faults.append(Fault(f"{self.file}, {cell}", cell.row + 1, 1, 2, message, hint, source, cell.place))

    def said_on(self, line: int) -> str:
        """``in tab Boxes, cell A2``, for what the reader of the sheet calls a line."""
        cell = self.lines.cell(line, 1)
        return f"in {cell}" if cell else ""

    def read(self, tables: list[Table]) -> None:
        """Makes the lines of all tables, in the order a sheet has them."""
        by_tab: dict[str, list[Table]] = {}
        for rank, table in enumerate(tables):
            table.rank = rank
            tab = self.tab_of(table)
            if tab is not None:
                by_tab.setdefault(tab.name, []).append(table)
        for tab in TABS:
            for table in by_tab.get(tab.name, []):
                self.lines.gap()
                self.read_table(tab, table)

    def tab_of(self, table: Table) -> Tab | None:
        """Which of our tabs a table is: by its name, its columns, or a word of its name; notes and results are passed
        over.
        """
        if not table.cells or table.name.casefold() in SKIPPED:
            return None
        named = BY_NAME.get(table.name.casefold())
        if named:
            return named
        head = {self.names.get(cell.casefold(), cell).casefold() for cell in table.cells[0] if cell}
        fitting = sorted(TABS, key=lambda tab: -len(head & {name.casefold() for name in tab.names}))
        best = fitting[0]
        first = best.columns[0].name.casefold()
        if first in head and len(head & {name.casefold() for name in best.names}) >= 2:
            return best
        in_name = [BY_NAME[word] for word in re.findall(r"\w+", table.name.casefold()) if word in BY_NAME]
        if in_name:
            return in_name[-1]
        cell = table.cell()
        close = nearest(table.name, [tab.name for tab in TABS])
        hint = (
            f"did you mean {close[0]!r}?"
            if close
            else "write one of: " + ", ".join(tab.name for tab in TABS[:4]) + " ..."
        )
        self.fault(cell, f"unknown tab {table.name!r}", hint, " | ".join(table.cells[0]))
        return None

    def read_table(self, tab: Tab, table: Table) -> None:
        """Makes the lines of one table; an empty row makes none."""
        places = self.columns_of(tab, table)
        for row_index, row in enumerate(table.cells[1:], 1):
            if not any(row):
                continue
            cells: dict[str, tuple[str, Cell]] = {}
            for place, column in places.items():
                text = row[place] if place < len(row) else ""
                cell = table.cell(row_index, place)
                if (row_index, place) in table.dates:
                    self.fault(
                        cell,
                        f"the spreadsheet took this for a date: {text}",
                        "format the column as text and write it again",
                        text,
                    )
                    continue
                if text:
                    cells[column.name] = (text, cell)
            if cells:
                self.add_row(tab, cells, table.cell(row_index))

    def columns_of(self, tab: Tab, table: Table) -> dict[int, Column]:
        """Which of our columns each column of the table is."""
        known = {column.name.casefold(): column for column in tab.columns}
        columns: dict[int, Column] = {}
        for place, heading in enumerate(table.cells[0]):
            name = self.names.get(heading.strip().casefold(), heading.strip())
            if not name or name == IGNORE:
                continue
            column = known.get(name.casefold())
            cell = table.cell(0, place)
            if column is None:
                close = nearest(name, tab.names)
                ours = close[0] if close else tab.names[0]
                self.fault(
                    cell,
                    f"unknown column {heading!r} in tab {tab.name}",
                    f"say which one it is: --column '{heading}={ours}', or skip it: --column '{heading}={IGNORE}'",
                    heading,
                )
            elif column in columns.values():
                self.fault(cell, f"column {column.name} is there twice", "keep one of them", heading)
            else:
                columns[place] = column
        first = tab.columns[0]
        if first not in columns.values() and any(any(row) for row in table.cells[1:]):
            cell = table.cell()
            self.fault(
                cell,
                f"tab {tab.name} has no column {first.name!r}",
                "the columns are " + ", ".join(tab.names),
                " | ".join(table.cells[0]),
            )
        return columns

    def add_row(self, tab: Tab, cells: dict[str, tuple[str, Cell]], row: Cell) -> None:
        """A row as a line, and the lines under it."""
        if tab.columns[0].name not in cells:
            cells_text = " | ".join(text for text, _ in cells.values())
            self.fault(row, f"the row has no {tab.columns[0].name}", "fill it in, or empty the row", cells_text)
            return
        word = tab.word
        if cells.get("Word", ("", row))[0] == SIGN:
            self.lines.remark(cells.get("What", ("", row))[0])
            return
        if tab.name == "Runs" and "/" not in cells.get("Cable or wires", ("", row))[0].split(",")[0]:
            word = "wires"
        pieces: list[tuple[str, Cell]] = [(word, cells[tab.columns[0].name][1])] if word else []
        under: list[tuple[str, Cell]] = []
        remark = ""
        for column in tab.columns:
            if column.name not in cells:
                continue
            text, cell = cells[column.name]
            if column.remarks:
                remark = text
            elif column.lines:
                under += [(f"{column.before} {piece}".strip(), cell) for piece in parted(text)]
            elif column.flag:
                if self.is_yes(text, cell):
                    pieces.append((column.flag, cell))
            else:
                pieces.append((in_line(column, text), cell))
        if tab.word in WITH_LINES:
            self.lines.gap()
        self.lines.remark(remark)
        self.lines.add(pieces)
        for piece in under:
            self.lines.add([piece], "  ")

    def is_yes(self, text: str, cell: Cell) -> bool:
        """Whether a cell says yes; what is neither yes nor no is a fault."""
        if text.casefold() in ("yes", "y", "x", "true", "1"):
            return True
        if text.casefold() not in ("no", "n", "false", "0", "-"):
            self.fault(cell, f"{text!r} is neither yes nor no", "write yes, or leave it empty", text)
        return False


WITH_LINES = {"box", "kind"}
"""Heads with lines under them: an empty line before each makes the sheet easy on the eye."""
SKIPPED = {"read me", "readme", "notes", "results", "worksheets", "lists"}


def in_line(column: Column, text: str) -> str:
    """A cell as it stands in a line: with the word before it and the unit after it, where the cell has none."""
    if column.after and re.fullmatch(r"(-?|\d+-)[\d.,/?]+", text):
        joined = "" if column.after.startswith("-") else " "
        text = f"{text}{joined}{column.after}"
    if column.name == "Length" and re.fullmatch(r"[\d.]+|\?", text):
        text = f"{text} ft"
    return f"{column.before} {text}".strip()


def job_from_tables(tables: list[Table], file: str, names: OwnNames | None = None, beside: Beside | None = None) -> Job:
    """The job in a workbook's tabs, or every fault by tab and cell."""
    made = Import(file, names or {})
    made.read(tables)
    text = "\n".join(made.lines.texts).rstrip("\n") + "\n"
    sheet = Sheet(text, Path(file).stem + ".job")
    job, faults = read_with_faults(sheet, beside)
    made.faults += [located(fault, made) if fault.file == sheet.file else fault for fault in faults]
    if made.faults:
        raise SheetFaults(file, made.faults)
    return job


def located(fault: Fault, made: Import) -> Fault:
    """A fault of the sheet made from a workbook, at the cell its words came from."""
    raw = made.lines.texts[fault.line - 1] if 0 < fault.line <= len(made.lines.texts) else ""
    starts = [match.start() for match in TOKEN.finditer(raw)]
    word = sum(start < fault.column for start in starts) - 1
    cell = made.lines.cell(fault.line, max(word, 0))
    file, place = (f"{made.file}, {cell}", cell.place) if cell else (made.file, (0,))
    message = re.sub(r"\bon line (\d+)", lambda match: made.said_on(int(match[1])) or match[0], fault.message)
    return Fault(file, fault.line, fault.column, fault.end, message, fault.hint, fault.source, place)


def read_workbooks(paths: list[Path], names: OwnNames | None = None) -> Job:
    """The job in one workbook, or in several CSV files together."""
    tables: list[Table] = []
    for path in paths:
        tables += read_tables(file_bytes(path, MOST_BYTES), path.name)
    folder = paths[0].parent
    return job_from_tables(tables, paths[0].name, {**remembered(folder), **(names or {})}, beside_in(folder))


__all__ = ["Cell", "Table", "job_from_tables", "read_tables", "read_workbooks"]
