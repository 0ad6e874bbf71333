"""Random circuits are judged as a second reading of the rules and tables judges them (``tests/naive_circuits.py``)."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.naive_circuits import Circuit
from tests.two_readings import OF_CIRCUITS, disagreement

MANY = 400
"""So many run each time; ``scripts/read_twice.py SEED NUMBER --of circuits`` tries more."""


@pytest.mark.parametrize("first", range(0, MANY, 100))
def test_random_circuits_are_judged_as_the_second_reading_does(first: int):
    told = [disagreement(f"circuit {seed}", of="circuits", unknowns=False)[0] for seed in range(first, first + 100)]
    assert [each for each in told if each] == []


def test_the_random_circuits_pass_and_fail_every_rule():
    counted = Counter(item for seed in range(MANY) for item in Circuit(f"circuit {seed}").found().items())
    for rule in OF_CIRCUITS:
        assert counted[rule, "passes"] > 5, rule
        assert counted[rule, "fails"] > 5, rule
