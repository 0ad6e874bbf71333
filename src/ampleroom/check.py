"""The rules over a job: every space of every box, at its worst and, where facts are unknown, at its best."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import NamedTuple

from ampleroom.arithmetic import Counted, Line
from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook
from ampleroom.editions.conductor_room import CONDUCTOR_ROOM
from ampleroom.errors import EditionMissing
from ampleroom.facts import Assumption, Bounds, End, Ends, Values, bounds
from ampleroom.job.graph import Graph, RunAtBox
from ampleroom.job.model import Base, Box, Item, Job, Raceway
from ampleroom.job.subjects import not_judged
from ampleroom.quantities import NO_LIMIT
from ampleroom.report import Report
from ampleroom.rules import RULES, Rule
from ampleroom.rules.box.fill import VERDICT
from ampleroom.rules.box.fill.ends import ENDS, fill_ends
from ampleroom.rules.box.volume.barriers import shared_out
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.cases import SpaceCases
from ampleroom.rules.conduit_body.passing import CROSS_SECTION
from ampleroom.rules.conduit_body.passing import NAME as BODY
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.effects import Outcome, open_facts
from ampleroom.rules.kinds import KINDS, Kind, judged_names, register
from ampleroom.rules.space import Space
from ampleroom.surplus import TooMany
from ampleroom.words import TOO_MANY_FACTS, empty_message, fill_message, worst_case_message
from ampleroom.worksheet import BOX_FILL, Finding, OpenFact, SubjectReport, Verdict, Worksheet, between

FILL_RULES = tuple(rule.function for rule in RULES.values() if rule.topic == "fill")
ROOM_RULES = tuple(rule.function for rule in RULES.values() if rule.topic == "room")
FINDING_RULES = tuple(rule for rule in RULES.values() if rule.topic == "finding")
BODY_KIND = "conduit body"
REMINDER_RULES = tuple(rule.function for rule in RULES.values() if rule.topic == "reminder")


def edition_for(job: Job, edition: int | None = None) -> int:
    """The year of the edition to judge by: ``edition`` for a what-if, else the sheet's. There is no default.

    Raises ``EditionMissing`` where neither is given.
    """
    year = edition if edition is not None else job.edition
    if year is None:
        raise EditionMissing(
            "the sheet does not say which edition of the code is adopted there; write a line such as "
            f"'edition {NEWEST_COMPARED}' (one of {', '.join(map(str, OFFERED))}), or ask your authority"
        )
    return year


def book_for(job: Job, edition: int | None = None) -> CodeBook:
    """The code book in force at a job; ``edition`` overrides the sheet's for a what-if."""
    year = edition_for(job, edition)
    readings = {reading.name: reading.choice for reading in job.readings}
    return CodeBook(year, job.amendments, readings) if job.amendments else CodeBook(year, readings=readings)


def check(job: Job, edition: int | None = None) -> Report:
    """Everything that is found of a job. Nothing is printed, and nothing raised for a box that is too small."""
    book = book_for(job, edition)
    return Report(job, book, subject_reports(job, book), not_judged(job, judged_names()))


def subject_reports(job: Job, book: CodeBook) -> tuple[SubjectReport, ...]:
    """What is found of every subject of every kind."""
    graph = job.graph
    return tuple([kind.judge(subject, graph, book) for kind in KINDS.values() for subject in kind.subjects(job)])


def box_reports(job: Job, book: CodeBook) -> tuple[SubjectReport, ...]:
    """What is found of every box and conduit body of a job."""
    graph = job.graph
    return tuple([place_report(box, graph, book) for box in job.boxes])


def place_report(box: Box, graph: Graph, book: CodeBook) -> SubjectReport:
    """What is found of one box or conduit body."""
    runs, raceways = graph.runs_at.get(box.name, ()), graph.raceways_at.get(box.name, ())
    return box_report(box, graph.items(box), runs, book, raceways)


register(Kind("box", "boxes", lambda job: job.boxes, place_report, ("box",), BOX_FILL))
# Conduit bodies are judged with the boxes, so that both stand in the order of the sheet.
register(Kind(BODY_KIND, "conduit bodies", lambda job: (), place_report, (), BOX_FILL))


def check_box(job: Job, box: Box, book: CodeBook) -> SubjectReport:
    """What is found of one box of a job, without looking at the others."""
    return place_report(box, job.graph_at(box.name), book)


def kind_of(items: tuple[Item, ...]) -> str:
    """What a place of a sheet is, by what stands under it: a conduit body is one kind of subject, any other box another."""
    return BODY_KIND if any(isinstance(item, Base) and item.form == BODY_KIND for item in items) else "box"


def box_report(
    box: Box, items: tuple[Item, ...], runs: Sequence[RunAtBox], book: CodeBook, raceways: Sequence[Raceway] = ()
) -> SubjectReport:
    """One box: each of its spaces weighed and judged, and what cannot be counted said once."""
    builder = SpaceBuilder(box, items, runs, book, raceways)
    sides = [Side(builder, number) for number in range(len(builder.sides))]
    is_empty = all(side.space.is_empty for side in sides)
    findings: list[Finding] = []
    for side in sides:
        space = side.space
        if not space.is_conduit_body or (
            holds_splices(space) and space.base is not None and space.base.volume is not None
        ):
            fill = fill_finding(side, book, is_empty)
            if fill.verdict is Verdict.FAILS:
                fill = fill._replace(surplus=too_many(fill.subject, box, items, runs, book, raceways))
            findings.append(fill)
        elif is_empty:
            findings.append(empty_body_finding(space, book))
        findings += judged(side, book)
    reminders = [reminder for side in sides for remind in REMINDER_RULES for reminder in remind(side.space, book)]
    if len(sides) > 1:
        reminders = list(dict.fromkeys(reminders))
    return SubjectReport(kind_of(items), box.name, box.description, box.at, tuple(findings), tuple(reminders), is_empty)


def too_many(
    subject: str,
    box: Box,
    items: tuple[Item, ...],
    runs: Sequence[RunAtBox],
    book: CodeBook,
    raceways: Sequence[Raceway],
) -> TooMany:
    """What is too many in a box, or a side of it, that fails."""

    def passes(left: Sequence[RunAtBox]) -> bool:
        found = box_report(box, items, left, book, raceways).findings
        return any(
            finding.verdict.is_allowed
            for finding in found
            if (finding.rule, finding.subject) == (BOX_FILL.name, subject)
        )

    return TooMany(runs, subject.partition("/")[2], passes)


class Side:
    """A box or one side of it: with nothing unknown it is put together once, else anew for each case."""

    __slots__ = ("book", "cases", "ends", "fill", "needed", "sheets", "space")

    def __init__(self, builder: SpaceBuilder, number: int) -> None:
        assumption = Assumption(ENDS)
        self.book = builder.book
        self.space = builder.space(number, assumption)
        """As it is at its worst for box fill."""
        self.needed = assumption.needed
        self.ends: Ends = ENDS
        self.fill: Bounds[Weighed] | None = None
        """Its box fill at the worst and at the best, where facts are unknown."""
        if self.needed:
            self.cases = SpaceCases(builder, number)
            self.cases.keep(self.space, assumption)
            self.sheets: dict[int, Worksheet] = {}
            self.ends = fill_ends(self.items, self.book)
            self.fill = bounds(self.weigh, self.ends, margin_first)
            self.space = self.fill.worst.space

    @property
    def items(self) -> tuple[Item, ...]:
        """The lines written of it."""
        return self.cases.builder.sides[self.cases.number][1]

    def weigh(self, assumption: Assumption) -> Weighed:
        """Its box fill under an assumption; of equal spaces once."""
        space = self.cases.space(assumption)
        sheet = self.sheets.get(id(space))
        if sheet is None:
            sheet = self.sheets[id(space)] = worksheet(space, self.book)
        return Weighed(space, sheet)


class Weighed(NamedTuple):
    """A space as settled, and its box fill."""

    space: Space
    sheet: Worksheet


def margin_first(weighed: Weighed) -> tuple[Decimal, Decimal]:
    """Orders what was weighed from worse to better."""
    return weighed.sheet.margin, -weighed.sheet.needed


# ---- weighing ------------------------------------------------------------------------------------------------------


def worksheet(space: Space, book: CodeBook) -> Worksheet:
    """The room there is and the fill that is needed, line by line."""
    room: list[Line] = []
    fill: list[Line] = []
    for rule in ROOM_RULES:
        room += rule(space, book)
    for rule in FILL_RULES:
        fill += rule(space, book)
    if book.is_amended(CONDUCTOR_ROOM.name):
        fill = by_amended_allowances(fill, book)
    return Worksheet(shared_out(tuple(room), space, book) if space.share else tuple(room), tuple(fill))


def by_amended_allowances(fill: list[Line], book: CodeBook) -> list[Line]:
    """Every line that multiplies an allowance the place has changed says so."""
    said = f", with allowances by {book[CONDUCTOR_ROOM].cite}"
    amended = book.once(amended_allowances)
    return [
        line._replace(cite=line.cite + said) if isinstance(line, Counted) and id(line.each) in amended else line
        for line in fill
    ]


def amended_allowances(book: CodeBook) -> dict[int, Decimal]:
    """The allowances a place has written, each by its identity: two sizes may be given the same number, and a line takes
    its own from the table as it is. Where the place wrote no rows, what it amended holds for all.
    """
    rows = book[CONDUCTOR_ROOM].rows
    blocks = book.amendments.blocks(CONDUCTOR_ROOM.name, book.year)
    written = {size for block in blocks for size in (block.get("rows") or rows)}
    return {id(room): room for size, room in rows.items() if size in written}


def fill_finding(side: Side, book: CodeBook, is_empty: bool) -> Finding:
    """Whether the fill goes into the room: at the worst, and at the best where facts are unknown.

    A box in which nothing is written (``is_empty``), or whose volume nobody knows, is open, never a pass.
    """
    case = side.fill
    if case is None:
        only = Weighed(side.space, worksheet(side.space, book))
        case = Bounds(only, only, side.needed)
    space, worst_sheet = case.worst
    best_sheet = case.best.sheet if case.best.sheet != worst_sheet else None
    verdict = fill_verdict(case, is_empty)
    if not case.is_complete:
        message = TOO_MANY_FACTS.format(space.subject)
    elif verdict is Verdict.OPEN and is_empty:
        message = empty_message(space.subject, worst_sheet, is_volume_unknown(space, case.best.space))
    else:
        message = fill_message(space.subject, verdict, worst_sheet, best_sheet)
    facts: tuple[OpenFact, ...] = ()
    if verdict is Verdict.OPEN:
        facts = (*(empty_facts(space) if is_empty else ()), *fill_facts(case, side, is_empty))
    terms = book[VERDICT]
    return Finding(
        BOX_FILL.name,
        verdict,
        space.subject,
        message,
        terms.cite,
        space.box.at,
        worst_sheet,
        best_sheet,
        facts,
        confidence=terms.confidence,
    )


def fill_verdict(case: Bounds[Weighed], is_empty: bool) -> Verdict:
    """What the worst and the best case make of a box, or of a side of it."""
    worst, best = case.worst, case.best
    if not case.is_complete:
        return Verdict.OPEN
    verdict = between(worst.sheet.verdict, best.sheet.verdict)
    if verdict.is_allowed and (is_empty or is_volume_unknown(worst.space, best.space)):
        return Verdict.OPEN
    return verdict


def is_volume_unknown(space: Space, best: Space) -> bool:
    """Whether nobody knows the volume of the box itself: it could be none, and it could be any."""
    return space.base_room == 0 and best.base_room == NO_LIMIT


def empty_facts(space: Space) -> tuple[OpenFact, ...]:
    return (OpenFact(f"what comes into {space.subject} and what sits in it", Decimal(0), at=space.box.at),)


def empty_body_finding(space: Space, book: CodeBook) -> Finding:
    """A conduit body through which nothing passes yet: there is nothing to judge, and that is no pass."""
    terms = book[CROSS_SECTION]
    return Finding(
        BODY,
        Verdict.OPEN,
        space.subject,
        empty_message(space.subject, None, False),
        terms.cite,
        space.box.at,
        facts=empty_facts(space),
        confidence=terms.confidence,
    )


# ---- facts to check ------------------------------------------------------------------------------------------------


def fill_facts(case: Bounds[Weighed], side: Side, is_empty: bool) -> Iterator[OpenFact]:
    """Each unknown fact that moves the box fill, with what each of its values would settle."""
    worst, best = case.worst.sheet, case.best.sheet

    def attempt(values: Values) -> Outcome:
        tried = bounds(side.weigh, side.ends, margin_first, values)
        numbers = tuple([(weighed.sheet.there, weighed.sheet.needed) for weighed in (tried.worst, tried.best)])
        return Outcome(fill_verdict(tried, is_empty), numbers, tried.worst.sheet, tried.best.sheet)

    def swing(well: Outcome, ill: Outcome) -> Decimal:
        assert well.worst is not None
        assert ill.best is not None
        if moves(worst, well.worst):
            return gained(worst, well.worst)
        return gained(ill.best, best) if ill.best.there.is_finite() else ill.best.needed - best.needed

    return open_facts(case.needed.values(), side.ends, attempt, swing)


def moves(one: Worksheet, other: Worksheet) -> bool:
    """Whether two ways to take a fact differ in a number, not only in words."""
    return (one.there, one.needed) != (other.there, other.needed)


def gained(worst: Worksheet, well: Worksheet) -> Decimal:
    """How much better one fact that turns out well makes a space, in3; what nobody can bound on both sides is left out."""
    if worst.needed.is_finite() or well.needed.is_finite():
        return well.margin - worst.margin
    bounded = [[line.amount for line in sheet.need if line.amount.is_finite()] for sheet in (worst, well)]
    if len(worst.need) - len(bounded[0]) > len(well.need) - len(bounded[1]):
        return NO_LIMIT
    return (well.there - worst.there) + (sum(bounded[0], Decimal(0)) - sum(bounded[1], Decimal(0)))


# ---- judging -------------------------------------------------------------------------------------------------------


def judged(side: Side, book: CodeBook) -> Iterator[Finding]:
    """What the other rules find; a verdict that depends on unknown facts is open."""
    for rule in FINDING_RULES:
        if rule.of_bodies and not side.space.is_conduit_body:
            continue
        if not side.needed:
            yield from rule.function(side.space, book)
            continue
        ends = rule.ends_for(side.items, book)
        if all(ends.get(fact.field) == "neither" for fact in side.needed):
            yield from rule.function(side.space, book)
        else:
            yield from judged_at_both_ends(rule, side, ends)


def judged_at_both_ends(rule: Rule, side: Side, declared: Ends) -> Iterator[Finding]:
    """What one rule finds of a space on which unknown facts bear."""
    ends: dict[str, End] = {}
    for field, end in declared.items():
        if end != "neither":
            ends[field] = end
        elif field in ENDS:
            ends[field] = ENDS[field]

    def judge(assumption: Assumption) -> list[Finding]:
        return list(rule.function(side.cases.space(assumption), side.book))

    def attempt(values: Values) -> Outcome:
        tried = bounds(judge, ends, severity_first, values)
        return Outcome(verdict_of(tried), (verdicts(tried.worst), verdicts(tried.best)))

    case = bounds(judge, ends, severity_first)
    best_messages = {finding.message for finding in case.best}
    verdict = verdict_of(case)
    for finding in case.worst:
        if verdict is Verdict.OPEN and (finding.verdict is Verdict.FAILS or not case.is_complete):
            needed = [unknown for unknown in case.needed.values() if declared.get(unknown.fact.field) != "neither"]
            facts = tuple(open_facts(needed, ends, attempt))
            yield finding._replace(verdict=Verdict.OPEN, message=worst_case_message(finding.message), facts=facts)
        elif finding.message not in best_messages:
            yield finding._replace(message=worst_case_message(finding.message))
        else:
            yield finding
    if not case.worst and not case.is_complete:
        message = TOO_MANY_FACTS.format(side.space.subject)
        cite = book_cite(rule, side.book)
        yield Finding(rule.name, Verdict.OPEN, side.space.subject, message, cite, side.space.box.at)


def book_cite(rule: Rule, book: CodeBook) -> str:
    """Where the book has a rule: the section of the first table it reads."""
    return next((str(book[table].cite) for table in rule.reads), "")


def severity_first(findings: list[Finding]) -> tuple[int, Decimal]:
    """Orders what a rule finds in one case from worse to better: by the verdict, then by what is to spare."""
    severity = max((finding.verdict for finding in findings), default=Verdict.PASSES)
    margins = [finding.worst.margin for finding in findings if finding.worst is not None]
    return -severity, min(margins, default=NO_LIMIT)


def verdict_of(case: Bounds[list[Finding]]) -> Verdict:
    """What the worst and the best case make of a rule's findings."""
    if not case.is_complete:
        return Verdict.OPEN
    worst, best = (
        max((finding.verdict for finding in findings), default=Verdict.PASSES) for findings in (case.worst, case.best)
    )
    return between(worst, best)


def verdicts(findings: list[Finding]) -> tuple[tuple[Verdict, str], ...]:
    return tuple([(finding.verdict, finding.message) for finding in findings])


__all__ = ["BOX_FILL", "book_for", "box_reports", "check", "check_box", "edition_for", "worksheet"]
