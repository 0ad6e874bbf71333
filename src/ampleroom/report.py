"""A whole answer: every subject with its findings, the edition it was judged by, and the same as JSON."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from ampleroom.arithmetic import Counted, Line, Pick, Share
from ampleroom.editions import READINGS, CodeBook
from ampleroom.errors import NameUnknown
from ampleroom.job.lookalikes import look_alikes
from ampleroom.job.model import Job
from ampleroom.job.subjects import NotJudged, not_judged_text
from ampleroom.record import Record, TupleRecord
from ampleroom.rules.kinds import KINDS, headline_of, so_many
from ampleroom.where import Where
from ampleroom.words import (
    CAUTION,
    NO_VALUE_PASSES,
    counts_text,
    headline_text,
    other_case_text,
    subject_message,
    sum_text,
)
from ampleroom.worksheet import Finding, OpenFact, Reminder, SubjectReport, Verdict, Worksheet

if TYPE_CHECKING:
    from fractions import Fraction

VERSION = "0.1.0"
SCHEMA = "ampleroom-report/2"
SCHEMA_BEFORE = "ampleroom-report/1"
"""The form of the release before; it is written on request, and no longer in the next release."""
BOXES_BEFORE = ("box", "conduit body")
"""The kinds that form 1 calls boxes."""


class Effect(TupleRecord):
    """What a fact would settle in one finding."""

    subject: str
    rule: str
    settles: str
    by_value: tuple[tuple[str, Verdict], ...]
    """What the finding is with each value; empty for a range."""


class Question(TupleRecord):
    """A fact to find out, and every finding it bears on."""

    key: Hashable
    """Which fact it is."""
    text: str
    at: Where
    effects: tuple[Effect, ...]

    @property
    def no_value_passes(self) -> bool:
        """Whether each value it may have fails one of the findings, though none of them fails whatever it is."""
        tables = [dict(effect.by_value) for effect in self.effects]
        values = {value for table in tables for value in table}
        failing = {value for table in tables for value, verdict in table.items() if verdict is Verdict.FAILS}
        return bool(values) and values == failing


def key_of(fact: OpenFact) -> Hashable:
    """Which fact it is; of one that is no field of the sheet, by its place and its question."""
    return fact.fact or (fact.at, fact.question)


def questions_of(findings: Iterable[Finding]) -> tuple[Question, ...]:
    """The facts that open findings lean on, each once; those that bear on most findings first, then the easiest."""
    first: dict[Hashable, OpenFact] = {}
    effects: dict[Hashable, list[Effect]] = {}
    for finding in findings:
        if finding.verdict is not Verdict.OPEN:
            continue
        for fact in finding.facts:
            key = key_of(fact)
            first.setdefault(key, fact)
            effects.setdefault(key, []).append(Effect(finding.subject, finding.rule, fact.settles, fact.by_value))
    in_order = sorted(first, key=lambda key: (-len(effects[key]), first[key].effort))
    return tuple([Question(key, first[key].question, first[key].at, tuple(effects[key])) for key in in_order])


class Report(Record):
    """What was found of a job, by one edition of the code book.

    ``not_compared``: the tables it leaned on that nobody compared with this edition, as of when it was made. What is
    asked of the book later is no part of it.
    """

    job: Job
    book: CodeBook
    subjects: tuple[SubjectReport, ...]
    not_judged: tuple[NotJudged, ...] = ()
    """What stands in the sheet and no rule judged. Empty where the report is of one subject alone."""
    not_compared: tuple[str, ...] = ()

    def __init__(
        self,
        job: Job,
        book: CodeBook,
        subjects: tuple[SubjectReport, ...],
        not_judged: tuple[NotJudged, ...] = (),
        not_compared: tuple[str, ...] | None = None,
    ) -> None:
        self.settle(
            job=job,
            book=book,
            subjects=subjects,
            not_judged=not_judged,
            not_compared=book.not_compared if not_compared is None else not_compared,
        )

    @property
    def notes(self) -> list[str]:
        """What the edition itself is worth, in sentences: provisional, not compared, amended."""
        return self.book.notes_with(self.not_compared)

    @property
    def verdict(self) -> Verdict:
        """The worst of all subjects. A job is open where there is none, or where something in its sheet was not
        judged.
        """
        worst = max((subject.verdict for subject in self.subjects), default=Verdict.OPEN)
        return max(worst, Verdict.OPEN) if self.not_judged else worst

    @property
    def not_judged_text(self) -> str:
        """``Not judged: 2 raceways, 3 circuits``; empty where everything was judged."""
        return not_judged_text(self.not_judged)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding of every subject, in the order of the subjects."""
        return tuple(finding for subject in self.subjects for finding in subject.findings)

    @property
    def worksheets(self) -> dict[str, Worksheet]:
        """The arithmetic that decides, by box or box/space."""
        return {finding.subject: finding.worksheet for finding in self.findings if finding.worksheet is not None}

    @property
    def counts(self) -> dict[Verdict, int]:
        """How many subjects have each verdict, the worst first."""
        return counts_of(self.subjects)

    @property
    def by_kind(self) -> dict[str, tuple[SubjectReport, ...]]:
        """The reports by kind, in the order of ``KINDS``; a kind the job has none of is left out."""
        by_name: dict[str, list[SubjectReport]] = {name: [] for name in KINDS}
        for subject in self.subjects:
            by_name.setdefault(subject.kind, []).append(subject)
        return {kind: tuple(subjects) for kind, subjects in by_name.items() if subjects}

    @property
    def counts_by_kind(self) -> dict[str, dict[Verdict, int]]:
        """How many of each kind have each verdict."""
        return {kind: counts_of(subjects) for kind, subjects in self.by_kind.items()}

    @property
    def subjects_text(self) -> str:
        """``3 boxes, 1 conduit body``; ``0 boxes`` where there is nothing to judge."""
        return so_many_of_each(self.subjects) or so_many(0, "box")

    @property
    def counts_text(self) -> str:
        """``1 fails, 2 need a check, 4 pass``; ``nothing to check`` where there is no subject."""
        return counts_text(self.counts)

    def of(self, kind: str) -> tuple[SubjectReport, ...]:
        """The reports of one kind, such as ``box`` or ``conduit body``, in the order of the sheet."""
        return tuple(subject for subject in self.subjects if subject.kind == kind)

    def subject(self, name: str) -> SubjectReport:
        """The report of one subject, upper and lower case alike; the first of that name. The word of its kind may be
        left out where no other has that name: ``3`` of ``circuit 3``. Raises ``NameUnknown``.
        """
        wanted = name.casefold()
        for subject in self.subjects:
            if subject.name.casefold() == wanted:
                return subject
        for subject in self.subjects:
            if subject.name.casefold() == f"{subject.kind} {wanted}":
                return subject
        kinds = dict.fromkeys("box" if subject.kind == "conduit body" else subject.kind for subject in self.subjects)
        noun = " or ".join(kinds) or "box"
        raise NameUnknown(noun, name, (subject.name for subject in self.subjects))

    @property
    def readings(self) -> dict[str, list[str]]:
        """Every disputed point that mattered, and for which subjects."""
        mattered: dict[str, list[str]] = {}
        leaned = [pair for subject in self.subjects for pair in subject.readings]
        for name, subject in dict.fromkeys(leaned):
            mattered.setdefault(name, []).append(subject)
        return mattered

    @property
    def questions(self) -> tuple[Question, ...]:
        """Each fact to find out, once however many findings lean on it; what settles most of them first."""
        unsettled = [subject for subject in self.subjects if not subject.verdict.is_allowed]
        return questions_of(finding for subject in unsettled for finding in subject.findings)

    def columns(self, where: Where) -> tuple[int, int]:
        """The first column of a place and the column after it, from 1; (1, 1) for a job without a sheet."""
        return self.job.sheet.columns(where) if self.job.sheet else (1, 1)

    def to_json(self, form: int = 2) -> dict[str, Any]:
        """The same with everything in it."""
        return {
            key: list(value) if isinstance(value, Iterator) else value
            for key, value in self.json_by_subject(form).items()
        }

    def json_by_subject(self, form: int = 2) -> dict[str, Any]:
        """The documented form, ``docs/json.md``; numbers that decide are strings, so that none is rounded on the way.

        ``subjects`` is an iterator: of a large job no more than one is held as JSON at a time.
        ``form`` 1 is that of the release before: ``boxes`` alone, without their kinds, and its word for a verdict that
        needs a check. It goes with the next release.
        """
        head = {
            "schema": SCHEMA if form > 1 else SCHEMA_BEFORE,
            "ampleroom": VERSION,
            "job": {"title": self.job.title, "file": self.job.file},
            "edition": edition_json(self.book, self.not_compared),
            "verdict": self.verdict.word,
            "counts": counts_json(self.counts),
        }
        if form > 1:
            head["counts_by_kind"] = {kind: counts_json(counts) for kind, counts in self.counts_by_kind.items()}
        body: dict[str, Any] = {
            "not_judged": not_judged_json(self.not_judged),
            "readings": self.readings_json(),
        }
        if form > 1:
            body["assumptions"] = list(self.job.assumptions)
            body["subjects"] = (self.subject_json(subject) for subject in self.subjects)
            body["questions"] = [self.question_json(question) for question in self.questions]
            body["warnings"] = self.warnings_json()
        else:
            body["boxes"] = (self.box_json(subject) for subject in self.subjects if subject.kind in BOXES_BEFORE)
        whole = {**head, **body, "caution": CAUTION}
        return whole if form > 1 else in_words_before(whole)

    def readings_json(self) -> list[dict[str, Any]]:
        """Every disputed point that mattered, by name."""
        return [reading_json(name, subjects, self.book) for name, subjects in sorted(self.readings.items())]

    def subject_alone_json(self, subject: SubjectReport, form: int = 2) -> dict[str, Any]:
        """The same form with one subject in it: its verdict, and the disputed points that mattered for it."""
        return Report(self.job, self.book, (subject,), not_compared=self.not_compared).to_json(form)

    def warnings_json(self) -> list[dict[str, Any]]:
        """Names in the sheet that look alike and differ in letters, each with its place, as ``warnings`` in
        docs/json.md.
        """
        return [{"text": pair.text, "where": self.where_json(pair.at)} for pair in look_alikes(self.job)]

    def subject_json(self, subject: SubjectReport) -> dict[str, Any]:
        """One subject as JSON: its verdict, its headline rule's text, its findings and reminders."""
        headline = headline_of(subject.kind)
        return {
            "kind": subject.kind,
            "name": subject.name,
            "at": subject.description,
            "where": self.where_json(subject.at),
            "verdict": subject.verdict.word,
            "message": subject_message(subject, headline),
            "margin_text": headline_text(subject, headline),
            "empty": subject.is_empty,
            "headline": headline.name if headline else None,
            "findings": [self.finding_json(finding) for finding in subject.findings],
            "reminders": [reminder_json(reminder) for reminder in subject.reminders],
        }

    def box_json(self, box: SubjectReport) -> dict[str, Any]:
        """A box as form 1 has it, without its kind."""
        row = self.subject_json(box)
        del row["kind"], row["headline"], row["message"], row["margin_text"]
        for finding_row, finding in zip(row["findings"], box.findings, strict=True):
            sheets = (finding.worksheet, finding.best, finding.worst)
            for key, sheet in zip(("worksheet", "best_case", "worst_case"), sheets, strict=True):
                if finding_row[key] is not None and sheet is not None:
                    finding_row[key] = worksheet_json_before(sheet)
        return row

    def finding_json(self, finding: Finding) -> dict[str, Any]:
        """One finding as JSON: ``needed``, ``there`` and ``margin`` in ``unit``, None without a worksheet."""
        sheet = finding.worksheet
        return {
            "rule": finding.rule,
            "subject": finding.subject,
            "verdict": finding.verdict.word,
            "message": finding.message,
            "cite": finding.cite,
            "confidence": finding.confidence,
            "readings": list(finding.all_readings),
            "where": self.where_json(finding.at),
            "needed": decimal_json(sheet.needed) if sheet else None,
            "there": decimal_json(sheet.there) if sheet else None,
            "margin": decimal_json(sheet.margin) if sheet else None,
            "purpose": sheet.purpose.name if sheet else None,
            "unit": sheet.unit.plain if sheet else None,
            "sum": sum_text(sheet) if sheet else "",
            "other_case": other_case_text(finding),
            "too_many": finding.surplus.text if finding.surplus else "",
            "worksheet": worksheet_json(sheet) if sheet else None,
            "best_case": worksheet_json(finding.best) if finding.best else None,
            "worst_case": worksheet_json(finding.worst) if finding.best and finding.worst else None,
            "facts_to_find": [self.fact_json(fact) for fact in finding.facts],
        }

    def fact_json(self, fact: OpenFact) -> dict[str, Any]:
        """One unknown fact as JSON; ``swing`` is what it is worth, in the unit of its finding."""
        return {
            "question": fact.question,
            "swing": decimal_json(fact.swing),
            "settles": fact.settles,
            "where": self.where_json(fact.at),
        }

    def question_json(self, question: Question) -> dict[str, Any]:
        """One question as JSON: each finding it bears on, with the verdict for each value it may have."""
        return {
            "question": question.text,
            "where": self.where_json(question.at),
            "findings": [
                {
                    "subject": effect.subject,
                    "rule": effect.rule,
                    "settles": effect.settles,
                    "by_value": [{"value": value, "verdict": verdict.word} for value, verdict in effect.by_value],
                }
                for effect in question.effects
            ],
            "no_value_passes": question.no_value_passes,
            "note": NO_VALUE_PASSES if question.no_value_passes else "",
        }

    def where_json(self, where: Where) -> dict[str, Any] | None:
        """File, line and columns of a place, counted from 1; None for what stands on no line."""
        if not where.line:
            return None
        column, end = self.columns(where)
        return {"file": self.job.file, "line": where.line, "column": column, "end": end}


def counts_of(subjects: Iterable[SubjectReport]) -> dict[Verdict, int]:
    """How many subjects have each verdict, zeros included, the worst verdict first."""
    counted = Counter(subject.verdict for subject in subjects)
    return {verdict: counted[verdict] for verdict in reversed(Verdict)}


def so_many_of_each(subjects: Iterable[SubjectReport], joined: str = ", ") -> str:
    """``3 boxes, 1 conduit body``, in the order of ``KINDS``; empty where there is none."""
    counted = Counter(subject.kind for subject in subjects)
    order = [kind for kind in KINDS if counted[kind]] + [kind for kind in counted if kind not in KINDS]
    return joined.join(so_many(counted[kind], kind) for kind in order)


def counts_json(counts: dict[Verdict, int]) -> dict[str, int]:
    """The same counts by the verdict's word."""
    return {verdict.word: count for verdict, count in counts.items()}


WORD_BEFORE = "not settled"
"""Form 1's word for ``check needed``."""


def in_words_before(value: Any) -> Any:
    """JSON with the verdicts, and what is made of them, in the words of form 1; an iterator stays one."""
    if isinstance(value, dict):
        return {
            key.replace(Verdict.OPEN.word, WORD_BEFORE): each.replace(Verdict.OPEN.word, WORD_BEFORE)
            if key in ("verdict", "settles") and each
            else in_words_before(each)
            for key, each in value.items()
        }
    if isinstance(value, list):
        return [in_words_before(each) for each in value]
    return map(in_words_before, value) if isinstance(value, Iterator) else value


def not_judged_json(not_judged: tuple[NotJudged, ...]) -> list[dict[str, Any]]:
    """What the check did not judge, as JSON: the kind, how many, and the sentence."""
    return [{"kind": each.kind, "number": each.quantity, "text": each.text} for each in not_judged]


def edition_json(book: CodeBook, not_compared: tuple[str, ...] | None = None) -> dict[str, Any]:
    """The edition an answer was judged by; ``not_compared`` as fixed when the check ended, else as of now."""
    return {
        "year": book.year,
        "title": book.title,
        "provisional": book.edition.provisional,
        "note": book.edition.note,
        "not_compared": list(book.not_compared if not_compared is None else not_compared),
        "amended_by": book.amendments.place or None,
        "amended_tables": sorted(table for table in book.amendments.tables),
    }


def reading_json(name: str, subjects: list[str], book: CodeBook) -> dict[str, Any]:
    """A disputed point as JSON: the choice ``book`` makes, its alternatives, and the ``subjects`` it mattered for."""
    reading = READINGS[name]
    choice = book.reading(name)
    return {
        "name": name,
        "asks": reading.asks,
        "choice": choice,
        "means": reading.choices[choice],
        "default": choice == reading.default,
        "others": {other: means for other, means in reading.choices.items() if other != choice},
        "mattered_for": subjects,
    }


def worksheet_json(sheet: Worksheet) -> dict[str, Any]:
    """Both halves, line by line, and their sums: exact, and as they are printed."""
    unit = sheet.unit
    return {
        "purpose": sheet.purpose.name,
        "unit": unit.plain,
        "unit_printed": unit.printed,
        "unit_spoken": unit.spoken,
        "have_title": sheet.purpose.have,
        "need_title": sheet.purpose.need,
        "have": [line_json(line) for line in sheet.have],
        "need": [line_json(line) for line in sheet.need],
        "there": decimal_json(sheet.there),
        "needed": decimal_json(sheet.needed),
        "margin": decimal_json(sheet.margin),
        "there_printed": sheet.there_printed,
        "needed_printed": sheet.needed_printed,
        "margin_printed": sheet.margin_printed,
        "passes": sheet.passes,
    }


def worksheet_json_before(sheet: Worksheet) -> dict[str, Any]:
    """A worksheet as form 1 has it: every line as so many of something."""
    return {
        "purpose": sheet.purpose.name,
        "room_title": sheet.purpose.have,
        "fill_title": sheet.purpose.need,
        "unit": sheet.unit.plain,
        "room": [line_json_before(line) for line in sheet.have],
        "fill": [line_json_before(line) for line in sheet.need],
        "there": decimal_json(sheet.there),
        "needed": decimal_json(sheet.needed),
        "margin": decimal_json(sheet.margin),
        "passes": sheet.passes,
    }


def line_json(line: Line) -> dict[str, Any]:
    """A line of any kind, and what it is made of; a field that its kind does not have is null."""
    parts = line.parts
    return {
        "kind": line.kind,
        "rule": line.rule,
        "label": line.label,
        "count": decimal_json(line.count) if isinstance(line, Counted) else None,
        "each": decimal_json(line.each) if isinstance(line, Counted) else None,
        "percent": decimal_json(line.percent) if isinstance(line, Share) else None,
        "picked": parts.index(line.picked) if isinstance(line, Pick) else None,
        "parts": [line_json(part) for part in parts],
        "amount": decimal_json(line.amount),
        "unit": line.unit.plain,
        "unit_printed": line.unit.printed,
        "is_rounded": line.is_rounded,
        "steps": line.steps,
        "printed": line.printed,
        "why": line.why,
        "cite": line.cite,
        "confidence": line.confidence,
        "readings": list(line.readings),
    }


def line_json_before(line: Line) -> dict[str, Any]:
    """A line as form 1 has it: so many of something, each taking so much. A share is a part of its whole, any other
    kind one.
    """
    count: Decimal | Fraction = Decimal(1)
    each = line.amount
    if isinstance(line, Counted):
        count, each = line.count, line.each
    elif isinstance(line, Share):
        count, each = line.percent.scaleb(-2), line.whole.amount
    return {
        "rule": line.rule,
        "what": line.label,
        "count": decimal_json(count),
        "each": decimal_json(each),
        "amount": decimal_json(line.amount),
        "why": line.why,
        "cite": line.cite,
        "confidence": line.confidence,
        "readings": list(line.readings),
    }


def reminder_json(reminder: Reminder) -> dict[str, Any]:
    """One reminder as JSON: its text, code section, and whether it is a caution."""
    return {
        "rule": reminder.rule,
        "text": reminder.text,
        "cite": reminder.cite,
        "caution": reminder.caution,
        "confidence": reminder.confidence,
        "readings": list(reminder.readings),
    }


def decimal_json(value: Decimal | Fraction) -> str | None:
    """A number as a string, exact; a fraction as ``2/3``; what is not known as null."""
    if not isinstance(value, Decimal):
        return str(value)
    return format(value, "f") if value.is_finite() else None


def lines_of(report: Report) -> Iterator[Line]:
    """Every line of every worksheet that decides, and what those are made of."""
    for finding in report.findings:
        if finding.worksheet is not None:
            yield from finding.worksheet.all_lines
