"""The core against ``naive.py``, a second reading of the same rules: thousands of random boxes, by every edition.

``AMPLEROOM_LONG=1 pytest tests/test_against_naive.py`` tries 50,000 random jobs instead of a few hundred. Where the two
readings once differed there is a test of its own below, in the smallest sheet.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given

from ampleroom import Finding, Job, Verdict, check, read_job
from ampleroom.job.model import Box, Item, SpaceShare
from tests.naive import naive_reading, nothing_is_in, room_of
from tests.strategies import EDITIONS, examples, jobs


def fill_findings(job: Job, edition: int) -> list[tuple[Box, str, Finding]]:
    """Every box-fill finding, with its box and the space of it."""
    return [
        (job.box(box.name), finding.subject.partition("/")[2], finding)
        for box in check(job, edition).subjects
        for finding in box.findings
        if finding.rule == "box-fill"
    ]


def choices(job: Job) -> dict[str, str]:
    return {reading.name: reading.choice for reading in job.readings}


@examples(150)
@given(jobs(most_boxes=2))
def test_fill_is_what_the_naive_reading_counts(job):
    for edition in EDITIONS:
        for box, space, finding in fill_findings(job, edition):
            _, fill = naive_reading(job, box, space, edition, choices(job))
            assert finding.worst is not None
            assert Fraction(finding.worst.needed) == fill


@examples(120)
@given(jobs(most_boxes=2, most_runs=1))
def test_room_is_what_the_naive_reading_counts(job):
    for edition in EDITIONS:
        for box, space, finding in fill_findings(job, edition):
            room = room_of(job_items(job, box), space, edition, choices(job))
            assert finding.worst is not None
            if room is None:
                assert finding.best is not None
                assert finding.worst.there <= finding.best.there <= at_most(job, box, space)
                assert finding.best.there.is_finite() == at_most(job, box, space).is_finite()
            else:
                there = Fraction(finding.worst.there)
                assert room - rounding(space) <= there <= room


@examples(150)
@given(jobs(most_boxes=2))
def test_a_box_passes_exactly_where_the_naive_fill_goes_into_the_naive_room(job):
    for edition in EDITIONS:
        for box, space, finding in fill_findings(job, edition):
            room, fill = naive_reading(job, box, space, edition, choices(job))
            if room is not None and not 0 <= room - fill < rounding(space):
                fits = Verdict.OPEN if nothing_is_in(job, box) else Verdict.PASSES
                assert finding.verdict is (fits if fill <= room else Verdict.FAILS)


# ---- where the two readings differed once ---------------------------------------------------------------------------


def job_items(job: Job, box: Box) -> list[Item]:
    return list(job.items(box))


def at_most(job: Job, box: Box, space: str) -> Decimal:
    """The room at its best where nobody knows it: without a bound, or what is written of the space."""
    written = [item.volume for item in job.items(box) if isinstance(item, SpaceShare) and item.name == space]
    return written[0] if written and written[0] is not None else Decimal("Infinity")


def rounding(space: str) -> Fraction:
    """What a share may lose: one ten-thousandth, where it is no exact decimal."""
    return Fraction(1, 10_000) if space else Fraction(0)


def the_only(sheet: str, edition: int = 2020, subject: str = "J1") -> Finding:
    (found,) = [found for _, _, found in fill_findings(read_job(sheet), edition) if found.subject == subject]
    return found


def numbers(finding: Finding) -> Any:
    """Needed and there, at the worst."""
    assert finding.worst is not None
    return finding.worst.needed, finding.worst.there


@pytest.mark.parametrize("base", ["marked ? in3", "unmarked", "inside 4 x 4 x 2 in"])
@pytest.mark.parametrize("shares", [("1/2", "1/2"), ("1 gangs", "1 gangs"), ("9 in3", "9 in3")])
def test_a_divided_box_of_unknown_room_is_judged(base, shares):
    sheet = f"box J1\n  {base}\n  barrier metal\n  space a {shares[0]}\n  space b {shares[1]}\nrun J1/a > ? 14/2 nm-b\n"
    assert check(read_job(sheet), 2020).subject("J1").verdict is Verdict.OPEN


def test_an_assembly_on_one_side_takes_its_whole_volume_from_that_side():
    sheet = (
        "box J1\n"
        "  marked 40 in3\n"
        "  barrier metal\n"
        "  space a 1/4\n"
        "  clamps assembly 0.8 in3\n"
        "  space b 3/4\n"
        "  clamps none\n"
    )
    assert numbers(the_only(sheet, 2014, "J1/a")) == (0, Decimal("9.2"))  # a quarter of 40, less 0.8


@pytest.mark.parametrize(
    "base", ["inside 5 x 5 x 5 in plastic", "square 4 x 1-1/2 plastic", "device 3 x 2 x 2 plastic"]
)
def test_a_plastic_box_without_a_marking_is_credited_nothing(base):
    found = the_only(f"box J1\n  {base}\n  clamps none\nrun J1 > ? 14/2 nm-b\n")
    assert numbers(found) == (6, 0)
    assert found.verdict is Verdict.OPEN


def test_a_plastic_ring_without_a_marking_adds_nothing_whatever_its_size():
    sheet = "box J1\n  square 4 x 1-1/2\n  extension ring square 4 x 1-1/2 plastic\n  clamps none\n"
    assert numbers(the_only(sheet)) == (0, 21)  # the table is of metal boxes


@pytest.mark.parametrize(
    "base", ["masonry 3-3/4 x 2 x 2-1/2 marked 30 in3 2-gang", "fd multiple cover marked 30 in3 2-gang"]
)
def test_the_marking_of_a_box_of_two_gangs_is_that_of_the_whole_box(base):
    assert numbers(the_only(f"box J1\n  {base}\n  clamps none\n")) == (0, 30)


@pytest.mark.parametrize("edition", [2017, 2020])
def test_a_low_voltage_isolated_ground_counts_once(edition):
    sheet = "box J1\n  square 4 x 1-1/2\n  clamps none\nwires J1 > ? 2 x #18, isolated ground #18 class 2\n"
    assert numbers(the_only(sheet, edition)) == (Decimal("4.50"), 21)  # three of 1.50


@pytest.mark.parametrize("slack", ["loop 24 in", "loop", "landed"])
def test_a_low_voltage_loop_counts_twice_as_any_other_does(slack):
    sheet = f"box J1\n  square 4 x 1-1/2\n  clamps none\nwires ? > ? 2 x #18 class 2 through J1 {slack}\n"
    assert numbers(the_only(sheet)) == (6, 21)  # 2 x 2 x 1.50


@pytest.mark.parametrize(("inside", "twice"), [("12 x 12 x 6", True), ("8 x 10 x 6", True)])
def test_by_depth_only_an_opening_under_eight_inches_lengthens_the_loop(inside, twice):
    sheet = (
        "reading loop-threshold by-depth\n"
        "box J1\n"
        f"  inside {inside} in\n"
        "  clamps none\n"
        "wires ? > ? 1 x #14 thhn through J1 loop 13 in\n"
    )
    assert numbers(the_only(sheet))[0] == (4 if twice else 2)


@pytest.mark.parametrize("what", ["switch #12", "module #12", "terminal block #12", "dimmer #14 leads 2 x #12"])
def test_a_conductor_on_a_device_is_present_in_the_box(what):
    sheet = f"box J1\n  square 4 x 2-1/8\n  {what}\nrun J1 > ? 14/2 nm-b\n"
    with_clamps = the_only(sheet.replace("\nrun", "\n  clamps inside\nrun"), 2023)
    without = the_only(sheet.replace("\nrun", "\n  clamps none\nrun"), 2023)
    assert numbers(with_clamps)[0] - numbers(without)[0] == Decimal("2.25")  # the clamps, by the #12


@pytest.mark.parametrize(
    ("base", "share"), [("square 4 x 1-1/2\n  plaster ring 3.5 in3", "1/3"), ("marked 36.25 in3", "3/8")]
)
def test_a_third_of_a_box_is_exactly_a_third(base, share):
    rest = {"1/3": "2/3", "3/8": "5/8"}[share]
    sheet = f"box J1\n  {base}\n  barrier metal\n  space a {share}\n  space b {rest}\nwires J1/a > ? 4 x #14\n"
    needed, there = numbers(the_only(sheet, 2017, "J1/a"))
    assert there == {"1/3": 8, "3/8": Decimal("13.40625")}[share]
    assert needed == 8


@pytest.mark.parametrize("other", ["bonding jumper #10", "fixture wires ground #10"])
def test_a_ground_that_is_like_a_lead_s_is_not_left_out_with_it(other):
    sheet = (
        f"reading equipment-leads as-canopy\nbox J1\n  marked 60 in3\n  clamps none\n  {other}\n  leads ground #10\n"
    )
    assert numbers(the_only(sheet)) == (Decimal("2.50"), 60)
