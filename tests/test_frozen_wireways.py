"""The answers for fixed wireways and gutters, frozen by edition as those of ``test_frozen.py`` are.

    python -m tests.test_frozen_wireways renew     writes tests/snapshots/wireways_YEAR.json anew, and says what changed

The naive reading has to agree, so that what is frozen is right and not only old.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from ampleroom import Verdict, check, read_job
from ampleroom.editions import OFFERED
from tests.naive_wireways import naive_wireway
from tests.test_frozen import TO_RENEW, plain

SNAPSHOTS = Path(__file__).parent / "snapshots"
JOB = read_job(SNAPSHOTS / "wireways.job")
YEARS = tuple(OFFERED)
KINDS = ("wireway", "gutter")
NOT_READ = ("A15", "A16", "A17", "A18", "A25", "A26")
"""What the naive reading leaves out: raceways of other names than its own, a nonmetallic one, an empty one."""
Answer = list[dict[str, str | None]]


def frozen_file(year: int) -> Path:
    return SNAPSHOTS / f"wireways_{year}.json"


def answers(year: int) -> dict[str, Answer]:
    """Every finding on a wireway or gutter: its verdict, its section, what is needed and what is there."""
    found: dict[str, Answer] = {}
    report = check(JOB, year)
    for subject in [each for each in report.subjects if each.kind in KINDS]:
        for each in subject.findings:
            answer: dict[str, str | None] = {"rule": each.rule, "verdict": each.verdict.word, "cite": each.cite}
            if each.worst is not None:
                answer |= {"needed": plain(each.worst.needed), "there": plain(each.worst.there)}
            found.setdefault(subject.name, []).append(answer)
    return found


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    assert frozen_file(year).exists(), f"nothing is frozen for {year}: run python -m tests.test_frozen_wireways renew"
    assert answers(year) == json.loads(frozen_file(year).read_text("utf-8")), TO_RENEW


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
