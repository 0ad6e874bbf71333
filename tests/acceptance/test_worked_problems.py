"""The worked problems kept with the rules, and every row of the edition matrix from both sides of its change."""

from __future__ import annotations

import pytest

from tests.acceptance.published import Case, answers, expectations, expected, title
from tests.helpers import COMPARED, cases

CASES = cases("worked_problems.toml")


@pytest.mark.parametrize(("case", "year", "expect"), expectations(CASES), ids=title)
def test_a_worked_problem_comes_out_as_worked(case: Case, year: int, expect: Case):
    assert answers(case, year, expect) == expected(expect)


def test_every_problem_and_every_row_of_the_matrix_is_a_case():
    problems = {f"T{number}" for number in range(1, 12)}
    rows = {f"M{number:02}" for number in range(1, 12)}
    assert {case["id"] for case in CASES} == problems | rows


@pytest.mark.parametrize("case", CASES, ids=title)
def test_every_case_says_where_it_comes_from_and_how_it_was_worked(case: Case):
    assert case["source"]
    assert case["working"]


def test_every_case_is_worked_for_every_compared_edition():
    worked = {case["id"]: tuple(year for _, year, _ in expectations([case])) for case in CASES}
    assert {case: years for case, years in worked.items() if years != COMPARED} == {}
