"""Another box in the same place: what may go there, what it takes, and the lines it changes."""

from decimal import Decimal

import pytest

from ampleroom.job.edit import changed, edited
from ampleroom.job.model import Base, Clamps, Rated
from ampleroom.remedy.moves.another_box import another_box, choose_box, fits_place
from tests.remedy.helpers import (
    CONNECTOR,
    MoveCase,
    assert_holds,
    bought,
    box_entry,
    every,
    figures,
    job_of,
    nothing,
    of,
    only,
    part_entry,
    placed,
    stock,
    work,
)

SMALL = "marked 18 in3 plastic 1-gang 2-3/4 in deep"
LARGE = "marked 22.5 in3 plastic 1-gang 3-1/2 in deep"


def device_box(*more, base=SMALL):
    """Three cables 12/2, their grounds and a receptacle: 6 x 2.25 + 2.25 + 2 x 2.25 = 20.25."""
    lines = ["box S1", base, "clamps none", "receptacle #12", *more]
    return "\n  ".join(lines) + "\nrun S1 > ? 3 x 12/2 nm-b\n"


def reasons(text, *entries):
    """Why each box of a stock may not go where the first box is; None where it may."""
    here = placed(text, stock(*entries))
    return [fits_place(stocked, here) for stocked in here.stock.boxes]


def offered(text, *entries):
    return [move.kinds[0].name for move in another_box(placed(text, stock(*entries)))]


CASES = [
    MoveCase(
        *(another_box, device_box(), stock(box_entry(LARGE, "1.35")), "1.35", 20, "2.25"),
        "6 x 2.25, 2.25 for grounds and 4.50 for the receptacle are 20.25 of 22.5",
    ),
    MoveCase(
        *(
            choose_box,
            device_box(base="").replace("box S1", "box S1 ?"),
            stock(box_entry(LARGE, "1.35")),
            "1.35",
            10,
            "2.25",
        ),
        "the same 20.25 of 22.5; a box that is not there yet takes 10 minutes",
    ),
]


# ---- what may go there ---------------------------------------------------------------------------------------------


def test_a_larger_box_puts_it_right():
    """20.25 in a box of 18. One of 22.5 at 1.35 and 20 minutes leaves 2.25."""
    found = only(of(device_box(), stock(box_entry(LARGE, 1.35))))
    assert figures(found) == (Decimal("1.35"), 20, Decimal("2.25"))
    assert found.disturbance.word == "nothing"
    assert "the wall is open" in found.notes[0]
    assert_holds(job_of(device_box()), found)


def test_a_metal_box_in_place_of_a_plastic_one_is_said_to_need_its_ground():
    metal, plastic = box_entry("device 3 x 2 x 3-1/2", 2, clamps="inside"), box_entry(LARGE, 1)
    said = "the new metal box is bonded to the equipment grounds"
    moves = list(another_box(placed(device_box(), stock(metal, plastic))))
    assert [said in move.notes for move in moves] == [True, False]


def test_the_gang_count_is_kept():
    assert reasons(device_box(), box_entry("marked 40 in3 2-gang", 1), box_entry("marked 40 in3", 2)) == [
        "not a 1-gang box",
        "not a 1-gang box",
    ]


@pytest.mark.parametrize("shape", ["fs", "fd"])
def test_a_cast_box_is_exchanged_for_one_of_as_many_gangs(shape):
    """13.5 x 1 by the table for an FS box; two #12 cables, their grounds and a receptacle need 9 + 2.25 + 4.5."""
    text = "box S1\n  fs single cover\n  clamps outside\n  receptacle #12\nrun S1 > ? 2 x 12/2 nm-b\n"
    fitting = box_entry(f"{shape} single cover", 9, name="one")
    double = box_entry(f"{shape} single cover 2 ganged", 9, name="two")
    assert reasons(text, fitting, double) == [None, "not a 1-gang box"]


def test_a_box_is_kept_to_what_it_is_made_for():
    ceiling = "box L1\n  octagon 4 x 1-1/2\n  clamps outside\nrun L1 > ? 2 x 12/2 nm-b\n"
    junction = ceiling.replace("octagon", "square")
    entry = [box_entry("marked 40 in3", 1, uses=f'"{use}"', name=use) for use in ("device", "junction", "ceiling")]
    assert offered(ceiling, *entry) == ["ceiling"]
    assert offered(junction, *entry) == ["junction"]
    hung = "box L1\n  marked 20 in3\n  carries luminaire 9 lb\nrun L1 > ? 12/2 nm-b\n"
    assert offered(hung, *entry) == ["ceiling"]
    assert offered(device_box(), box_entry(LARGE, 1, uses='"junction"')) == []


@pytest.mark.parametrize("way", ["new-work", "old-work", "surface", "masonry"])
def test_the_mounting_is_kept(way):
    entry = [box_entry(LARGE, 1, mounting=f'"{m}"', name=m) for m in ("new-work", "old-work", "surface", "masonry")]
    assert offered(device_box(f"mounted {way}"), *entry) == [way]
    assert offered(device_box(), *entry) == ["new-work", "surface", "masonry"]


OLD = {"mounting": '"old-work"'}


def test_an_old_work_box_is_limited_by_the_wall():
    deep, shallow = box_entry(LARGE, 1, **OLD), box_entry("marked 21 in3 plastic 1-gang 3 in deep", 1, **OLD)
    assert reasons(device_box("mounted old-work cavity 3 in finished"), deep, shallow) == [
        "deeper than the wall",
        None,
    ]
    assert reasons(device_box("mounted old-work cavity 3-1/2 in finished"), deep, shallow) == [None, None]


def test_a_box_of_unknown_depth_is_said_to_be_taken_as_no_deeper_than_the_wall():
    text = device_box("mounted old-work cavity 3 in hole 2 x 3 in finished")
    found = only(of(text, stock(box_entry("marked 30 in3 plastic 1-gang", 1, more='hole = "2 x 3"', **OLD))))
    assert found.notes == ("the new box is no deeper than the wall, 3 in.: the stock file gives no depth",)


def test_an_old_work_box_is_limited_by_the_hole():
    """The flange of a box made for a smaller hole does not cover this one; for a larger one, plaster is cut."""
    text = device_box("mounted old-work hole 2-1/4 x 3-3/4 in finished")
    small, same, large = [
        box_entry(LARGE, 1, name=h, more=f'hole = "{h}"', **OLD) for h in ("2 x 3", "2-1/4 x 3-3/4", "4 x 4")
    ]
    assert reasons(text, small, same, large) == ["too small for the hole in the wall", None, None]
    by_name = {move.kinds[0].name: move for move in another_box(placed(text, stock(small, same, large)))}
    assert work(by_name["2-1/4 x 3-3/4"]) == ("cover off", 20)
    assert work(by_name["4 x 4"]) == ("plaster", 90)


@pytest.mark.parametrize(("hole", "needs"), [("", 'hole = "2 x 3"'), ("hole 2 x 3 in", ""), ("", "")])
def test_a_hole_nobody_measured_is_said_to_be_taken_as_the_one_it_needs(hole, needs):
    text = device_box(f"mounted old-work {hole} finished")
    assert only(of(text, stock(box_entry(LARGE, 1, more=needs, **OLD)))).notes == (
        "the new box fits the hole in the wall",
    )


def test_a_new_work_box_in_a_finished_wall_means_plaster():
    found = only(of(device_box("mounted new-work finished"), stock(box_entry(LARGE, 1))))
    assert work(found) == ("plaster", 90)
    existing = only(of(device_box("mounted new-work existing"), stock(box_entry(LARGE, 1))))
    assert work(existing) == ("cover off", 20)


def test_a_ring_that_stays_has_to_fit_the_new_face():
    text = "box J1\n  square 4 x 1-1/2\n  plaster ring 1 in3\n  clamps outside\nrun J1 > ? 5 x 12/2 nm-b\n"
    entries = (box_entry("square 4 x 2-1/8", 3), box_entry("square 4-11/16 x 2-1/8", 5), box_entry("marked 42 in3", 6))
    assert reasons(text, *entries) == [None, *["the plaster ring there does not fit it"] * 2]


FAN = "box F1\n  octagon 4 x 1-1/2\n  clamps outside\n  {}\nrun F1 > ? 3 x 14/3 nm-b\n"
CEILING = {"uses": '"ceiling"'}


@pytest.mark.parametrize("says", ["carries fan 50 lb", "rated fan 50 lb"])
def test_a_box_that_carries_a_fan_keeps_its_rating(says):
    """Over 35 lb the weight must be marked: a listing that says no weight is not enough for 50."""
    entries = [
        box_entry("octagon 4 x 2-1/8", 3, name="plain", **CEILING),
        box_entry("octagon 4 x 2-1/8", 9, name="light", more='rated = "fan 35 lb"', **CEILING),
        box_entry("octagon 4 x 2-1/8", 9, name="unsaid", more='rated = "fan"', **CEILING),
        box_entry("octagon 4 x 2-1/8", 9, name="lamp", more='rated = "luminaire 90 lb"', **CEILING),
        box_entry("octagon 4 x 2-1/8", 9, name="enough", more='rated = "fan 50 lb"', **CEILING),
    ]
    assert reasons(FAN.format(says), *entries) == [*["not rated for the fan"] * 4, None]


def test_a_fan_of_up_to_thirty_five_pounds_needs_no_weight_in_the_listing():
    entry = box_entry("octagon 4 x 2-1/8", 9, more='rated = "fan"', **CEILING)
    assert reasons(FAN.format("carries fan 35 lb"), entry) == [None]
    assert reasons(FAN.format("carries fan"), entry) == [None]


def test_a_box_listed_for_a_heavy_luminaire_is_exchanged_for_one_that_is():
    plain, listed = box_entry("octagon 4 x 2-1/8", 3, name="a", **CEILING), box_entry(
        "octagon 4 x 2-1/8", 9, name="b", more='rated = "luminaire 80 lb"', **CEILING
    )  # fmt: skip
    assert reasons(FAN.format("rated luminaire 75 lb"), plain, listed) == ["not rated for the luminaire", None]
    assert reasons(FAN.format("carries luminaire 75 lb"), plain, listed) == [None, None]


def test_the_sheet_says_the_rating_of_the_new_box():
    text = FAN.format("rated fan 35 lb")
    found = only(of(text, stock(box_entry("octagon 4 x 2-1/8", 9, more='rated = "fan 70 lb"', **CEILING))))
    job = job_of(text)
    assert [item for item in changed(job, found.change).boxes[0].items if isinstance(item, Rated)] == [
        Rated("fan", Decimal(70))
    ]
    assert_holds(job, found)


DIVIDED = """box D1
  marked 30 in3 plastic 3-gang
  barrier plastic
  space power 2-gang
  clamps tabs
  space signal 1-gang
run D1/power > ? 5 x 12/2 nm-b
"""


def test_a_barrier_stays():
    """A box of as many gangs takes it; it and the spaces are there afterwards."""
    entries = (box_entry("marked 90 in3 plastic 3-gang", 1), box_entry("marked 90 in3 plastic 4-gang", 1))
    assert reasons(DIVIDED, *entries) == [None, "not a 3-gang box"]
    found = only(of(DIVIDED, stock(entries[0])))
    after = changed(job_of(DIVIDED), found.change).boxes[0].items
    assert [type(item).__name__ for item in after] == ["Base", "Barrier", "SpaceShare", "Clamps", "SpaceShare"]
    assert_holds(job_of(DIVIDED), found)
    square = "box D1\n  square 4 x 1-1/2\n  barrier metal\n  space a 1/2\n  space b 1/2\nrun D1/a > ? 2 x 12/2 nm-b\n"
    others = (box_entry("square 4 x 2-1/8", 1), box_entry("square 4-11/16 x 2-1/8", 1), box_entry("marked 90 in3", 1))
    assert reasons(square, *others) == [None, *["the barrier there does not fit it"] * 2]


def test_a_box_shared_out_by_volume_is_not_exchanged():
    """The volumes written are those of the box that is there."""
    text = DIVIDED.replace("2-gang", "20 in3").replace("1-gang", "10 in3")
    assert offered(text, box_entry("marked 90 in3 plastic 3-gang", 1)) == []


def test_a_conduit_body_and_a_box_nobody_knows_are_not_exchanged():
    body = "box C1\n  conduit body c 1/2 marked 4 in3\nwires C1 > ? 4 x #12 thhn\n"
    assert offered(body, box_entry("marked 90 in3", 1)) == []
    assert "a conduit body takes no ring" in nothing(body, stock(box_entry("marked 90 in3", 1))).reasons[0]
    assert offered("box C1\nrun C1 > ? 12/2 nm-b\n", box_entry("marked 90 in3", 1)) == []


def test_the_box_that_is_there_is_not_offered_again():
    assert offered(device_box(), box_entry(SMALL, 1), box_entry(LARGE, 1)) == [LARGE]


# ---- what it takes -------------------------------------------------------------------------------------------------

SQUARE = "box J1\n  square 4 x 1-1/2\n  clamps inside\nrun J1 > ? 5 x 12/2 nm-b\n"
DEEP = box_entry("square 4 x 2-1/8", "3.10", clamps="outside", more="cover_price = 0.85")


def test_a_junction_box_gets_a_cover_and_connectors_for_its_cables():
    """3.10 and 0.85 and 5 connectors at 1; 20 minutes and 5 times 5; 10 wires and a ground take 24.75 of 30.3."""
    found = only(of(SQUARE, stock(DEEP, CONNECTOR)))
    assert figures(found) == (Decimal("8.95"), 45, Decimal("5.55"))
    assert bought(found) == [
        ("square 4 x 2-1/8", 1), ("blank cover for square 4 x 2-1/8", 1), ("clamp connector", 5),
    ]  # fmt: skip
    assert_holds(job_of(SQUARE), found)


def test_a_box_with_a_device_or_a_ring_gets_no_blank_cover():
    for more in ("receptacle #12", "raised cover 1 in3"):
        (move,) = another_box(
            placed(SQUARE.replace("clamps inside", f"clamps inside\n  {more}"), stock(DEEP, CONNECTOR))
        )
        assert [buy.item for buy in move.buys] == ["square 4 x 2-1/8", "clamp connector"]


def test_a_box_whose_cables_no_connector_takes_is_not_offered_for_nothing():
    assert offered(SQUARE, DEEP) == []
    assert reasons(SQUARE, DEEP) == ["no connector in the stock file fits its cables"]


# ---- the lines it changes ------------------------------------------------------------------------------------------


def test_the_lines_of_the_box_and_no_others_change():
    text = "box S1   # at the door\n    marked 18 in3 plastic 1-gang  # read\n  clamps none\n  receptacle #12\n"
    text += "run S1 > ? 3 x 12/2 nm-b\nedition 2017\n"
    job = job_of(text)
    found = only(of(text, stock(box_entry(LARGE, 1, clamps="tabs"))))
    assert edited(job, found.change) == text.replace(
        "marked 18 in3 plastic 1-gang", LARGE.replace("3-1/2", "3.5")
    ).replace("plastic 1-gang 3.5 in deep  # read", "plastic 1-gang 3.5 in deep  # read").replace(
        "clamps none", "clamps tabs"
    )


def test_a_box_without_a_line_on_clamps_gets_one():
    text = device_box().replace("  clamps none\n", "")
    found = only(of(text, stock(box_entry(LARGE, 1))))
    assert Clamps("none") in changed(job_of(text), found.change).boxes[0].items


KIND = f"kind usual\n  {SMALL}\n  clamps none\n  mounted new-work\nbox S1 usual\n  receptacle #12\nbox S2 usual\n"
RUN = "run S1 > ? 3 x 12/2 nm-b\n"


def test_a_box_of_a_kind_gets_another_kind_and_keeps_what_else_its_kind_said():
    found = only(of(KIND + RUN, stock(box_entry(LARGE, 1, name="Deep One"))))
    after = changed(job_of(KIND + RUN), found.change)
    assert [kind.name for kind in after.kinds] == ["usual", "deep-one"]
    assert [box.kind for box in after.boxes] == ["deep-one", "usual"]
    assert [type(item).__name__ for item in after.boxes[0].items] == ["Mounting", "Device"]
    assert_holds(job_of(KIND + RUN), found)


@pytest.mark.parametrize("own", ["clamps tabs", "marked 18 in3 plastic 1-gang"])
def test_a_box_that_says_part_of_it_itself_gets_all_lines_of_its_kind(own):
    """The kind says the rest: its lines come under the box, with those of the new box."""
    text = KIND.replace("box S1 usual\n", f"box S1 usual\n  {own}\n")
    text = text.replace("  clamps none\n" if own.startswith("clamps") else f"  {SMALL}\n", "")
    text = text.replace("box S2 usual\n", "") + RUN
    found = only(of(text, stock(box_entry(LARGE, 1, clamps="push-in"))))
    box = changed(job_of(text), found.change).boxes[0]
    assert box.kind == ""
    assert Base("marked", volume=Decimal("22.5"), gangs=1, depth=Decimal("3.5"), material="plastic") in box.items
    assert Clamps("push-in") in box.items
    assert_holds(job_of(text), found)


def test_a_divided_box_of_a_kind_keeps_its_devices_on_their_side():
    text = DIVIDED.replace("box D1", "kind split").replace("run", "box D1 split\n  switch #14\nrun")
    found = only(of(text, stock(box_entry("marked 90 in3 plastic 3-gang", 1))))
    job = job_of(text)
    assert_holds(job, found)
    items = changed(job, found.change).boxes[0].items
    assert [type(item).__name__ for item in items] == ["Barrier", "SpaceShare", "SpaceShare", "Device"]


def test_a_kind_of_the_sheet_by_the_same_name_is_left_alone():
    text = KIND.replace("usual", "deep-one") + RUN
    found = only(of(text, stock(box_entry(LARGE, 1, name="Deep One"))))
    assert changed(job_of(text), found.change).boxes[0].kind == "deep-one-2"
    assert_holds(job_of(text), found)


def test_a_kind_that_an_earlier_remedy_wrote_is_used_again():
    parts = stock(box_entry(LARGE, 1, name="Deep One"))
    text = "edition 2017\n" + KIND + "  receptacle #12\n" + RUN + "run S2 > ? 3 x 12/2 nm-b\n"
    once = edited(job_of(text), only(of(text, parts, "S1")).change)
    twice = changed(job_of(once), only(of(once, parts, "S2")).change)
    assert [kind.name for kind in twice.kinds] == ["usual", "deep-one"]
    assert [box.kind for box in twice.boxes] == ["deep-one", "deep-one"]


@pytest.mark.parametrize("name", ["???", "x", "for", "a, b > c", "deep  # one", "großer Kasten", "\\t tab"])
def test_any_name_of_a_box_makes_a_kind_the_sheet_can_be_read_with(name):
    found = only(of(KIND + RUN, stock(box_entry(LARGE, 1, name=name))))
    assert_holds(job_of(KIND + RUN), found)


# ---- rough-in ------------------------------------------------------------------------------------------------------

ROUGH = "box S1 ?  at the door\n  receptacle #12\nrun S1 > ? 3 x 12/2 nm-b\n"


def test_a_place_without_a_box_gets_one():
    """20.25 needed; 1.35 and the 10 minutes of a new box."""
    found = only(of(ROUGH, stock(box_entry(SMALL, 0.95), box_entry(LARGE, 1.35))))
    assert figures(found) == (Decimal("1.35"), 10, Decimal("2.25"))
    assert found.notes == ()
    assert_holds(job_of(ROUGH), found)


def test_a_place_is_given_only_a_box_clamped_as_the_sheet_says():
    entries = [box_entry(LARGE, 1, name=way, clamps=way) for way in ("none", "tabs", "inside")]
    said = ROUGH.replace("  receptacle", "  clamps tabs\n  receptacle")
    assert [move.kinds[0].name for move in choose_box(placed(said, stock(*entries)))] == ["tabs"]
    assert reasons(said, *entries)[0] == "clamps none, and the sheet says tabs"
    assert len(list(choose_box(placed(said.replace("tabs", "?"), stock(*entries))))) == 3


def test_a_place_with_a_line_on_clamps_and_one_without_get_the_same_kind():
    """The kind is the box one buys, whole; the line of the place that says the same goes."""
    text = "edition 2017\n" + ROUGH.replace("  receptacle", "  clamps tabs\n  receptacle") + ROUGH.replace("S1", "S2")
    parts = stock(box_entry(LARGE, 1, name="deep", clamps="tabs"))
    for box in ("S1", "S2"):
        found = every(text, parts, box)[0]
        assert_holds(job_of(text), found)
        text = edited(job_of(text), found.change)
    assert [kind.items for kind in job_of(text).kinds] == [(parts.boxes[0].base, Clamps("tabs"))]


def test_a_place_under_a_ceiling_fan_gets_a_box_rated_for_it():
    text = "box F1 ?\n  carries fan 40 lb\nrun F1 > ? 14/3 nm-b\n"
    entries = (
        box_entry("octagon 4 x 2-1/8", 3, name="plain"),
        box_entry("octagon 4 x 2-1/8", 9, name="fan", more='rated = "fan 70 lb"'),
    )
    assert [move.kinds[0].name for move in choose_box(placed(text, stock(*entries)))] == ["fan"]


def test_nothing_is_chosen_for_a_box_that_is_there():
    assert list(choose_box(placed(device_box(), stock(box_entry(LARGE, 1))))) == []


def test_why_nothing_helps_names_the_wall():
    text = device_box("mounted old-work cavity 2-1/2 in finished")
    said = nothing(
        text, stock(box_entry(LARGE, 1, **OLD), box_entry("marked 25 in3 plastic 1-gang 3 in deep", 1, **OLD))
    )
    assert said.reasons == (
        "no box in the stock file may go here",
        "2 of 2 boxes in the stock file: deeper than the wall (the wall is 2.5 in. deep, they are 3 in. or more)",
        "a nonmetallic box takes no metal ring, and no connectors instead of its tabs",
    )


def test_why_nothing_helps_names_what_is_needed_and_the_largest_there_is():
    said = nothing(device_box(), stock(box_entry("marked 19 in3 1-gang", 1), box_entry("marked 20 in3 2-gang", 1)))
    assert said.reasons[:2] == (
        "it needs up to 20.25 in3; the largest box in the stock file that may go here holds 19.00 in3",
        "1 of 2 boxes in the stock file: not a 1-gang box",
    )
    assert nothing(device_box(), stock()).reasons[0] == "the stock file has no boxes"


def test_the_largest_box_counts_every_gang():
    """A masonry box 3-3/4 x 2 x 2-1/2 holds 14 a gang by the table: 28 for two."""
    text = device_box("receptacle #12", "receptacle #12", base="marked 18 in3 2-gang")
    said = nothing(
        text, stock(box_entry("masonry 3-3/4 x 2 x 2-1/2 2-gang", 1), part_entry("raised cover 1 in3", "square 4", 1))
    )
    assert "holds 28.00 in3" in said.reasons[0]


# ---- metal that enters, and boxes that sit on the surface ------------------------------------------------------------


METAL_ENTERS = {
    "armored cable": "run S1 > ? 2 x 12/2 mc",
    "armor as the ground": "run S1 > ? 2 x 12/2 ac",
    "a metal raceway": "panel P\nraceway R1 P > S1 emt 1/2\nrun S1 > ? 2 x 12/2 nm-b",
    "wires in one": "panel P\nraceway R1 P > P fmc 1/2\nwires P > S1 4 x #12 thhn in R1",
}


@pytest.mark.parametrize("metal", METAL_ENTERS)
@pytest.mark.parametrize("place", ["box S1\n  marked 12 in3 1-gang\n", "box S1 ?\n"])
def test_no_nonmetallic_box_goes_where_metal_raceway_or_armor_enters(metal, place):
    entries = [
        box_entry("marked 40 in3 plastic 1-gang", 1, clamps="tabs", name="plastic"),
        box_entry("marked 40 in3 1-gang", 1, clamps="tabs", name="not said"),
        box_entry("marked 40 in3 metal 1-gang", 2, clamps="inside", name="metal"),
        box_entry("device 3 x 2 x 3-1/2", 2, clamps="inside", name="steel"),
    ]
    no = "may be nonmetallic, and metal raceway or armored cable comes in here"
    text = f"{place}  receptacle #12\n{METAL_ENTERS[metal]}\n"
    assert reasons(text, *entries) == [no, no, None, None]
    nonmetallic = (
        text.replace("mc", "nm-b").replace("12/2 ac", "12/2 nm-b").replace("emt", "pvc-40").replace("fnm-b", "ent")
    )
    assert reasons(nonmetallic, *entries) == [None] * 4


@pytest.mark.parametrize("shape", ["fs", "fd"])
def test_a_nail_on_box_does_not_take_the_place_of_a_cast_one_nor_of_one_on_the_surface(shape):
    nail_on = box_entry("marked 40 in3 plastic 1-gang", 1, mounting='"new-work"', name="nail-on")
    surface = box_entry("marked 40 in3 plastic 1-gang", 1, mounting='"surface"', name="surface")
    cast = f"box S1\n  {shape} single cover\n  clamps outside\n  receptacle #12\nrun S1 > ? 3 x 12/2 nm-b\n"
    assert reasons(cast, nail_on, surface) == ["not for surface", None]
    assert reasons(device_box("mounted surface"), nail_on, surface) == ["not for surface", None]
