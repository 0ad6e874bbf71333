"""What a rule says, and the list of them all."""

import pytest

from ampleroom.editions import READINGS
from ampleroom.rules import RULES
from tests.cli.helpers import inside


def test_alone_it_lists_every_rule_and_every_point_a_sheet_may_set(folder):
    ran = inside("rule")
    assert ran.status == 0
    assert all(f"  {rule.name} " in ran.out for rule in RULES.values())
    for reading in READINGS.values():
        assert (f"  {reading.name}: " in ran.out) is (reading.is_open and reading.judged)
    assert all(len(line) <= 60 for line in ran.out.split("\n"))
    assert ran.out.endswith("'ampleroom rule NAME' tells each.\n")


@pytest.mark.parametrize("name", RULES)
def test_a_rule_tells_what_why_since_when_with_an_example_and_its_sources(folder, name):
    told = inside("rule", name).out
    for heading in ("\nWhy: ", "\nBy edition\n", "\nExample, ", "\nSources\n"):
        assert heading in told


@pytest.mark.parametrize("name", READINGS)
def test_a_disputed_point_tells_its_choices_the_first_as_the_default(folder, name):
    told = " ".join(inside("rule", name).out.split())
    reading = READINGS[name]
    assert f"Disputed point: {name}" in told
    assert all(f"reading {name} {choice}" in told for choice in reading.choices)
    assert (f"reading {name} {reading.default} (the default)" in told) is reading.is_open


def test_the_example_is_worked_by_the_edition_asked_for():
    assert "Example, 2017 edition" in inside("rule", "box-fill-grounds", "--edition", "2017").out
    assert (
        inside("rule", "box-fill-grounds", "--edition", "2017").out
        != inside("rule", "box-fill-grounds", "--edition", "2020").out
    )


def test_a_rule_that_changed_says_since_when():
    told = inside("rule", "box-fill-grounds").out
    assert "since 2008: " in told
    assert "since 2020: " in told
