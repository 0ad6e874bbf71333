"""What else fits here: how many more of a cable or a conductor a box would take, each answer checked by the whole
rules.
"""

from __future__ import annotations

from ampleroom.check import check_box
from ampleroom.editions import CodeBook
from ampleroom.errors import AmpleroomError
from ampleroom.job.cables import COMMON, COMMON_WIRES
from ampleroom.job.model import Base, Box, Device, Job, Module, Pigtails, Run, Stop, TerminalBlock
from ampleroom.job.names import checked_run
from ampleroom.job.settling import read_run_line
from ampleroom.job.unknown import UNKNOWN
from ampleroom.job.words import Unreadable
from ampleroom.quantities import NO_LIMIT
from ampleroom.record import Record, once, replace
from ampleroom.where import NOWHERE, Where
from ampleroom.words import IF_FACTS_ALLOW, room_text
from ampleroom.worksheet import BOX_FILL, SubjectReport, Verdict

MOST = 60
"""More of one kind than this nobody brings into one box."""


class Fit(Record):
    """How many more of something would still go in: for certain, and if the facts not checked yet allow it."""

    addition: str
    certain: int
    possible: int

    @property
    def text(self) -> str:
        """How many more, as a person reads it; ``not known`` where facts decide whether it is none or many."""
        if self.certain == self.possible:
            return f"{self.certain} more" if self.certain < MOST else f"{MOST} or more"
        if not self.certain and self.possible >= MOST:
            return "not known"
        top = f"{self.possible}" if self.possible < MOST else f"{MOST} or more"
        return f"{self.certain} more for certain, up to {top} {IF_FACTS_ALLOW}"


class FilledBox(Record):
    """A box as it would be with something more in it, and what the rules find then."""

    job: Job
    box: Box
    book: CodeBook
    run: Run

    @once
    def report(self) -> SubjectReport:
        """What every rule finds of the box with the run added; the job itself is not changed."""
        return check_box(replace(self.job, runs=(*self.job.runs, self.run)), self.box, self.book)

    @property
    def verdict(self) -> Verdict:
        """The verdict on the box with the run added."""
        return self.report.verdict


def run_into(job: Job, place: str, addition: str) -> Run:
    """A run from a box (or box/space) to somewhere unknown, of what one would write after it in a sheet: ``12/2 nm-b``.

    A conduit body in which nothing is spliced is passed: nothing may end there that has no volume marked, and what it
    lets pass is what is asked.
    """
    line = f"run ? > ? {addition} through {place}" if is_passed(job, place) else f"run {place} > ? {addition}"
    return read_run(job, line, addition)


def read_run(job: Job, line: str, addition: str) -> Run:
    """A run of a job as its line in a sheet has it; ``addition``: the part of it that was typed.

    Raises ``AmpleroomError`` where the line cannot be read, or names what the job does not have.
    """
    try:
        run = replace(read_run_line(line, job), at=NOWHERE)
    except Unreadable as trouble:
        hint = f"; {trouble.hint}" if trouble.hint else ""
        raise AmpleroomError(f"{addition!r} is not a cable or wires: {trouble.message}{hint}") from None
    faults: list[str] = []

    def fault(where: Where, message: str, hint: str = "") -> None:
        faults.append(message + (f"; {hint}" if hint else ""))

    checked = checked_run(job, run, fault)
    if faults:
        raise AmpleroomError(faults[0])
    return checked


def is_passed(job: Job, place: str) -> bool:
    """Whether a place is a conduit body that holds no splices, so that more can only be pulled through it."""
    box = job.box_or_none(place)
    items = job.items(box) if box is not None else ()
    base = next((item for item in items if isinstance(item, Base)), None)
    if box is None or base is None or base.form != "conduit body":
        return False
    if base.volume is not None and not base.short_radius:
        return False  # a splice may go in
    if any(isinstance(item, Device | Module | TerminalBlock | Pigtails) for item in items):
        return False
    return not any(isinstance(met, Stop) for _, met in job.graph_at(box.name).runs_at.get(box.name, ()))


def with_runs_at(job: Job, box: Box) -> Job:
    """The job with the runs at one box alone: no other run decides what fits into it."""
    return replace(job, runs=tuple([run for _, run in job.runs_at(box.name)]))


def trial(job: Job, place: str, addition: str, book: CodeBook) -> FilledBox:
    """A box with one thing more in it."""
    run = run_into(job, place, addition)
    return FilledBox(job, job.box(place.partition("/")[0]), book, run)


def fits(job: Job, place: str, book: CodeBook, whats: tuple[str, ...] = ()) -> list[Fit]:
    """How many more of each cable or conductor would still go into a box; the common ones where none is named."""
    named = whats or (*COMMON, *(f"1 x #{size} thhn" for size in COMMON_WIRES))
    return [how_many(job, place, addition, book) for addition in named]


def room_for(job: Job, subject: SubjectReport, book: CodeBook) -> str:
    """``Room for one more 12/2 nm-b``: how many more of each cable that comes into a box it has room for, one kind at a
    time.

    Empty where none would go in, where no kind of cable is known for certain, and for a box that does not pass or is
    divided.
    """
    if subject.kind != "box" or not subject.verdict.is_allowed or len(subject.drawn_findings) != 1:
        return ""
    runs = [run for run, met in job.graph_at(subject.name).runs_at.get(subject.name, ()) if isinstance(met, Stop)]
    cables = [run.cable for run in runs if run.cable is not None and not run.wires]
    known = [cable for cable in cables if cable.kind != "old" and UNKNOWN not in (cable.size, cable.of, cable.ground)]
    fitting = [how_many(job, subject.name, name, book) for name in dict.fromkeys(cable.name for cable in known)]
    sure = [fit for fit in fitting if fit.certain and fit.certain == fit.possible < MOST]
    return room_text([(fit.certain, fit.addition) for fit in sure])


def how_many(job: Job, place: str, addition: str, book: CodeBook) -> Fit:
    """By trying: every allowance only grows, so the last number that passes is the answer."""
    box = job.box(place.partition("/")[0])
    run = run_into(job, place, addition)
    job = with_runs_at(job, box)
    now = check_box(job, box, book)
    if now.verdict is Verdict.FAILS:
        return Fit(addition, 0, 0)

    def most_with(worst: Verdict) -> int:
        guess = by_spare(now, report_with(1))
        if 0 < guess < MOST and verdict_with(guess) <= worst < verdict_with(guess + 1):
            return guess  # found without a search, nearly always
        low, high = 0, 1
        while high <= MOST and verdict_with(high) <= worst:
            low, high = high, high * 2
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if middle <= MOST and verdict_with(middle) <= worst else (low, middle)
        return low

    tried: dict[int, SubjectReport] = {}

    def report_with(count: int) -> SubjectReport:
        if count not in tried:
            more = (run,) * count
            tried[count] = check_box(replace(job, runs=(*job.runs, *more)), box, book)
        return tried[count]

    def verdict_with(count: int) -> Verdict:
        return report_with(count).verdict

    possible = most_with(Verdict.OPEN)
    return Fit(addition, most_with(Verdict.ADVICE), possible)


def by_spare(now: SubjectReport, with_one: SubjectReport) -> int:
    """How many go in by what is spare now and with one more, at the worst; 0 where that tells nothing. A guess: a
    second one may take less than the first.
    """
    spare, after_one = [min(report.margins(BOX_FILL.name, worst=True), default=NO_LIMIT) for report in (now, with_one)]
    return 1 + int(after_one // (spare - after_one)) if 0 <= after_one < spare < NO_LIMIT else 0
