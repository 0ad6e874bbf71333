"""The answers for a fixed sheet, frozen by edition: adding an edition, a rule or a box never changes an old one.

    python -m tests.test_frozen renew        writes tests/snapshots/frozen_YEAR.json anew, and says what changed

A changed answer is a change for everybody who checked a job before: renew only with a line in CHANGELOG.md under
*Answers that change*, that says the edition, the rule, before, after and the source. Every box of known facts is also
counted by the naive reading, so that what is frozen is right and not only old.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from ampleroom import check, read_job
from ampleroom.editions import OFFERED
from tests.naive import naive_reading

SNAPSHOTS = Path(__file__).parent / "snapshots"
JOB = read_job(SNAPSHOTS / "frozen.job")
YEARS = tuple(OFFERED)
Answer = dict[str, str | None]

TO_RENEW = "an answer changed: if that is right, say so in CHANGELOG.md and run: python -m tests.test_frozen renew"


def frozen_file(year: int) -> Path:
    return SNAPSHOTS / f"frozen_{year}.json"


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


def plain(number: Decimal) -> str | None:
    """Exact, without idle zeros; null for what has no bound."""
    return format(number.normalize(), "f") if number.is_finite() else None


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year):
    assert frozen_file(year).exists(), f"nothing is frozen for {year} yet: run python -m tests.test_frozen renew"
    assert answers(year) == json.loads(frozen_file(year).read_text("utf-8")), TO_RENEW


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


def renew() -> None:
    for year in YEARS:
        path = frozen_file(year)
        before = json.loads(path.read_text("utf-8")) if path.exists() else {}
        after = answers(year)
        for subject in {**before, **after}:
            if before and before.get(subject) != after.get(subject):
                print(f"{year} {subject}: {before.get(subject)} -> {after.get(subject)}")
        rows = ",\n".join(f"  {json.dumps(subject)}: {json.dumps(answer)}" for subject, answer in after.items())
        path.write_text("{\n" + rows + "\n}\n", "utf-8")
    print("Say every change in CHANGELOG.md, under 'Answers that change'.")


if __name__ == "__main__":
    if sys.argv[1:] == ["renew"]:
        renew()
    else:
        print(__doc__)
