"""The answers for fixed panels, frozen by edition as those of ``test_frozen.py`` are.

python -m tests.test_frozen_panels renew     writes tests/snapshots/panels_YEAR.json anew, and says what changed
"""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from tests.frozen import SNAPSHOTS, YEARS, Answers, Frozen, by_subject

JOB = read_job((SNAPSHOTS / "panels.job").read_text("utf-8"))


def answers(year: int) -> dict[str, Answers]:
    """Every finding on a panel."""
    return by_subject(each for subject in check(JOB, year).of("panel") for each in subject.findings)


FROZEN = Frozen("panels", "tests.test_frozen_panels", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    FROZEN.hold(year)


if __name__ == "__main__":
    FROZEN.main(__doc__)
