"""Connectors outside in place of clamps inside: only where there is a knockout, and one for every cable that comes
in.
"""

from decimal import Decimal

import pytest

from ampleroom.remedy.moves.connectors import connectors_outside
from tests.remedy.helpers import (
    CONNECTOR,
    MoveCase,
    assert_holds,
    bought,
    figures,
    job_of,
    of,
    only,
    placed,
    stock,
    work,
)

ARMORED = '\n[[connector]]\nname = "armored connector"\nfor = ["mc", "ac"]\nlargest = "10"\nprice = 2\n'


def sheet(base="square 4 x 1-1/2", clamps="clamps inside", *more):
    """4 cables: 8 x 2.25 for wires and 2.25 for grounds make 20.25 of 21; the clamps' 2.25 is 1.50 too much."""
    return "\n  ".join(["box J1", base, clamps, *more]) + "\nrun J1 > ? 4 x 12/2 nm-b\n"


def offered(text, parts):
    return list(connectors_outside(placed(text, parts)))


CASES = [
    MoveCase(
        connectors_outside,
        sheet(),
        stock(CONNECTOR),
        "4",
        20,
        "0.75",
        "8 x 2.25 and 2.25 for grounds are 20.25 of 21; 4 connectors at 1, 4 x 5 minutes",
    )
]


def test_connectors_outside_free_the_room_of_the_clamps():
    """4 connectors at 1 and 4 times 5 minutes at a dollar: 24."""
    found = only(of(sheet(), stock(CONNECTOR)))
    assert figures(found) == (4, 20, Decimal("0.75"))
    assert found.disturbance.word == "nothing"
    assert found.notes == ("there is a free knockout for each cable",)
    assert_holds(job_of(sheet()), found)


def test_a_cable_that_passes_takes_two_connectors():
    """Three that end and one that passes unbroken: 3 + 2."""
    text = (
        sheet().replace("> ? 4 x", "> ? 3 x")
        + "box J2\n  marked 40 in3\n  clamps tabs\nrun J2 > ? 12/2 nm-b through J1\n"
    )
    (move,) = offered(text, stock(CONNECTOR))
    assert (sum(buy.quantity for buy in move.buys), move.minutes) == (5, 25)


def test_a_cable_that_ends_and_goes_on_takes_two_connectors():
    text = "box J1\n  square 4 x 1-1/2\n  clamps inside\nbox A\nbox B\nrun A > J1 > B 12/2 nm-b\n"
    (move,) = offered(text, stock(CONNECTOR))
    assert sum(buy.quantity for buy in move.buys) == 2


def test_each_cable_gets_a_connector_that_takes_it():
    text = sheet() + "run J1 > ? 12/2 mc\n"
    assert offered(text, stock(CONNECTOR)) == []
    (move,) = offered(text, stock(CONNECTOR, ARMORED))
    assert bought(move) == [("clamp connector", 4), ("armored connector", 1)]
    assert offered(sheet() + "run J1 > ? 8/3 nm-b\n", stock(CONNECTOR)) == []


def test_a_cable_of_unknown_size_gets_one_for_the_thickest_it_may_be():
    large = CONNECTOR.replace("clamp", "large").replace('"10"', '"2"').replace("price = 1", "price = 3")
    text = "box J1\n  square 4 x 1-1/2\n  clamps inside\nrun J1 > ? ?/2 nm-b\n"
    assert offered(text, stock(CONNECTOR)) == []
    (move,) = offered(text, stock(CONNECTOR, large))
    assert [buy.item for buy in move.buys] == ["large connector"]


@pytest.mark.parametrize(
    "base", ["marked 20 in3 plastic 1-gang", "marked 20 in3", "square 4 x 1-1/2 plastic", "unmarked"]
)
def test_a_nonmetallic_box_and_one_of_unknown_material_have_no_knockouts(base):
    assert offered(sheet(base, "clamps tabs"), stock(CONNECTOR)) == []


@pytest.mark.parametrize(
    ("clamps", "may"), [("inside", 1), ("tabs", 1), ("push-in", 1), ("?", 1), ("outside", 0), ("none", 0)]
)
def test_what_takes_no_room_is_not_replaced(clamps, may):
    assert len(offered(sheet(clamps=f"clamps {clamps}"), stock(CONNECTOR))) == may


def test_clamps_nobody_saw_are_taken_to_be_inside_and_the_remedy_says_so():
    for clamps in ("", "clamps ?"):
        found = only(of(sheet(clamps=clamps), stock(CONNECTOR)))
        assert found.action == "use outside connectors, whatever clamps are in it now"
        assert_holds(job_of(sheet(clamps=clamps)), found)


def test_in_a_divided_box_it_is_not_told_which_cable_is_clamped_where():
    text = sheet("square 4 x 1-1/2", "barrier metal", "space a 1/2", "space b 1/2", "clamps inside")
    assert offered(text.replace("J1 >", "J1/a >"), stock(CONNECTOR)) == []


def test_a_box_no_cable_comes_into_needs_no_connectors():
    text = "box J1\n  square 4 x 1-1/2\n  clamps inside\nwires J1 > ? 12 x #12 thhn\n"
    assert offered(text, stock(CONNECTOR)) == []


def test_in_a_finished_wall_it_takes_longer_and_means_plaster():
    found = only(of(sheet("square 4 x 1-1/2", "clamps inside", "mounted new-work finished"), stock(CONNECTOR)))
    assert work(found) == ("plaster", 100)


def test_clamps_of_a_kind_are_exchanged_for_one_box_of_it_alone():
    text = "kind usual\n  square 4 x 1-1/2\n  clamps inside\nbox J1 usual\nbox J2 usual\nrun J1 > ? 4 x 12/2 nm-b\n"
    found = only(of(text, stock(CONNECTOR)))
    assert_holds(job_of(text), found)
