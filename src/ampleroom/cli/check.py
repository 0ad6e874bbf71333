"""``check``: the whole job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ampleroom.check import check
from ampleroom.cli.common import STATUS, add_edition, add_report_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_report
from ampleroom.record import Record

if TYPE_CHECKING:
    import argparse


class Options(Record):
    """What was asked, by the names the parser has for it."""

    sheet: str | None = None
    all: bool = False
    edition: int | None = None
    json: bool = False
    form: int = 2


def parser() -> argparse.ArgumentParser:
    """The options of ``check``."""
    command = command_parser(
        "check",
        (
            "Check every box and raceway of a job. What fails comes first, each with how much it is over, then "
            "the facts to check."
        ),
        (
            "  ampleroom check boathouse.job\n"
            "  ampleroom check boathouse.job --edition 2017\n"
            "  ampleroom check boathouse.job --json"
        ),
    )
    add_sheet(command)
    command.add_argument(
        "--all", action="store_true", help="code sections, all facts to check, cautions and disputed points in full"
    )
    add_edition(command)
    add_report_json(command)
    return command


def plainly(words: list[str]) -> Options | None:
    """What was asked where no more was typed than a sheet, ``--all`` and ``--json``; None: the parser reads it. Loading
    the parser takes a tenth of a cold check.
    """
    sheets = [word for word in words if not word.startswith("-")]
    flags = [word for word in words if word.startswith("-")]
    if len(sheets) > 1 or not {*flags} <= {"--all", "--json"}:
        return None
    return Options(sheets[0] if sheets else None, "--all" in flags, json="--json" in flags)


def run(options: argparse.Namespace | Options) -> int:
    """Check the whole job and print the report; the exit status is that of its verdict."""
    report = check(job_of(options.sheet), options.edition)
    if options.json:
        print_json(report.json_by_subject(options.form))
    else:
        write_report(report, Paper(), options.all)
    return STATUS[report.verdict]
