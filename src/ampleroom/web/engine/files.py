"""Files made of a job, and files a job is made of."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING, Any

from ampleroom.check import check
from ampleroom.remedy.plan import plan
from ampleroom.remedy.takeoff import takeoff
from ampleroom.web.engine.request import SECONDS, Question, edition_of, from_base64, solver_of, stock_of, text_of, whole

TABLES = (".xlsx", ".xls", ".ods", ".csv")
"""Files that are tables; every other one is taken for a sheet."""

if TYPE_CHECKING:
    from ampleroom.packet.build import Paper


def answer_packet(data: dict[str, Any]) -> dict[str, Any]:
    """The inspection packet as a PDF in base64, its fingerprint and a file name. A sheet with faults is refused."""
    from ampleroom.packet import fingerprint, packet

    job = whole(text_of(data))
    year = edition_of(job, data)
    report = check(job, year)
    mended = bought = None
    if data.get("stock"):
        stock = stock_of(data)
        solver = solver_of(data)
        mended, bought = plan(job, report.book, stock, solver=solver, seconds=SECONDS), takeoff(job, stock)
    pdf = packet(
        report,
        paper=paper_of(data),
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


def paper_of(data: dict[str, Any]) -> Paper:
    """The paper of a packet, in the words of ``packet.build``; US letter unless A4 is asked for."""
    return "a4" if data.get("paper") == "a4" else "us-letter"


def photos_of(data: dict[str, Any]) -> dict[str, list[bytes]]:
    """The photographs of each box, as the page keeps them: encoded by itself, in base64."""
    by_box = data.get("photos")
    if by_box is None:
        return {}
    if not isinstance(by_box, dict) or not all(isinstance(shots, list) for shots in by_box.values()):
        raise Question("'photos' is a list of photographs for each box")
    return {name: [from_base64(photo, "photos") for photo in shots] for name, shots in by_box.items()}


def answer_workbook(data: dict[str, Any]) -> dict[str, Any]:
    """The job as a workbook (xlsx in base64) and a file name; with verdicts where an edition is known."""
    from ampleroom.sheets.writing import workbook

    job = whole(text_of(data))
    is_judged = job.edition is not None or data.get("edition") is not None  # else the job alone, as ``convert`` does
    report = check(job, edition_of(job, data)) if is_judged else None
    return {
        "xlsx": base64.b64encode(workbook(job, report)).decode("ascii"),
        "name": f"{job.title or 'job'}.xlsx",
    }


def answer_import(data: dict[str, Any]) -> dict[str, Any]:
    """A file brought in: a sheet's text as it is, a workbook turned into one."""
    from ampleroom.job import sheet_from_bytes, write_job

    name = text_of(data, "name")
    content = from_base64(text_of(data, "content"), "content")
    if name.lower().endswith(TABLES):
        from ampleroom.sheets.reading import job_from_tables, read_tables

        job = job_from_tables(read_tables(content, name), name)
        return {"sheet": job.sheet.text if job.sheet else write_job(job)}  # its own text, remarks and all
    return {"sheet": sheet_from_bytes(content, name).text.replace("\r\n", "\n").removeprefix("\ufeff")}
