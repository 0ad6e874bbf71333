"""A box must be deep enough behind what it holds: by the wires on a device, and by how far its body reaches back."""

from __future__ import annotations

import pytest

from tests.helpers import COMPARED, finding, findings, in_box, report, settings, verdict

RULE = "box-depth"


def deep(depth: str, device: str, *runs: str, inside: str = "") -> str:
    """A marked box of a depth, with one device."""
    return in_box(f"{device}; {inside}", *runs, base=f"marked 100 in3 {depth} in deep")


# ---- by the wires on the device ------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", COMPARED)
@pytest.mark.parametrize(
    ("size", "enough", "short", "cite"),
    [
        ("14", "15/16", "0.93", "314.24(B)(5)"),
        ("12", "1-3/16", "1.18", "314.24(B)(4)"),
        ("10", "1-3/16", "1.18", "314.24(B)(4)"),
        ("8", "2-1/16", "2.06", "314.24(B)(3)"),
        ("6", "2-1/16", "2.06", "314.24(B)(3)"),
        ("4", "2-1/16", "2.06", "314.24(B)(3)"),
    ],
)
def test_the_least_depth_goes_by_the_size_on_the_device(year: int, size: str, enough: str, short: str, cite: str):
    found = finding(deep(enough, f"switch #{size}"), year, RULE)
    assert (found.verdict.word, found.cite) == ("passes", cite)
    assert finding(deep(short, f"switch #{size}"), year, RULE).verdict.word == "fails"


@pytest.mark.parametrize("size", ["18", "16"])
def test_thinner_wires_need_what_14_awg_needs(size: str):
    assert finding(deep("15/16", f"switch #{size}"), rule=RULE).verdict.word == "passes"
    assert finding(deep("7/8", f"switch #{size}"), rule=RULE).verdict.word == "fails"


@pytest.mark.parametrize(("depth", "word"), [("1/2", "passes"), ("0.49", "fails")])
def test_a_box_with_no_device_needs_half_an_inch(depth: str, word: str):
    found = finding(deep(depth, "stud"), rule=RULE)
    assert (found.verdict.word, found.cite) == (word, "314.24(A)")
    assert " needs 1/2 in. with no device in it" in found.message


def test_the_deepest_need_of_all_devices_decides():
    found = finding(in_box("switch #14; receptacle #10", base="marked 100 in3 1 in deep"), rule=RULE)
    assert (
        found.message == "A is 1 in. deep and needs 1-3/16 in. behind a receptacle with #10 on it: 3/16 in. too shallow"
    )


def test_a_box_that_is_deep_enough_says_what_it_needs():
    found = finding(in_box("switch #14", base="square 4 x 1-1/2"), rule=RULE)
    assert found.message == "A is 1-1/2 in. deep and needs 15/16 in. behind a switch with #14 on it"


# ---- by how far it reaches back ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("device", "needs", "cite"),
    [
        ("switch #14 projects 1-7/8 in", "15/16 in.", "314.24(B)(5)"),  # not more than 1-7/8: by its wires alone
        ("switch #14 projects 1.876 in", "2.126 in.", "314.24(B)(1)"),
        ("receptacle #12 projects 1 in", "1-3/16 in.", "314.24(B)(4)"),  # not more than 1 in.
        ("receptacle #12 projects 1-1/8 in", "1-3/8 in.", "314.24(B)(4)"),
        ("receptacle #12 projects 1-7/8 in", "2-1/8 in.", "314.24(B)(4)"),
        ("receptacle #12 projects 2 in", "2-1/4 in.", "314.24(B)(1)"),
        ("receptacle #8 projects 1-1/2 in", "2-1/16 in.", "314.24(B)(3)"),
        ("receptacle #6 projects 2 in", "2-1/4 in.", "314.24(B)(1)"),
    ],
)
def test_a_body_that_reaches_far_needs_its_depth_and_a_clearance(device: str, needs: str, cite: str):
    found = finding(deep("3", device), 2020, RULE)
    assert f" needs {needs} " in found.message
    assert found.cite == cite


def test_a_body_on_wires_larger_than_any_stated_needs_its_depth_and_a_clearance_too():
    found = findings(deep("3", "receptacle #2 projects 2 in"), rule=RULE)
    assert found[1].message == "A is 3 in. deep and needs 2-1/4 in. behind a receptacle that reaches 2 in. back"


def test_two_devices_on_one_yoke_are_both_named():
    found = finding(deep("3", "switch + pilot light #14"), rule=RULE)
    assert " behind a switch + pilot light with #14 on it" in found.message


def test_the_answer_tells_how_far_the_body_reaches():
    assert finding(deep("3", "switch #14 projects 2-1/4 in"), rule=RULE).message == (
        "A is 3 in. deep and needs 2-1/2 in. behind a switch that reaches 2-1/4 in. back"
    )
    assert finding(deep("3", "receptacle #12 projects 1-1/2 in"), rule=RULE).message == (
        "A is 3 in. deep and needs 1-3/4 in. behind a receptacle with #12 on it that reaches 1-1/2 in. back"
    )


# ---- wired through the middle of the back --------------------------------------------------------------------------


@pytest.mark.parametrize(("year", "needs"), [(2008, "1-3/4 in."), (2020, "1-3/4 in."), (2023, "2 in.")])
def test_the_clearance_doubles_in_2023_where_wires_come_through_the_middle_of_the_back(year: int, needs: str):
    found = finding(deep("3", "receptacle #12 projects 1-1/2 in", inside="entry rear center"), year, RULE)
    assert f" needs {needs} " in found.message
    assert found.message.endswith("reaches 1-1/2 in. back, wired through the middle of the back")


def test_an_entry_through_the_middle_of_the_back_counts_among_others():
    raceway = ("panel P", "raceway R1 P > A emt 1/2")
    sheet = deep("3", "receptacle #12 projects 1-1/2 in", *raceway, inside="entry rear center; entry R1 left")
    assert " needs 2 in. " in finding(sheet, 2023, RULE).message


@pytest.mark.parametrize(
    "sheet",
    [
        deep("3", "receptacle #12 projects 1-1/2 in"),
        deep("3", "receptacle #12 projects 1-1/2 in", "panel P", "raceway R1 P > A emt 1/2", inside="entry R1 rear"),
    ],
)
def test_an_entry_elsewhere_keeps_the_clearance(sheet: str):
    assert " needs 1-3/4 in. " in finding(sheet, 2023, RULE).message


def test_thick_and_thin_wires_know_no_rear_clearance():
    assert (
        " needs 15/16 in. "
        in finding(deep("3", "switch #14 projects 1-1/2 in", inside="entry rear center"), rule=RULE).message
    )
    assert (
        " needs 2-1/16 in. "
        in finding(deep("3", "switch #8 projects 1-1/2 in", inside="entry rear center"), rule=RULE).message
    )


# ---- what adds to the depth ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("parts", "depth"),
    [
        ("", "1-1/4 in."),
        ("plaster ring unmarked 1/2 in deep", "1-3/4 in."),
        ("plaster ring 3.5 in3 5/8 in deep; raised cover 1/4 in deep unmarked", "2-1/8 in."),
        ("extension ring square 4 x 1-1/2", "2-3/4 in."),
        ("extension ring square 4 x 1-1/2 1-5/8 in deep", "2-7/8 in."),
        ("plaster ring 3.5 in3", "at least 1-1/4 in."),
        ("extension ring square 4 x 1-1/2 ? in deep", "at least 1-1/4 in."),
    ],
)
def test_rings_and_covers_that_say_how_deep_they_are_add_to_it(parts: str, depth: str):
    found = finding(in_box(parts, base="square 4 x 1-1/4"), rule=RULE)
    assert found.message.startswith(f"A is {depth} deep")


def test_the_depth_written_for_a_standard_box_decides_over_the_tables():
    assert finding(in_box(base="square 4 x 1-1/2 1-5/8 in deep"), rule=RULE).message.startswith("A is 1-5/8 in. deep")


def test_a_measured_box_is_as_deep_as_it_was_measured():
    assert finding(in_box(base="inside 12 x 12 x 6 in"), rule=RULE).message.startswith("A is 6 in. deep")


# ---- not known, not applying ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("base", ["marked 18 in3", "unmarked"])
def test_a_depth_nobody_measured_is_said_as_a_reminder_and_not_judged(base: str):
    assert findings(in_box("switch #14", base=base), rule=RULE) == []


@pytest.mark.parametrize("size", ["14", "2"])
def test_a_conduit_body_has_no_depth_to_judge(size: str):
    assert findings(in_box(f"switch #{size}", base="conduit body lb 1/2 marked 9 in3"), rule=RULE) == []


def test_a_box_nobody_described_has_no_depth_to_judge():
    assert findings(in_box(base="stud"), rule=RULE) == []


@pytest.mark.parametrize(("size", "word"), [("4", "passes"), ("3", "check needed")])
def test_wires_larger_than_4_awg_need_a_box_identified_for_it(size: str, word: str):
    found = findings(deep("3", f"receptacle #{size}"), rule=RULE)
    assert max(found, key=lambda one: one.verdict).verdict.word == word
    if size == "3":
        assert found[0].message == "A: #3 on the receptacle needs a box identified for that purpose"
        assert found[0].cite == "314.24(B)(2)"
        assert found[0].facts[0].question == "whether A is identified for such large wires"
        assert found[0].facts[0].settles == "its marking or its maker's instructions say"
        assert found[0].facts[0].swing == 0


def test_a_box_of_unknown_depth_is_judged_at_the_worst_and_at_the_best():
    # 4 square comes 1-1/4 to 2-1/8 deep; the device needs 1-1/2
    found = finding(in_box("receptacle #12 projects 1-1/4 in", base="square 4 x ?"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.message == (
        "A is 1-1/4 in. deep and needs 1-1/2 in. behind a receptacle with #12 on it that reaches 1-1/4 in. back: "
        "1/4 in. too shallow, worst case"
    )


def test_a_shallow_box_fails_though_its_room_is_ample():
    assert verdict(deep("1", "switch #12")) == "fails"  # 1-3/16


@pytest.mark.parametrize(("depth", "word"), [("2", "fails"), ("2.08", "check needed"), ("2.11", "passes")])
def test_behind_a_body_that_reaches_far_a_thin_wire_may_need_more_than_a_thick_one(depth: str, word: str):
    """By 314.24(B): on #12 and #10 a body that reaches more than 1 in. back needs 1/4 in. behind it, here 2.10 in. all
    told; on #6 the box needs 2-1/16 in. Which of them is on the receptacle nobody knows, so each is tried.
    """
    runs = ("run A > ? 12/2 nm-b", "run A > ? 6/2 nm-b")
    sheet = in_box("receptacle projects 1.85 in; clamps none", *runs, base=f"marked 90 in3 {depth} in deep")
    found = finding(sheet, rule=RULE)
    assert found.verdict.word == word
    if word == "check needed":
        assert [fact.settles for fact in found.facts] == ["#12, #10: fails; #6: passes"]


def test_a_place_that_asks_for_more_behind_a_rear_entry_is_named():
    city = 'place = "Cold Harbor"\n[[box_depth.rear_entry]]\nfrom = 2008\nclearance = 1\n'
    for inside, sure in (("entry rear center", "as Cold Harbor says"), ("", "two sources")):
        sheet = "amendments city.toml\n" + deep("3", "receptacle #12 projects 1-1/2 in", inside=inside)
        (found,) = [one for one in report(sheet, 2020, city).findings if one.rule == RULE]
        assert found.confidence == sure
        assert (" needs 2-1/2 in. " in found.message) is bool(inside)


@pytest.mark.parametrize("year", COMPARED)
def test_the_depths_of_2008_are_from_memory(year: int):
    assert finding(deep("3", "switch #12"), year, RULE).confidence == ("from memory" if year == 2008 else "two sources")


# ---- what was not measured -----------------------------------------------------------------------------------------

# The numbers are those of 314.24(B) as the tables of the shelf have them: 12 AWG needs 1-3/16 in., and the reach plus
# 1/4 in. where the body reaches back more than 1 in.; 14 AWG 15/16 in., and that past a reach of 1-7/8 in.

DEEP_RECEPTACLE = "receptacle #12 projects 1-5/8 in"  # needs 1-7/8 in.


@pytest.mark.parametrize("ring", ["plaster ring 3.5 in3", "plaster ring 3.5 in3 ? in deep", "raised cover unmarked"])
def test_a_ring_nobody_measured_is_a_fact_to_check_and_no_failure(ring: str):
    found = finding(in_box(f"{ring}; {DEEP_RECEPTACLE}; clamps none", base="square 4 x 1-1/2"), rule=RULE)
    kind = "raised cover" if "raised" in ring else "plaster ring"
    assert found.verdict.word == "check needed"
    assert found.message == (
        f"A is 1-1/2 in. deep without its {kind} and needs 1-7/8 in. behind a receptacle with #12 on it that reaches "
        f"1-5/8 in. back: measure the {kind}"
    )
    assert [(fact.question, fact.settles) for fact in found.facts] == [
        (f"how deep the {kind} of A is", "passes if it is 3/8 in. or more")
    ]


def test_a_box_deep_enough_without_its_ring_passes():
    found = finding(in_box(f"plaster ring 3.5 in3; {DEEP_RECEPTACLE}", base="square 4 x 2-1/8"), rule=RULE)
    assert found.verdict.word == "passes"
    assert found.message.startswith("A is at least 2-1/8 in. deep and needs 1-7/8 in. ")


def test_a_ring_that_was_measured_and_is_too_shallow_fails():
    sheet = in_box(f"plaster ring 3.5 in3 1/4 in deep; {DEEP_RECEPTACLE}", base="square 4 x 1-1/2")
    assert finding(sheet, rule=RULE).message.endswith(": 1/8 in. too shallow")


def test_two_rings_nobody_measured_decide_together():
    sheet = in_box(f"plaster ring 3.5 in3; raised cover unmarked; {DEEP_RECEPTACLE}", base="square 4 x 1-1/2")
    assert [fact.settles for fact in finding(sheet, rule=RULE).facts] == ["all of these together decide"] * 2


@pytest.mark.parametrize("base", ["marked 18 in3 ? in deep", "marked 18 in3 ? deep"])
def test_a_depth_written_as_unknown_is_open(base: str):
    found = finding(in_box("switch #14; clamps none", base=base), rule=RULE)
    assert found.verdict.word == "check needed"
    assert found.message == "A needs 15/16 in. behind a switch with #14 on it, and its depth is not known"
    assert found.facts[0].settles == "passes if it is 15/16 in. or more"


@pytest.mark.parametrize("base", ["marked 18 in3 ? in deep", "marked 18 in3"])
def test_a_reach_written_as_unknown_in_a_box_of_unknown_depth_is_open(base: str):
    found = finding(in_box("receptacle #12 projects ? in", base=base), rule=RULE)
    assert found.verdict.word == "check needed"
    assert [fact.question for fact in found.facts] == ["how deep A is", "how far the receptacle in A reaches back"]
    assert {fact.settles for fact in found.facts} == {"all of these together decide"}


def test_two_devices_on_one_yoke_are_both_named_where_their_reach_is_asked():
    found = finding(in_box("switch + receptacle #12 projects ? in", base="marked 18 in3 3 in deep"), rule=RULE)
    assert [fact.question for fact in found.facts] == ["how far the switch + receptacle in A reaches back"]
    assert found.message.endswith("how far its switch + receptacle reaches back is not known")


@pytest.mark.parametrize(
    ("depth", "device", "most"),
    [
        ("3", "receptacle #12", "2-3/4 in."),
        ("2", "receptacle #12", "1-3/4 in."),
        ("1-3/16", "receptacle #12", "1 in."),  # up to 1 in. no clearance is asked for
        ("3", "switch #14", "2-3/4 in."),
        ("15/16", "switch #14", "1-7/8 in."),  # up to 1-7/8 in. no clearance is asked for
    ],
)
def test_the_most_a_device_of_unknown_reach_may_reach_back(depth: str, device: str, most: str):
    found = finding(deep(depth, f"{device} projects ? in"), rule=RULE)
    assert found.verdict.word == "check needed"
    assert [fact.settles for fact in found.facts] == [f"passes if it is {most} or less"]
    reach = most.removesuffix(".")
    assert finding(deep(depth, f"{device} projects {reach}"), rule=RULE).verdict.word == "passes"


def test_a_box_too_shallow_for_its_wires_fails_however_far_the_device_reaches():
    assert finding(deep("1", "receptacle #12 projects ? in"), rule=RULE).verdict.word == "fails"


def test_a_loop_judged_by_the_depth_asks_for_the_ring():
    """Free length 3 in. past the opening: a 4 in. box with a ring of unknown depth, twice 7 in. or more."""
    sheet = settings(
        in_box(
            "plaster ring 3.5 in3; clamps none",
            "wires ? > ? 1 x #14 thhn through A loop 15 in",
            base="marked 6 in3 4 in deep",
        ),
        "loop-threshold",
        "by-depth",
    )
    found = report(sheet).worksheets
    assert [sheet.needed for sheet in found.values()] == [4]
    fill = finding(sheet)
    assert fill.best.needed == 2
    exact = sheet.replace("3.5 in3", "3.5 in3 5/8 in deep")  # twice 7-5/8 in. is more than 15
    assert finding(exact).worst.needed == 2
