"""The facts to go and find: how many things alike a box takes, and what is said where very many facts are unknown."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom.check import COUNTED_TO, WEIGHED, count_text
from tests.helpers import box, in_box


@pytest.mark.parametrize("most", [*range(18), 63, 64, 65, COUNTED_TO - 2, COUNTED_TO - 1])
def test_the_most_alike_that_pass_are_found_in_few_tries(most: int):
    tried: list[Decimal] = []

    def passes(number: Decimal) -> bool:
        tried.append(number)
        return number <= most

    assert count_text(passes) == f"count them: the box passes with {most} or fewer"
    assert len(tried) <= 17


def test_counting_ends_where_nobody_brings_in_more():
    assert count_text(lambda number: True) == f"count them: the box passes with {COUNTED_TO - 1} or fewer"
    assert count_text(lambda number: False) == "count them: alone it is not enough"


def test_past_the_first_facts_the_others_are_told_without_a_weight():
    runs = ["run A > ? 12/2 nm-b through A loop ?".replace("A >", "B >") for _ in range(WEIGHED + 3)]
    sheet = in_box("clamps outside", *runs, base="marked 250 in3") + "panel B\n"
    facts = box(sheet).findings[0].facts
    assert len(facts) == WEIGHED + 3
    assert all(fact.swing == Decimal("4.50") for fact in facts[:WEIGHED])  # two conductors of 12 AWG once more
    told = {(fact.settles, fact.swing.is_finite()) for fact in facts[WEIGHED:]}
    assert told == {(f"not weighed: more than {WEIGHED} facts are unknown here", False)}
