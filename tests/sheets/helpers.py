"""What the tests of spreadsheets share: workbooks as text tables, and workbooks made by hand."""

from __future__ import annotations

import io
import zipfile
from typing import Any
from xml.sax.saxutils import escape

import pytest

from ampleroom import SheetFaults, read_job
from ampleroom.job.model import Job
from ampleroom.sheets.reading import job_from_tables, read_tables
from ampleroom.sheets.writing import workbook


def job_of(data: bytes, name: str = "w.xlsx", **names: str) -> Job:
    return job_from_tables(read_tables(data, name), name, {own.casefold(): ours for own, ours in names.items()})


def there_and_back(job: Job) -> Job:
    return job_of(workbook(job))


def opened(data: bytes) -> Any:
    """A workbook opened by a second library."""
    openpyxl = pytest.importorskip("openpyxl")
    return openpyxl.load_workbook(io.BytesIO(data))


def made(**tabs: Any) -> bytes:
    """A workbook made by that library, as a person would fill one in: tab by tab, row by row."""
    openpyxl = pytest.importorskip("openpyxl")
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in tabs.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def faults(data: bytes, name: str = "w.xlsx") -> list[tuple[str, str, str]]:
    """Where each fault is, what it is and what to do."""
    with pytest.raises(SheetFaults) as told:
        job_of(data, name)
    return [(fault.file.removeprefix(f"{name}, "), fault.message, fault.hint) for fault in told.value.faults]


def ods(*tables: tuple[str, list[list[str]]]) -> bytes:
    """An open document of text cells, by its format's own description."""
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?><office:document-content '
        'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
        'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.3">'
        "<office:body><office:spreadsheet>"
    ]
    for name, rows in tables:
        parts.append(f'<table:table table:name="{escape(name)}">')
        for row in rows:
            cells = "".join(
                f'<table:table-cell office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'
                for cell in row
            )
            parts.append(f"<table:table-row>{cells}</table:table-row>")
        parts.append("</table:table>")
    parts.append("</office:spreadsheet></office:body></office:document-content>")
    out = io.BytesIO()
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    with zipfile.ZipFile(out, "w") as file:
        file.writestr("mimetype", kind)
        file.writestr("content.xml", "".join(parts))
        file.writestr(
            "META-INF/manifest.xml",
            '<?xml version="1.0"?><manifest:manifest '
            'xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"><manifest:file-entry '
            f'manifest:full-path="/" manifest:media-type="{kind}"/><manifest:file-entry '
            'manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>',
        )
    return out.getvalue()


SMALL = """job Cider press
edition 2020
panel P
box A at the vat
  square 4 x 1-1/2
  plaster ring 3.5 in3
  clamps inside
  receptacle #12 for the pump
run P > A 12/2 nm-b 38 ft
"""


def small() -> Job:
    return read_job(SMALL)
