"""Published box-fill problems give what was published, or the right figure where the published one is wrong."""

from __future__ import annotations

import pytest

from tests.acceptance.published import ASKED, Case, answers, expectations, expected, title
from tests.helpers import COMPARED, cases

CASES = cases("box_fill.toml")

COLLECTED = {
    *("bf-001", "bf-003", "bf-005", "bf-007", "bf-009", "bf-011", "bf-013", "bf-015", "bf-017", "bf-019"),
    *("bf-021", "bf-023", "bf-025", "bf-027", "bf-029", "bf-031", "bf-033", "bf-035", "bf-037", "bf-039"),
    *("bf-041", "bf-043", "bf-045", "bf-047", "bf-049", "bf-051", "bf-053", "bf-055", "bf-057"),
    *("bf-102", "bf-105", "bf-108", "bf-111", "bf-114"),
}
"""Every published problem that was collected for box fill."""


@pytest.mark.parametrize(("case", "year", "expect"), expectations(CASES), ids=title)
def test_a_published_problem_comes_out_as_it_should(case: Case, year: int, expect: Case):
    assert answers(case, year, expect) == expected(expect)


@pytest.mark.parametrize("case", [case for case in CASES if "wrong" in case], ids=title)
@pytest.mark.parametrize("year", COMPARED)
def test_a_figure_known_to_be_wrong_never_comes_out(case: Case, year: int):
    for key, wrong in case["wrong"].items():
        assert ASKED[key](case["sheet"], year, wrong) != wrong, case.get("note", case["working"])


def test_every_collected_problem_is_a_case():
    assert {case["id"] for case in CASES} == COLLECTED


@pytest.mark.parametrize("case", CASES, ids=title)
def test_every_case_says_where_it_comes_from_and_how_it_was_worked(case: Case):
    assert all(case[key] for key in ("name", "source", "published", "answer", "working"))
    assert "wrong" not in case or case.get("note")


def test_every_case_is_tested_in_every_compared_edition():
    worked = {case["id"]: tuple(year for _, year, _ in expectations([case])) for case in CASES}
    assert {case: years for case, years in worked.items() if years != COMPARED} == {}
