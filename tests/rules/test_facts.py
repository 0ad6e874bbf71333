"""What is said where very many facts of one box are unknown."""

from __future__ import annotations

from decimal import Decimal

from ampleroom.rules.effects import MOST_WEIGHED, NOT_WEIGHED
from tests.helpers import box, in_box


def test_past_the_first_facts_the_others_are_told_without_a_weight():
    runs = ["run A > ? 12/2 nm-b through A loop ?".replace("A >", "B >") for _ in range(MOST_WEIGHED + 3)]
    sheet = in_box("clamps outside", *runs, base="marked 250 in3") + "panel B\n"
    facts = box(sheet).findings[0].facts
    assert len(facts) == MOST_WEIGHED + 3
    assert all(fact.swing == Decimal("4.50") for fact in facts[:MOST_WEIGHED])  # two conductors of 12 AWG once more
    told = {(fact.settles, fact.swing.is_finite()) for fact in facts[MOST_WEIGHED:]}
    assert told == {(NOT_WEIGHED, False)}
