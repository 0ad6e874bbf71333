"""What is said of unknown facts: of very many of one box, and of how many conductors a box takes."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom.facts import Fact, Unknown
from ampleroom.quantities import NO_LIMIT
from ampleroom.rules.effects import MOST_WEIGHED, NOT_WEIGHED, Outcome, count_text
from ampleroom.where import Where
from ampleroom.worksheet import Verdict
from tests.helpers import box, finding, in_box


def test_past_the_first_facts_the_others_are_told_without_a_weight():
    runs = ["run A > ? 12/2 nm-b through A loop ?".replace("A >", "B >") for _ in range(MOST_WEIGHED + 3)]
    sheet = in_box("clamps outside", *runs, base="marked 250 in3") + "panel B\n"
    facts = box(sheet).findings[0].facts
    assert len(facts) == MOST_WEIGHED + 3
    assert all(fact.swing == Decimal("4.50") for fact in facts[:MOST_WEIGHED])  # two conductors of 12 AWG once more
    told = {(fact.settles, fact.swing.is_finite()) for fact in facts[MOST_WEIGHED:]}
    assert told == {(NOT_WEIGHED, False)}


@pytest.mark.parametrize(
    ("volume", "settles"),
    [
        ("7", "passes with 1"),
        ("9", "passes with 1 to 2"),
        ("13", "passes with 4 or fewer"),
        ("5", "count them; not enough by itself"),
    ],
)
def test_one_conductor_more_can_help_where_it_tells_what_is_on_the_device(volume: str, settles: str):
    """A #14 takes 2.00 in3, a device twice its largest conductor: 4.00 by #14. With no #14 coming in nobody knows what
    is on it, and by #6 it takes 10.00. Volumes and allowances: 314.16(B).
    """
    sheet = in_box("receptacle; clamps none", "wires ? > A ? x #14 thhn", base=f"marked {volume} in3")
    assert finding(sheet).facts[0].settles == settles


@pytest.mark.parametrize(
    ("passing", "text"),
    [
        ({0, 1, 2, 3, 4, 5}, "passes with 5 or fewer"),
        ({0}, "passes with 0"),
        ({1}, "passes with 1"),
        ({0, 2}, "passes with 0 or 2"),
        ({0, 3, 4}, "passes with 0 or 3 to 4"),
        ({0, 3}, "passes with 0 or 3"),
        ({2, 3}, "passes with 2 to 3"),
        (set(), "count them; not enough by itself"),
    ],
)
def test_the_counts_that_pass_are_named_singly_or_as_a_row(passing: set[int], text: str):
    """Each count up to three is tried by itself, and from there on more is worse."""
    unknown = Unknown(Fact(Where(1), 0, "", "wires count"), "", (Decimal(0), NO_LIMIT), is_range=True)

    def attempt(values):
        (count,) = values.values()
        return Outcome(Verdict.PASSES if count in passing else Verdict.FAILS, count)

    assert count_text(unknown, (*map(Decimal, range(4)), NO_LIMIT), attempt) == text
