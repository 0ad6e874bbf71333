"""What a rule is: a name, what it says and why, the tables and readings it leans on, and a sheet that shows it."""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from ampleroom.editions import READINGS, blocks
from ampleroom.rules import RULES
from ampleroom.rules.registry import registered, rule
from tests.helpers import NEWEST

NAMES = list(RULES)


def test_the_rules_stand_in_the_order_of_an_answer():
    assert [
        *("box-fill-conductors", "box-fill-fixture-wires", "box-fill-low-voltage", "box-fill-clamps"),
        *("box-fill-fittings", "box-fill-devices", "box-fill-modules", "box-fill-grounds", "box-fill-terminal-blocks"),
        *("box-room-standard", "box-room-marked", "box-room-parts", "box-room-barriers", "box-room-clamp-assembly"),
        *("conduit-body-splices", "conduit-body-passing", "box-depth", "large-conductors"),
        *("free-conductor", "covers", "support", "depth-unknown", "old-wiring"),
    ] == NAMES


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


def test_every_reading_that_is_judged_belongs_to_a_rule_or_to_the_verdict():
    named = {reading for found in RULES.values() for reading in found.readings}
    judged = {name for name, reading in READINGS.items() if reading.judged}
    assert judged - named == {"exactly-full"}


@pytest.mark.parametrize("name", NAMES)
def test_the_example_of_a_rule_shows_it(name: str):
    report = check(read_job(RULES[name].example), NEWEST)
    lines = {line.rule for sheet in report.worksheets.values() for line in sheet.lines}
    told = {found.rule for found in report.findings} | {
        reminder.rule for box in report.boxes for reminder in box.reminders
    }
    assert name in lines | told


def test_a_name_is_never_given_twice():
    with pytest.raises(ValueError, match="two rules are named covers"):
        rule("covers", title="", topic="fill", tables=(), example="")(lambda space, book: iter(()))


def test_the_rules_of_a_module_stand_in_its_order():
    names = [found.name for found in registered("ampleroom.rules.box_fill.devices")]
    assert names == ["box-fill-devices", "box-fill-modules"]
    assert registered("ampleroom.rules.nowhere") == []
