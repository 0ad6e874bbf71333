"""A box carries no more than it is rated for, and past the book's limits no more than its marking says: 314.27.

Limits: 50 lb for a luminaire ("Weighty Issue", EC&M, 2017 NEC), 35 and 70 lb for a fan (the 2011 text as a state
adopted it, and trade-forum quotations of 2017, 2020 and 2023).
"""

from __future__ import annotations

import pytest

from tests.helpers import COMPARED, finding, findings, in_box

RULE = "support-ratings"


@pytest.mark.parametrize("year", COMPARED)
@pytest.mark.parametrize(
    ("inside", "word"),
    [
        ("rated fan 35 lb; carries fan 48 lb", "fails"),
        ("rated fan 48 lb; carries fan 48 lb", "passes"),
        ("rated fan 90 lb; carries fan 71 lb", "fails"),
        ("carries fan 71 lb", "fails"),
        ("rated fan; carries fan 36 lb", "check needed"),
        ("rated luminaire 90 lb; carries fan 36 lb", "check needed"),
        ("rated luminaire 30 lb; carries luminaire 31 lb", "fails"),
        ("rated luminaire 80 lb; carries luminaire 60 lb", "passes"),
        ("carries luminaire 51 lb", "check needed"),
        ("rated luminaire 10 lb; carries equipment 12 lb", "fails"),
        ("carries equipment 51 lb", "check needed"),
        ("rated luminaire 30 lb; carries luminaire 20 lb; carries luminaire 11 lb", "fails"),
        ("rated fan 70 lb; rated fan 35 lb; carries fan 48 lb", "fails"),
    ],
)
def test_a_weight_is_held_against_the_rating(inside: str, word: str, year: int):
    assert finding(in_box(inside), year, RULE).verdict.word == word


@pytest.mark.parametrize(
    "inside",
    ["", "carries fan", "carries fan 35 lb", "carries luminaire 50 lb", "rated fan 70 lb", "carries equipment 6 lb"],
)
def test_what_no_limit_reaches_is_left_to_the_reminder(inside: str):
    assert findings(in_box(inside), rule=RULE) == []


def test_both_numbers_are_told_at_the_line_of_what_it_carries():
    found = finding(in_box("rated fan 35 lb; carries fan 48 lb"), rule=RULE)
    assert found.message == "A carries a fan of 48 lb and is rated for 35 lb"
    assert (found.cite, found.at.line) == ("314.27(C)", 4)
    light = finding(in_box("rated luminaire 30 lb; carries luminaire 31.5 lb"), rule=RULE)
    assert light.message == "A carries a luminaire of 31.5 lb and is rated for 30 lb"
    assert light.cite == "314.27(A)"


def test_past_a_limit_the_marking_is_asked_for():
    found = finding(in_box("rated fan; carries fan 42 lb"), rule=RULE)
    (fact,) = found.facts
    assert fact.question == "the weight A is marked to carry"
    assert fact.settles == "passes if it is 42 lb or more"
