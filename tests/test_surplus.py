"""How many cables are too many: taking them out makes the box pass, and one fewer does not."""

import re

import pytest
from hypothesis import assume, given

from ampleroom import Verdict, check, read_job
from ampleroom.fits import room_for
from ampleroom.surplus import TooMany, number_of, shares
from ampleroom.words import FEW
from tests.strategies import examples, jobs

SHEET = "edition 2020\nbox J1\n  square 4 x 1-1/2\n  clamps inside\n  receptacle #12\n{}\n"


@pytest.mark.parametrize(
    ("runs", "says"),
    [
        (("3 x 12/2 nm-b",), "one 12/2 cable too many"),  # 22.50 in 21.00; without one 18.00
        (("4 x 12/2 nm-b",), "two 12/2 cables too many"),  # 27.56 with four grounds of 2020 at 2.25; three are 22.50
        (
            ("2 x 12/2 nm-b", "14/3 nm-b"),
            "one 12/2 cable too many",
        ),  # 24.00; 19.50 without a 12/2, 18.00 without the 14/3
        (("6 x #12 thhn",), ""),  # no cable
        (("? x 12/2 nm-b",), ""),
    ],
)
def test_by_hand(runs, says):
    finding = check(read_job(SHEET.format("\n".join(f"run J1 > ? {run}" for run in runs)))).findings[0]
    assert (finding.surplus.text if finding.surplus else "") == says


@pytest.mark.parametrize(
    ("runs", "says"),
    [
        # 15.75 of 21.00 with one; each further 12/2 takes 4.50 and no further allowance for its ground: 2020, up to
        # four
        (("12/2 nm-b",), "Room for one more 12/2 nm-b"),
        (("2 x 12/2 nm-b",), ""),  # 18.00; 22.50 with a third
        (("14/2 old",), ""),  # nobody adds old cable
        (("3 x 12/2 nm-b",), ""),  # it fails
        (("2 x #12 thhn",), ""),  # no cable
    ],
)
def test_room_for_more_is_said_of_a_box_that_passes(runs, says):
    job = read_job(SHEET.format("\n".join(f"run J1 > ? {run}" for run in runs)))
    found = check(job)
    assert room_for(job, found.subjects[0], found.book) == says


def without(sheet: str, number: int) -> str:
    """The sheet with so many of the cables taken out."""
    return re.sub(r"run J1 > \? (\d+) x", lambda match: f"run J1 > ? {int(match[1]) - number} x", sheet)


@pytest.mark.parametrize("edition", [2011, 2017, 2020, 2023])
@pytest.mark.parametrize("cable", ["14/2 nm-b", "12/3 nm-b", "10/2 nm-b"])
@pytest.mark.parametrize("count", [6, 8, 10])
def test_taking_out_what_it_says_makes_it_pass_and_one_fewer_does_not(edition, cable, count):
    sheet = SHEET.format(f"run J1 > ? {count} x {cable}").replace("2020", str(edition))
    surplus = check(read_job(sheet)).findings[0].surplus
    assert surplus is not None
    number = FEW.index(surplus.text.split()[0])
    assert check(read_job(without(sheet, number))).findings[0].verdict is Verdict.PASSES
    assert check(read_job(without(sheet, number - 1))).findings[0].verdict is Verdict.FAILS


@examples(30)
@given(jobs(unknowns=False, extras=True))
def test_of_random_boxes_too(job):
    surpluses = [finding.surplus for finding in check(job).findings if finding.surplus and finding.surplus.text]
    assume(surpluses)
    for surplus in surpluses:
        assert isinstance(surplus, TooMany)
        found = re.fullmatch(r"(\S+) (.+?) cables? too many", surplus.text)
        assert found is not None
        count, name = found.groups()
        number = FEW.index(count) if count in FEW else int(count)
        groups = list(surplus.kinds[name].values())
        there = [sum(number_of(surplus.runs[place][0]) for place in group) for group in groups]
        assert all(surplus.passes(surplus.without(groups, way)) for way in shares(number, there))
        assert not any(surplus.passes(surplus.without(groups, way)) for way in shares(number - 1, there))
