"""``packet``: the PDF to hand over, and small labels."""

from __future__ import annotations

import argparse
from pathlib import Path

from ampleroom.check import book_for, check
from ampleroom.cli.common import add_edition, add_force, add_json, command_parser, job_of, only_sheet, print_json
from ampleroom.cli.paper import printable
from ampleroom.cli.remedy import done, show_progress, stock_for
from ampleroom.cli.saving import free_target, save
from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.packet import Paper, fingerprint, labels, packet
from ampleroom.remedy.plan import plan
from ampleroom.remedy.takeoff import takeoff


def parser() -> argparse.ArgumentParser:
    """The options of ``packet``."""
    command = command_parser(
        "packet",
        "Write the inspection packet as a PDF: a cover with summary and signatures, what fails and how to fix "
        "it, a card for every box with its picture and whole worksheet, the takeoff, assumptions and "
        "cautions. Screen readers can read it (PDF/UA-1).",
        "  ampleroom packet boathouse.job\n"
        "  ampleroom packet boathouse.job --only failing --paper a4 --to failing.pdf\n"
        "  ampleroom packet boathouse.job --boxes J1,S1\n"
        "  ampleroom packet boathouse.job --labels --to labels.pdf",
    )
    command.add_argument(
        "sheet", nargs="?", metavar="SHEET", help="the job sheet; the only .job file in this folder if left out"
    )
    command.add_argument("--to", metavar="FILE", help="where to write it; the sheet's name with .pdf if left out")
    command.add_argument("--paper", choices=("letter", "a4"), default="letter", help="letter or a4 (letter)")
    command.add_argument("--only", choices=("failing",), help="cards of boxes that do not pass")
    command.add_argument("--boxes", metavar="A,B", help="cards of these boxes")
    command.add_argument("--labels", action="store_true", help="labels instead: one a box, with the code of its card")
    command.add_argument(
        "--stock",
        metavar="FILE",
        help="parts and prices for remedies and takeoff; stock.toml beside the sheet if there is one",
    )
    add_force(command)
    add_edition(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Write the packet, or the labels, as a PDF; the exit status."""
    path = Path(options.sheet) if options.sheet else only_sheet()
    if options.to and Path(options.to).suffix.lower() != ".pdf":
        raise AmpleroomError(f"a packet is a PDF: --to {path.with_suffix('.pdf').name}, not {options.to}")
    to = Path(options.to) if options.to else path.with_suffix(".labels.pdf" if options.labels else ".pdf")
    free_target(to, options.force)
    job = job_of(str(path))
    report = check(job, options.edition)
    paper: Paper = "us-letter" if options.paper == "letter" else "a4"
    boxes = tuple(name.strip() for name in options.boxes.split(",") if name.strip()) if options.boxes else ()
    if options.boxes is not None and not boxes:
        raise AmpleroomError("name the boxes whose cards are wanted: --boxes J1,S1")
    if options.labels:
        pdf = labels(report, paper=paper, boxes=boxes)
    else:
        mended = bought = None
        try:
            stock = stock_for(options.stock, path)
            mended, bought = (
                plan(job, book_for(job, options.edition), stock, progress=show_progress),
                takeoff(job, stock),
            )
        except FileTrouble:
            if options.stock:
                raise
        pdf = packet(
            report,
            paper=paper,
            plan=mended,
            takeoff=bought,
            only_failing=options.only == "failing",
            boxes=boxes,
            progress=show_progress,
        )
        done()
    save(to, pdf, force=options.force)
    if options.json:
        print_json(
            {
                "schema": "ampleroom-packet/1",
                "file": str(to),
                "bytes": len(pdf),
                "fingerprint": fingerprint(job),
                "verdict": report.verdict.word,
            }
        )
    else:
        print(printable(f"{to} is written; the sheet's fingerprint is {fingerprint(job)}"))
    return 0
