"""What a box is asked on the spot, by whom its runs are named, and what may be made of plastic."""

from __future__ import annotations

import pytest

from ampleroom import read_job
from ampleroom.check import book_for
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.meetings import direction, meetings_by_place, run_name
from ampleroom.rules.outlook import Outlook
from tests.helpers import in_box, reminders

CABLE = "run A > ? 14/2 nm-b"


def asked(sheet: str) -> dict[str, int]:
    """The questions a box A raises, and what it takes to answer each."""
    job = read_job(sheet)
    outlook = Outlook()
    box = job.box("A")
    SpaceBuilder(box, job.items(box), meetings_by_place(job)["A"], book_for(job, 2023), outlook).spaces()
    return {question.text: question.effort for question in outlook.asked}


@pytest.mark.parametrize(
    ("inside", "question"),
    [
        ("switch", "the largest conductor on the switch in A"),
        ("switch + receptacle", "the largest conductor on the switch + receptacle in A"),
        ("module #?", "the largest conductor on the module in A"),
        ("terminal block #?", "the largest conductor on the block in A"),
    ],
)
def test_of_two_sizes_that_land_it_is_asked_which_is_on_a_device_after_taking_it_out(inside: str, question: str):
    sheet = in_box(f"clamps none\n  {inside}", "wires A > ? 2 x #12, 2 x #14")
    assert asked(sheet) == {question: 1}


@pytest.mark.parametrize(
    ("runs", "is_asked"),
    [
        (["wires A > ? 2 x #14", "wires A > ? 2 x #12 class 2"], False),  # low-voltage wires are on no switch
        (["wires A > ? 2 x #14, ground #16"], False),  # nor is a ground the largest where all else is thicker
        (["wires A > ? 2 x #14, ground #12"], True),
        (["wires A > ? 2 x #14", "wires ? > ? 2 x #12 through A"], False),  # what passes straight lands nowhere
        (["wires A > ? 2 x #14", "wires ? > ? 2 x #12 through A landed"], True),
    ],
)
def test_only_what_may_land_on_a_device_is_asked_about(runs: list[str], is_asked: bool):
    found = asked(in_box("clamps none\n  switch", *runs))
    assert ("the largest conductor on the switch in A" in found) is is_asked


@pytest.mark.parametrize(
    ("base", "is_asked"),
    [("marked 30 in3", True), ("conduit body lb 1 marked 30 in3", False), ("conduit body c 1 marked 30 in3", False)],
)
def test_a_conduit_body_has_no_clamps_to_ask_for(base: str, is_asked: bool):
    found = asked(in_box("", CABLE, base=base))
    assert ("whether cables are clamped inside A" in found) is is_asked


def test_a_run_is_named_by_the_place_before_it_and_at_its_start_by_the_one_after():
    (run,) = read_job("box A\nbox B\nbox C\nrun A > B > C 14/2 nm-b\n").runs
    assert [direction(run, here) for here in "ABC"] == ["to B", "from A", "from B"]
    assert direction(run, "D") == "passing on A > B > C"


def test_a_very_long_run_that_passes_on_is_named_by_its_first_stops_and_its_last():
    names = [f"S{n}" for n in range(40)]
    sheet = "".join(f"equipment {name}\n" for name in names) + f"box D\nrun {' > '.join(names)} 14/2 nm-b through D\n"
    (run,) = read_job(sheet).runs
    assert direction(run, "D") == "passing on S0 > S1 > S2 > S3 > S4 > S5 > (33 more) > S39"
    assert direction(run, "S20") == "from S19"


def test_of_a_run_of_many_groups_the_first_are_named():
    (run,) = read_job(f"panel P\nbox A\nwires P > A {', '.join(['2 x #12 thhn'] * 10)}\n").runs
    assert run_name(run, "A") == ", ".join(["2 x #12"] * 8) + " and 2 more from P"


@pytest.mark.parametrize(
    ("base", "told"),
    [
        ("marked 20 in3 plastic 1-gang", True),
        ("marked 20 in3", True),  # nobody says what it is made of
        ("unmarked", True),
        ("marked 200 in3 metal", False),
        ("square 4 x 1-1/2", False),  # the sizes of the table are those of metal boxes
        ("inside 6 x 6 x 4 in", False),
        ("", True),
    ],
)
def test_before_2017_sheath_comes_into_what_may_be_a_nonmetallic_box(base: str, told: bool):
    found = reminders(in_box("", CABLE, base=base), 2014, "covers")
    assert any("sheath" in reminder.text for reminder in found) is told


def test_one_conductor_that_ends_among_others_that_pass_needs_free_length():
    sheet = in_box("", "wires ? > ? 2 x #12 through A", "wires A > ? 1 x #12")
    assert len(reminders(sheet, 2023, "free-conductor")) == 1


def test_a_marking_is_read_by_looking_in():
    assert asked(in_box("clamps none", CABLE, base="marked ? in3")) == {"the volume marked in A": 0}
