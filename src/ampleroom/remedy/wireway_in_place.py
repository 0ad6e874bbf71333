"""A wireway or gutter as its moves see it."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.editions import CodeBook
from ampleroom.job.model import Job, Raceway, Run, Wireway
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import Record, TupleRecord, once, replace
from ampleroom.remedy.remedy import Buy, Rate
from ampleroom.remedy.stock import Stock, StockLength
from ampleroom.rules.wireway.bending import NAME as BENDING
from ampleroom.rules.wireway.fill import NAME as FILL
from ampleroom.rules.wireway.filled import Subject
from ampleroom.rules.wireway.judge import wireway_report
from ampleroom.rules.wireway.splices import NAME as SPLICES
from ampleroom.worksheet import SubjectReport, Verdict

BY_SECTION = (FILL, SPLICES, BENDING)
"""The rules that go by how large its section is."""


class WirewayParts(TupleRecord):
    """What one wireway takes: what is bought, minutes of work, and what a foot of it takes where its length is not
    known.
    """

    buys: tuple[Buy, ...]
    minutes: Decimal
    rates: tuple[Rate, ...]


class WirewayInPlace(Record):
    """One wireway or gutter of a job with what lies in it, and the stock to fix it from."""

    job: Job
    subject: Subject
    stock: Stock
    book: CodeBook
    report: SubjectReport
    runs: tuple[Run, ...]
    """Every run that comes into it."""

    @property
    def wireway(self) -> Wireway:
        """Its line of the sheet."""
        return self.subject.wireway

    @property
    def underground(self) -> bool:
        """Whether the sheet says it is underground: no line of a wireway does."""
        return False

    @property
    def fails(self) -> bool:
        """Whether it fails, however the facts not checked yet turn out."""
        return self.report.verdict is Verdict.FAILS

    @property
    def section_fails(self) -> bool:
        """Whether its section is too small: by its fill, its splices or the space to bend in."""
        return any(each.verdict is Verdict.FAILS and each.rule in BY_SECTION for each in self.report.findings)

    @property
    def fill_fails(self) -> bool:
        """Whether the conductors in it take too much room."""
        return any(each.verdict is Verdict.FAILS and each.rule in (FILL, SPLICES) for each in self.report.findings)

    @once
    def length(self) -> Decimal | None:
        """Its length in feet; None where nobody wrote it."""
        length = self.wireway.length
        return None if length is None or length is UNKNOWN else length

    @once
    def sections(self) -> tuple[tuple[StockLength, tuple[Decimal, Decimal]], ...]:
        """What the stock file has of its form, each with its inside measures, the smallest first and of as large ones
        the cheaper.
        """
        stocked = self.stock.wireways(self.wireway.form)
        return tuple(sorted(stocked, key=lambda each: (each[1][0] * each[1][1], each[0].per_foot, each[1])))

    def passes_as(self, subject: Subject) -> bool:
        """Whether one put together for a trial passes by its section."""
        findings = wireway_report(subject, self.job.graph, self.book).findings
        return all(each.verdict.is_allowed for each in findings if each.rule in BY_SECTION)

    def parts(self, stocked: StockLength, name: str, length_of: str) -> WirewayParts:
        """What a wireway of this length takes to buy and to put up with all that lies in it; ``length_of``: what is to
        be measured where nobody wrote how long it is.
        """
        minutes_per_foot = self.stock.minutes.wireway_per_foot + self.stock.minutes.pull_per_foot
        if self.length is None:
            return WirewayParts((), Decimal(0), (Rate(stocked.name, stocked.per_foot, minutes_per_foot, length_of),))
        bought = Buy(f"{stocked.name} by the foot", self.length, stocked.per_foot)
        return WirewayParts((bought,), minutes_per_foot * self.length, ())


def with_section(wireway: Wireway, inside: tuple[Decimal, Decimal]) -> Wireway:
    """It with another section. Where its conductors turn, they turn across the longer side of the new one."""
    return replace(wireway, inside=inside, turn=max(inside) if wireway.turn else wireway.turn)


def ending_at(wireway: Wireway, job: Job) -> tuple[Raceway, ...]:
    """The raceways that end at it."""
    name = wireway.name.casefold()
    return tuple([raceway for raceway in job.raceways if name in map(str.casefold, raceway.ends)])


__all__ = ["BY_SECTION", "WirewayInPlace", "WirewayParts", "ending_at", "with_section"]
