"""The answers on circuits by the rooms they feed, frozen by edition as those of ``test_frozen.py`` are.

    python -m tests.test_frozen_places renew     writes tests/snapshots/places_YEAR.json anew, and says what changed

The lists of rooms are held against published ones in ``acceptance/test_by_place.py``.
"""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from tests.frozen import SNAPSHOTS, YEARS, Answers, Frozen, by_subject

JOB = read_job(SNAPSHOTS / "places.job")
RULES = ("ground-fault", "arc-fault", "appliance-ground-fault", "outdoor-equipment", "receptacle-rating")


def answers(year: int) -> dict[str, Answers]:
    """Every finding on protection by place and on receptacles."""
    return by_subject(each for each in check(JOB, year).findings if each.rule in RULES)


FROZEN = Frozen("places", "tests.test_frozen_places", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    FROZEN.hold(year)


def test_every_rule_is_frozen_with_what_it_may_say():
    words: dict[str | None, set[str | None]] = {}
    for found in answers(2023).values():
        for answer in found:
            words.setdefault(answer["rule"], set()).add(answer["verdict"])
    every = {"passes", "check needed", "fails"}
    for rule in RULES:
        assert words[rule] == (every - {"check needed"} if rule == "appliance-ground-fault" else every), rule


if __name__ == "__main__":
    FROZEN.main(__doc__)
