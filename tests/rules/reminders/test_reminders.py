"""What no count can see is said with its number: free conductor, covers, support, and depth where it is not known."""

from __future__ import annotations

import pytest

from tests.helpers import COMPARED, in_box, reminders, settings

ENDS = "wires A > ? 2 x #12"
PASSES = "wires ? > ? 2 x #12 through A"
FREE = "leave 6 in. of free conductor from the sheath or raceway, reaching 3 in. outside an opening under 8 in."
ONE_PIECE = "; of one piece, not made up by a splice"


# ---- free conductor ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", COMPARED)
def test_six_inches_are_left_free_and_of_one_piece_before_2023(year: int):
    (found,) = reminders(in_box("", ENDS), year, "free-conductor")
    assert found.text == FREE + ("" if year >= 2023 else ONE_PIECE)
    assert (found.cite.split(" (")[0], found.caution) == ("300.14", False)


@pytest.mark.parametrize(("choice", "more"), [("unspliced", ONE_PIECE), ("spliced", "")])
def test_before_2023_a_splice_may_make_it_up_only_if_it_is_read_so(choice: str, more: str):
    (found,) = reminders(settings(in_box("", ENDS), "spliced-free-length", choice), 2020, "free-conductor")
    assert found.text == FREE + more


def test_what_passes_unbroken_needs_none():
    assert reminders(in_box("", PASSES), rule="free-conductor") == []
    assert reminders(in_box("", "wires ? > ? 2 x #12 through A loop 14 in"), rule="free-conductor") == []


# ---- covers, finish, sheath ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", COMPARED)
def test_every_box_needs_a_cover_and_since_2014_screws_that_match(year: int):
    (found,) = reminders(in_box("", ENDS), year, "covers")
    screws = " with screws that match its threads" if year >= 2014 else ""
    assert found.text == f"it needs a cover, faceplate or canopy{screws}, and stays reachable"
    assert found.cite == ("314.25, 314.29(A)" if year >= 2020 else "314.25, 314.29")


@pytest.mark.parametrize(
    ("mounted", "said"), [("new-work", True), ("old-work", True), ("masonry", True), ("surface", False)]
)
def test_a_box_in_a_wall_lies_close_to_its_finish(mounted: str, said: bool):
    texts = [found.text for found in reminders(in_box(f"mounted {mounted}"), rule="covers")]
    finish = (
        "keep the front edge within 1/4 in. of a finish that does not burn, flush with one that does; gaps at "
        "most 1/8 in."
    )
    assert (finish in texts) is said


def test_a_box_of_which_nobody_says_how_it_sits_is_told_nothing_of_its_finish():
    assert len(reminders(in_box(), rule="covers")) == 1


SHEATH = "cable sheath comes at least 1/4 in. into the box and past any clamp"


@pytest.mark.parametrize("year", COMPARED)
def test_sheath_comes_into_a_metal_box_since_2017_and_into_a_plastic_one_always(year: int):
    def told(base: str) -> bool:
        sheet = in_box("clamps none", "run A > ? 12/2 nm-b", base=base)
        return SHEATH in [found.text for found in reminders(sheet, year, "covers")]

    assert told("marked 20 in3 plastic")
    assert told("marked 20 in3 metal") is (year >= 2017)


@pytest.mark.parametrize(
    ("cable", "told"), [("12/2 nm-b", True), ("12/2 uf-b", True), ("12/2 mc", False), ("12/2 ac", False)]
)
def test_only_sheathed_cable_has_a_sheath(cable: str, told: bool):
    texts = [found.text for found in reminders(in_box("clamps none", f"run A > ? {cable}"), rule="covers")]
    assert (SHEATH in texts) is told


def test_wires_have_no_sheath():
    assert SHEATH not in [found.text for found in reminders(in_box("", ENDS), rule="covers")]


# ---- support -------------------------------------------------------------------------------------------------------


def support(*inside: str) -> list[str]:
    return [found.text for found in reminders(in_box("; ".join(inside)), rule="support")]


LISTED = "it carries a fan: the box must be listed for fans, up to 70 lb, and marked with the weight above 35 lb"
LOOK = "it carries a fan and is listed for one: look for the weight in its marking"


@pytest.mark.parametrize(
    ("inside", "said"),
    [
        (["carries fan"], LISTED),
        (["carries fan 35 lb"], LISTED),
        (["carries fan 70 lb"], LISTED),
        (["carries fan 71 lb"], LISTED),
        (["carries fan 42 lb", "rated fan 70 lb"], LOOK),
        (["carries fan 42 lb", "rated fan 42 lb"], LOOK),
        (["carries fan 42 lb", "rated fan 41 lb"], LISTED),
        (["carries fan", "rated fan 41 lb"], LOOK),
        (["carries fan 42 lb", "rated fan"], LOOK),
        (["carries fan 42 lb", "rated luminaire 50 lb"], LISTED),
    ],
)
def test_a_fan_hangs_only_from_a_box_listed_for_it_up_to_70_pounds(inside: list[str], said: str):
    assert support(*inside) == [said]


def test_a_luminaire_and_small_equipment_have_their_own_limits():
    assert support("carries luminaire 12 lb") == [
        (
            "it carries a luminaire: the box must be made for it; over 50 lb hangs from the building or from a "
            "box listed for the weight"
        )
    ]
    assert support("carries equipment 2 lb") == [
        "equipment up to 6 lb may hang on a device box by two No. 6 screws or larger; heavier as a luminaire"
    ]


def test_each_thing_it_carries_is_told_with_its_section():
    found = reminders(in_box("carries fan; carries luminaire; carries equipment"), rule="support")
    assert [one.cite for one in found] == ["314.27(C)", "314.27(A)", "314.27(D)"]


def test_a_box_that_carries_nothing_is_told_nothing():
    assert support("rated fan 70 lb") == []


# ---- depth that is not in the sheet --------------------------------------------------------------------------------


def test_the_least_depth_is_said_where_the_box_has_none():
    (found,) = reminders(
        in_box("receptacle #12 projects 1-1/2 in; switch #14", base="marked 18 in3"), rule="depth-unknown"
    )
    assert found.text == (
        "its depth is not in the sheet: it needs 1-3/4 in. behind a receptacle with #12 on it that reaches "
        "1-1/2 in. back"
    )
    assert found.cite == "314.24(B)(4)"


@pytest.mark.parametrize(
    ("inside", "base"),
    [
        ("switch #12", "square 4 x 1-1/2"),
        ("stud", "marked 18 in3"),
        ("stud", "switch #12"),  # a box nobody described
        ("switch #12", "conduit body lb 1/2 marked 9 in3"),
        ("switch #2", "marked 18 in3"),
    ],
)
def test_nothing_is_said_of_depth_where_it_is_known_or_no_depth_is_stated(inside: str, base: str):
    assert reminders(in_box(inside, base=base), rule="depth-unknown") == []


def test_reminders_of_a_divided_box_are_said_once():
    sheet = in_box(
        "barrier metal; space left 1/2; space right 1/2", "wires A/left > ? 1 x #12", "wires A/right > ? 1 x #12"
    )
    assert len(reminders(sheet, rule="free-conductor")) == 1
    assert len(reminders(sheet, rule="covers")) == 1
