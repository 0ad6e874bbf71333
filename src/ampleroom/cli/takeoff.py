"""``takeoff``: the shopping list of a job."""

from __future__ import annotations

import argparse
import csv
import io
import sys
from pathlib import Path

from ampleroom.cli.common import add_json, add_sheet, command_parser, job_of, only_sheet, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.remedy import stock_for
from ampleroom.cli.remedy_text import minutes_text
from ampleroom.cli.text import write_caution
from ampleroom.job.model import Job
from ampleroom.quantities import plural
from ampleroom.remedy.present import takeoff_json, takeoff_line_json
from ampleroom.remedy.stock import money
from ampleroom.remedy.takeoff import Takeoff, TakeoffLine, plain, takeoff
from ampleroom.sheets.apostrophe import guarded


def parser() -> argparse.ArgumentParser:
    """The options of ``takeoff``."""
    command = command_parser(
        "takeoff",
        (
            "What to buy for a job: boxes, rings, connectors, devices, cable with waste and whole coils, raceway, "
            "and the labor."
        ),
        (
            "  ampleroom takeoff boathouse.job\n"
            "  ampleroom takeoff boathouse.job --csv > list.csv\n"
            "  ampleroom takeoff boathouse.job --stock ours.toml --json"
        ),
    )
    add_sheet(command)
    command.add_argument("--stock", metavar="FILE", help="parts and prices; stock.toml beside the sheet if left out")
    command.add_argument("--csv", action="store_true", help="as comma-separated values")
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Print what to buy, as text, JSON or CSV; the exit status, 0."""
    job = job_of(options.sheet)
    path = (
        Path(options.sheet)
        if options.sheet and options.sheet != "-"
        else (only_sheet() if not options.sheet else Path("standard input"))
    )
    counted = takeoff(job, stock_for(options.stock, path))
    if options.json:
        print_json(takeoff_json(job, counted))
    elif options.csv:
        sys.stdout.write(takeoff_csv(counted))
    else:
        write_takeoff(job, counted, Paper())
    return 0


def write_takeoff(job: Job, counted: Takeoff, paper: Paper) -> None:
    """Print the takeoff by group with prices and their total, what has no price, and what to check first."""
    paper.ends(job.title or job.file, "Takeoff", style="bold")
    group = ""
    for line in counted.lines:
        if line.group != group:
            group = line.group
            paper.line()
            paper.line(group.capitalize(), style="bold")
        price = money(line.price, counted.currency) if line.price is not None else "no price"
        paper.ends(line_text(line, counted.currency), price, indent=2)
        if line.note and line.group != "labor":  # the minutes again
            paper.line(line.note, indent=6, style="dim")
    paper.line()
    paper.ends("Total", money(counted.total, counted.currency), style="bold")
    if counted.unpriced:
        lines = plural(counted.unpriced, "line has", "lines have")
        paper.line(
            (
                f"{lines} no price and {'is' if counted.unpriced == 1 else 'are'} not in the total: add prices to "
                "the stock file."
            ),
            indent=2,
        )
    for missing in counted.missing:
        paper.line(f"Check first: {missing}.", indent=2, hang=4)
    write_caution(paper)


def line_text(line: TakeoffLine, currency: str = "USD") -> str:
    """``3 x switch``, ``205 ft of #6 THHN``, ``7 lengths of 10 ft, EMT 1``; with the price of one."""
    quantity = plain(line.quantity)
    each = f" at {money(line.each, currency)}" if line.each is not None else ""
    if line.group == "labor":
        return f"{minutes_text(line.quantity * 60)}{each} an hour" if each else minutes_text(line.quantity * 60)
    if not line.unit:
        return f"{quantity} x {line.item}{each}"
    if line.unit in ("ft", "h"):
        return f"{quantity} {line.unit} of {line.item}{each}"
    kind, rest = line.unit.split(" ", 1)
    return f"{plural(line.quantity, kind)} {rest}, {line.item}{each}"


def takeoff_csv(counted: Takeoff) -> str:
    """Text that begins like a formula gets an apostrophe, so that no spreadsheet runs it."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(["group", "what", "number", "unit", "each", "price", "note"])
    for line in counted.lines:
        row = takeoff_line_json(line)
        table.writerow(
            [
                guarded(str(row[key]) if row[key] is not None else "")
                for key in ("group", "what", "number", "unit", "each", "price", "note")
            ]
        )
    for missing in counted.missing:
        table.writerow(["check first", guarded(missing), "", "", "", "", ""])
    return out.getvalue()
