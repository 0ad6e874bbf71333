"""``map``: the places and runs of a job as a picture."""

from __future__ import annotations

import argparse

from ampleroom.check import check
from ampleroom.cli.common import add_edition, add_force, add_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import printable
from ampleroom.cli.pictures import add_theme, save_picture
from ampleroom.pictures.job_map import job_map


def parser() -> argparse.ArgumentParser:
    """The options of ``map``."""
    command = command_parser(
        "map",
        "Draw the job map: panels, boxes and the runs between them, each box with its verdict.",
        "  ampleroom map boathouse.job --to map.svg\n  ampleroom map boathouse.job --to map.dxf",
    )
    add_sheet(command)
    command.add_argument("--to", metavar="FILE", default="map.svg", help="where to write it: .svg or .dxf (map.svg)")
    add_theme(command)
    add_force(command)
    add_edition(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Write the job map to a file and tell what it shows; the exit status, 0."""
    report = check(job_of(options.sheet), options.edition)
    drawing = job_map(report)
    path = save_picture(drawing, options.to, options.theme, options.force)
    if options.json:
        print_json(
            {
                "schema": "ampleroom-picture/1",
                "file": str(path),
                "title": drawing.title,
                "description": drawing.description,
            }
        )
    else:
        print(printable(f"{path} is written: {drawing.description}"))
    return 0
