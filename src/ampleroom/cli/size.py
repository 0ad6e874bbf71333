"""``size``: the smallest raceway that will do."""

from __future__ import annotations

import argparse

from ampleroom.check import book_for
from ampleroom.cli.common import add_edition, add_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_caution
from ampleroom.job.unknown import UNKNOWN
from ampleroom.report import edition_json
from ampleroom.rules.kinds import headline_of
from ampleroom.sizing.raceway import more_text, report_of, size_json, size_text, sizes, subject_named
from ampleroom.words import CAUTION, subject_message


def parser() -> argparse.ArgumentParser:
    """The command's options."""
    command = command_parser(
        "size",
        "The smallest raceway for what lies in it, of its own kind and of every other, the next one up, and the room left.",
        "  ampleroom size R1 boathouse.job\n  ampleroom size R1 boathouse.job --edition 2017 --json",
    )
    command.add_argument("name", metavar="NAME", help="the raceway's name")
    add_sheet(command)
    add_edition(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Print the answer; 0, or 3 where no raceway of its kind does for certain."""
    job = job_of(options.sheet)
    book = book_for(job, options.edition)
    subject = subject_named(job, options.name)
    report = report_of(subject, job, book)
    found = [] if subject.is_sleeve or not subject.runs else sizes(subject, job, book)
    status = 0 if found and found[0].certain else 3
    written = None if subject.raceway.size is UNKNOWN else subject.raceway.size
    if options.json:
        print_json(
            {
                "schema": "ampleroom-size/1",
                "job": {"title": job.title, "file": job.file},
                "edition": edition_json(book),
                "raceway": subject.raceway.name,
                "written": {"kind": subject.raceway.kind, "size": written, "verdict": report.verdict.word},
                "sizes": [size_json(each) for each in found],
                "caution": CAUTION,
            }
        )
        return status
    paper = Paper()
    paper.ends(f"The smallest raceway for {subject.raceway.name}", book.title, style="bold")
    for note in book.notes:
        paper.line(note, indent=2)
    paper.line(f"As written: {subject_message(report, headline_of(report.kind))}", indent=2, hang=4)
    for number, each in enumerate(found):
        paper.ends(each.kind, size_text(each), indent=2)
        if number == 0:
            for line in more_text(each):
                paper.line(line, indent=4, hang=6)
    write_caution(paper)
    return status
