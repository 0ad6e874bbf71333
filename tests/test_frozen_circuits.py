"""The answers for fixed circuits, frozen by edition as those of ``test_frozen.py`` are.

    python -m tests.test_frozen_circuits renew     writes tests/snapshots/circuits_YEAR.json anew, and says what changed

Random circuits are held against a second reading in ``test_circuits_against_naive.py``, published ones in
``acceptance/test_circuits.py``.
"""

from __future__ import annotations

import pytest

from ampleroom import check, read_job
from tests.frozen import SNAPSHOTS, YEARS, Answers, Frozen, by_subject

JOB = read_job(SNAPSHOTS / "circuits.job")


def answers(year: int) -> dict[str, Answers]:
    """Every finding on a circuit."""
    report = check(JOB, year)
    return by_subject(each for subject in report.subjects if subject.kind == "circuit" for each in subject.findings)


FROZEN = Frozen("circuits", "tests.test_frozen_circuits", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    FROZEN.hold(year)


def test_every_rule_of_circuits_is_frozen_where_it_passes_and_where_it_does_not():
    report = check(JOB, 2023)
    subjects = [each for each in report.subjects if each.kind == "circuit"]
    assert len(subjects) == len(JOB.circuits) == 31
    words: dict[str, set[str]] = {}
    for finding in [each for subject in subjects for each in subject.findings]:
        words.setdefault(finding.rule, set()).add(finding.verdict.word)
    for rule in ("wire-protection", "conductor-ampacity", "continuous-load", "dwelling-service", "equipment-ground"):
        assert {"passes", "fails"} <= words[rule], rule
    for rule in ("breaker-load", "nameplate-breaker"):
        assert {"passes", "fails"} <= words[rule], rule
    for rule in ("nameplate-wire", "motor-wire", "motor-breaker", "voltage-drop"):
        assert "passes" in words[rule], rule
    assert {"check needed", "fails"} <= words["motor-breaker"]
    assert "advice" in words["voltage-drop"]


def test_a_neutral_thinner_than_the_hots_is_asked_about_and_known_by_its_color():
    """A service of two #4/0 and a #2/0 aluminum: 200 A by its hots in every edition, by 310.15(B)(6), 310.15(B)(7) or
    310.12.
    """
    for year in YEARS:
        by_color, asked = (
            max(finding.verdict for finding in check(JOB, year).subject(name).findings) for name in ("31", "13")
        )
        assert (by_color.word, asked.word) == ("passes", "check needed"), year


if __name__ == "__main__":
    FROZEN.main(__doc__)
