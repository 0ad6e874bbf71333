"""The answers for fixed raceways, pull boxes and conduit bodies, frozen by edition as those of ``test_frozen.py`` are.

    python -m tests.test_frozen_raceways renew     writes tests/snapshots/raceways_YEAR.json anew, and says what changed

Where all facts are known the naive readings have to agree, so that what is frozen is right and not only old.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from ampleroom import Verdict, check, read_job
from ampleroom.editions import OFFERED
from tests.naive_conduit_bodies import naive_conduit_body
from tests.naive_pull_boxes import naive_pull_box
from tests.naive_raceways import naive_raceway
from tests.test_frozen import TO_RENEW, plain
from tests.two_readings import SIZES

SNAPSHOTS = Path(__file__).parent / "snapshots"
JOB = read_job(SNAPSHOTS / "raceways.job")
YEARS = tuple(OFFERED)
RULES = ("raceway-fill", "raceway-flexible-whip", "raceway-jam", "raceway-bends", "pull-box", "conduit-body-large")
NOT_READ = ("A13", "A14", "A23", "A24")
"""What the naive reading leaves out: a 3/8 in. whip, a size no table has, a sleeve, an empty raceway."""
Answer = list[dict[str, str | None]]


def frozen_file(year: int) -> Path:
    return SNAPSHOTS / f"raceways_{year}.json"


def answers(year: int) -> dict[str, Answer]:
    """Every finding on distances, fill, bends and jamming: its verdict, its section, what is needed and there."""
    found: dict[str, Answer] = {}
    for each in check(JOB, year).findings:
        if each.rule in RULES:
            answer: dict[str, str | None] = {"rule": each.rule, "verdict": each.verdict.word, "cite": each.cite}
            if each.worst is not None:
                answer |= {"needed": plain(each.worst.needed), "there": plain(each.worst.there)}
            found.setdefault(each.subject, []).append(answer)
    return found


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    assert frozen_file(year).exists(), f"nothing is frozen for {year}: run python -m tests.test_frozen_raceways renew"
    assert answers(year) == json.loads(frozen_file(year).read_text("utf-8")), TO_RENEW


def test_every_raceway_and_every_pull_box_is_frozen_with_every_verdict():
    for year in YEARS:
        frozen = answers(year)
        assert {raceway.name for raceway in JOB.raceways} | {box.name for box in JOB.boxes} == set(frozen)
        words = {answer["verdict"] for found in frozen.values() for answer in found}
        assert words == {"passes", "advice", "check needed", "fails"}


@pytest.mark.parametrize("year", YEARS)
def test_what_is_frozen_is_what_the_naive_readings_say(year: int):
    verdicts: dict[str, Verdict] = {}
    for each in check(JOB, year).findings:
        if each.rule in ("raceway-fill", "pull-box", "conduit-body-large"):
            verdicts[each.subject] = max(each.verdict, verdicts.get(each.subject, Verdict.PASSES))
    bodies = [box for box in JOB.boxes if box.name.startswith("C")]
    naive = {box.name: naive_pull_box(JOB, box, {}, SIZES) for box in JOB.boxes if box not in bodies}
    naive |= {box.name: naive_conduit_body(JOB, box, year, {}) for box in bodies}
    naive |= {way.name: naive_raceway(JOB, way, {}) for way in JOB.raceways if way.name not in NOT_READ}
    for name, word in naive.items():
        said = verdicts[name].word.replace("check needed", "open")
        assert said == word or (said, name) == ("open", "B9"), name  # B9: a wall nobody wrote is asked in any case


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
