"""What several commands share: their options, the sheet they work on, exit statuses, JSON."""

from __future__ import annotations

import argparse
import textwrap
from functools import partial
from pathlib import Path

from ampleroom.cli import print_json
from ampleroom.cli.paper import width_of_terminal
from ampleroom.editions import OFFERED
from ampleroom.errors import FileTrouble
from ampleroom.job.model import Job
from ampleroom.job.reader import read_sheet
from ampleroom.job.sheet import LARGEST, sheet_from_bytes, sheet_from_file
from ampleroom.worksheet import Verdict

STATUS = {Verdict.PASSES: 0, Verdict.ADVICE: 0, Verdict.FAILS: 1, Verdict.OPEN: 3}


def command_parser(name: str, says: str, examples: str) -> argparse.ArgumentParser:
    return argparse.ArgumentParser(
        prog=f"ampleroom {name}",
        description=textwrap.fill(says, width_of_terminal()),
        epilog="examples:\n" + examples,
        formatter_class=partial(argparse.RawDescriptionHelpFormatter, width=width_of_terminal() - 2),
    )


def add_sheet(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "sheet",
        nargs="?",
        metavar="SHEET",
        help="the job sheet; the only .job file in this folder if left out; - for standard input",
    )


def add_edition(parser: argparse.ArgumentParser) -> None:
    years = ", ".join(map(str, OFFERED))
    parser.add_argument(
        "--edition", type=int, metavar="YEAR", help=f"judge by another edition than the sheet's: {years}"
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="the answer as JSON (docs/json.md)")


def add_report_json(parser: argparse.ArgumentParser) -> None:
    """``--json``, and for one release the form of the release before."""
    add_json(parser)
    parser.add_argument(
        "--form",
        type=int,
        choices=(1, 2),
        default=2,
        help="with --json: 2, or 1 for that of the release before (boxes alone); 1 goes with the next release",
    )


def job_of(sheet: str | None) -> Job:
    """The job in a sheet named on the command line, or in the only one of this folder."""
    if sheet == "-":
        import sys

        return read_sheet(sheet_from_bytes(sys.stdin.buffer.read(LARGEST + 1), "standard input", Path.cwd()))
    return read_sheet(sheet_from_file(Path(sheet) if sheet else only_sheet()))


def only_sheet() -> Path:
    found = sorted(Path.cwd().glob("*.job"))
    if len(found) == 1:
        return found[0]
    if found:
        raise FileTrouble("which sheet? There are " + ", ".join(path.name for path in found[:8]))
    raise FileTrouble("no sheet was named and there is no .job file in this folder; 'new' writes a starter sheet")


__all__ = [
    "STATUS",
    "add_edition",
    "add_json",
    "add_report_json",
    "add_sheet",
    "command_parser",
    "job_of",
    "only_sheet",
    "print_json",
]
