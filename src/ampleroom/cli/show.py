"""``show``: one box, line by line."""

from __future__ import annotations

import argparse

from ampleroom.check import check
from ampleroom.cli.common import STATUS, add_edition, add_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.pictures import add_theme, save_picture
from ampleroom.cli.text import write_box
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.entering import box_picture
from ampleroom.pictures.room import room_picture
from ampleroom.report import Report
from ampleroom.worksheet import SubjectReport


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "show",
        "The whole worksheet of one box: every count with its size, its reason and its citation.",
        "  ampleroom show J1 boathouse.job\n  ampleroom show J1 --edition 2023\n  ampleroom show J1 boathouse.job --picture J1.svg",
    )
    found.add_argument("box", metavar="BOX", help="the box's name")
    add_sheet(found)
    found.add_argument(
        "--picture", metavar="FILE", help="write its pictures too: .svg or .dxf; the room, and what enters it beside it"
    )
    add_theme(found)
    add_edition(found)
    add_json(found)
    return found


def whole_picture(report: Report, box: SubjectReport) -> Drawing:
    """What enters the box, and under it the room of each of its spaces."""
    parts = [box_picture(report.job, report.job.box(box.name), report.book)]
    parts += [room_picture(finding) for finding in box.fill_findings]
    description = " ".join(part.description for part in parts)
    whole = Drawing(max(part.wide for part in parts), sum(part.high for part in parts), f"Box {box.name}", description)
    y = 0.0
    for part in parts:
        whole.put(part, 0, y)
        y += part.high
    return whole


def run(options: argparse.Namespace) -> int:
    report = check(job_of(options.sheet), options.edition)
    box = report.box(options.box)
    if options.picture:
        save_picture(whole_picture(report, box), options.picture, options.theme)
    if options.json:
        print_json(report.box_alone_json(box))
    else:
        write_box(box, report, Paper())
    return STATUS[box.verdict]
