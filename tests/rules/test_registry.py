"""What a rule is: a name, what it says and why, the tables and readings it leans on, and a sheet that shows it."""

from __future__ import annotations

from pathlib import Path
from typing import Any, get_args

import pytest

from ampleroom import check, read_job, rules
from ampleroom.check import circuits, dwellings
from ampleroom.editions import READINGS, CodeBook, blocks
from ampleroom.editions.tables import Table
from ampleroom.facts import Assumption
from ampleroom.pictures.drawing import ROLES
from ampleroom.rules import registry
from ampleroom.rules.all_rules import RULES
from ampleroom.rules.box.fill import grounds
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.circuit import wired as circuit
from ampleroom.rules.circuit.dropped import ENDS as DROP_ENDS
from ampleroom.rules.circuit.dropped import dropped
from ampleroom.rules.circuit.outlets import outlets_of
from ampleroom.rules.load.carried import ENDS as LOAD_ENDS
from ampleroom.rules.load.carried import carried
from ampleroom.rules.panel.laid_out import laid_out, panels_of
from ampleroom.rules.raceway.filled import ENDS as RACEWAY_ENDS
from ampleroom.rules.raceway.filled import filled, raceways_of
from ampleroom.rules.registry import Rule, Topic, rule, rule_in
from ampleroom.rules.space import Space
from ampleroom.rules.wireway import filled as wireway
from tests.helpers import EDITION

NAMES = list(RULES)

PUBLISHED = [
    "box-fill-conductors",
    "box-fill-fixture-wires",
    "box-fill-low-voltage",
    "box-fill-clamps",
    "box-fill-fittings",
    "box-fill-devices",
    "box-fill-modules",
    "box-fill-grounds",
    "box-fill-terminal-blocks",
    "box-room-standard",
    "box-room-marked",
    "box-room-parts",
    "box-room-barriers",
    "box-room-clamp-assembly",
    "conduit-body-splices",
    "conduit-body-passing",
    "box-depth",
    "side-entry",
    "pull-box",
    "support-ratings",
    "side-entry-clearance",
    "free-conductor",
    "covers",
    "support",
    "depth-unknown",
    "metal-into-nonmetallic",
    "cable-without-clamp",
    "class-2-beside-power",
    "old-wiring",
]
"""Names that were in a release: reports, links and notes hold them. A new rule need not stand here until it is in
one."""


def test_a_name_once_published_stays():
    assert set(PUBLISHED) <= set(NAMES)


def test_every_folder_with_a_rule_is_in_the_order_of_an_answer():
    folders = {path.parent for path in Path(rules.__file__).parent.rglob("cases.toml")}
    assert {Path(found.function.__code__.co_filename).parent for found in RULES.values()} == folders


def test_answers_show_what_fills_before_what_holds_and_reminders_last():
    topics = [found.topic for found in RULES.values()]
    assert topics == sorted(topics, key=get_args(Topic).index)


def test_no_two_rules_have_one_heading():
    titles = [found.title for found in RULES.values()]
    assert len(set(titles)) == len(titles)
    assert all(title[0] == title[0].upper() and not title.endswith(".") for title in titles)


def test_no_kind_of_line_is_counted_by_two_rules():
    counted = [line for found in RULES.values() for line in found.counts]
    assert len(set(counted)) == len(counted)
    assert all(found.drawn_as for found in RULES.values() if found.counts)


@pytest.mark.parametrize("name", NAMES)
def test_a_rule_says_what_and_why_in_words(name: str):
    assert RULES[name].says
    assert all(paragraph.endswith((".", "!")) for paragraph in RULES[name].says)
    assert RULES[name].why.endswith(".")
    assert not RULES[name].why.startswith("Why:")


@pytest.mark.parametrize("name", NAMES)
def test_a_rule_says_no_section_numbers_for_those_are_data(name: str):
    assert "314." not in " ".join([*RULES[name].says, RULES[name].why])


@pytest.mark.parametrize("name", NAMES)
def test_the_tables_and_readings_a_rule_names_are_there(name: str):
    assert all(blocks(table) for table in RULES[name].tables)
    assert set(RULES[name].readings) <= set(READINGS)


def spaces_of(sheet: str) -> list[Space]:
    """Every space of every box, its unknown facts at one end."""
    job = read_job(sheet)
    return [
        space
        for box in job.boxes
        for space in SpaceBuilder(
            box, job.items(box), job.graph.runs_at.get(box.name, ()), CodeBook(EDITION), job.raceways
        ).spaces(Assumption(ENDS))
    ]


def judged_things(found: Any, sheet: str) -> list[Any]:
    """What a rule is asked of in a sheet: the sides of its boxes, its raceways, its wireways and gutters, the
    legs of its circuits, or what these lose.
    """
    if found.about == "box":
        return spaces_of(sheet)
    job = read_job(sheet)
    if found.about == "circuit":
        return [
            circuit.Wiring(subject, job.graph, CodeBook(EDITION), Assumption(circuit.ENDS)).leg((run,))
            for subject in circuits(job)
            for run in subject.runs
        ]
    if found.about == "drop":
        return [
            dropped(circuit.Wiring(subject, job.graph, CodeBook(EDITION), Assumption(DROP_ENDS)))
            for subject in circuits(job)
        ]
    if found.about == "outlets":
        return [
            outlets_of(
                subject, job.graph, circuit.Wiring(subject, job.graph, CodeBook(EDITION), Assumption(circuit.ENDS))
            )
            for subject in circuits(job)
        ]
    if found.about == "load":
        return [carried(subject, job.graph, CodeBook(EDITION), Assumption(LOAD_ENDS)) for subject in dwellings(job)]
    if found.about == "panel":
        return [laid_out(subject, job.graph, CodeBook(EDITION)) for subject in panels_of(job)]
    if found.about == "wireway":
        return [
            wireway.filled(subject, CodeBook(EDITION), Assumption(wireway.ENDS))
            for form in ("wireway", "gutter")
            for subject in wireway.wireways_of(job, form)
        ]
    return [filled(subject, CodeBook(EDITION), Assumption(RACEWAY_ENDS)) for subject in raceways_of(job)]


@pytest.mark.parametrize("name", NAMES)
def test_a_rule_asks_no_table_and_names_no_reading_but_those_it_declares(name: str):
    """Its page, its sources and what was compared of it are told by what it declares. Tables that several rooms share
    have a folder in ``editions/`` and belong to nobody.
    """
    asked: set[Table[Any]] = set()

    class Noting(CodeBook):
        __slots__ = ()

        def __getitem__(self, table: Table[Any]) -> Any:
            asked.add(table)
            return super().__getitem__(table)

    found = RULES[name]
    said = [
        part
        for case in found.cases
        for space in judged_things(found, f"edition 2023\n{case['sheet'].replace('BOX', 'marked 100 in3')}")
        for part in found.function(space, Noting(EDITION))
    ]
    assert said
    assert {reading for part in said for reading in part.readings} <= set(found.readings)
    own = {table.name for table in asked if "editions" not in Path(table.path).parts}
    assert asked
    assert own <= set(found.tables)


def test_every_reading_that_is_judged_belongs_to_a_rule_or_to_the_verdict():
    named = {reading for found in RULES.values() for reading in found.readings}
    judged = {name for name, reading in READINGS.items() if reading.judged}
    assert judged - named == {"exactly-full"}


@pytest.mark.parametrize("name", NAMES)
def test_the_example_of_a_rule_shows_it(name: str):
    report = check(read_job(RULES[name].example), EDITION)
    lines = {line.rule for sheet in report.worksheets.values() for line in sheet.lines}
    told = {found.rule for found in report.findings} | {
        reminder.rule for box in report.subjects for reminder in box.reminders
    }
    assert name in lines | told
    assert RULES[name].example.startswith(("box ", "panel ", "dwelling "))


def test_a_name_is_never_given_twice():
    with pytest.raises(ValueError, match=r"^two rules are named covers$"):
        rule("covers", title="", topic="fill", tables=(), drawn_as="grounds")(lambda space, book: iter(()))


def test_a_folder_holds_one_rule():
    assert rule_in(grounds).name == "box-fill-grounds"
    with pytest.raises(LookupError, match=r"^ampleroom\.rules\.registry holds 0 rules"):
        rule_in(registry)


def test_a_rule_says_what_and_why_apart_and_line_by_line_of_its_description_in_one():
    def lines(space, book):
        """Paint counts
        by the pot.

        A lid counts too.

        Why: it
        spills.
        """
        return iter(())

    paint = Rule("paint", "Paint", "fill", (), (), lines)
    assert paint.says == ["Paint counts by the pot.", "A lid counts too."]
    assert paint.why == "it spills."
    bare = Rule("paint", "Paint", "fill", (), (), lambda space, book: iter(()))
    assert (bare.says, bare.why) == ([], "")


def test_a_name_is_given_to_one_rule_and_the_function_stays_one():
    def register(name):
        return rule(name, title="", topic="fill", tables=(), drawn_as="grounds")

    def lines(space, book):
        return iter(())

    known = rule_in(grounds)
    with pytest.raises(ValueError, match=f"two rules are named {known.name}"):
        register(known.name)(lines)
    assert known.function.__name__ == "grounds_lines"
    assert grounds.grounds_lines is known.function


def test_a_rule_of_box_fill_says_as_what_it_is_drawn():
    with pytest.raises(ValueError, match=r"^paint takes volume in a box and does not say as what it is drawn$"):
        rule("paint", title="Paint", topic="fill", tables=())(lambda space, book: iter(()))
    assert {found.drawn_as for found in RULES.values() if found.topic == "fill"} <= {*ROLES}
