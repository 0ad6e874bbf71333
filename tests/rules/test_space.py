"""What is in one space: what comes in, what it is called, how deep it is, and what nobody knows."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom import read_job
from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.job.model import Barrier, Fitting
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.runs_at_box import run_name
from ampleroom.rules.space import Space
from tests.helpers import EDITION, in_box, needed


def spaces(sheet: str, assumption: Assumption | None = None) -> list[Space]:
    job = read_job(sheet)
    box = job.boxes[0]
    runs = job.graph.runs_at.get(box.name, ())
    return SpaceBuilder(box, job.items(box), runs, CodeBook(EDITION)).spaces(assumption or Assumption(ENDS))


def space(sheet: str) -> Space:
    (only,) = spaces(sheet)
    return only


def test_a_box_without_a_barrier_is_one_space_under_its_own_name():
    assert space(in_box()).subject == "A"


@pytest.mark.parametrize(
    ("base", "room", "size"),
    [
        ("stud", 0, ""),
        ("unmarked", 0, ""),
        ("marked ? in3", 0, ""),
        ("marked 20 in3", 20, ""),
        ("inside 12 x 10 x 6 in", 720, ""),
        ("square 4 x 1-1/2", 21, "4 x 1-1/2"),
        ("square 4 x ?", 18, "4 x 1-1/4"),
        ("conduit body lb 3/4", 0, ""),
        ("conduit body lb 3/4 marked 7 in3", 7, ""),
    ],
)
def test_its_room_at_the_worst_and_its_trade_size_if_it_has_one(base: str, room: int, size: str):
    found = space(in_box(base=base))
    assert (found.base_room, found.base_size) == (Decimal(room), size)


def test_a_barrier_makes_a_space_of_each_side():
    found = spaces(in_box("barrier metal; space left 1/3; switch #14; space right 2/3; stud"))
    assert [one.subject for one in found] == ["A/left", "A/right"]
    assert [len(one.devices) for one in found] == [1, 0]
    assert [len(one.of(Fitting)) for one in found] == [0, 1]
    assert all(len(one.of(Barrier)) == 1 for one in found)


def test_a_run_is_met_where_it_ends_and_where_it_passes():
    job = read_job("box A\n  unmarked\nbox B\n  unmarked\nbox C\n  unmarked\nrun A > B > ? 12/2 nm-b through C\n")
    met = job.graph.runs_at
    assert {place: len(found) for place, found in met.items()} == {"A": 1, "B": 2, "C": 1}


def test_a_kind_is_written_once_and_holds_for_every_box_of_it():
    sheet = "kind nail-on\n  marked 20 in3\n  switch #14\nbox A nail-on\n  stud\nwires A > ? 1 x #14\n"
    assert needed(sheet) == 8  # switch 4.00, stud 2.00, conductor 2.00


@pytest.mark.parametrize(
    ("sheet", "largest"),
    [
        (in_box(), None),
        (in_box("switch"), "6"),  # nobody gave its size: at the worst the thickest of the table is on it
        (in_box("module #10"), "10"),
        (in_box("terminal block #8"), "8"),
        (in_box("switch #10"), "10"),  # what is on a device is in the box
        (in_box("", "wires A > ? 1 x #14, ground #12"), "12"),
        (in_box("pigtail #8", "wires A > ? 1 x #14"), "8"),
        (in_box("bonding jumper #6", "wires A > ? 1 x #14"), "6"),
        (in_box("leads 1 x #12; fixture wires 1 x #16"), "12"),
        (in_box("", "wires ? > ? 1 x #1/0 through A", "wires A > ? 1 x #2"), "1/0"),
    ],
)
def test_the_largest_is_the_thickest_conductor_of_all(sheet: str, largest: str | None):
    assert space(sheet).largest == largest


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("run A > ? 12/2 nm-b", "12/2 nm-b (other end not known)"),
        ("panel P\nrun P > A 12/2 nm-b", "12/2 nm-b from P"),
        ("panel P\nrun A > P 12/2 nm-b", "12/2 nm-b to P"),
        ("panel P\nrun P > ? 12/2 nm-b through A", "12/2 nm-b passing on P > ?"),
        ("wires A > ? 3 x #6 thhn, ground #10", "3 x #6, 1 x #10 (other end not known)"),
        ("wires A > ? 3 x 250 kcmil", "3 x 250 kcmil (other end not known)"),
    ],
)
def test_a_run_is_named_as_one_sees_it_from_the_box(written: str, name: str):
    job = read_job(in_box() + written + "\n")
    assert run_name(job.runs[0], "A") == name


# ---- not known -----------------------------------------------------------------------------------------------------


def test_everything_unknown_is_asked_once():
    assumption = Assumption(ENDS)
    spaces(in_box("clamps ?; switch", "run A > ? ?/2 nm-b", base="marked ? in3"), assumption)
    assert [question.text for question in assumption.needed.values()] == [
        "the volume marked in A",
        "the size of ?/2 nm-b (other end not known): taken up to #6, as #4 and larger go by pull-box distances",
        "whether cables are clamped inside A",
    ]


def test_nothing_is_asked_of_a_box_that_is_known():
    assumption = Assumption(ENDS)
    spaces(in_box("clamps outside; switch #14", "run A > ? 14/2 nm-b", "wires A > ? 1 x #14, ground #14"), assumption)
    assert assumption.needed == {}


def test_only_in_a_conduit_body_does_it_matter_whether_a_ground_is_bare():
    assumption = Assumption(ENDS)
    spaces(
        in_box("mounted surface", "wires A > ? 1 x #14 thhn, ground #14", base="conduit body c 1/2 on emt"), assumption
    )
    assert [question.text for question in assumption.needed.values()] == [
        "whether the ground of 1 x #14, 1 x #14 (other end not known) is bare, or its insulation"
    ]


def test_how_many_cables_there_are_alike_may_be_unknown():
    assumption = Assumption(ENDS)
    spaces(in_box("clamps none", "run A > ? ? x 14/2 nm-b"), assumption)
    assert [question.text for question in assumption.needed.values()] == ["how many 14/2 nm-b there are alike"]


def test_leads_nobody_counted_are_asked_for_by_their_size():
    assumption = Assumption(ENDS)
    spaces(in_box("leads ? x #16"), assumption)
    assert [question.text for question in assumption.needed.values()] == ["how many #16 there are"]
    assert spaces(in_box("leads ? x #16"), Assumption(ENDS, at_worst=False))[0].leads[0].count == 0


def test_a_bonding_jumper_is_a_ground():
    (jumper,) = space(in_box("bonding jumper #8")).jumpers
    assert (jumper.role, jumper.size, int(jumper.count)) == ("ground", "8", 1)


def test_grounds_nobody_counted_may_be_any_number():
    assumption = Assumption(ENDS)
    spaces(in_box("", "wires A > ? 1 x #14, ground ? x #12"), assumption)
    assert [(question.text, question.choices[-1].is_infinite()) for question in assumption.needed.values()] == [
        ("how many #12 come in", True)
    ]


def test_nothing_is_asked_of_a_nonmetallic_box_whose_marking_was_read():
    assumption = Assumption(ENDS)
    spaces(in_box("clamps none", base="device 3 x 2 x 2-3/4 plastic marked 16 in3"), assumption)
    assert assumption.needed == {}


def test_a_ground_in_a_conduit_body_is_bare_at_the_best_and_the_thickest_at_the_worst():
    sheet = in_box("", "wires A > ? ground #12", base="conduit body c 1/2 on emt")
    assert [spaces(sheet, Assumption(ENDS, at_worst))[0].entering[0].insulation for at_worst in (False, True)] == [
        "bare",
        "thickest",
    ]


def test_a_width_nobody_measured_is_two_inches_at_the_best_and_an_inch_more_at_the_worst():
    sheet = in_box("dimmer #14 ? in wide")
    widths = [spaces(sheet, Assumption(ENDS, at_worst))[0].devices[0].width for at_worst in (False, True)]
    assert widths == [Decimal(2), Decimal(3)]


def test_a_ground_that_is_said_to_be_bare_is_not_asked_about():
    assumption = Assumption(ENDS)
    sheet = in_box("", "wires A > ? 1 x #12 thhn, ground #12 bare", base="conduit body c 1/2 on emt")
    found = spaces(sheet, assumption)
    assert assumption.needed == {}
    assert [met.insulation for met in found[0].entering if met.role == "ground"] == ["bare"]


def test_the_size_of_wires_written_under_the_box_may_be_unknown():
    assumption = Assumption(ENDS)
    found = spaces(in_box("leads 2 x #?"), assumption)
    assert [question.text for question in assumption.needed.values()] == ["the size of the wires on line 3"]
    assert found[0].leads[0].size == "6"  # the thickest the table has


def test_to_find_out_what_is_on_a_device_it_must_be_taken_out():
    assumption = Assumption(ENDS)
    spaces(in_box("switch", "wires A > ? 1 x #14, 1 x #12"), assumption)
    assert [question.effort for question in assumption.needed.values()] == [1]
