"""``size``: the smallest raceway or pull box that will do."""

from __future__ import annotations

import argparse

from ampleroom.check import book_for
from ampleroom.cli.common import add_edition, add_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_caution
from ampleroom.editions import CodeBook
from ampleroom.errors import AmpleroomError
from ampleroom.job.model import Job
from ampleroom.job.unknown import UNKNOWN
from ampleroom.report import edition_json
from ampleroom.rules.box.judge import place_report
from ampleroom.rules.kinds import headline_of
from ampleroom.sizing.conduit_body import is_conduit_body
from ampleroom.sizing.pull_box import (
    arrangement_json,
    arrangement_lines,
    is_pull_box,
    proved_text,
    smallest_pull_box,
)
from ampleroom.sizing.raceway import (
    SizeOfKind,
    is_raceway,
    more_text,
    report_of,
    size_json,
    size_text,
    sizes,
    subject_named,
)
from ampleroom.words import CAUTION, subject_message
from ampleroom.worksheet import SubjectReport


def parser() -> argparse.ArgumentParser:
    """The command's options."""
    command = command_parser(
        "size",
        "The smallest raceway for what lies in it, of its own kind and of every other, the next one up, and "
        "the room left. Of a wireway or gutter: the smallest square one. Of a pull box: the "
        "smallest by the distances for 4 AWG and larger, and where each raceway comes in. Of a conduit body: its "
        "trade size, or for 4 AWG and larger what it has to be marked for. Of a circuit: the thinnest wire, and its "
        "breaker.",
        "  ampleroom size R1 boathouse.job\n  ampleroom size R1 boathouse.job --edition 2017 --json\n"
        "  ampleroom size PB1 boathouse.job\n  ampleroom size 'circuit 5' boathouse.job",
    )
    command.add_argument(
        "name",
        metavar="NAME",
        help="the name of a raceway, wireway, gutter, conduit body or circuit, or of a box with 4 AWG and larger",
    )
    add_sheet(command)
    add_edition(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Print the answer; 0, or 3 where no raceway of its kind does for certain."""
    job = job_of(options.sheet)
    book = book_for(job, options.edition)
    if (body := job.box_or_none(options.name)) is not None and is_conduit_body(job, body.name):
        return of_conduit_body(job, body.name, book, options.json)
    if is_pull_box(job, options.name, book):
        return of_pull_box(job, job.box(options.name).name, book, options.json)
    if any(each.name.casefold() == options.name.casefold() for each in job.wireways):
        return of_wireway(job, options.name, book, options.json)
    if (box := job.box_or_none(options.name)) is not None:
        raise AmpleroomError(
            f"{box.name} goes by box fill; size is for raceways, wireways and pull boxes. Larger boxes that pass: "
            f"ampleroom remedy {box.name}"
        )
    if not is_raceway(job, options.name) and job.circuits:
        return of_circuit(job, options.name, book, options.json)
    subject = subject_named(job, options.name)
    report = report_of(subject, job, book)
    ranked = [] if subject.is_sleeve or not subject.runs else sizes(subject, job, book)
    written = None if subject.raceway.size is UNKNOWN else str(subject.raceway.size)
    return write_sizes(job, subject.name, (subject.raceway.kind, written), report, ranked, book, options.json)


def of_wireway(job: Job, name: str, book: CodeBook, as_json: bool) -> int:
    """The same for a wireway or gutter; its rules are loaded for one alone."""
    from ampleroom.job.lines.wireways import section_text
    from ampleroom.sizing import wireway

    subject = wireway.subject_named(job, name)
    report = wireway.report_of(subject, job, book)
    written = None if UNKNOWN in subject.wireway.inside else section_text(subject.wireway)
    ranked = wireway.sizes(subject, job, book)
    return write_sizes(job, subject.name, (subject.wireway.form, written), report, ranked, book, as_json)


def of_conduit_body(job: Job, name: str, book: CodeBook, as_json: bool) -> int:
    """The same for a conduit body: its trade size, or with 4 AWG and larger what it has to be."""
    from ampleroom.sizing import conduit_body

    report = place_report(job.box(name), job.graph, book)
    if not conduit_body.is_large(job, name, book):
        base = conduit_body.base_of(job, job.box(name))
        assert base is not None
        ranked = conduit_body.sizes(job, name, book)
        written = (base.raceway or base.shape, base.trade_size)
        return write_sizes(job, name, written, report, ranked, book, as_json)
    needed = conduit_body.needed_body(job, name, book)
    if as_json:
        print_json(
            {
                "schema": "ampleroom-size/1",
                "job": {"title": job.title, "file": job.file},
                "edition": edition_json(book),
                "box": name,
                "verdict": report.verdict.word,
                **conduit_body.needed_json(needed),
                "caution": CAUTION,
            }
        )
        return 0
    paper = Paper()
    paper.ends(f"What {name} has to be", book.title, style="bold")
    for note in book.notes:
        paper.line(note, indent=2)
    paper.line(f"As written: {subject_message(report, headline_of(report.kind))}", indent=2, hang=4)
    for label, measure in conduit_body.needed_lines(needed):
        paper.ends(label, measure, indent=2)
    write_caution(paper)
    return 0


def of_circuit(job: Job, name: str, book: CodeBook, as_json: bool) -> int:
    """The thinnest wire of a circuit and its breaker; its rules are loaded for one alone. 0, or 3 where one of its
    wires has none that does for certain.
    """
    from ampleroom.sizing import circuit

    if not circuit.is_circuit(job, name) and job.raceways:
        subject_named(job, name)  # tells the names of raceways
    subject = circuit.subject_named(job, name)
    report = circuit.report_of(subject, job, book)
    size = circuit.size_of(subject, job, book)
    status = 0 if size.wires and all(each.certain for each in size.wires) else 3
    if as_json:
        print_json(
            {
                "schema": "ampleroom-size/1",
                "job": {"title": job.title, "file": job.file},
                "edition": edition_json(book),
                "circuit": subject.circuit.name,
                "verdict": report.verdict.word,
                **circuit.size_json(size),
                "caution": CAUTION,
            }
        )
        return status
    paper = Paper()
    paper.ends(f"Wire and breaker for {subject.name}", book.title, style="bold")
    for note in book.notes:
        paper.line(note, indent=2)
    paper.line(f"As written: {subject_message(report, headline_of(report.kind))}", indent=2, hang=4)
    for each in size.wires:
        paper.ends(f"Thinnest wire, {each.wires}", each.text, indent=2)
    paper.ends("Largest breaker", size.largest.text, indent=2)
    if size.smallest is not None:
        paper.ends("Smallest breaker for its load", size.smallest.text, indent=2)
    for conductor in size.electrodes:
        paper.ends(f"Thinnest conductor to its electrode, {conductor.electrode}", conductor.text, indent=2)
    write_caution(paper)
    return status


def write_sizes(
    job: Job,
    name: str,
    written: tuple[str, str | None],
    report: SubjectReport,
    ranked: list[SizeOfKind],
    book: CodeBook,
    as_json: bool,
) -> int:
    """Print what was found of a raceway or wireway; ``written``: its kind and its size in the sheet."""
    kind, size = written
    status = 0 if ranked and ranked[0].certain else 3
    if as_json:
        print_json(
            {
                "schema": "ampleroom-size/1",
                "job": {"title": job.title, "file": job.file},
                "edition": edition_json(book),
                "raceway": name,
                "written": {"kind": kind, "size": size, "verdict": report.verdict.word},
                "sizes": [size_json(each, book) for each in ranked],
                "caution": CAUTION,
            }
        )
        return status
    paper = Paper()
    what = "the wires in " if report.kind != "raceway" else ""
    paper.ends(f"The smallest {report.kind} for {what}{name}", book.title, style="bold")
    for note in book.notes:
        paper.line(note, indent=2)
    paper.line(f"As written: {subject_message(report, headline_of(report.kind))}", indent=2, hang=4)
    for rank, each in enumerate(ranked):
        paper.ends(each.kind, size_text(each), indent=2)
        if rank == 0:
            for line in more_text(each):
                paper.line(line, indent=4, hang=6)
    write_caution(paper)
    return status


def of_pull_box(job: Job, name: str, book: CodeBook, as_json: bool) -> int:
    """The same for a pull box."""
    smallest = smallest_pull_box(job, name, book)
    report = place_report(job.box(name), job.graph, book)
    if as_json:
        print_json(
            {
                "schema": "ampleroom-size/1",
                "job": {"title": job.title, "file": job.file},
                "edition": edition_json(book),
                "box": name,
                "verdict": report.verdict.word,
                "as_written": arrangement_json(smallest.as_written, smallest.names),
                "other_walls": arrangement_json(smallest.chosen, smallest.names) if smallest.chosen else None,
                "caution": CAUTION,
            }
        )
        return 0
    paper = Paper()
    paper.ends(f"The smallest box for {name}", book.title, style="bold")
    for note in book.notes:
        paper.line(note, indent=2)
    paper.line(f"As written: {subject_message(report, headline_of(report.kind))}", indent=2, hang=4)
    for label, measure in arrangement_lines(smallest.as_written, smallest.names):
        paper.ends(label, measure, indent=2)
    paper.line(proved_text(smallest.as_written, smallest.has_rows), indent=2, hang=4)
    if smallest.chosen:
        paper.line("With the raceways in other walls:", indent=2)
        for label, measure in arrangement_lines(smallest.chosen, smallest.names):
            paper.ends(label, measure, indent=4)
        paper.line(proved_text(smallest.chosen), indent=4, hang=6)
    paper.line("Add room for locknuts and bushings, which these distances leave out.", indent=2, hang=4)
    write_caution(paper)
    return 0
