"""What worksheets and verdicts are made of: units, what is weighed, and the verdict between a worst and a best case."""

import pickle
from decimal import Decimal
from itertools import product

import pytest

from ampleroom import Verdict, Worksheet, check, read_job
from ampleroom.arithmetic import Counted, Unit
from ampleroom.pictures.room import room_picture
from ampleroom.rules.conduit_body.passing import PURPOSE
from ampleroom.worksheet import BOX_FILL, Finding, Purpose, SubjectReport, between
from tests.pictures.helpers import texts

PASSES, ADVICE, OPEN, FAILS = Verdict


def line(count: int, unit: Unit = Unit.IN3) -> Counted:
    return Counted("weight", "Pots", Decimal(count), Decimal(2), "each 2", "none", unit=unit)


@pytest.mark.parametrize(
    ("worst", "best", "told"),
    [
        (PASSES, PASSES, PASSES),
        (ADVICE, PASSES, ADVICE),
        (ADVICE, ADVICE, ADVICE),
        (FAILS, PASSES, OPEN),
        (FAILS, ADVICE, OPEN),
        (FAILS, OPEN, OPEN),
        (OPEN, PASSES, OPEN),
        (FAILS, FAILS, FAILS),
    ],
)
def test_the_verdict_between_a_worst_and_a_best_case(worst, best, told):
    assert between(worst, best) is told


def test_no_case_that_may_fail_is_ever_allowed():
    for worst, best in product(Verdict, Verdict):
        if not worst.is_allowed:
            assert between(worst, best) >= OPEN


def test_a_need_past_the_room_is_a_failure_or_advice_and_exactly_full_passes():
    assert [Worksheet((line(3),), (line(n),)).verdict for n in (2, 3, 4)] == [PASSES, PASSES, FAILS]
    assert Worksheet((line(3),), (line(4),), otherwise=ADVICE).verdict is ADVICE


def test_two_worksheets_of_the_same_lines_and_another_purpose_differ():
    other = Purpose("another", Unit.IN3, "Box volume", "Box fill")
    assert Worksheet((line(3),), ()) != Worksheet((line(3),), (), other)


@pytest.mark.parametrize("thing", [Unit.IN3, BOX_FILL, Worksheet((line(3),), ())])
def test_units_and_purposes_come_back_the_same_from_another_process(thing):
    assert pickle.loads(pickle.dumps(thing)) == thing


def test_every_unit_is_written_in_one_way_and_no_two_alike():
    assert len({unit.plain for unit in Unit}) == len(Unit)
    assert (str(Unit.IN3), Unit.IN3.printed, Unit.IN2.printed) == ("in3", "in³", "in²")


def test_the_margins_of_a_subject_are_those_of_one_purpose():
    areas, volumes = Worksheet((line(9, Unit.IN2),), (), PURPOSE), Worksheet((line(3),), (line(1),))
    findings = [Finding("weight", PASSES, "A", "", "", worst=sheet) for sheet in (areas, volumes)]
    assert SubjectReport("box", "A", "", findings[0].at, tuple(findings)).margins("box-fill") == [Decimal(4)]


def test_the_picture_of_what_passes_a_conduit_body_tells_areas():
    report = check(read_job("edition 2023\nbox A\n  conduit body lb 1/2 on emt\nwires ? > ? 4 x #12 thhn through A\n"))
    (finding,) = [found for found in report.findings if found.worst is not None]
    said = " ".join(texts(room_picture(finding)))
    assert "in3" not in said
    assert "conductors 0.0532 in2" in said  # 4 x 0.0133, the published area of 12 AWG THHN
