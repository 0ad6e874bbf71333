"""``fits``: what else would still go into a box or a raceway."""

from __future__ import annotations

import argparse
from types import ModuleType

from ampleroom.check import book_for, check_box
from ampleroom.cli.common import STATUS, add_edition, add_json, add_sheet, command_parser, job_of, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_caution, write_subject
from ampleroom.editions import CodeBook
from ampleroom.fits import Fit, fits, how_many, is_passed, trial
from ampleroom.job import Job
from ampleroom.report import Report, edition_json
from ampleroom.rules.kinds import headline_of
from ampleroom.sizing import raceway
from ampleroom.sizing.raceway import is_raceway
from ampleroom.words import CAUTION, FITS_OR_NOT, subject_message


def parser() -> argparse.ArgumentParser:
    """The options of ``fits``."""
    command = command_parser(
        "fits",
        (
            "How many more of each common cable or conductor a box or a raceway still has room for. With --cable: "
            "yes or no, and the new worksheet."
        ),
        (
            "  ampleroom fits J1 boathouse.job\n"
            "  ampleroom fits J1 boathouse.job --cable 12/2 nm-b\n"
            "  ampleroom fits J1 --cable '3 x #12 thhn, ground #12'"
        ),
    )
    command.add_argument(
        "box",
        metavar="NAME",
        help="the name of a box, with /SIDE where a barrier divides it, of a raceway, wireway or gutter",
    )
    add_sheet(command)
    command.add_argument(
        "--cable",
        nargs="+",
        metavar="WORD",
        help="what would come in, as in a sheet: 12/2 nm-b, 2 x 14/3 mc, '3 x #12 thhn'",
    )
    add_edition(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Print how many more of each kind the box takes, or whether one more of ``--cable`` fits; the exit status."""
    job = job_of(options.sheet)
    book = book_for(job, options.edition)
    if any(each.name.casefold() == options.box.casefold() for each in job.wireways):
        from ampleroom.sizing import wireway

        return run_raceway(options, job, book, wireway)
    if is_raceway(job, options.box):
        return run_raceway(options, job, book, raceway)
    name = job.box(options.box.partition("/")[0]).name
    place = "/".join([name, *options.box.split("/")[1:]])
    if options.cable:
        addition = " ".join(options.cable)
        tried = trial(job, place, addition, book)
        report = Report(job, book, (tried.report,))
        fit = how_many(job, place, addition, book)
        if options.json:
            print_json(
                {
                    **report.to_json(),
                    "schema": "ampleroom-fits/2",
                    "box": place,
                    "fits": tried.verdict.word,
                    "what": addition,
                    "more": [fit_json(fit)],
                }
            )
        else:
            paper = Paper()
            paper.line(f"{FITS_OR_NOT[tried.verdict]}: {addition} more in {place}", style=tried.verdict.word)
            paper.line(f"{addition}{' pulled through' if is_passed(job, place) else ''}: {fit.text}", indent=2)
            paper.line()
            write_subject(tried.report, report, paper)
        return STATUS[tried.verdict]
    fitting = fits(job, place, book)
    if options.json:
        head = {
            "schema": "ampleroom-fits/2",
            "job": {"title": job.title, "file": job.file},
            "edition": edition_json(book),
            "box": place,
        }
        print_json({**head, "more": [fit_json(fit) for fit in fitting], "caution": CAUTION})
        return 0
    paper = Paper()
    paper.ends(f"What else fits in {place}", book.title, style="bold")
    for note in book.notes:
        paper.line(note, indent=2)
    if not any(fit.possible for fit in fitting):
        paper.line(f"Nothing more. {report_line(job, name, book)}", indent=2)
    for fit in fitting if any(fit.possible for fit in fitting) else ():
        paper.ends(fit.addition, fit.text, indent=2)
    if is_passed(job, place):
        paper.line(f"Pulled through {place} without a splice.", indent=2, style="dim")
    paper.line("One at a time, checked against every rule. The other end is not checked.", indent=2, style="dim")
    write_caution(paper)
    return 0


def run_raceway(options: argparse.Namespace, job: Job, book: CodeBook, sizing: ModuleType) -> int:
    """The same for a raceway, wireway or gutter; ``sizing`` is the module that judges such."""
    subject = sizing.subject_named(job, options.box)
    name = subject.name
    addition = " ".join(options.cable or ())
    fitting = sizing.fits_in(subject, job, book, (addition,) if addition else ())
    tried = sizing.report_of(sizing.with_more(subject, job, addition, 1) if addition else subject, job, book)
    report = Report(job, book, (tried,))
    if options.json:
        more = [fit_json(fit) for fit in fitting]
        if addition:
            answer = {**report.to_json(), "schema": "ampleroom-fits/2", "box": name, "fits": tried.verdict.word}
            print_json({**answer, "what": addition, "more": more})
        else:
            head = {"schema": "ampleroom-fits/2", "job": {"title": job.title, "file": job.file}}
            print_json({**head, "edition": edition_json(book), "box": name, "more": more, "caution": CAUTION})
        return STATUS[tried.verdict] if addition else 0
    paper = Paper()
    if addition:
        paper.line(f"{FITS_OR_NOT[tried.verdict]}: {addition} more in {name}", style=tried.verdict.word)
        paper.line(f"{addition}: {fitting[0].text}", indent=2)
        paper.line()
        write_subject(tried, report, paper)
        return STATUS[tried.verdict]
    paper.ends(
        f"What else could be {'pulled' if tried.kind == 'raceway' else 'laid'} into {name}", book.title, style="bold"
    )
    for note in book.notes:
        paper.line(note, indent=2)
    if not any(fit.possible for fit in fitting):
        paper.line(f"Nothing more. {subject_message(tried, headline_of(tried.kind))}", indent=2)
    for fit in fitting if any(fit.possible for fit in fitting) else ():
        paper.ends(fit.addition, fit.text, indent=2)
    paper.line(f"One kind at a time, by how full the {tried.kind} is. Its ends are not checked.", indent=2, style="dim")
    write_caution(paper)
    return 0


def report_line(job: Job, name: str, book: CodeBook) -> str:
    """The finding that stands in the way, in one line."""
    report = check_box(job, job.box(name), book)
    return subject_message(report, headline_of(report.kind))


def fit_json(fit: Fit) -> dict[str, object]:
    """One kind as JSON: how many more for certain, and at most if unknown facts allow it."""
    return {"what": fit.addition, "certain": fit.certain, "possible": fit.possible}
