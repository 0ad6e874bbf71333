"""The answers for a fixed sheet, frozen by edition: adding an edition, a rule or a box never changes an old one.

    python -m tests.test_frozen renew        writes tests/snapshots/frozen_YEAR.json anew, and says what changed

A changed answer is a change for everybody who checked a job before: renew only with a line in CHANGELOG.md under
*Answers that change*, that says the edition, the rule, before, after and the source. Every box of known facts is also
counted by the naive reading, so that what is frozen is right and not only old.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest

from ampleroom import check, read_job
from tests.frozen import SNAPSHOTS, YEARS, Frozen, plain
from tests.naive import naive_reading

JOB = read_job(SNAPSHOTS / "frozen.job")
Answer = dict[str, str | None]


def answers(year: int) -> dict[str, Answer]:
    """Verdict and numbers of every space, at the worst and, where facts are unknown, at the best."""
    return dict(_answers(year))


def _answers(year: int) -> Iterator[tuple[str, Answer]]:
    report = check(JOB, year)
    for finding in report.findings:
        if finding.rule != "box-fill":
            continue
        assert finding.worst is not None
        answer: Answer = {
            "verdict": finding.verdict.word,
            "needed": plain(finding.worst.needed),
            "there": plain(finding.worst.there),
            "margin": plain(finding.worst.margin),
        }
        if finding.best is not None:
            answer["needed at best"] = plain(finding.best.needed)
            answer["there at best"] = plain(finding.best.there)
        yield finding.subject, answer


FROZEN = Frozen("frozen", "tests.test_frozen", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year):
    FROZEN.hold(year)


def test_there_is_a_frozen_file_for_every_edition_offered_and_for_no_other():
    found = {int(path.stem.removeprefix("frozen_")) for path in SNAPSHOTS.glob("frozen_*.json")}
    assert found == set(YEARS)


def test_the_frozen_sheet_holds_every_verdict_and_forty_boxes():
    assert len(JOB.boxes) >= 40
    for year in YEARS:
        assert {answer["verdict"] for answer in answers(year).values()} == {"passes", "check needed", "fails"}


def test_every_frozen_number_of_a_box_of_known_facts_is_also_the_naive_one():
    counted = 0
    for year in YEARS:
        for subject, answer in answers(year).items():
            name, _, space = subject.partition("/")
            if "needed at best" not in answer:
                room, fill = naive_reading(JOB, JOB.box(name), space, year, {})
                assert (room, fill) == (Fraction(answer["there"] or 0), Fraction(answer["needed"] or 0)), subject
                counted += 1
    assert counted > 200


if __name__ == "__main__":
    FROZEN.main(__doc__)
