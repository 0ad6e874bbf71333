"""The smallest wireway or gutter for what comes into one, the next one up, and what else could be laid in."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.check import wireway_report
from ampleroom.editions import CodeBook
from ampleroom.errors import NameUnknown
from ampleroom.fits import MOST, Fit, read_run
from ampleroom.job.cables import COMMON
from ampleroom.job.lines.wireways import section_text
from ampleroom.job.model import Job, Wireway
from ampleroom.record import replace
from ampleroom.rules.wireway import bending, fill, splices
from ampleroom.rules.wireway.filled import Subject, wireways_of
from ampleroom.sizing.raceway import COMMON_WIRES, SizeOfKind
from ampleroom.worksheet import Finding, SubjectReport, Verdict

SIDES = tuple(map(Decimal, ("2.5", "4", "6", "8", "10", "12")))
"""Inches inside of the square sections that are in stock. Common practice, no source."""
BY_SECTION = (fill.NAME, splices.NAME, bending.NAME)
"""The rules that decide how large its section must be."""


def subject_named(job: Job, name: str) -> Subject:
    """The wireway or gutter of that name, upper and lower case alike. Raises ``NameUnknown``."""
    for form in ("wireway", "gutter"):
        for subject in wireways_of(job, form):
            if subject.name.casefold() == name.casefold():
                return subject
    raise NameUnknown("wireway", name, (wireway.name for wireway in job.wireways))


def is_wireway(job: Job, name: str) -> bool:
    """Whether a name is that of a wireway or gutter."""
    return any(wireway.name.casefold() == name.casefold() for wireway in job.wireways)


def report_of(subject: Subject, job: Job, book: CodeBook) -> SubjectReport:
    """What is found of one wireway or gutter."""
    return wireway_report(subject, job.graph, book)


def verdict_by_section(subject: Subject, job: Job, book: CodeBook) -> tuple[Verdict, Decimal | None]:
    """The verdict of the rules that go by its section, and what is left of its allowed fill at the worst, in2."""
    deciding = [finding for finding in report_of(subject, job, book).findings if finding.rule in BY_SECTION]
    return max((finding.verdict for finding in deciding), default=Verdict.PASSES), spare_of(deciding)


def spare_of(findings: list[Finding]) -> Decimal | None:
    """What is left by the worksheet of fill, in2, at the worst; None where there is none."""
    sheet = next((finding.worst for finding in findings if finding.rule == fill.NAME), None)
    return sheet.margin if sheet is not None and sheet.margin.is_finite() else None


def sizes(subject: Subject, job: Job, book: CodeBook) -> list[SizeOfKind]:
    """The smallest square section, each judged as if it were written in the sheet; none where nothing lies in it or it
    is not judged.
    """
    if not subject.runs or subject.wireway.nonmetallic:
        return []
    certain = possible = next_up = ""
    spare = next_spare = None
    for side in SIDES:
        tried = square(subject.wireway, side)
        verdict, left = verdict_by_section(subject._replace(wireway=tried), job, book)
        if certain:
            next_up, next_spare = section_text(tried), left
            break
        if verdict is not Verdict.FAILS and not possible:
            possible = section_text(tried)
        if verdict.is_allowed:
            certain, spare = section_text(tried), left
    return [SizeOfKind(subject.wireway.form, certain, possible, next_up, spare, next_spare, False)]


def square(wireway: Wireway, side: Decimal) -> Wireway:
    """It with a square section, its conductors turning as they do: across a side of the new one."""
    return replace(wireway, inside=(side, side), turn=side if wireway.turn else wireway.turn)


def fits_in(subject: Subject, job: Job, book: CodeBook, whats: tuple[str, ...] = ()) -> list[Fit]:
    """How many more of each cable or conductor could be laid in; the common ones where none is named."""
    named = whats or (*(f"1 x #{size} thhn" for size in COMMON_WIRES), *COMMON)
    return [how_many(subject, job, addition, book) for addition in named]


def with_more(subject: Subject, job: Job, addition: str, times: int) -> Subject:
    """The wireway with so many more of what one would write after a run in a sheet: ``3 x #12 thhn``.

    Raises ``AmpleroomError`` for what is no cable and no wires.
    """
    run = read_run(job, f"run ? > ? {addition}", addition)
    return subject._replace(runs=(*subject.runs, *(run,) * times), lengths=(*subject.lengths, *(1,) * times))


def how_many(subject: Subject, job: Job, addition: str, book: CodeBook) -> Fit:
    """The most that pass: one more is never better, so the numbers are halved."""

    def most(worst_allowed: Verdict) -> int:
        low, high = 0, MOST + 1
        while high - low > 1:
            middle = (low + high) // 2
            verdict, _ = verdict_by_section(with_more(subject, job, addition, middle), job, book)
            if verdict <= worst_allowed:
                low = middle
            else:
                high = middle
        return low

    if verdict_by_section(subject, job, book)[0] is Verdict.FAILS:
        return Fit(addition, 0, 0)
    return Fit(addition, most(Verdict.ADVICE), most(Verdict.OPEN))
