"""A second box beside it that takes the splices of one circuit."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed
from ampleroom.job.model import Base, Cable, Clamps, Mounting, Run, Stop
from ampleroom.remedy.moves.second_box import second_box
from tests.remedy.helpers import (
    CABLES,
    CONNECTOR,
    MoveCase,
    assert_holds,
    box_entry,
    figures,
    job_of,
    of,
    only,
    placed,
    stock,
    work,
)

JUNCTION = """box J1 at the ridge
  square 4 x 1-1/2
  clamps outside
run J1 > ? 3 x 12/2 nm-b circuit 3
run J1 > ? 12/2 nm-b circuit 5
run J1 > ? 12/2 nm-b circuit 5
"""
"""10 x #12 and a ground: 24.75 of 21."""
ROUND = box_entry("octagon 4 x 1-1/2", 2, uses='"junction"', clamps="outside", more="cover_price = 0.80")
PARTS = stock(ROUND, CONNECTOR, CABLES)


def offered(text, parts=PARTS):
    return list(second_box(placed(text, parts)))


CASES = [
    MoveCase(
        second_box,
        JUNCTION,
        PARTS,
        "4.80",
        40,
        "5.25",
        "6 x 2.25 and 2.25 stay in 21; box and cover 2.80, 2 connectors, 30 minutes and 2 x 5",
    )
]


def test_the_splices_of_one_circuit_go_to_a_box_beside_it():
    """Circuit 5 has two cables: 4 x 2.25 and a ground go into 15.5, and 15.75 stay in 21. The box with its cover and
    two connectors: 2 + 0.80 + 2, 30 minutes and twice 5.
    """
    found = only(of(JUNCTION, PARTS))
    assert found.action == "add a second box beside it (J1b, octagon 4 x 1-1/2) for circuit 5"
    assert figures(found) == (Decimal("4.80"), 40, Decimal("5.25"))
    assert found.disturbance.word == "nothing"
    assert found.touches == {"J1", "J1b"}
    assert found.notes == ("the cables reach the new box",)
    job = job_of(JUNCTION)
    after = changed(job, found.change)
    assert after.boxes[1].name == "J1b"
    assert after.boxes[1].description == "beside J1, the ridge"
    assert [run.stops[0].name for run in after.runs] == ["J1", "J1b", "J1b"]
    assert_holds(job, found)


def test_a_circuit_with_a_single_run_is_left_where_it_is():
    """Three cables alike in one line are one run of which all go; a run by itself has nothing to be spliced to."""
    assert [move.action[-9:] for move in offered(JUNCTION)] == ["circuit 5"]


def test_where_a_device_stays_a_link_carries_the_circuit_on():
    """6 x 2.25 + 2.25 + 4.50 = 20.25 in 18. Two cables of circuit 5 go, a link comes: 4 x 2.25 + 2.25 + 4.50 = 15.75.
    Beside it 6 x 2.25 + 2.25 go into 21. The link: 3 ft of 12/2 at 0.75, and a third connector.
    """
    text = JUNCTION.replace("square 4 x 1-1/2", "marked 18 in3 plastic 1-gang").replace("3 x 12", "12")
    text = text.replace("outside", "none\n  receptacle #12")
    found = only(of(text, stock(ROUND.replace("octagon", "square"), CONNECTOR, CABLES)))
    assert figures(found) == (Decimal("8.05"), 45, Decimal("2.25"))
    after = changed(job_of(text), found.change)
    assert [stop.name for stop in after.runs[-1].stops] == ["J1", "J1b"]
    assert after.runs[-1] == Run(
        (Stop("J1"), Stop("J1b")), cable=Cable("nm-b", "12", "2"), length=Decimal(3), circuit="5"
    )
    assert "the link cable has the conductors the devices here need" in found.notes
    assert_holds(job_of(text), found)


def test_the_link_is_the_thickest_of_the_cables_moved():
    text = JUNCTION.replace("outside", "outside\n  receptacle #12").replace(
        "12/2 nm-b circuit 5", "14/3 nm-b circuit 5", 1
    )
    (move,) = offered(text)
    assert changed(job_of(text), move.change).runs[-1].cable == Cable("nm-b", "12", "2")
    assert "12/2 nm-b is on hand: the stock file has no price for it" in offered(text, stock(ROUND, CONNECTOR))[0].notes


def test_where_nothing_would_stay_it_is_no_second_box():
    """All cables are of one circuit and no device is there: that would be another box."""
    assert offered(JUNCTION.replace("circuit 3", "circuit 5")) == []


def test_cables_with_no_circuit_go_together():
    text = JUNCTION.replace(" circuit 5", "")
    assert offered(text)[0].action.endswith("for the cables with no circuit in the sheet")


def test_the_new_box_has_a_name_nobody_has():
    text = JUNCTION + "box j1B\n  marked 9 in3\npanel J1c\n"
    assert "(J1d," in offered(text)[0].action


@pytest.mark.parametrize(
    "line",
    [
        "run J1 > ? 12/2 nm-b through J2 circuit 5",
        "wires J1 > ? 3 x #12 thhn circuit 5",
        "run ? > J1 > ? 12/2 nm-b circuit 5",
    ],
)
def test_only_cables_that_end_there_move(line):
    text = JUNCTION.replace("run J1 > ? 12/2 nm-b circuit 5\n", f"{line}\n", 1) + "box J2\n"
    moved = [move for move in offered(text) if move.action.endswith("circuit 5")]
    assert moved == [] or "through" in line  # a cable that passes elsewhere still ends here


def test_a_divided_box_a_conduit_body_and_a_box_nobody_knows_get_none():
    divided = JUNCTION.replace("outside", "outside\n  barrier metal\n  space a 1/2\n  space b 1/2").replace(
        "run J1", "run J1/a"
    )
    assert offered(divided) == []
    assert offered(JUNCTION.replace("square 4 x 1-1/2", "conduit body t 1 marked 9 in3")) == []
    assert offered(JUNCTION.replace("  square 4 x 1-1/2\n", "")) == []


def test_the_new_box_fits_the_wall_and_the_way_of_mounting():
    deep = box_entry("square 4 x 2-1/8", 3, uses='"junction"', mounting='"old-work"')
    shallow = box_entry("square 4 x 1-1/4", 3, uses='"junction"', mounting='"old-work"')
    parts = stock(deep, shallow, ROUND, CONNECTOR)
    text = JUNCTION.replace("outside", "outside\n  mounted old-work cavity 1-1/2 in")
    (move,) = offered(text, parts)
    assert move.kinds[0].name == "square 4 x 1-1/4"
    new = changed(job_of(text), move.change).boxes[1]
    assert new.items == (Base("standard", "square", "4 x 1-1/4"), Clamps("none"), Mounting("old-work"))
    assert [move.kinds[0].name for move in offered(JUNCTION, parts)] == ["octagon 4 x 1-1/2"]


def test_without_connectors_for_its_cables_it_is_not_offered():
    assert offered(JUNCTION, stock(ROUND)) == []


@pytest.mark.parametrize(
    ("mounted", "disturbance", "minutes"),
    [
        ("new-work finished", "plaster", 120),
        ("new-work existing", "cover off", 40),
        ("surface finished", "cover off", 40),
    ],
)
def test_it_disturbs_what_stands_around_the_first_box(mounted, disturbance, minutes):
    text = JUNCTION.replace("outside", f"outside\n  mounted {mounted}")
    found = only(of(text, PARTS))
    assert work(found) == (disturbance, minutes)


def test_armored_cable_goes_to_no_nonmetallic_box_beside_it():
    plastic = box_entry("marked 40 in3 plastic", 1, uses='"junction"', clamps="tabs", name="plastic")
    steel = box_entry("square 4 x 2-1/8", 1, uses='"junction"', clamps="inside", name="steel")
    beside = [move.action for move in offered(JUNCTION, stock(plastic, steel, CABLES))]
    assert len(beside) == 2
    armored = JUNCTION.replace("nm-b", "mc")
    (only_steel,) = [move.action for move in offered(armored, stock(plastic, steel, CABLES))]
    assert "steel" in only_steel


def test_a_nail_on_box_does_not_go_beside_a_cast_one():
    nail_on = box_entry("marked 40 in3 plastic", 1, uses='"junction"', clamps="tabs", mounting='"new-work"')
    assert offered(JUNCTION, stock(nail_on, CABLES))
    cast = JUNCTION.replace("square 4 x 1-1/2", "fd multiple cover")
    assert offered(cast, stock(nail_on, CABLES)) == []
