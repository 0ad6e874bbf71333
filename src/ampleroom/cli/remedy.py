"""``remedy``: what would put a job right, for how much; written into the sheet if asked for."""

from __future__ import annotations

import argparse
import contextlib
import difflib
import math
import sys
from decimal import Decimal, InvalidOperation
from pathlib import Path

from ampleroom.check import book_for
from ampleroom.cli.common import add_edition, add_json, command_parser, job_of, only_sheet, print_json
from ampleroom.cli.paper import Paper, printable
from ampleroom.cli.remedy_text import write_box_remedies, write_plan, write_reexamined
from ampleroom.cli.saving import Lock, locked, save_with_undo, undo
from ampleroom.errors import AmpleroomError, FileTrouble
from ampleroom.job.edit import Change, edited
from ampleroom.job.model import Job
from ampleroom.remedy import Stock, read_stock
from ampleroom.remedy.box import first_fact, is_advised, not_tried, remedies, why_nothing
from ampleroom.remedy.plan import Limits, Plan, plan, reexamine
from ampleroom.remedy.present import box_json, plan_json, reexamined_json
from ampleroom.remedy.trial import Trial

STOCK = "stock.toml"


def parser() -> argparse.ArgumentParser:
    """The options of ``remedy``."""
    command = command_parser(
        "remedy",
        "How to fix what fails. Every fix is checked against every rule and priced from your stock file. A "
        "whole job gets the lowest total cost. One box gets every fix that no other fix beats.",
        "  ampleroom remedy boathouse.job\n  ampleroom remedy A1 boathouse.job\n"
        "  ampleroom remedy circuit 5 boathouse.job\n"
        "  ampleroom remedy boathouse.job --no-plaster --spare 12/2 nm-b\n"
        "  ampleroom remedy boathouse.job --apply\n  ampleroom remedy boathouse.job --undo\n"
        "  ampleroom remedy boathouse.job --against 2023",
    )
    command.add_argument(
        "words",
        nargs="*",
        metavar="[BOX] [SHEET]",
        help="a box, raceway or circuit, or the whole job if left out; the job sheet, or the only .job file in this "
        "folder",
    )
    command.add_argument(
        "--stock",
        metavar="FILE",
        help="parts and prices; stock.toml beside the sheet if left out (examples/stock.toml shows one)",
    )
    command.add_argument("--no-plaster", action="store_true", help="leave out fixes that open a finished wall")
    command.add_argument("--in-stock", action="store_true", help="only parts the stock file has in stock")
    command.add_argument("--kinds", type=int, metavar="N", help="carry at most N different kinds of box")
    command.add_argument(
        "--spare", nargs="+", metavar="WORD", help="keep room for one more of this in every box: 12/2 nm-b"
    )
    command.add_argument("--margin", metavar="IN3", help="leave this much spare room in every box that is fixed, in3")
    command.add_argument(
        "--no-solver", action="store_true", help="search only, without the solver that proves the lowest cost"
    )
    command.add_argument("--seconds", type=float, default=60.0, metavar="N", help="how long the solver may take (60)")
    command.add_argument("--apply", action="store_true", help="write the changes into the sheet, after showing them")
    command.add_argument("--choose", type=int, metavar="N", help="with a box and --apply: which fix of the list (1)")
    command.add_argument("--yes", action="store_true", help="with --apply: do not ask")
    command.add_argument("--undo", action="store_true", help="bring back the sheet as it was before the last --apply")
    command.add_argument(
        "--against",
        type=int,
        metavar="YEAR",
        help="what passes now and would fail under another edition, and what that costs to fix",
    )
    add_edition(command)
    add_json(command)
    # The sheet may come after an option.
    command.parse_args = command.parse_intermixed_args  # type: ignore[method-assign]
    return command


def run(options: argparse.Namespace) -> int:
    """Find fixes, apply them or undo the last change, as the options say; the exit status."""
    if options.spare and options.spare[-1].endswith(".job"):  # the sheet, taken for a word of the cable
        options.words.append(options.spare.pop())
    options.box, path = box_and_sheet(options.words)
    if options.undo:
        print(printable(undo(path)))
        return 0
    limits = limits_of(options)
    with contextlib.ExitStack() as held:
        # Nobody is asked with --yes, so the sheet can be held from reading to replacing: a second command waits its
        # turn.
        hold = options.apply and options.yes and options.against is None
        options.lock = held.enter_context(locked(path)) if hold else None
        return answer(options, path, limits)


def answer(options: argparse.Namespace, path: Path, limits: Limits) -> int:
    """Answer for one box, for the whole job, or against another edition; the exit status."""
    job = job_of(str(path))
    stock = stock_for(options.stock, path)
    if options.against is not None:
        return run_against(job, stock, limits, options)
    if options.box:
        return run_box(job, stock, limits, options, path)
    return run_job(job, stock, limits, options, path)


def box_and_sheet(words: list[str]) -> tuple[str | None, Path]:
    """Which of the words is the box and which the sheet."""
    sheets = [word for word in words if word.endswith(".job") or Path(word).is_file()]
    boxes = [word for word in words if word not in sheets]
    if len(boxes) == len(("circuit", "5")) and boxes[0].casefold() == "circuit":
        boxes = [" ".join(boxes)]
    if len(sheets) > 1 or len(boxes) > 1:
        raise AmpleroomError(f"name one box and one sheet at most, not {' '.join(words)}")
    return (boxes[0] if boxes else None), Path(sheets[0]) if sheets else only_sheet()


def stock_for(named: str | None, sheet: Path) -> Stock:
    """The stock named, or the one beside the sheet or in this folder."""
    if named:
        return read_stock(Path(named))
    for folder in (sheet.parent, Path.cwd()):
        if (folder / STOCK).is_file():
            return read_stock(folder / STOCK)
    raise FileTrouble(f"no {STOCK} beside the sheet: copy examples/stock.toml there, or name one with --stock")


def limits_of(options: argparse.Namespace) -> Limits:
    """The limits the options set, ``margin`` in in3; AmpleroomError for a number that makes no sense."""
    margin = Decimal(0)
    if options.margin is not None:
        try:
            margin = Decimal(options.margin)
        except InvalidOperation:
            raise AmpleroomError(f"--margin {options.margin!r} is not a number; write in3, such as 2.25") from None
        if not margin.is_finite() or not 0 <= margin < 1000:
            raise AmpleroomError(f"--margin {options.margin} is too large or below 0; write in3, such as 2.25")
    if options.kinds is not None and options.kinds < 0:
        raise AmpleroomError("--kinds is the most kinds of box to carry: 0 or more")
    if not (math.isfinite(options.seconds) and options.seconds > 0):
        raise AmpleroomError("--seconds is a number over 0")
    return Limits(options.no_plaster, options.in_stock, options.kinds, " ".join(options.spare or ()), margin)


def show_progress(text: str) -> None:
    """Progress, where somebody looks at it."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r\x1b[K{printable(text[:78])}")
        sys.stderr.flush()


def done() -> None:
    """Clear the line of progress, if there is a terminal to show it."""
    if sys.stderr.isatty():
        sys.stderr.write("\r\x1b[K")


def run_job(job: Job, stock: Stock, limits: Limits, options: argparse.Namespace, path: Path) -> int:
    """Plan the whole job at the lowest cost, then print or apply it; the exit status."""
    made = plan(
        job,
        book_for(job, options.edition),
        stock,
        limits,
        solver=not options.no_solver,
        seconds=options.seconds,
        progress=show_progress,
    )
    done()
    if options.json and not options.apply:
        print_json(plan_json(made))
    elif not options.apply:
        write_plan(made, Paper())
    if options.apply:
        return apply(made, path, options)
    return status(made)


def status(made: Plan) -> int:
    """The exit status of a plan: 1 if some box has no fix or could not be judged, else 0."""
    return 1 if made.nothing or made.unseen else 0


def apply(made: Plan, path: Path, options: argparse.Namespace) -> int:
    """Write the plan into the sheet, after asking unless ``--yes``; the exit status."""
    if not made.change:
        print(f"Nothing to change: {made.summary[0].lower()}{made.summary[1:]}")
        return status(made)
    write_changed(path, made.job, made.change, options.yes, options.lock)
    return status(made)


def write_changed(path: Path, job: Job, change: Change, yes: bool, lock: Lock | None = None) -> None:
    """Show the difference, ask, write, and keep what was."""
    assert job.sheet is not None  # it was read from the file
    before, text = job.sheet.text, edited(job, change)
    shown = difflib.unified_diff(
        before.splitlines(), text.splitlines(), path.name, f"{path.name}, changed", lineterm="", n=1
    )
    paper = Paper()
    for line in shown:
        paper.raw(f"{line} {heading(before, line)}".rstrip() if line.startswith("@@") else line)
    if not yes:
        if not sys.stdin.isatty():
            raise AmpleroomError("nothing was written: add --yes to write without a question")
        answer = input(printable(f"Write this into {path}? [y/N] "))
        if answer.strip().lower() not in ("y", "yes"):
            print("Nothing was written.")
            return
    save_with_undo(path, text, before, lock)
    print(printable(f"{path} is changed. 'ampleroom remedy {path} --undo' brings it back."))


def heading(sheet: str, place: str) -> str:
    """The box under which a change stands: ``place`` is its line in a difference, ``@@ -42,3 +42,4 @@``."""
    first = int(place.split()[1].lstrip("-").split(",")[0])
    above = [line for line in sheet.splitlines()[:first] if line[:1].strip()]
    return above[-1] if above and above[-1].lower().startswith("box ") else ""


def run_box(job: Job, stock: Stock, limits: Limits, options: argparse.Namespace, path: Path) -> int:
    """List the fixes of one box, or apply the one chosen; the exit status is 1 if it fails and has none."""
    stock = stock.only_in_stock() if limits.only_in_stock else stock
    trial = Trial(job, book_for(job, options.edition), limits.spare)
    box = trial.subject(options.box)
    report = trial.reports[box.name]
    passes = report.verdict.is_allowed
    wanted = not passes or is_advised(report)
    offered = remedies(trial, box, stock, limits.margin, limits.most) if wanted else []
    nothing = None if passes or offered else why_nothing(trial, box, stock)
    fact = first_fact(trial, box)
    if options.apply and offered:
        choice = options.choose or 1
        if not 1 <= choice <= len(offered):
            raise AmpleroomError(f"--choose {choice}: the list goes from 1 to {len(offered)}")
        write_changed(path, job, offered[choice - 1].change, options.yes, options.lock)
    elif options.json:
        print_json(box_json(trial, box.name, offered, nothing, fact, stock))
    else:
        left_out = not_tried(trial, box, stock) if offered or nothing else ()
        write_box_remedies(trial, box.name, offered, nothing, fact, left_out, stock, Paper())
    return 0 if passes or offered else 1


def run_against(job: Job, stock: Stock, limits: Limits, options: argparse.Namespace) -> int:
    """Compare the job under another edition; the exit status is 1 if a box that passes now would fail then."""
    now = book_for(job, options.edition).year
    reexamined = reexamine(
        job,
        stock,
        now,
        options.against,
        limits,
        solver=not options.no_solver,
        seconds=options.seconds,
        progress=show_progress,
    )
    done()
    if options.json:
        print_json(reexamined_json(reexamined))
    else:
        write_reexamined(reexamined, Paper())
    return 1 if reexamined.newly_failing else 0
