"""``rule``: the page of a rule, found by its name, a trade word or a code section; and the two tables beside them."""

from __future__ import annotations

import argparse
from itertools import groupby

from ampleroom.cli.common import add_json, command_parser, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import write_caution
from ampleroom.editions import OFFERED, READINGS, CodeBook, Reading
from ampleroom.errors import AmpleroomError
from ampleroom.explain import (
    BOX,
    DISPUTED,
    BoxTable,
    PagesFound,
    PageUnknown,
    RulePage,
    box_table,
    explain,
    look_up,
    provisional_note,
)
from ampleroom.explain.as_json import found_json, rules_json
from ampleroom.explain.by_edition import span
from ampleroom.explain.look_up import TITLES
from ampleroom.explain.rule_page import sources_of
from ampleroom.job.trade import size_text
from ampleroom.quantities import number
from ampleroom.rules.all_rules import RULES


def parser() -> argparse.ArgumentParser:
    """The options of ``rule``."""
    command = command_parser(
        "rule",
        "What a rule says: what to count, why, how editions differ, a worked example. Find it by its name, a word "
        "of the trade, or a section of the code in any edition. Alone, it lists every page.",
        "  ampleroom rule\n  ampleroom rule grounds\n  ampleroom rule '314.16(B)(5)' --edition 2017\n"
        "  ampleroom rule box\n  ampleroom rule disputed\n  ampleroom rule plastic-tabs --sources",
    )
    command.add_argument(
        "name", nargs="*", metavar="NAME", help="a rule, a trade word, a code section or a disputed point"
    )
    command.add_argument("--sources", action="store_true", help="also how sure each number is, and what it rests on")
    years = ", ".join(map(str, OFFERED))
    command.add_argument(
        "--edition", type=int, metavar="YEAR", help=f"the edition of the example or the table: {years}"
    )
    add_json(command)
    return command


def run(options: argparse.Namespace) -> int:
    """Print the page asked for; AmpleroomError if no page has that name, word or section. The exit status."""
    if options.edition is not None:
        CodeBook(options.edition)  # refuses an edition that is not offered
    asked = " ".join(options.name)
    try:
        return print_found(asked, options)
    except PageUnknown as unknown:
        raise AmpleroomError(f"{unknown}; 'ampleroom rule' lists all pages") from None


def print_found(asked: str, options: argparse.Namespace) -> int:
    """The page that was asked for, or the list of all; its exit status."""
    if options.json:
        print_json(found_json(asked, options.edition) if asked else rules_json())
        return 0
    paper = Paper()
    page = look_up(asked) if asked else None
    if page is None:
        write_list(paper)
    elif isinstance(page, PagesFound):
        write_pages(page, paper)
    elif page == BOX:
        write_box_table(box_table(options.edition), paper, options.sources)
    elif page == DISPUTED:
        write_disputed(paper)
    elif page in READINGS:
        write_reading(READINGS[page], paper, options.sources)
    else:
        write_page(explain(page, options.edition), paper, options.sources)
    return 0


def write_list(paper: Paper) -> None:
    """Every page, by name."""
    paper.line("Rules", style="bold")
    for rule in RULES.values():
        paper.ends(rule.name, rule.title, indent=2)
    paper.line()
    paper.line("Tables", style="bold")
    for name, title in TITLES.items():
        paper.ends(name, title, indent=2)
    paper.line()
    paper.line("Disputed points, the default first", style="bold")
    for reading in READINGS.values():
        if reading.is_open and reading.judged:
            paper.line(f"{reading.name}: {' | '.join(reading.choices)}", indent=2, hang=4)
    paper.line()
    paper.line(
        "'ampleroom rule NAME' prints a page. NAME may be a word such as grounds, or a code section.", style="dim"
    )


def write_pages(choice: PagesFound, paper: Paper) -> None:
    """The pages that what was asked may mean."""
    paper.line(choice.title, style="bold")
    for page in choice.pages:
        paper.line(f"{page.name}: {sentence(page.title) if page.name in READINGS else page.title}", indent=2, hang=4)
    paper.line()
    paper.line("'ampleroom rule NAME' prints a page.", style="dim")


# ---- a rule --------------------------------------------------------------------------------------------------------


def write_page(page: RulePage, paper: Paper, with_sources: bool = False) -> None:
    """What to count, why, how editions differ, an example, disputed points; on demand how sure, and the sources."""
    rule = page.rule
    paper.ends(rule.title, rule.name, style="bold")
    paper.line(f"Code section: {'; '.join(page.sections) or 'none'}", hang=2, style="dim")
    for paragraph in rule.says:
        paper.line()
        paper.line(paragraph)
    paper.line()
    paper.line(f"Why: {rule.why}")
    paper.line()
    paper.line("By edition", style="bold")
    write_periods(page, paper)
    if note := provisional_note():
        paper.line(note, indent=2, hang=4, style="dim")
    if page.allowances:
        rows = ", ".join(f"{size_text(size)} {number(room)}" for size, room in page.allowances.items())
        paper.line()
        paper.line(f"One allowance in in3, by conductor size ({page.book.year})", style="bold")
        paper.line(rows, indent=2, hang=4)
    write_example(page, paper)
    write_points(page, paper)
    if with_sources:
        write_sources(page, paper)
    else:
        paper.line()
        paper.line("'--sources' prints how sure each number is and what it rests on.", style="dim")
    write_caution(paper)


def write_periods(page: RulePage, paper: Paper) -> None:
    """What the editions say: those that agree together, several sentences of theirs one under another."""
    for label, group in groupby(page.periods, key=lambda period: period.label):
        texts = [period.text + period.mark for period in group]
        if len(texts) == 1:
            paper.line(f"{label}: {texts[0]}", indent=2, hang=4)
            continue
        paper.line(f"{label}:", indent=2)
        for text in texts:
            paper.line(f"- {text}", indent=4, hang=6)


def write_example(page: RulePage, paper: Paper) -> None:
    """The example sheet and what the rule makes of it."""
    paper.line()
    paper.line(f"Example, {page.book.title}", style="bold")
    for note in page.notes:
        paper.line(note, indent=2, hang=4)
    for line in page.example.splitlines():
        paper.raw("    " + line)
    paper.line()
    for counted in page.lines:
        for depth, step in counted.with_parts():
            paper.line(f"{step.label}: {step.text}", indent=2 + 2 * depth, hang=4 + 2 * depth)
            because = ", ".join(words for words in (step.why, step.cite) if words) + mark(step.confidence)
            paper.line(because, indent=4 + 2 * depth, style="dim")
    for finding in page.findings:
        paper.line(
            f"{finding.verdict.word}: {finding.message} ({finding.cite}){mark(finding.confidence)}", indent=2, hang=4
        )
    for reminder in page.reminders:
        paper.line(f"{sentence(reminder.text)} ({reminder.cite}){mark(reminder.confidence)}", indent=2, hang=4)
    if not (page.lines or page.findings or page.reminders):
        paper.line(f"The {page.book.year} edition has no such rule.", indent=2, hang=4)


def write_points(page: RulePage, paper: Paper) -> None:
    """The disputed points a rule leans on, with what is assumed."""
    several = [reading for reading in page.readings if reading.is_open and reading.judged]
    if not several:
        return
    paper.line()
    paper.line("Disputed points", style="bold")
    for reading in several:
        paper.line(f"{reading.name}: {sentence(reading.asks)}", indent=2, hang=4)
        paper.line(f"Default: {reading.choices[reading.default]}.", indent=4)


def write_sources(page: RulePage, paper: Paper) -> None:
    """How sure the numbers are, by section and edition, and what they rest on."""
    paper.line()
    paper.line("How sure", style="bold")
    texts = dict.fromkeys(
        f"{sure.cite}, {span(sure.first, sure.last).lower()}: {sure.confidence}" for sure in page.sure
    )
    for text in texts:
        paper.line(text, indent=2, hang=4)
    paper.line()
    paper.line("Sources", style="bold")
    for source in page.sources:
        paper.line(source, indent=2, hang=4)


# ---- the tables ----------------------------------------------------------------------------------------------------


def write_box_table(table: BoxTable, paper: Paper, with_sources: bool = False) -> None:
    """How many of each size every standard box holds, in columns."""
    paper.line(f"{TITLES[BOX]}, {table.book.title}", style="bold", hang=2)
    paper.line(f"Code section: {'; '.join(table.cites)}", hang=2, style="dim")
    paper.line()
    names = [row.name + ("*" if row.per_gang else "") for row in table.rows]
    wide = max(map(len, names))
    head = "".join(f"{size_text(size):>4}" for size in table.sizes)
    paper.raw(f"{'':{wide}}   in3{head}")
    for name, row in zip(names, table.rows, strict=True):
        counts = "".join(f"{row.holds[size]:4}" for size in table.sizes)
        sure = f"  {row.confidence}" if with_sources or row.confidence == "from memory" else ""
        paper.raw(f"{name:{wide}} {number(row.volume):>5}{counts}{sure}")
    paper.line()
    for note in table.notes:
        paper.line(note, hang=2)
    write_caution(paper)


def write_disputed(paper: Paper) -> None:
    """Every disputed point: what it asks, what is assumed, what the other choice means."""
    paper.line(TITLES[DISPUTED], style="bold")
    paper.line("A sheet sets another choice with 'reading NAME CHOICE'.", style="dim")
    readings = [reading for reading in READINGS.values() if reading.judged]
    for reading in readings:
        if reading.is_open:
            paper.line()
            write_choices(reading, paper)
    paper.line()
    paper.line("Points with one way to read them", style="bold")
    for reading in readings:
        if not reading.is_open:
            paper.line(
                f"{reading.name}: {sentence(reading.asks)} {sentence(reading.choices[reading.default])}.",
                indent=2,
                hang=4,
            )
    write_caution(paper)


def write_choices(reading: Reading, paper: Paper) -> None:
    """A disputed point with its choices, the default marked."""
    paper.line(f"{reading.name}: {sentence(reading.asks)}", indent=2, hang=4)
    for choice, means in reading.choices.items():
        default = " (default)" if choice == reading.default else ""
        paper.line(f"{choice}{default}: {means}.", indent=4, hang=6)


def write_reading(reading: Reading, paper: Paper, with_sources: bool = False) -> None:
    """One disputed point: its choices, and on demand where it was discussed."""
    paper.ends(f"Disputed point: {reading.name}", f"no. {reading.row}", style="bold")
    paper.line(sentence(reading.asks))
    paper.line()
    for choice, means in reading.choices.items():
        default = " (the default)" if choice == reading.default and reading.is_open else ""
        paper.line(f"reading {reading.name} {choice}{default}", indent=2, hang=4)
        paper.line(f"{sentence(means)}.", indent=4)
    if not reading.is_open:
        paper.line("There is only this way to read it. It has a name so that an answer can point to it.", indent=2)
    if not reading.judged:
        paper.line("It belongs to pull boxes, which this version does not judge.", indent=2)
    paper.line()
    if with_sources:
        paper.line("Discussed in", style="bold")
        for source in sources_of(reading):
            paper.line(source, indent=2, hang=4)
    else:
        paper.line("'--sources' prints where it was discussed.", style="dim")
    write_caution(paper)


def mark(confidence: str) -> str:
    """What stands beside a value without ``--sources``: nothing, unless it rests on less than a printed source."""
    return "" if confidence in ("two sources", "one source", "computed") else f" ({confidence})"


def sentence(text: str) -> str:
    """With its first letter large."""
    return text[:1].upper() + text[1:]
