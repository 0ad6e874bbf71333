"""Every rule has cases beside it, published or worked by hand, and gives what they say in every compared edition."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from ampleroom.editions.tables import PACKAGE
from ampleroom.rules.all_rules import RULES
from tests.acceptance.published import ASKED, Case, expected, title, years
from tests.helpers import COMPARED, findings, lines, reminders

OF_A_RULE = {
    "takes": lambda sheet, year, rule: sum((line.amount for line in lines(sheet, year, rule)), Decimal(0)),
    "finds": lambda sheet, year, rule: next((found.verdict.word for found in findings(sheet, year, rule)), "nothing"),
    "reminds": lambda sheet, year, rule: len(reminders(sheet, year, rule)),
}
"""What only a rule's own case may expect: the sum of its lines, its verdict, the number of its reminders."""
CASES = [
    pytest.param(rule, case, year, expect, id=f"{rule}, {title(case)}, {year}")
    for rule, found in RULES.items()
    for case in found.cases
    for expect in case["expect"]
    for year in years(expect["editions"])
]


@pytest.mark.parametrize(("rule", "case", "year", "expect"), CASES)
def test_a_rule_gives_what_its_case_says(rule: str, case: Case, year: int, expect: Case):
    sheet = case["sheet"]
    one = sheet.replace("BOX", "marked 100 in3")
    given = {
        key: OF_A_RULE[key](one, year, rule)
        if key in OF_A_RULE
        else ASKED[key](sheet if key == "boxes" else one, year, wanted)
        for key, wanted in expected(expect).items()
    }
    assert given == expected(expect)


@pytest.mark.parametrize("name", RULES)
def test_every_rule_has_a_case_with_its_source_and_its_working(name: str):
    assert RULES[name].cases
    for case in RULES[name].cases:
        assert all(case[key] for key in ("id", "name", "source", "working", "sheet", "expect"))


@pytest.mark.parametrize("name", RULES)
def test_the_first_case_of_a_rule_says_what_the_rule_itself_gives_in_every_compared_edition(name: str):
    first = RULES[name].cases[0]
    assert all(set(expect) & set(OF_A_RULE) for expect in first["expect"])
    covered = [year for expect in first["expect"] for year in years(expect["editions"])]
    assert {year for year in COMPARED if year <= max(covered)} == set(covered)


def test_no_case_lies_where_no_rule_is():
    beside_rules = {Path(rule.function.__code__.co_filename).parent / "cases.toml" for rule in RULES.values()}
    assert {path.resolve() for path in Path(PACKAGE).rglob("cases.toml")} == {path.resolve() for path in beside_rules}
