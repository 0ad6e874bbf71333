"""The rules over a job: every space of every box, at its worst and, where facts are unknown, at its best."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal

from ampleroom.editions import NEWEST_COMPARED, OFFERED, CodeBook
from ampleroom.errors import EditionMissing
from ampleroom.job.model import Base, Box, Item, Job
from ampleroom.job.subjects import not_judged
from ampleroom.job.unknown import UNKNOWN
from ampleroom.quantities import NO_LIMIT, number, volume
from ampleroom.report import Report
from ampleroom.rules import RULES
from ampleroom.rules.box_room.barriers import shared_out
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.conduit_body.passing import NAME as BODY
from ampleroom.rules.conduit_body.splices import holds_splices
from ampleroom.rules.kinds import KINDS, Index, Kind, judged_names, register
from ampleroom.rules.meetings import Meeting, meetings_by_place
from ampleroom.rules.outlook import Outlook, Question
from ampleroom.rules.space import Space
from ampleroom.worksheet import BOX_FILL, Fact, Finding, Line, SubjectReport, Verdict, Worksheet, between

FILL_RULES = tuple(rule.function for rule in RULES.values() if rule.topic == "fill")
ROOM_RULES = tuple(rule.function for rule in RULES.values() if rule.topic == "room")
FINDING_RULES = tuple(rule.function for rule in RULES.values() if rule.topic == "finding")
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
    index = Index(job)
    return tuple([kind.judge(subject, index, book) for kind in KINDS.values() for subject in kind.subjects(job)])


def box_reports(job: Job, book: CodeBook) -> tuple[SubjectReport, ...]:
    """What is found of every box and conduit body of a job."""
    index = Index(job)
    return tuple([place_report(box, index, book) for box in job.boxes])


def place_report(box: Box, index: Index, book: CodeBook) -> SubjectReport:
    """What is found of one box or conduit body."""
    return box_report(box, items_of(box, index.shared_items), index.meetings.get(box.name, ()), book)


register(Kind("box", "boxes", lambda job: job.boxes, place_report, ("box",), BOX_FILL))
# Conduit bodies are judged with the boxes, so that both stand in the order of the sheet.
register(Kind(BODY_KIND, "conduit bodies", lambda job: (), place_report, (), BOX_FILL))


def check_box(job: Job, box: Box, book: CodeBook) -> SubjectReport:
    """What is found of one box of a job, without looking at the others."""
    return box_report(box, job.items(box), meetings_by_place(job).get(box.name, ()), book)


def kind_of(items: tuple[Item, ...]) -> str:
    """What a place of a sheet is, by what stands under it: a conduit body is one kind of subject, any other box another."""
    return BODY_KIND if any(isinstance(item, Base) and item.form == BODY_KIND for item in items) else "box"


def items_of(box: Box, kinds: dict[str, tuple[Item, ...]]) -> tuple[Item, ...]:
    return kinds.get(box.kind, ()) + box.items if box.kind and box.kind is not UNKNOWN else box.items


def box_report(box: Box, items: tuple[Item, ...], meetings: Sequence[Meeting], book: CodeBook) -> SubjectReport:
    """One box: each of its spaces weighed and judged, and what cannot be counted said once."""
    worst = Outlook()
    spaces = SpaceBuilder(box, items, meetings, book, worst).spaces()
    hopeful = (
        SpaceBuilder(box, items, meetings, book, Outlook(hopeful=True)).spaces()
        if worst.asked
        else [None] * len(spaces)
    )
    is_empty = all(space.is_empty for space in spaces)
    findings: list[Finding] = []
    for index, (space, best) in enumerate(zip(spaces, hopeful, strict=True)):
        if not space.is_conduit_body or (
            holds_splices(space) and space.base is not None and space.base.volume is not None
        ):
            finding = fill_finding(space, best, book, is_empty)
            if finding.verdict is Verdict.OPEN:
                facts = facts_for(finding, index, box, items, meetings, book, worst) if finding.best is not None else ()
                finding = finding._replace(facts=(*(empty_facts(space) if is_empty else ()), *facts))
            findings.append(finding)
        elif is_empty:
            findings.append(empty_body_finding(space, book))

        def again(outlook: Outlook, index: int = index) -> Space:
            return SpaceBuilder(box, items, meetings, book, outlook).spaces()[index]

        findings += judged(space, best, book, worst, again)
    reminders = [reminder for space in spaces for remind in REMINDER_RULES for reminder in remind(space, book)]
    if len(spaces) > 1:
        reminders = list(dict.fromkeys(reminders))
    return SubjectReport(kind_of(items), box.name, box.description, box.at, tuple(findings), tuple(reminders), is_empty)


# ---- weighing ------------------------------------------------------------------------------------------------------


def worksheet(space: Space, book: CodeBook) -> Worksheet:
    """The room there is and the fill that is needed, line by line."""
    room: list[Line] = []
    fill: list[Line] = []
    for rule in ROOM_RULES:
        room += rule(space, book)
    for rule in FILL_RULES:
        fill += rule(space, book)
    if "amended_by" in book["box_fill.conductor_room"]:
        fill = by_amended_allowances(fill, book)
    return Worksheet(shared_out(tuple(room), space, book) if space.share else tuple(room), tuple(fill))


def by_amended_allowances(fill: list[Line], book: CodeBook) -> list[Line]:
    """Every line that multiplies an allowance the place has changed says so."""
    said = f", with allowances by {book['box_fill.conductor_room']['cite']}"
    amended = book.once(amended_allowances)
    return [line._replace(cite=line.cite + said) if id(line.each) in amended else line for line in fill]


def amended_allowances(book: CodeBook) -> dict[int, Decimal]:
    """The allowances a place has written, each by its identity: two sizes may be given the same number, and a line takes
    its own from the table as it is. Where the place wrote no rows, what it amended holds for all.
    """
    table = "box_fill.conductor_room"
    rows = book[table]["rows"]
    written = {size for block in book.amendments.blocks(table, book.year) for size in (block.get("rows") or rows)}
    return {id(room): room for size, room in rows.items() if size in written}


def fill_finding(space: Space, best: Space | None, book: CodeBook, is_empty: bool) -> Finding:
    """Whether the fill goes into the room: at the worst, and at the best where facts are unknown.

    A box in which nothing is written (``is_empty``), or whose volume nobody knows, is open, never a pass.
    """
    worst_sheet = worksheet(space, book)
    best_sheet = worksheet(best, book) if best is not None else None
    if best_sheet == worst_sheet:
        best_sheet = None
    is_unknown = is_volume_unknown(space, best)
    verdict = between(worst_sheet.verdict, (best_sheet or worst_sheet).verdict)
    if verdict.is_allowed and (is_empty or is_unknown):
        verdict = Verdict.OPEN
    if verdict is Verdict.OPEN and is_empty:
        message = empty_message(space.subject, worst_sheet, is_unknown)
    else:
        message = fill_message(space.subject, verdict, worst_sheet, best_sheet)
    terms = book["box_fill.verdict"]
    at = space.box.at
    return Finding(
        BOX_FILL.name,
        verdict,
        space.subject,
        message,
        terms["cite"],
        at,
        worst_sheet,
        best_sheet,
        confidence=book.confidence("box_fill.verdict"),
    )


def is_volume_unknown(space: Space, best: Space | None) -> bool:
    """Whether nobody knows the volume of the box itself: it could be none, and it could be any."""
    return best is not None and space.base_room == 0 and best.base_room == NO_LIMIT


def empty_message(name: str, sheet: Worksheet, is_unknown: bool) -> str:
    holds = "volume not known" if is_unknown else f"it holds {volume(sheet.there)}"
    return f"{name} has nothing in it yet, {holds}"


def empty_facts(space: Space) -> tuple[Fact, ...]:
    return (Fact(f"what comes into {space.subject} and what sits in it", Decimal(0), at=space.box.at),)


def empty_body_finding(space: Space, book: CodeBook) -> Finding:
    """A conduit body through which nothing passes yet: there is nothing to judge, and that is no pass."""
    table = "conduit_bodies.cross_section"
    return Finding(
        BODY,
        Verdict.OPEN,
        space.subject,
        f"{space.subject} has nothing in it yet",
        book[table]["cite"],
        space.box.at,
        facts=empty_facts(space),
        confidence=book.confidence(table),
    )


def fill_message(name: str, verdict: Verdict, worst: Worksheet, best: Worksheet | None) -> str:
    """One line that is enough alone: the two numbers and the difference."""
    if verdict is Verdict.PASSES:
        said = f"{name} needs {volume(worst.needed)} and holds {volume(worst.there)}: "
        said += "exactly full" if worst.margin == 0 else f"{number(worst.margin)} to spare"
        return said + (", at the worst" if best is not None else "")
    if verdict is Verdict.FAILS:
        sheet = best if best is not None else worst
        said = f"{name} needs {volume(sheet.needed)} and holds {volume(sheet.there)}: {number(-sheet.margin)} short"
        return said + (", even at the best" if best is not None else "")
    assert best is not None
    needs = volume(worst.needed) if best.needed == worst.needed else f"{number(best.needed)} to {volume(worst.needed)}"
    if worst.needed == NO_LIMIT:
        needs = f"{volume(best.needed)} or more"
    if best.there == NO_LIMIT:
        return f"{name} needs {needs}, and its room is not known"
    holds = volume(worst.there) if best.there == worst.there else f"{number(worst.there)} to {volume(best.there)}"
    return f"{name} needs {needs} and holds {holds}: it hangs on what nobody has looked at"


# ---- facts to go and find ------------------------------------------------------------------------------------------


def facts_for(
    finding: Finding,
    index: int,
    box: Box,
    items: tuple[Item, ...],
    meetings: Sequence[Meeting],
    book: CodeBook,
    worst: Outlook,
) -> Iterator[Fact]:
    """Each unknown fact that matters to one space, the one that settles most first."""
    assert finding.worst is not None
    assert finding.best is not None
    facts = []
    for question, worst_value in worst.asked.items():

        def sheet(outlook: Outlook) -> Worksheet:
            return worksheet(SpaceBuilder(box, items, meetings, book, outlook).spaces()[index], book)

        well = sheet(Outlook(well=question))
        if moves(finding.worst, well):
            swing = gained(finding.worst, well)
            settles = settles_text(finding.worst, finding.best, well)
        else:
            ill = sheet(Outlook(hopeful=True, given={question: worst_value}))
            if not moves(ill, finding.best):
                continue
            swing = gained(ill, finding.best) if ill.there.is_finite() else ill.needed - finding.best.needed
            settles = f"{volume(swing)} hang on it, but only together with others" if swing.is_finite() else TOGETHER
        if worst_value == NO_LIMIT:
            settles = count_text(lambda tried, question=question: sheet(Outlook(given={question: tried})).passes)
        facts.append((question.effort, -swing, Fact(question.text, swing, settles, question.at)))
    facts.sort(key=lambda fact: fact[:2])
    yield from (fact for _, _, fact in facts)


TOGETHER = "it counts, but only together with others"


def moves(one: Worksheet, other: Worksheet) -> bool:
    """Whether two ways to take a fact differ in a number, not only in words."""
    return (one.there, one.needed) != (other.there, other.needed)


def gained(worst: Worksheet, well: Worksheet) -> Decimal:
    """How much better one fact that turns out well makes a space, in3; what nobody can bound on both sides is left out."""
    if worst.needed.is_finite() or well.needed.is_finite():
        return well.margin - worst.margin
    bounded = [[line.amount for line in sheet.fill if line.amount.is_finite()] for sheet in (worst, well)]
    if len(worst.fill) - len(bounded[0]) > len(well.fill) - len(bounded[1]):
        return NO_LIMIT
    return (well.there - worst.there) + (sum(bounded[0], Decimal(0)) - sum(bounded[1], Decimal(0)))


def settles_text(worst: Worksheet, best: Worksheet, well: Worksheet) -> str:
    """What one fact would settle if it turned out well, everything else at its worst."""
    if well.there == NO_LIMIT and (not worst.needed.is_finite() or worst.margin >= 0):
        return "it must be known, and how much goes in too"
    if well.there == NO_LIMIT:
        part = -worst.margin
        text = f"the box passes if it is {volume(part)} or more"
        if best.needed != worst.needed:
            text += ", whatever else"
            least = part - (worst.needed - best.needed)
            text += f"; under {volume(least)} it fails" if least > 0 else ""
        return text
    swing = gained(worst, well)
    hangs = f"{volume(swing)} hang on it" if swing.is_finite() else "everything hangs on it"
    if well.passes:
        return f"{hangs}: if it turns out well, the box passes"
    return f"{hangs}: alone it is not enough"


def count_text(passes_with) -> str:  # type: ignore[no-untyped-def]
    """How many alike the box would pass with."""
    most = -1
    for tried in range(200):
        if not passes_with(Decimal(tried)):
            break
        most = tried
    if most < 0:
        return "count them: alone it is not enough"
    return f"count them: the box passes with {most} or fewer"


# ---- judging -------------------------------------------------------------------------------------------------------


def judged(
    space: Space, best: Space | None, book: CodeBook, outlook: Outlook, again: Callable[[Outlook], Space]
) -> Iterator[Finding]:
    """What the other rules find; a verdict that hangs on unknown facts is open. ``again`` puts the space together anew."""
    for rule in FINDING_RULES:
        at_worst = list(rule(space, book))
        if best is None:
            yield from at_worst
            continue
        at_best = list(rule(best, book))
        best_verdict = max((finding.verdict for finding in at_best), default=Verdict.PASSES)
        said = {finding.message for finding in at_best}
        for finding in at_worst:
            verdict = between(finding.verdict, best_verdict) if finding.verdict is Verdict.FAILS else finding.verdict
            if verdict is not finding.verdict or (verdict is Verdict.ADVICE and best_verdict is Verdict.PASSES):
                asked = deciding(lambda tried, rule=rule: verdicts(rule(tried, book)), space, best, outlook, again)
                facts = tuple(Fact(question.text, Decimal(0), "it decides this too", question.at) for question in asked)
                yield finding._replace(verdict=verdict, message=finding.message + ", at the worst", facts=facts)
            elif finding.message not in said:
                yield finding._replace(message=finding.message + ", at the worst")
            else:
                yield finding


def deciding(  # type: ignore[no-untyped-def]
    judge, space: Space, best: Space, outlook: Outlook, again: Callable[[Outlook], Space]
) -> list[Question]:
    """The questions whose answer changes what a rule finds; all of them where only several together do."""
    worst_found, best_found = judge(space), judge(best)
    found = [
        question
        for question, worst_value in outlook.asked.items()
        if judge(again(Outlook(well=question))) != worst_found
        or judge(again(Outlook(hopeful=True, given={question: worst_value}))) != best_found
    ]
    return found or list(outlook.asked)


def verdicts(findings: Iterator[Finding]) -> list[tuple[Verdict, str]]:
    return [(finding.verdict, finding.message) for finding in findings]


__all__ = ["Question", "book_for", "box_reports", "check", "check_box", "edition_for", "subject_reports", "worksheet"]
