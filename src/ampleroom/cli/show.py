"""``show``: one box, or anything else that is judged, line by line."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from ampleroom.check import check
from ampleroom.cli.common import (
    STATUS,
    add_edition,
    add_force,
    add_report_json,
    add_sheet,
    command_parser,
    job_of,
    print_json,
)
from ampleroom.cli.paper import Paper
from ampleroom.cli.pictures import add_theme, save_picture
from ampleroom.cli.text import write_subject
from ampleroom.errors import AmpleroomError
from ampleroom.fits import room_for
from ampleroom.pictures.drawing import Drawing
from ampleroom.pictures.kinds import beside, rooms
from ampleroom.pictures.room import room_picture
from ampleroom.report import Report
from ampleroom.worksheet import SubjectReport

if TYPE_CHECKING:
    from ampleroom.pictures.along import Along
    from ampleroom.rules.panel.directory import Directory


def parser() -> argparse.ArgumentParser:
    """The options of ``show``."""
    command = command_parser(
        "show",
        "The whole worksheet of one box, raceway or circuit: every line with its reason and its code section.",
        (
            "  ampleroom show J1 boathouse.job\n"
            "  ampleroom show J1 --edition 2023\n"
            "  ampleroom show 3 boathouse.job\n"
            "  ampleroom show J1 boathouse.job --picture J1.svg"
        ),
    )
    command.add_argument(
        "subject", metavar="NAME", help="the name of a box, a conduit body, a raceway, a wireway, a circuit or a panel"
    )
    add_sheet(command)
    command.add_argument(
        "--picture",
        metavar="FILE",
        help="also draw what enters a box, a raceway cut across, a circuit's tree, a panel's directory: .svg or .dxf",
    )
    add_theme(command)
    add_force(command)
    add_edition(command)
    add_report_json(command)
    return command


def whole_picture(report: Report, subject: SubjectReport) -> Drawing:
    """The pictures of its kind, such as what enters a box, and under them the room of each worksheet.

    Raises ``AmpleroomError`` where there is nothing to draw.
    """
    parts = [*beside(report, subject), *(room_picture(finding) for finding in rooms(subject))]
    if not parts:
        raise AmpleroomError(f"there is no picture of a {subject.kind}, and nothing of {subject.name} takes up room")
    description = " ".join(part.description for part in parts)
    wide, high = max(part.wide for part in parts), sum(part.high for part in parts)
    whole = Drawing(wide, high, f"{subject.kind.capitalize()} {subject.name}", description)
    y = 0.0
    for part in parts:
        whole.put(part, 0, y)
        y += part.high
    return whole


def path(report: Report, subject: SubjectReport) -> Along | None:
    """A circuit place by place. Its rules are loaded for circuits alone."""
    if subject.kind != "circuit":
        return None
    from ampleroom.pictures.along import path_of

    return path_of(report.job, subject.name, report.book)


def path_as_json(report: Report, subject: SubjectReport) -> dict[str, object] | None:
    """The path of a circuit as JSON; None where no run leads from a panel."""
    from ampleroom.pictures.along import path_json

    outward = path(report, subject)
    return path_json(outward) if outward is not None else None


def directory(report: Report, subject: SubjectReport) -> Directory | None:
    """The directory of a panel. Loaded for panels alone."""
    if subject.kind != "panel":
        return None
    from ampleroom.rules.panel.directory import directory_of

    return directory_of(report.job, subject.name)


def run(options: argparse.Namespace) -> int:
    """Print the worksheet of one subject, and draw it if told to; the exit status is that of its verdict."""
    report = check(job_of(options.sheet), options.edition)
    subject = report.subject(options.subject)
    if options.picture:
        save_picture(whole_picture(report, subject), options.picture, options.theme, options.force)
    if options.json:
        data = report.subject_alone_json(subject, options.form)
        print_json({**data, "path": path_as_json(report, subject)} if subject.kind == "circuit" else data)
    else:
        paper = Paper()
        rows = directory(report, subject)
        write_subject(subject, report, paper, room_for(report.job, subject, report.book), path(report, subject), rows)
    return STATUS[subject.verdict]
