"""The answers for fixed wireways and gutters, frozen by edition as those of ``test_frozen.py`` are.

    python -m tests.test_frozen_wireways renew     writes tests/snapshots/wireways_YEAR.json anew, and says what changed

The naive reading has to agree, so that what is frozen is right and not only old.
"""

from __future__ import annotations

import pytest

from ampleroom import Verdict, check, read_job
from tests.frozen import SNAPSHOTS, YEARS, Answers, Frozen, by_subject
from tests.naive_wireways import naive_wireway

JOB = read_job(SNAPSHOTS / "wireways.job")
KINDS = ("wireway", "gutter")
NOT_READ = ("A15", "A16", "A17", "A18", "A25", "A26")
"""What the naive reading leaves out: raceways of other names than its own, a nonmetallic one, an empty one."""


def answers(year: int) -> dict[str, Answers]:
    """Every finding on a wireway or gutter."""
    report = check(JOB, year)
    return by_subject(each for subject in report.subjects if subject.kind in KINDS for each in subject.findings)


FROZEN = Frozen("wireways", "tests.test_frozen_wireways", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    FROZEN.hold(year)


def test_every_wireway_is_frozen_with_every_verdict_of_every_rule():
    for year in YEARS:
        frozen = answers(year)
        assert [wireway.name for wireway in JOB.wireways] == sorted(frozen, key=lambda name: int(name[1:]))
        words = {(answer["rule"], answer["verdict"]) for found in frozen.values() for answer in found}
        three = ("passes", "check needed", "fails")
        by_rule = {f"wireway-{rule}": three for rule in ("fill", "splices", "bending", "entries")}
        assert words == {
            *((rule, word) for rule, verdicts in by_rule.items() for word in verdicts),
            ("wireway-conductors", "passes"),
            ("wireway-conductors", "advice"),
        }


@pytest.mark.parametrize("year", YEARS)
def test_what_is_frozen_is_what_the_naive_reading_says(year: int):
    report = check(JOB, year)
    for wireway in JOB.wireways:
        if wireway.name in NOT_READ:
            continue
        verdicts: dict[str, Verdict] = {}
        for each in report.subject(wireway.name).findings:
            verdicts[each.rule] = max(each.verdict, verdicts.get(each.rule, Verdict.PASSES))
        told = {rule: verdict.word.replace("check needed", "open") for rule, verdict in verdicts.items()}
        assert told == naive_wireway(JOB, wireway), wireway.name


if __name__ == "__main__":
    FROZEN.main(__doc__)
