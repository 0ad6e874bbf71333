"""``check``: the whole job."""

from __future__ import annotations

import argparse

from ampleroom.check import check
from ampleroom.cli.common import STATUS, add_edition, add_report_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_report


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "check",
        "Check every box of a job. Failing boxes come first, each with how much it is over, then the facts to check.",
        "  ampleroom check boathouse.job\n  ampleroom check boathouse.job --edition 2017\n  ampleroom check boathouse.job --json",
    )
    add_sheet(found)
    found.add_argument(
        "--all", action="store_true", help="code sections, all facts to check, cautions and disputed points in full"
    )
    add_edition(found)
    add_report_json(found)
    return found


def run(options: argparse.Namespace) -> int:
    report = check(job_of(options.sheet), options.edition)
    if options.json:
        print_json(report.json_by_subject(options.form))
    else:
        write_report(report, Paper(), options.all)
    return STATUS[report.verdict]
