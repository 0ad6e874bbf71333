"""A run that ends in a neighboring box instead."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed
from ampleroom.remedy.moves.another_run import another_run
from tests.remedy.helpers import (
    CABLES,
    MoveCase,
    assert_holds,
    check_after,
    figures,
    job_of,
    of,
    only,
    placed,
    stock,
    work,
)

SHEET = """circuit 3 20 A
circuit 5 20 A
box J1 at the ridge
  square 4 x 1-1/2
  clamps outside
box J2
  square 4 x 2-1/8
  clamps outside
run J1 > J2 12/2 nm-b 8 ft circuit 3
run J1 > ? 12/2 nm-b 20 ft circuit 3 for loft
run J1 > ? 3 x 12/2 nm-b circuit 5
"""
"""J1: 10 x #12 and a ground, 24.75 of 21; J2: 2 and a ground, 6.75 of 30.3."""
PARTS = stock(CABLES)


def offered(text, parts=PARTS):
    return [(move.action, move) for move in another_run(placed(text, parts, "J1"))]


CASES = [
    MoveCase(
        another_run,
        SHEET,
        PARTS,
        "6",
        29,
        "0.75",
        "8 x 2.25 and 2.25 are 20.25 of 21; 8 ft at 0.75, 25 minutes and half a minute a foot",
    )
]


def test_a_cable_taken_to_the_next_box_of_its_circuit_puts_it_right():
    """2 x 2.25 less: 20.25 of 21. 8 ft of cable at 0.75 and 25 minutes and half a minute a foot."""
    found = only(of(SHEET, PARTS, "J1"))
    assert found.action == "end the 12/2 nm-b with its other end not known in J2 instead"
    assert figures(found) == (6, 29, Decimal("0.75"))
    assert found.disturbance.word == "nothing"
    assert found.touches == {"J1", "J2"}
    assert found.notes == ("the cable can be rerouted to J2",)
    job = job_of(SHEET)
    assert changed(job, found.change).runs[1].length == 28
    assert_holds(job, found)


def test_where_nobody_measured_the_way_six_feet_are_taken():
    found = only(of(SHEET.replace(" 8 ft", ""), PARTS, "J1"))
    assert figures(found) == (Decimal("4.50"), 28, Decimal("0.75"))


def test_a_cable_that_is_not_in_the_stock_has_no_price_in_it_and_the_remedy_says_so():
    found = only(of(SHEET, stock(), "J1"))
    assert found.price == 0
    assert "12/2 nm-b is on hand: the stock file has no price for it" in found.notes


def test_the_box_it_goes_to_has_to_pass_with_it():
    """J2 of 21 with 6 more #12 in it: 18 + 2.25 as it is, 24.75 with the cable."""
    text = SHEET.replace("square 4 x 2-1/8", "square 4 x 1-1/2") + "run J2 > ? 3 x 12/2 nm-b\n"
    assert len(offered(text)) == 1
    assert of(text, PARTS, "J1") == []


def test_a_box_that_fails_anyway_is_not_made_worse():
    """J2 is overfull already; what goes there makes it more so, though its verdict stays the same."""
    text = SHEET + "run J2 > ? 9 x 12/2 nm-b\n"
    assert of(text, PARTS, "J1") == []


@pytest.mark.parametrize(
    ("there", "instead"),
    [
        ("run J1 > J2 12/2", "run J1 > J2 12/3"),
        ("run J1 > J2 12/2", "run J1 > J2 14/2"),
        ("8 ft circuit 3", "8 ft circuit 5"),
        ("8 ft circuit 3", "8 ft aluminum circuit 3"),
        ("20 ft circuit 3", "20 ft existing circuit 3"),
        ("? 12/2 nm-b 20 ft circuit 3", "? 2 x 12/2 nm-b 20 ft circuit 3"),
        ("? 12/2 nm-b 20 ft", "J2 12/2 nm-b 20 ft"),
        ("run J1 > J2 12/2", "run J1 > ? 12/2"),
    ],
    ids=["another count", "another size", "another circuit", "other metal", "old", "several", "same end", "no box"],
)
def test_only_a_cable_that_goes_on_in_the_same_circuit_by_its_like_is_moved(there, instead):
    """The cables of circuit 5 have none that goes on to a box."""
    assert there in SHEET
    assert offered(SHEET.replace(there, instead)) == []


def test_a_cable_that_passes_the_next_box_does_not_also_end_there():
    assert offered(SHEET.replace("20 ft", "20 ft through J2")) == []


@pytest.mark.parametrize(
    "device", ["switch", "3-way switch", "dimmer", "timer", "gfci receptacle", "switch + receptacle"]
)
def test_where_a_device_switches_or_guards_something_no_cable_is_moved(device):
    """Nobody wrote down which cable it is that the device governs."""
    assert offered(SHEET.replace("clamps outside\nbox J2", f"clamps outside\n  {device} #12\nbox J2")) == []
    plain = SHEET.replace("clamps outside\nbox J2", "clamps outside\n  receptacle #12\nbox J2")
    assert len(offered(plain)) == 1


def test_it_ends_on_the_side_of_a_barrier_where_the_other_cable_does():
    text = SHEET.replace("square 4 x 2-1/8", "square 4 x 2-1/8\n  barrier metal\n  space a 1/2\n  space b 1/2")
    text = text.replace("J1 > J2 12/2", "J1 > J2/b 12/2")
    found = only(of(text, PARTS, "J1"))
    stop = changed(job_of(text), found.change).runs[1].stops[0]
    assert (stop.name, stop.space) == ("J2", "b")


def test_in_a_finished_wall_it_takes_longer_and_means_plaster():
    found = only(of(SHEET.replace("4 x 1-1/2\n", "4 x 1-1/2\n  mounted new-work finished\n"), PARTS, "J1"))
    assert work(found) == ("plaster", 104)


def test_the_other_box_is_judged_in_the_whole_job():
    report = check_after(job_of(SHEET), only(of(SHEET, PARTS, "J1")))
    assert report.subject("J2").verdict.word == "passes"
