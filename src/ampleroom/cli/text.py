"""A report as text: on one screen where that can be, or whole."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from ampleroom.arithmetic import Line, with_unit
from ampleroom.cli.kinds import spare, spare_unit
from ampleroom.cli.paper import TIED, Paper
from ampleroom.editions import READINGS
from ampleroom.job.lookalikes import look_alikes
from ampleroom.quantities import NOT_KNOWN
from ampleroom.report import Question, Report
from ampleroom.rules.kinds import headline_of, so_many
from ampleroom.words import (
    BEST_CASE,
    CASE_SHOWN,
    CAUTION,
    DISPUTED,
    EMPTY,
    FAILS_ANYWAY,
    NO_VALUE_PASSES,
    ON_SITE,
    ONLY_DIFFERENCE,
    capital,
    check_heading,
    cited,
    first_clause,
    questions_heading,
    short_message,
    sum_text,
    unsure,
)
from ampleroom.worksheet import Finding, OpenFact, Reminder, SubjectReport, Verdict, Worksheet

if TYPE_CHECKING:
    from ampleroom.pictures.along import Along
    from ampleroom.rules.panel.directory import Directory

MOST_SHOWN = 6
"""So many facts to check, and so many cautions, are shown where the answer is to fit one screen."""
DESCRIBED = ("raceway", "wireway", "gutter", "circuit", "panel")
"""Kinds whose description says what they are; of any other it says where."""


# ---- a whole job ---------------------------------------------------------------------------------------------------


def write_report(report: Report, paper: Paper, everything: bool = False) -> None:
    """The whole job: what fails, what needs a check and which facts to check first, what passes.

    ``everything``: with the code section of each finding, every fact, and cautions and disputed points in full.
    """
    write_heading(report, paper)
    for verdict in (Verdict.FAILS, Verdict.OPEN, Verdict.ADVICE):
        for subject in report.subjects:
            if subject.verdict is verdict:
                write_trouble(subject, report, paper, everything)
    write_questions(report, paper, everything)
    write_passing(report, paper)
    write_cautions(report, paper, everything)
    if everything:
        write_disputed(report, list(report.readings), paper)
    else:
        write_disputed_points(report, paper)
    write_caution(paper)


def write_heading(report: Report, paper: Paper) -> None:
    """The top of a report: title, edition, assumptions, warnings, how many subjects have each verdict."""
    paper.ends(report.job.title or report.job.file or "Job", report.book.title, style="bold")
    for note in (*report.notes, *report.job.assumptions):
        paper.line(note, indent=2)
    for alike in look_alikes(report.job):
        paper.line(f"Warning: line {alike.at.line}: {alike.text}.", indent=2, hang=4, style="check needed")
    paper.line(f"{report.subjects_text}: {report.counts_text}")
    if report.not_judged:
        paper.line(report.not_judged_text, style="check needed", hang=2)
    paper.line()


def place_of(finding: Finding, report: Report) -> str:
    """``file:line:column`` of a finding, counted from 1; the file alone where it stands on no line."""
    if not finding.at.line:
        return report.job.file
    return f"{report.job.file}:{finding.at.line}:{report.columns(finding.at)[0]}"


def description_text(subject: SubjectReport) -> str:
    """``  at the pump room`` after the name of a box, ``  4 x 4 in., P > J9`` after that of what is no place."""
    if not subject.description:
        return ""
    return f"  {subject.description}" if subject.kind in DESCRIBED else f"  at {subject.description}"


def write_trouble(subject: SubjectReport, report: Report, paper: Paper, everything: bool) -> None:
    """A subject that does not pass: each finding that says so, with its place in the sheet."""
    at = description_text(subject)
    if not subject.findings:
        verdict = subject.verdict
        paper.line(f"{verdict.shape} {verdict.word.upper()}  {subject.name}{at}", style=verdict.word)
        paper.line("No rule judges it.", indent=4)
    for finding in subject.findings:
        if finding.verdict is Verdict.PASSES:
            continue
        word = finding.verdict.word
        head = f"{finding.verdict.shape} {word.upper()}  {finding.subject}{at}"
        paper.ends(head, place_of(finding, report), style=word)
        headline = headline_of(subject.kind)
        is_headline = headline is not None and finding.rule == headline.name
        rule = "" if is_headline and not everything else f"  [{finding.rule}]"
        paper.line(short_message(finding.message, finding.subject) + rule, indent=4, hang=6)
        if everything and finding.verdict is Verdict.FAILS and finding.best is not None:
            paper.line(FAILS_ANYWAY, indent=4, hang=6)
        if finding.surplus and (too_many := finding.surplus.text):
            paper.line(capital(too_many), indent=4, hang=6)
        if everything:
            section = f"{finding.cite}, {report.book.edition.title}{unsure(finding.confidence)}"
            paper.line(section, indent=4, hang=6, style="dim")


def write_questions(report: Report, paper: Paper, everything: bool) -> None:
    """The facts to check, each once, with what it settles in each finding that depends on it."""
    questions = report.questions
    if not questions:
        return
    paper.line(f"{questions_heading(len(questions))}:", style="bold")
    shown = questions if everything else questions[:MOST_SHOWN]
    for rank, question in enumerate(shown, 1):
        write_question(rank, question, paper)
    write_left_out(len(questions) - len(shown), paper)


def write_question(rank: int, question: Question, paper: Paper) -> None:
    """One fact to check with its rank, and what it settles for each finding it bears on."""
    line = f" (line {question.at.line})" if question.at.line else ""
    asked = f"{rank}. {question.text}{line}"
    if len(question.effects) == 1:
        settles = question.effects[0].settles
        paper.line(f"{asked}: {settles}" if settles else asked, indent=2, hang=5)
    else:
        paper.line(asked, indent=2, hang=5)
        for effect in question.effects:
            paper.line(f"{effect.subject} [{effect.rule}]: {effect.settles}", indent=5, hang=7)
    if question.no_value_passes:
        paper.line(NO_VALUE_PASSES, indent=5)


def write_left_out(number_left: int, paper: Paper) -> None:
    """How many more there are, and the command that shows them; nothing for 0."""
    if number_left:
        paper.line(f"and {number_left} more: ampleroom check --all", indent=2)


def write_passing(report: Report, paper: Paper) -> None:
    """What passes, in one paragraph a kind, each with what is left."""
    for kind, subjects in report.by_kind.items():
        passing = [subject for subject in subjects if subject.verdict is Verdict.PASSES]
        if not passing:
            continue
        spares = [spare(subject) for subject in passing]
        words = f", {spare_unit(kind)} spare" if any(spares) else ""
        head = f"{Verdict.PASSES.shape} PASSES  {so_many(len(passing), kind)}{words}:"
        pairs = zip(passing, spares, strict=True)
        names = ",  ".join(f"{subject.name}{TIED}{least}".rstrip(TIED) for subject, least in pairs)
        if len(head) + 2 + len(names) <= paper.width:
            paper.line(f"{head}  {names}", style="passes")
            continue
        paper.line(head, style="passes")
        paper.line(names, indent=4)


def cautions_of(subjects: Iterable[SubjectReport]) -> Iterator[tuple[str, Reminder]]:
    """Each subject's cautions, with its name."""
    for subject in subjects:
        for reminder in subject.cautions:
            yield subject.name, reminder


def write_cautions(report: Report, paper: Paper, everything: bool) -> None:
    """Warnings of danger, in full or each on one line."""
    cautions = list(cautions_of(report.subjects))
    if not cautions:
        return
    paper.line("Caution", style="bold")
    if everything:
        for name, reminder in cautions:
            text = f"{name}: {reminder.text}{cited(reminder.cite)}{unsure(reminder.confidence)}"
            paper.line(text, indent=2, hang=4)
        return
    lines = in_short(cautions)
    for line in lines[:MOST_SHOWN]:
        paper.cut(line, indent=2)
    write_left_out(max(0, len(lines) - MOST_SHOWN), paper)


def in_short(cautions: Iterable[tuple[str, Reminder]]) -> list[str]:
    """The cautions, a line each: what is said of several runs of a box once, and nothing that the box at a run's other
    end says already.
    """
    told: set[tuple[str, frozenset[str]]] = set()
    runs: dict[tuple[str, str], list[str]] = {}
    for name, reminder in cautions:
        clause = first_clause(reminder.text)
        run = OF_A_RUN.fullmatch(clause)
        if run is None:
            runs.setdefault((name, clause), [])
            continue
        cable, way, other, says = run.groups()
        ends = (f"{cable} {says}", frozenset((name, other)))
        if ends not in told:
            told.add(ends)
            runs.setdefault((name, says), []).append(f"{cable} {way} {other}")
    lines = []
    for (name, says), of in runs.items():
        joint = ": " if len(of) > 1 else " " if of else ""
        lines.append(f"{name}: {', '.join(of)}{joint}{says.removeprefix('has ') if len(of) > 1 else says}")
    return lines


OF_A_RUN = re.compile(r"(.+) (to|from) (\S+) ((?:has|may|is) .+)")
"""``14/2 old to A2 has no ground``: what a caution says of a run, and the place at its other end."""


def write_disputed(report: Report, names: list[str], paper: Paper) -> None:
    """The disputed points that matter, how they are counted, and what else there is to choose."""
    if not names:
        return
    paper.line()
    paper.line(DISPUTED, style="bold")
    for name in sorted(names):
        reading = READINGS[name]
        choice = report.book.reading(name)
        paper.line(f"{name} {choice}: {reading.asks}", indent=2, hang=4)
        paper.line(f"Counted as: {reading.choices[choice]}.", indent=4)
        for other, means in reading.choices.items():
            if other != choice:
                paper.line(f"Or, with 'reading {name} {other}': {means}.", indent=4)


def write_disputed_points(report: Report, paper: Paper) -> None:
    """The same, a line each."""
    names = sorted(report.readings)
    if names:
        paper.line(f"{DISPUTED} (more: ampleroom rule NAME)", style="bold")
    for name in names:
        choice = report.book.reading(name)
        paper.cut(f"{name} {choice}: {READINGS[name].choices[choice]}", indent=2)


def write_caution(paper: Paper) -> None:
    """The caution that ends every answer."""
    paper.line()
    paper.line(CAUTION, style="dim")


def write_facts(facts: tuple[OpenFact, ...], paper: Paper) -> None:
    """The facts of one finding, each with what it settles."""
    if not facts:
        return
    paper.line(f"{check_heading(facts)}:", indent=4)
    for rank, fact in enumerate(facts, 1):
        line = f" (line {fact.at.line})" if fact.at.line else ""
        paper.line(f"{rank}. {fact.question}{line}", indent=4, hang=7)
        if fact.settles:
            paper.line(fact.settles, indent=7)


# ---- one subject ---------------------------------------------------------------------------------------------------


def write_subject(
    subject: SubjectReport,
    report: Report,
    paper: Paper,
    room: str = "",
    path: Along | None = None,
    directory: Directory | None = None,
) -> None:
    """The whole worksheet of a subject, to be read aloud. ``room``: what else would go in, in a sentence; ``path``: of
    a circuit, its places from the panel outward; ``directory``: of a panel, who is in its spaces.
    """
    paper.ends(
        f"{subject.name}{description_text(subject)}",
        f"{subject.verdict.shape} {subject.verdict.word.upper()}",
        style=subject.verdict.word,
    )
    paper.line(f"{report.job.title or report.job.file}, {report.book.title}", style="dim")
    for note in (*report.notes, *report.job.assumptions):
        paper.line(note, indent=2)
    for finding in subject.findings:
        paper.line()
        write_finding(finding, report, paper)
    if room:
        paper.line()
        paper.line(room, hang=2)
    if path is not None:
        write_path(path, paper)
    if directory is not None:
        write_directory(directory, paper)
    write_reminders(subject, paper)
    names: dict[str, None] = {}
    for finding in subject.findings:
        names.update(dict.fromkeys(finding.all_readings))
    write_disputed(report, list(names), paper)
    write_caution(paper)


def write_directory(directory: Directory, paper: Paper) -> None:
    """The directory of a panel, space by space: odd ones are on the left, even ones on the right."""
    paper.line()
    paper.line(f"Directory of {directory.panel.name}", style="bold")
    for left, *sides in directory.rows:
        for side, entries in enumerate(sides):
            if not entries and directory.panel.spaces is not None and left + side <= directory.panel.spaces:
                paper.line(f"{left + side:>4}  free", indent=2)
            for entry in entries:
                paper.line(f"{entry.space:>4} {entry.leg} {entry.text}", indent=2, hang=9)
    for entry in directory.unplaced:
        paper.line(f"   ?  {entry.text}", indent=2, hang=9)


def write_path(path: Along, paper: Paper) -> None:
    """A circuit place by place: what leads there, what it may carry, and what is lost up to there. The place farthest
    down has a mark.
    """
    paper.line()
    paper.line(f"From {path.source} outward", style="bold")
    depths: list[int] = []
    for step in path.steps:
        depths.append(0 if step.before is None else depths[step.before] + 1)
        start = path.source if step.before is None else path.steps[step.before].place
        mark = "*" if step.is_farthest else " "
        indent = 2 + 2 * min(depths[-1], DEEPEST_PLACE)
        left = f"{mark} {start} > {step.place}  {step.by}"
        if step.load:
            left += f", {step.load}"
        flows = f"{step.carries} of {step.ampacity}" if step.carries else step.ampacity
        paper.ends(left, f"{flows}  {step.lost_text}" if path.load else flows, indent)
    for sentence in path.sums:
        paper.line(sentence, indent=2, hang=4)


DEEPEST_PLACE = 8
"""Places farther from the panel are moved in no further."""


def write_finding(finding: Finding, report: Report, paper: Paper) -> None:
    """One finding whole: verdict, code section, worksheet, best and worst case, facts to check."""
    paper.line(f"{finding.verdict.shape} {finding.message}", hang=2, style=finding.verdict.word)
    paper.line(
        f"{finding.cite}, {report.book.edition.title}{unsure(finding.confidence)}  [{finding.rule}]",
        indent=2,
        hang=4,
        style="dim",
    )
    if finding.surplus and (too_many := finding.surplus.text):
        paper.line(capital(too_many), indent=2, hang=4)
    sheet = finding.worksheet
    if sheet is not None:
        if finding.best is not None:
            paper.line(CASE_SHOWN[finding.verdict is Verdict.FAILS], indent=2)
        write_worksheet(sheet, paper)
        if finding.best is not None and finding.worst is not None and finding.verdict is not Verdict.FAILS:
            write_best(finding.worst, finding.best, paper)
    write_facts(finding.facts, paper)


def write_worksheet(sheet: Worksheet, paper: Paper) -> None:
    """Both sides of the sum, line by line with totals, and the sum itself."""
    paper.line(sheet.purpose.have, indent=2, style="bold")
    for line in sheet.have:
        write_line(line, paper)
    paper.line(f"total {total_text(sheet.there_printed, sheet)}", indent=6)
    paper.line(sheet.purpose.need, indent=2, style="bold")
    for line in sheet.need:
        write_line(line, paper)
    if not sheet.need:
        paper.line(EMPTY, indent=4)
    paper.line(f"total {total_text(sheet.needed_printed, sheet)}", indent=6)
    paper.line(sum_text(sheet), indent=2, style="bold")


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
    """What differs in the best case."""
    paper.line(f"{capital(ONLY_DIFFERENCE.format(BEST_CASE))}:", indent=2, style="bold")
    for line in best.lines:
        if line not in worst.lines:
            write_line(line, paper)
    whats = {line.label for line in best.lines}
    gone = [line for line in worst.lines if line not in best.lines and line.label not in whats]
    for line in gone:
        paper.line(f"without: {line.label}, {line.unit.amount(line.amount)}", indent=4, hang=6)
    paper.line(sum_text(best), indent=2, style="bold")


def write_reminders(subject: SubjectReport, paper: Paper) -> None:
    """What to watch on site, cautions first; nothing if there are none."""
    if not subject.reminders:
        return
    paper.line()
    paper.line(ON_SITE, style="bold")
    for reminder in sorted(subject.reminders, key=lambda reminder: not reminder.caution):
        lead = "! CAUTION: " if reminder.caution else "- "
        paper.line(f"{lead}{reminder.text}{cited(reminder.cite)}{unsure(reminder.confidence)}", indent=2, hang=4)
