"""``rule``: what a rule or a disputed point says, in plain words."""

from __future__ import annotations

import argparse

from ampleroom.cli.common import add_edition, add_json, command_parser, print_json
from ampleroom.cli.paper import Paper
from ampleroom.cli.text import unsure, write_caution
from ampleroom.editions import READINGS, CodeBook, Reading
from ampleroom.errors import NameUnknown
from ampleroom.explain import Explanation, allowances, explain, explanation_json, reading_json, rules_json, sources_of
from ampleroom.quantities import number
from ampleroom.rules import RULES


def parser() -> argparse.ArgumentParser:
    found = command_parser(
        "rule",
        "What a rule says in plain words, why, how it differs by edition, a worked example and its sources. Alone, it lists them all.",
        "  ampleroom rule\n  ampleroom rule box-fill-grounds\n  ampleroom rule box-fill-grounds --edition 2017\n  ampleroom rule plastic-tabs",
    )
    found.add_argument("name", nargs="?", metavar="NAME", help="a rule, or a disputed point")
    add_edition(found)
    add_json(found)
    return found


def run(options: argparse.Namespace) -> int:
    if options.edition is not None:
        CodeBook(options.edition)  # refuses an edition that is not offered
    paper = Paper()
    if options.name is None:
        if options.json:
            print_json(rules_json())
        else:
            write_list(paper)
        return 0
    name = options.name.lower()
    if name in READINGS:
        if options.json:
            print_json({"schema": "ampleroom-rule/1", "reading": reading_json(READINGS[name])})
        else:
            write_reading(READINGS[name], paper)
        return 0
    if name not in RULES:
        raise NameUnknown("rule or disputed point", options.name, [*RULES, *READINGS])
    found = explain(name, options.edition)
    if options.json:
        print_json(explanation_json(found))
    else:
        write_explanation(found, paper)
    return 0


def write_list(paper: Paper) -> None:
    paper.line("Rules", style="bold")
    for rule in RULES.values():
        paper.ends(rule.name, rule.title, indent=2)
    paper.line()
    paper.line(
        "Disputed points (the first choice is the default; a sheet sets another with 'reading NAME CHOICE')",
        style="bold",
        hang=2,
    )
    for reading in READINGS.values():
        if reading.is_open and reading.judged:
            paper.line(f"{reading.name}: {' | '.join(reading.choices)}", indent=2, hang=4)
    paper.line()
    paper.line("'ampleroom rule NAME' tells each.", style="dim")


def write_explanation(found: Explanation, paper: Paper) -> None:
    rule = found.rule
    paper.ends(rule.title, rule.name, style="bold")
    for paragraph in rule.says:
        paper.line()
        paper.line(paragraph)
    paper.line()
    paper.line(f"Why: {rule.why}")
    paper.line()
    paper.line("By edition", style="bold")
    for change in found.changes:
        paper.line(f"since {change.since}: {change.text}{unsure(change.confidence)}", indent=2, hang=6)
    if "box_fill.conductor_room" in rule.tables:
        rows = ", ".join(f"{size} {number(room)}" for size, room in allowances(found.example_edition))
        paper.line(f"Allowances in in3, {found.example_edition}: {rows}", indent=2, hang=6)
    paper.line()
    paper.line(f"Example, {found.example_book.title}", style="bold")
    for note in found.notes:
        paper.line(note, indent=2, hang=4)
    for line in found.example.splitlines():
        paper.raw("    " + line)
    paper.line()
    for step, unit in zip(found.lines, found.units, strict=True):
        paper.line(f"{step.label}: {step.sum_text} {unit}, {step.cite}", indent=2, hang=4)
        paper.line(step.why + unsure(step.confidence), indent=4, style="dim")
    for finding in found.findings:
        paper.line(f"{finding.verdict.word}: {finding.message} ({finding.cite})", indent=2, hang=4)
    for reminder in found.reminders:
        paper.line(f"{reminder.text} ({reminder.cite})", indent=2, hang=4)
    open_readings = [reading for reading in found.readings if reading.is_open]
    if open_readings:
        paper.line()
        paper.line("Disputed points it leans on", style="bold")
        for reading in open_readings:
            paper.line(f"{reading.name}: {reading.asks}", indent=2, hang=4)
    paper.line()
    paper.line("Sources", style="bold")
    for source in found.sources:
        paper.line(source, indent=2, hang=4)
    write_caution(paper)


def write_reading(reading: Reading, paper: Paper) -> None:
    paper.ends(f"Disputed point: {reading.name}", f"no. {reading.row}", style="bold")
    paper.line(reading.asks[0].upper() + reading.asks[1:])
    paper.line()
    for choice, means in reading.choices.items():
        default = " (the default)" if choice == reading.default and reading.is_open else ""
        paper.line(f"reading {reading.name} {choice}{default}", indent=2, hang=4)
        paper.line(means + ".", indent=4)
    if not reading.is_open:
        paper.line(
            "There is only this way to read it; it has a name so that an answer can say it leaned on it.", indent=2
        )
    if not reading.judged:
        paper.line("It belongs to pull boxes, which this version does not judge.", indent=2)
    paper.line()
    paper.line("Discussed in", style="bold")
    for key in sources_of(reading):
        paper.line(key, indent=2, hang=4)
    write_caution(paper)
