"""The smallest raceway for what lies in one, the next one up, and what could still be pulled in. Every answer is
checked.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from ampleroom.arithmetic import Unit
from ampleroom.editions import CodeBook
from ampleroom.editions.raceways import METRIC_SIZES
from ampleroom.errors import NameUnknown
from ampleroom.fits import MOST, Fit, read_run
from ampleroom.job.cables import COMMON
from ampleroom.job.lines.circuits import RACEWAY_KINDS
from ampleroom.job.model import Job, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, replace
from ampleroom.report import decimal_json
from ampleroom.rules.raceway import flexible
from ampleroom.rules.raceway.filled import Subject, raceways_of
from ampleroom.rules.raceway.judge import raceway_report
from ampleroom.rules.raceway.sizes import bore_rows
from ampleroom.worksheet import Finding, SubjectReport, Verdict

FILLS = ("raceway-fill", "raceway-flexible-whip")
"""The rules that decide how large a raceway must be."""
COMMON_WIRES = ("14", "12", "10", "8", "6")


class SizeOfKind(Record):
    """The smallest trade sizes of one kind of raceway: that does for certain, and that may do if the unknown facts
    allow it.
    """

    kind: str
    certain: str
    """Empty where even the largest does not do for certain."""
    possible: str
    """Empty where even the largest does not do."""
    next_up: str
    """The trade size after the one that does for certain; empty where there is none."""
    spare: Decimal | None
    """What is left in the one that does for certain, in2; None where its worksheet is a count."""
    next_spare: Decimal | None
    may_jam: bool
    """Whether three conductors may jam in the one that does for certain: advice to take the next one up."""
    unlisted: str = ""
    """A trade size that goes by a table of its own, which does not list what lies in it; empty where there is none."""


def subject_named(job: Job, name: str) -> Subject:
    """The raceway of that name, upper and lower case alike, with what lies in it. Raises ``NameUnknown``."""
    subjects = list(raceways_of(job))
    for subject in subjects:
        if subject.raceway.name.casefold() == name.casefold():
            return subject
    raise NameUnknown("raceway", name, (subject.raceway.name for subject in subjects))


def is_raceway(job: Job, name: str) -> bool:
    """Whether a name is a raceway's and no box's."""
    return job.box_or_none(name) is None and any(
        subject.raceway.name.casefold() == name.casefold() for subject in raceways_of(job)
    )


def report_of(subject: Subject, job: Job, book: CodeBook) -> SubjectReport:
    """What is found of one raceway."""
    return raceway_report(subject, job.graph, book)


def fill_of(subject: Subject, job: Job, book: CodeBook) -> Finding:
    """The finding on how full a raceway is."""
    return next(finding for finding in report_of(subject, job, book).findings if finding.rule in FILLS)


def sizes(subject: Subject, job: Job, book: CodeBook) -> list[SizeOfKind]:
    """The smallest raceway of every kind the table has, its own kind first. A sleeve has no least size."""
    own = subject.raceway.kind
    kinds = [own, *(kind for kind in RACEWAY_KINDS if kind != own)]
    return [size_of_kind(subject, kind, job, book) for kind in kinds if bore_rows(kind, book)]


def size_of_kind(subject: Subject, kind: str, job: Job, book: CodeBook) -> SizeOfKind:
    """The smallest raceway of one kind, each trade size judged as if it were written in the sheet."""
    certain = possible = next_up = unlisted = ""
    spare = next_spare = None
    may_jam = False
    for row in bore_rows(kind, book):
        tried = Subject(replace(subject.raceway, kind=kind, size=row.size), subject.runs)
        report = report_of(tried, job, book)
        finding = next(finding for finding in report.findings if finding.rule in FILLS)
        if certain:
            next_up, next_spare = row.size, spare_of(finding)
            break
        if flexible.is_unlisted(finding):
            unlisted = row.size
        elif finding.verdict is not Verdict.FAILS and not possible:
            possible = row.size
        if finding.verdict is Verdict.PASSES:
            certain, spare = row.size, spare_of(finding)
            may_jam = any(finding.verdict is Verdict.ADVICE for finding in report.findings)
    return SizeOfKind(kind, certain, possible, next_up, spare, next_spare, may_jam, unlisted)


def spare_of(finding: Finding) -> Decimal | None:
    """What is left by the worksheet of a finding, in2, at the worst."""
    sheet = finding.worst
    return sheet.margin if sheet is not None and sheet.purpose.name == FILLS[0] else None


def fits_in(subject: Subject, job: Job, book: CodeBook, whats: tuple[str, ...] = ()) -> list[Fit]:
    """How many more of each cable or conductor could be pulled in; the common ones where none is named."""
    named = whats or (*(f"1 x #{size} thhn" for size in COMMON_WIRES), *COMMON)
    return [how_many(subject, job, addition, book) for addition in named]


def with_more(subject: Subject, job: Job, addition: str, times: int) -> Subject:
    """The raceway with so many more of what one would write after a run in a sheet: ``12/2 nm-b``, ``3 x #12 thhn``.

    Raises ``AmpleroomError`` for what is no cable and no wires.
    """
    run: Run = read_run(job, f"run ? > ? {addition}", addition)
    return Subject(subject.raceway, (*subject.runs, *times_over(run, times)))


def times_over(run: Run, times: int) -> tuple[Run, ...]:
    """So many runs alike, as one where they are counted."""
    counted = [group._replace(count=group.count * times) for group in run.wires if group.count is not UNKNOWN]
    if run.count is UNKNOWN or len(counted) < len(run.wires):
        return (run,) * times
    if run.cable is not None:
        return (replace(run, count=run.count * times),)
    return (replace(run, wires=tuple(counted)),)


def how_many(subject: Subject, job: Job, addition: str, book: CodeBook) -> Fit:
    """The most that pass, up to ``MOST``."""
    if fill_of(subject, job, book).verdict is Verdict.FAILS:
        return Fit(addition, 0, 0)
    verdicts: dict[int, Verdict] = {}

    def verdict(count: int) -> Verdict:
        if count not in verdicts:
            verdicts[count] = fill_of(with_more(subject, job, addition, count), job, book).verdict
        return verdicts[count]

    certain = largest_number(lambda count: verdict(count) is Verdict.PASSES, MOST)
    return Fit(addition, certain, max(certain, largest_number(lambda count: verdict(count) is not Verdict.FAILS, MOST)))


FEW = 3
"""Up to so many the percentage of a raceway depends on the count, and more may fit where fewer do not."""


def largest_number(fits_so_many: Callable[[int], bool], most: int) -> int:
    """The largest count up to ``most`` that fits, where from ``FEW`` on no more fit once some do not; 0 for none."""
    largest = max((count for count in range(1, FEW + 1) if fits_so_many(count)), default=0)
    if largest < FEW:
        return largest
    above = FEW + 1
    while largest < most and fits_so_many(above):
        largest, above = above, min(above * 2, most + 1) if above < most else most + 1
    while above - largest > 1:
        middle = (above + largest) // 2
        largest, above = (middle, above) if fits_so_many(middle) else (largest, middle)
    return largest


# ---- in words and as JSON -------------------------------------------------------------------------------------------


def size_text(size: SizeOfKind) -> str:
    """``3/4, 0.0172 in2 spare``."""
    if size.certain:
        spare = f", {Unit.IN2.amount(size.spare)} spare" if size.spare is not None else ""
        return f"{size.certain}{spare}"
    return f"{size.possible} if the facts not checked yet allow it" if size.possible else "none is large enough"


def more_text(size: SizeOfKind) -> list[str]:
    """What else is said of the kind that was asked for."""
    lines = []
    if size.may_jam:
        lines.append(f"Its three conductors may jam in {size.certain}: the next size up is the safer one.")
    if size.next_up:
        spare = f", {Unit.IN2.amount(size.next_spare)} spare" if size.next_spare is not None else ""
        lines.append(f"Next size up: {size.next_up}{spare}.")
    if size.certain and size.possible != size.certain:
        lines.append(f"{size.possible} may do if the facts not checked yet allow it.")
    if size.unlisted:
        own = f"{size.kind} {size.unlisted} has a table of its own"
        lines.append(f"{own}, which does not list these conductors as written.")
    return lines


def size_json(size: SizeOfKind, book: CodeBook) -> dict[str, object]:
    """One kind of raceway, as ``docs/json.md`` has it."""
    metric = {row.size: row.metric for row in book[METRIC_SIZES].rows}
    return {
        "kind": size.kind,
        "certain": size.certain or None,
        "certain_metric": metric.get(size.certain),
        "possible": size.possible or None,
        "spare": decimal_json(size.spare) if size.spare is not None else None,
        "next_up": size.next_up or None,
        "next_up_metric": metric.get(size.next_up),
        "next_spare": decimal_json(size.next_spare) if size.next_spare is not None else None,
        "may_jam": size.may_jam,
        "unlisted": size.unlisted or None,
    }
