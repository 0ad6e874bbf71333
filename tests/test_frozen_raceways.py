"""The answers for fixed raceways, pull boxes and conduit bodies, frozen by edition as those of ``test_frozen.py`` are.

    python -m tests.test_frozen_raceways renew     writes tests/snapshots/raceways_YEAR.json anew, and says what changed

Where all facts are known the naive readings have to agree, so that what is frozen is right and not only old.
"""

from __future__ import annotations

import pytest

from ampleroom import Verdict, check, read_job
from tests.frozen import SNAPSHOTS, YEARS, Answers, Frozen, by_subject
from tests.naive_conduit_bodies import naive_conduit_body
from tests.naive_pull_boxes import naive_pull_box
from tests.naive_raceways import naive_raceway
from tests.two_readings import SIZES

JOB = read_job(SNAPSHOTS / "raceways.job")
RULES = ("raceway-fill", "raceway-flexible-whip", "raceway-jam", "raceway-bends", "pull-box", "conduit-body-large")
NOT_READ = ("A13", "A14", "A23", "A24")
"""What the naive reading leaves out: a 3/8 in. whip, a size no table has, a sleeve, an empty raceway."""


def answers(year: int) -> dict[str, Answers]:
    """Every finding on distances, fill, bends and jamming."""
    return by_subject(each for each in check(JOB, year).findings if each.rule in RULES)


FROZEN = Frozen("raceways", "tests.test_frozen_raceways", answers)


@pytest.mark.parametrize("year", YEARS)
def test_the_answers_of_an_edition_are_those_it_always_gave(year: int):
    FROZEN.hold(year)


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


if __name__ == "__main__":
    FROZEN.main(__doc__)
