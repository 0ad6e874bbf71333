"""A report as text: the same words for the same verdict everywhere."""

from __future__ import annotations

from typing import Any

from ampleroom.arithmetic import Line, with_unit
from ampleroom.cli.kinds import passing_words, spare
from ampleroom.cli.paper import TIED, Paper
from ampleroom.editions import READINGS
from ampleroom.job.lookalikes import look_alikes
from ampleroom.quantities import NOT_KNOWN
from ampleroom.report import CAUTION, NO_VALUE_PASSES, Question, Report, key_of, readings_of
from ampleroom.rules.kinds import so_many
from ampleroom.worksheet import Finding, OpenFact, SubjectReport, Verdict, Worksheet


def write_report(report: Report, paper: Paper) -> None:
    """The whole job: what fails, what needs a check, what passes."""
    write_heading(report, paper)
    shared = [question for question in report.questions if len(question.effects) > 1]
    for verdict in (Verdict.FAILS, Verdict.OPEN, Verdict.ADVICE):
        for subject in report.subjects:
            if subject.verdict is verdict:
                paper.line()
                write_trouble(subject, report, paper, {question.key for question in shared})
    write_questions(shared, paper)
    write_passing(report, paper)
    write_cautions(report, paper)
    write_leaned_on(report, list(report.readings), paper)
    write_caution(paper)


def write_heading(report: Report, paper: Paper) -> None:
    paper.ends(report.job.title or report.job.file or "Job", report.book.title, style="bold")
    for note in (*report.notes, *report.job.assumptions):
        paper.line(note, indent=2)
    for alike in look_alikes(report.job):
        paper.line(f"Warning: line {alike.at.line}: {alike.text}.", indent=2, hang=4, style="check needed")
    paper.line(f"{report.subjects_text}: {report.counts_text}")
    if report.not_judged:
        paper.line(report.not_judged_text, style="check needed", hang=2)


def place_of(finding: Finding, report: Report) -> str:
    if not finding.at.line:
        return report.job.file
    return f"{report.job.file}:{finding.at.line}:{report.columns(finding.at)[0]}"


def write_questions(shared: list[Question], paper: Paper) -> None:
    """Facts on which several findings lean: each once, with what it settles in each of them."""
    if not shared:
        return
    paper.line()
    paper.line("Check once; it settles several findings:", style="bold")
    for rank, question in enumerate(shared, 1):
        line = f" (line {question.at.line})" if question.at.line else ""
        paper.line(f"{rank}. {question.text}{line}", indent=2, hang=5)
        for effect in question.effects:
            paper.line(f"{effect.subject} [{effect.rule}]: {effect.settles}", indent=5, hang=7)
        if question.no_value_passes:
            paper.line(NO_VALUE_PASSES, indent=5)


def write_trouble(subject: SubjectReport, report: Report, paper: Paper, shared: set[Any]) -> None:
    """A subject that does not pass: each finding that says so, and what to go and find out; not what is ``shared`` with others."""
    if not subject.findings:
        at = f"  at {subject.description}" if subject.description else ""
        paper.line(
            f"{subject.verdict.shape} {subject.verdict.word.upper()}  {subject.name}{at}", style=subject.verdict.word
        )
        paper.line("No rule says anything of it.", indent=2)
    for finding in subject.findings:
        if finding.verdict is Verdict.PASSES:
            continue
        word = finding.verdict.word
        head = f"{finding.verdict.shape} {word.upper()}  {finding.subject}" + (
            f"  at {subject.description}" if subject.description else ""
        )
        paper.line(head, style=word, hang=4)
        paper.line(f"{place_of(finding, report)}: {finding.message}  [{finding.rule}]", indent=2, hang=4)
        paper.line(
            f"{finding.cite}, {report.book.edition.title}{unsure(finding.confidence)}", indent=4, hang=6, style="dim"
        )
        own = tuple(fact for fact in finding.facts if key_of(fact) not in shared)
        write_facts(own, report, paper)
        if len(own) < len(finding.facts):
            paper.line(BELOW, indent=4)


BELOW = "See also below: facts that settle several findings."


def write_facts(facts: tuple[OpenFact, ...], report: Report, paper: Paper) -> None:
    if not facts:
        return
    paper.line("Go and find out:" if len(facts) == 1 else "Go and find out, most useful first:", indent=4)
    for rank, fact in enumerate(facts, 1):
        line = f" (line {fact.at.line})" if fact.at.line else ""
        paper.line(f"{rank}. {fact.question}{line}", indent=4, hang=7)
        if fact.settles:
            paper.line(fact.settles, indent=7)


def write_passing(report: Report, paper: Paper) -> None:
    for kind, subjects in report.by_kind.items():
        passing = [subject for subject in subjects if subject.verdict is Verdict.PASSES]
        if not passing:
            continue
        spares = [spare(subject) for subject in passing]
        words = f", {passing_words(kind)}" if any(spares) else ""
        paper.line()
        paper.line(f"{Verdict.PASSES.shape} PASSES  {so_many(len(passing), kind)}{words}:", style="passes")
        names = zip(passing, spares, strict=True)
        paper.line(",  ".join(f"{subject.name}{TIED}{least}".rstrip(TIED) for subject, least in names), indent=4)


def write_cautions(report: Report, paper: Paper) -> None:
    cautions = [
        (subject.name, reminder) for subject in report.subjects for reminder in subject.reminders if reminder.caution
    ]
    if cautions:
        paper.line()
        paper.line("Caution", style="bold")
    for name, reminder in cautions:
        cite = f" ({reminder.cite})" if reminder.cite else ""
        paper.line(f"{name}: {reminder.text}{cite}{unsure(reminder.confidence)}", indent=2, hang=4)


def write_leaned_on(report: Report, names: list[str], paper: Paper) -> None:
    """The disputed points that mattered, and how they were read."""
    if not names:
        return
    paper.line()
    paper.line("Disputed points that mattered", style="bold")
    for name in sorted(names):
        reading = READINGS[name]
        choice = report.book.reading(name)
        paper.line(f"{name} {choice}: {reading.asks}", indent=2, hang=4)
        paper.line(f"Read as: {reading.choices[choice]}.", indent=4)
        for other, means in reading.choices.items():
            if other != choice:
                paper.line(f"Or, with 'reading {name} {other}': {means}.", indent=4)


def write_caution(paper: Paper) -> None:
    paper.line()
    paper.line(CAUTION, style="dim")


# ---- one subject ---------------------------------------------------------------------------------------------------


def write_subject(subject: SubjectReport, report: Report, paper: Paper) -> None:
    """The whole worksheet of a subject, to be read aloud."""
    paper.ends(
        f"{subject.name}" + (f"  at {subject.description}" if subject.description else ""),
        f"{subject.verdict.shape} {subject.verdict.word.upper()}",
        style=subject.verdict.word,
    )
    paper.line(f"{report.job.title or report.job.file}, {report.book.title}", style="dim")
    for note in (*report.notes, *report.job.assumptions):
        paper.line(note, indent=2)
    for finding in subject.findings:
        paper.line()
        write_finding(finding, report, paper)
    write_reminders(subject, paper)
    names: dict[str, None] = {}
    for finding in subject.findings:
        names.update(dict.fromkeys(readings_of(finding)))
    write_leaned_on(report, list(names), paper)
    write_caution(paper)


def write_finding(finding: Finding, report: Report, paper: Paper) -> None:
    paper.line(f"{finding.verdict.shape} {finding.message}", hang=2, style=finding.verdict.word)
    paper.line(
        f"{finding.cite}, {report.book.edition.title}{unsure(finding.confidence)}  [{finding.rule}]",
        indent=2,
        hang=4,
        style="dim",
    )
    sheet = finding.worksheet
    if sheet is not None:
        if finding.best is not None:
            decides = "even the best case fails" if finding.verdict is Verdict.FAILS else "at the worst"
            paper.line(
                f"With what is not known taken {decides}:"
                if finding.verdict is not Verdict.FAILS
                else f"What is not known is taken at its best, and {decides}:",
                indent=2,
            )
        write_worksheet(sheet, paper)
        if finding.best is not None and finding.worst is not None and finding.verdict is not Verdict.FAILS:
            write_best(finding.worst, finding.best, paper)
    write_facts(finding.facts, report, paper)


def write_worksheet(sheet: Worksheet, paper: Paper) -> None:
    paper.line(sheet.purpose.have, indent=2, style="bold")
    for line in sheet.have:
        write_line(line, paper)
    paper.line(f"together {total_text(sheet.there_printed, sheet)}", indent=6)
    paper.line(sheet.purpose.need, indent=2, style="bold")
    for line in sheet.need:
        write_line(line, paper)
    if not sheet.need:
        paper.line("nothing is written in it yet", indent=4)
    paper.line(f"together {total_text(sheet.needed_printed, sheet)}", indent=6)
    paper.line(verdict_line(sheet), indent=2, style="bold")


def verdict_line(sheet: Worksheet) -> str:
    """The sum that decides, in one line."""
    there, needed = sheet.there_printed, sheet.needed_printed
    if not sheet.margin.is_finite():
        return f"{there} there, {needed} needed"
    if sheet.margin == 0:
        return f"{there} there - {needed} needed = exactly full"
    word = "to spare" if sheet.margin > 0 else "short"
    return f"{there} there - {needed} needed = {sheet.margin_printed} {word}"


def total_text(printed: str, sheet: Worksheet) -> str:
    """A sum with its unit; what is not known has none."""
    return printed if printed == NOT_KNOWN else with_unit(printed, sheet.unit)


def write_line(line: Line, paper: Paper) -> None:
    """A line with its sum, its reason and its section, and under it all it is made of."""
    for depth, part in line.with_parts():
        indent = 4 + 4 * min(depth, DEEPEST)
        paper.line(part.label, indent=indent, hang=indent + 2)
        paper.ends(part.text, part.cite, indent=indent + 2)
        if why := part.why + unsure(part.confidence):
            paper.line(why, indent=indent + 4, style="dim")


DEEPEST = 4
"""Parts that stand deeper than this are moved in no further: the paper would end."""


def write_best(worst: Worksheet, best: Worksheet, paper: Paper) -> None:
    """What would be different with everything unknown at its best."""
    paper.line("At the best, only this differs:", indent=2, style="bold")
    for line in best.lines:
        if line not in worst.lines:
            write_line(line, paper)
    whats = {line.label for line in best.lines}
    gone = [line for line in worst.lines if line not in best.lines and line.label not in whats]
    for line in gone:
        paper.line(f"without: {line.label}, {line.unit.amount(line.amount)}", indent=4, hang=6)
    paper.line(verdict_line(best), indent=2, style="bold")


def write_reminders(subject: SubjectReport, paper: Paper) -> None:
    if not subject.reminders:
        return
    paper.line()
    paper.line("To look at on the spot", style="bold")
    for reminder in sorted(subject.reminders, key=lambda reminder: not reminder.caution):
        lead = "! CAUTION: " if reminder.caution else "- "
        cite = f" ({reminder.cite})" if reminder.cite else ""
        paper.line(f"{lead}{reminder.text}{cite}{unsure(reminder.confidence)}", indent=2, hang=4)


def unsure(confidence: str) -> str:
    """How sure a value is, where that is worth a word."""
    return "" if confidence in ("two sources", "computed") else f" ({confidence})"
