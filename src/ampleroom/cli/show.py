"""``show``: one box, line by line."""

from __future__ import annotations

import argparse

from ampleroom.check import check
from ampleroom.cli.common import STATUS, add_edition, add_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_box


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "show",
        "The whole worksheet of one box: every count with its size, its reason and its citation.",
        "  ampleroom show J1 boathouse.job\n  ampleroom show J1 --edition 2023",
    )
    found.add_argument("box", metavar="BOX", help="the box's name")
    add_sheet(found)
    add_edition(found)
    add_json(found)
    return found


def run(options: argparse.Namespace) -> int:
    report = check(job_of(options.sheet), options.edition)
    box = report.box(options.box)
    if options.json:
        whole = report.to_json()
        whole["boxes"] = [report.box_json(box)]
        whole["verdict"] = box.verdict.word
        whole["counts"] = {verdict: int(verdict == box.verdict.word) for verdict in whole["counts"]}
        whole["readings"] = [
            reading
            for reading in whole["readings"]
            if any(s.partition("/")[0] == box.name for s in reading["mattered_for"])
        ]
        print_json(whole)
    else:
        write_box(box, report, Paper())
    return STATUS[box.verdict]
