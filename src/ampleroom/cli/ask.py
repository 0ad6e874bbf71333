"""``ask``: an answer without a sheet."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ampleroom.ask import EXAMPLE, LONGEST, Answer, ask, more_note
from ampleroom.cli.common import (
    STATUS,
    add_adopted,
    add_force,
    add_json,
    adopted_of,
    command_parser,
    job_of,
    print_json,
    write_new,
)
from ampleroom.cli.paper import Paper
from ampleroom.cli.saving import locked, save_with_undo
from ampleroom.cli.settings import usual_edition
from ampleroom.cli.text import write_caution, write_cautions, write_facts, write_reminders
from ampleroom.editions.adoption import Adoption
from ampleroom.errors import AmpleroomError
from ampleroom.job import Job, Sheet
from ampleroom.job.edit import AddBox, AddRun, Step, edited
from ampleroom.job.reader import read_sheet
from ampleroom.record import replace
from ampleroom.words import BEST_CASE, WORST_CASE, capital, lowered, other_case_text, sum_text, unsure
from ampleroom.worksheet import Finding, Verdict


def parser() -> argparse.ArgumentParser:
    """The options of ``ask``."""
    command = command_parser(
        "ask",
        "Does it fit? Type one box and what is in it, with commas between: the verdict, the count, what else fits, "
        "the smallest standard box that would do, and the sheet lines to keep. Or one raceway with its wires, or one "
        "circuit: the wire and the breaker that are left out are found.",
        f"  ampleroom ask '{EXAMPLE}'\n"
        "  ampleroom ask '3 x 12/2 nm-b, clamps inside, receptacle #12' --edition 2017\n"
        "  ampleroom ask '50 A range, 42 ft, nm-b'\n"
        f"  ampleroom ask '{EXAMPLE}' --to boathouse.job\n"
        f"  ampleroom ask '{EXAMPLE}' --into boathouse.job --as J7",
    )
    command.add_argument(
        "question", nargs="+", metavar="QUESTION", help="the parts, each as in a sheet, in quotes; - for standard input"
    )
    keep = command.add_mutually_exclusive_group()
    keep.add_argument("--to", metavar="FILE", help="keep the sheet lines in a new file")
    keep.add_argument(
        "--into", metavar="FILE", help="keep the box in a sheet you have, judged by the sheet's edition; needs --as"
    )
    command.add_argument("--as", dest="name", metavar="NAME", help="with --into: what the box is called there")
    add_force(command)
    add_adopted(command)
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Answer the question, print it, and keep its sheet if told to; the exit status is the verdict's."""
    typed = " ".join(options.question)
    if typed == "-":
        typed = sys.stdin.read(LONGEST + 1)
    if bool(options.into) != bool(options.name):
        missing = "--as NAME, what the box is called there" if options.into else "--into FILE, the sheet it is kept in"
        raise AmpleroomError(f"the box was not kept: add {missing}")
    adopted = adopted_of(options.adopted)
    if options.into:
        return run_into(options, typed, adopted)
    usual = usual_edition() if options.edition is None and adopted is None else None
    answer = ask(typed, options.edition, adopted, usual)
    kept = write_new(options.to, answer.sheet, options.force) if options.to else None
    if options.json:
        print_json(answer.to_json())
    else:
        write_answer(answer, Paper(), str(kept) if kept else "")
    return STATUS[answer.verdict]


def run_into(options: argparse.Namespace, typed: str, adopted: Adoption | None) -> int:
    """Answer the question by the edition of a sheet, and keep its box there; the exit status is the verdict's."""
    path = Path(options.into)
    with locked(path) as lock:
        job = job_of(str(path))
        edition = options.edition if options.edition is not None or adopted is not None else job.edition
        answer = ask(typed, edition, adopted, usual_edition() if edition is None and adopted is None else None)
        assert job.sheet is not None  # it was read from the file
        text = with_box(job, answer, options.name)
        save_with_undo(path, text, job.sheet.text, lock)
    if options.json:
        print_json(answer.to_json())
    else:
        write_answer(answer, Paper(), f"{path} as {options.name}")
    return STATUS[answer.verdict]


def with_box(job: Job, answer: Answer, name: str) -> str:
    """The text of a sheet with the box of a question in it, under a name of its own. Raises ``AmpleroomError`` where
    the name is taken, or the question is not about one box.
    """
    asked = answer.report.job
    if len(asked.boxes) != 1 or asked.raceways or asked.wireways:
        raise AmpleroomError("only a question about one box can be kept in a sheet; keep this one with --to FILE")
    if len(name.split()) != 1 or name in ("?", "x") or set(name) & set("/>,#"):
        raise AmpleroomError(f"{name!r} cannot name a box; write one word without a slash after --as, such as J7")
    taken = next((place for place in job.places() if place.name.casefold() == name.casefold()), None)
    if taken is not None:
        raise AmpleroomError(
            f"{taken.name} is already on line {taken.at.line} of the sheet; write another name after --as"
        )
    box = asked.boxes[0]
    steps: list[Step] = [AddBox(replace(box, name=name), job.boxes[-1].name)] if job.boxes else []
    if not steps:
        raise AmpleroomError("there is no box in the sheet yet; keep this one with --to FILE")
    for run in asked.runs:
        stops = tuple([replace(stop, name=name) if stop.name == box.name else stop for stop in run.stops])
        steps.append(AddRun(replace(run, stops=stops, kind_assumed=run.kind_assumed and not job.usual_cable)))
    text = edited(job, tuple(steps))
    read_sheet(Sheet(text, job.file, job.sheet.folder if job.sheet else None))  # it is refused before it is written
    return text


def write_answer(answer: Answer, paper: Paper, kept: str = "") -> None:
    """The whole answer on one screen."""
    report, box = answer.report, answer.box
    verdict = f"{box.verdict.shape} {box.verdict.word.upper()}"
    own = " (your settings)" if answer.edition_from == "settings" else ""
    paper.ends(verdict, report.book.title + own, style=box.verdict.word)
    if answer.adopted is not None:
        paper.line(answer.adopted.text, indent=2)
    for note in (*report.book.notes, *answer.assumptions):
        paper.line(note, indent=2)
    if answer.most is not None:
        paper.line(capital(answer.most.text), indent=2, style="bold")
    for finding in box.findings:
        if finding.verdict is not Verdict.PASSES or finding.worst is not None:
            paper.line(f"{finding.message}  [{finding.rule}]", indent=2, hang=4)
            if finding.surplus and (surplus := finding.surplus.text):
                paper.line(capital(surplus), indent=2, hang=4)
            write_count(finding, paper)
            write_facts(finding.facts, paper)
    for other in [each for each in report.subjects if each is not box]:  # the raceways of a pull box or a circuit
        for finding in other.findings if other.verdict is not Verdict.PASSES else ():
            if finding.verdict is not Verdict.PASSES:
                paper.line(f"{finding.message}  [{finding.rule}]", indent=2, hang=4)
    if answer.circuit:
        write_reminders(box, paper)
    else:
        write_cautions(report, paper, everything=True)
    if report.readings:
        paper.line(
            "Disputed points that mattered: " + ", ".join(sorted(report.readings)) + ". See: ampleroom rule NAME"
        )
    write_more(answer, paper)
    write_smallest(answer, paper)
    paper.line()
    paper.line("As a sheet" if not kept else f"As a sheet, kept in {kept}", style="bold")
    for line in answer.sheet.rstrip("\n").split("\n"):
        paper.raw(line)
    write_caution(paper)


def write_count(finding: Finding, paper: Paper) -> None:
    """The worksheet, one line a count."""
    sheet = finding.worksheet
    if sheet is None:
        return
    for line in sheet.lines:
        paper.ends(f"{line.label}: {line.sum_text}", line.cite + unsure(line.confidence), indent=4)
    case = "" if finding.best is None else f"{capital(BEST_CASE if sheet is finding.best else WORST_CASE)}: "
    paper.line(case + (lowered(sum_text(sheet)) if case else sum_text(sheet)), indent=4)
    if finding.best is not None and finding.verdict is not Verdict.FAILS:
        paper.line(other_case_text(finding), indent=4)


def write_more(answer: Answer, paper: Paper) -> None:
    """What else fits in the box, or in each side of its barrier."""
    for place, fitting in answer.more.items():
        name = f" in {place}" if len(answer.more) > 1 else ""
        paper.line()
        paper.line(f"What else fits{name}, one kind at a time", style="bold")
        note = more_note(fitting)
        if note:
            paper.line(note, indent=2)
        else:
            for fit in fitting:
                if fit.possible:
                    paper.ends(fit.addition, fit.text, indent=2)


def smallest_heading(answer: Answer) -> str:
    """What stands over what would do."""
    return "Wire and breaker" if answer.circuit else f"Smallest {answer.sized} that would do"


def write_smallest(answer: Answer, paper: Paper) -> None:
    """The smallest standard boxes that would do, and what was assumed to count them."""
    suggestion = answer.smallest
    paper.line()
    paper.line(smallest_heading(answer), style="bold")
    if not suggestion.boxes:
        paper.line(suggestion.reason, indent=2)
    for box in suggestion.boxes:
        paper.line(box.text, indent=2, hang=4)
    if suggestion.assumes:
        paper.line("Counted " + "; ".join(suggestion.assumes) + ".", indent=2, style="dim")
