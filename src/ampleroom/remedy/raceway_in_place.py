"""A raceway as its moves see it."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.job.edit import Change, PutRaceway, PutRun
from ampleroom.job.model import Base, Job, Raceway, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, once, replace
from ampleroom.remedy.raceway_parts import RacewayParts, raceway_parts, takes_bushings
from ampleroom.remedy.stock import Stock
from ampleroom.rules.raceway.bends import NAME as BENDS
from ampleroom.rules.raceway.filled import Subject, unnamed
from ampleroom.rules.raceway.judge import raceway_report
from ampleroom.worksheet import SubjectReport, Verdict


class RacewayInPlace(Record):
    """One raceway of a job with what lies in it, and the stock to fix it from."""

    job: Job
    subject: Subject
    stock: Stock
    book: CodeBook
    report: SubjectReport
    runs: tuple[Run, ...]
    """Every run that lies in it, or may."""

    @property
    def raceway(self) -> Raceway:
        """Its line of the sheet, or what stands for it where it has none."""
        return self.subject.raceway

    @property
    def is_named(self) -> bool:
        """Whether it has a line of its own."""
        return any(raceway is self.raceway for raceway in self.job.raceways)

    @property
    def underground(self) -> bool:
        """Whether it is underground, and so wet inside."""
        return self.raceway.underground

    @property
    def fails(self) -> bool:
        """Whether it fails, however the facts not checked yet turn out."""
        return self.report.verdict is Verdict.FAILS

    @property
    def fill_fails(self) -> bool:
        """Whether some other rule than that of bends makes it fail."""
        return any(finding.verdict is Verdict.FAILS and finding.rule != BENDS for finding in self.report.findings)

    @property
    def bends_fail(self) -> bool:
        """Whether it has too many bends between pull points."""
        return any(finding.verdict is Verdict.FAILS and finding.rule == BENDS for finding in self.report.findings)

    @once
    def length(self) -> Decimal | None:
        """Its length in feet; None where nobody wrote it."""
        length = self.raceway.length
        return None if length is None or length is UNKNOWN else length

    @once
    def bodies(self) -> tuple[str, ...]:
        """The conduit bodies it ends at, which are made for its trade size."""
        boxes = [box for box in self.job.boxes if box.name in self.raceway.ends]
        items = [(box.name, item) for box in boxes for item in self.job.items(box)]
        return tuple([name for name, item in items if isinstance(item, Base) and item.form == "conduit body"])

    def report_as(self, subject: Subject) -> SubjectReport:
        """What would be found of a raceway put together for a trial."""
        return raceway_report(subject, self.job.graph, self.book)

    def parts(self, name: str, size: str, runs: tuple[Run, ...], length: Decimal | None) -> RacewayParts | None:
        """What one more raceway of this kind takes, with these runs in it; None where the stock file has none."""
        sizes = (wires.size for run in runs for wires in run.wires if wires.role == "insulated")
        is_large = takes_bushings(sizes)
        return raceway_parts(name, self.raceway.kind, size, length, is_large, self.stock, self.book)

    def resized(self, size: str) -> tuple[Change, str]:
        """The change that gives it another trade size, and what it is called then."""
        raceway = self.raceway
        if self.is_named:
            return (PutRaceway(replace(raceway, size=size), raceway),), raceway.name
        run = self.subject.runs[0]
        lain_in = tuple(
            replace(each, size=size) if (each.name, each.kind, each.size) == ("", raceway.kind, raceway.size) else each
            for each in run.raceways
        )
        return (PutRun(replace(run, raceways=lain_in), run),), unnamed(run, raceway.kind, size, raceway.at).name
