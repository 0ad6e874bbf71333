"""The rows of a box's screen: their amounts add up to the box fill, and what stands around the box."""

from decimal import Decimal

import pytest

from ampleroom.web import engine
from ampleroom.web.engine.around import most_used
from tests.web.helpers import ROOT, STUDIO

ROWHOUSE = (ROOT / "examples" / "rowhouse.job").read_text("utf-8")

MIXED = """job Mixed
edition 2020
panel P
box J1
  square 4-11/16 x 2-1/8
  clamps inside
  receptacle
  2 x switch #12
  stud
  fixture wires 6 x #16 from flat canopy
run J1 > ? 3 x 12/2 nm-b
run J1 > ? 14/2 nm-b
run P > ? 12/3 nm-b through J1 loop
wires P > J1 2 x #10 thhn, ground #10
"""


def shown(sheet, box):
    answer = engine.answer("box", {"sheet": sheet, "box": box})
    assert "error" not in answer, answer
    return answer


def ends(text):
    """Both ends of an amount of a row."""
    if text.startswith("up to "):
        return Decimal(0), Decimal(text.removeprefix("up to "))
    least, _, most = text.partition(" to ")
    return Decimal(least), Decimal(most or least)


def rows_of(side):
    clamps = [side["clamps"]] if side["clamps"] else []
    return [*side["cables"], *side["devices"], *clamps, side["grounds"], *side["others"]]


def all_boxes():
    for name, sheet in (("mixed", MIXED), ("studio", STUDIO), ("rowhouse", ROWHOUSE)):
        listed = engine.answer("job", {"sheet": sheet})
        for subject in listed["subjects"]:
            if subject["kind"] == "box":
                yield pytest.param(sheet, subject["name"], id=f"{name}-{subject['name']}")


@pytest.mark.parametrize(("sheet", "box"), [*all_boxes()][:60])
def test_the_rows_add_up_to_the_box_fill(sheet, box):
    """At the worse end to the worst case's fill, at the better end to the best case's: as the worksheets have them."""
    answer = shown(sheet, box)
    fills = [finding for finding in answer["findings"] if finding["rule"] == "box-fill"]
    for side, fill in zip(answer["sides"], fills, strict=True):
        if "or more" in side["fill"]:
            continue
        worst = (fill["worst_case"] or fill["worksheet"])["needed"]
        best = (fill["best_case"] or fill["worksheet"])["needed"]
        amounts = [ends(row["amount"]) for row in rows_of(side)]
        assert sum(most for _, most in amounts) == Decimal(worst)
        assert sum(least for least, _ in amounts) == Decimal(best)


def test_a_row_says_its_wires_and_where_their_size_comes_from():
    """Three 12/2 are six #12 (by the cable's name); a receptacle that says no size counts two of the largest that ends
    here.
    """
    side = shown(MIXED.replace("run J1 > ? 14/2 nm-b\n", ""), "J1")["sides"][0]
    cables = {row["title"]: row for row in side["cables"]}
    assert (cables["12/2"]["count"], cables["12/2"]["detail"], cables["12/2"]["amount"]) == (3, "6 × #12", "13.50")
    assert "Wires 2 x #10, 1 x #10" in cables
    devices = {row["title"]: row for row in side["devices"]}
    assert devices["Switch"]["detail"] == "4 × #12"
    assert devices["Receptacle"]["detail"].endswith(", from the cables")
    assert devices["Receptacle"]["indexes"] == [2]


def test_what_nobody_knows_has_a_row_of_its_own():
    sheet = "edition 2020\nbox J1\n  square 4 x 1-1/2\n  device #?\nrun J1 > ? ?/? nm-b\nrun J1 > ? 12/2 nm-b\n"
    answer = shown(sheet, "J1")
    side = answer["sides"][0]
    assert [row["title"] for row in side["cables"]] == ["Cable not known", "12/2"]
    assert [row["title"] for row in side["devices"]] == ["Device not known"]
    assert (side["clamps"]["way"], answer["verdict"]) == ("", "check needed")
    assert side["cables"][0]["amount"].endswith("or more")


def test_a_pull_box_is_asked_for_no_clamps_and_has_no_ruler_of_its_fill():
    answer = shown(STUDIO, "PB1")
    assert answer["sides"][0]["clamps"] is None
    assert [picture["title"] for picture in answer["pictures"]] == ["What enters PB1", "PB1 from its cover"]
    with_cable = shown(STUDIO + "\nrun P > PB1 12/2 nm-b  circuit 2\n", "PB1")
    assert with_cable["sides"][0]["clamps"]["way"] == ""


def test_each_side_of_a_barrier_has_its_own_verdict_and_rows():
    """Left: 3 x 2 x 2.25 + 2.25 for the grounds is 15.75 in the half of 30.00 less the metal barrier's 0.50 (14.75):
    1.00 over. Right: 2 x 2.00 and 2.00 for the ground, of 14.75. Allowances of 314.16(B), by hand.
    """
    sheet = (
        "edition 2020\n"
        "box D1\n"
        "  marked 30 in3\n"
        "  barrier metal\n"
        "  space left 1/2\n"
        "  clamps outside\n"
        "  space right 1/2\n"
        "  clamps outside\n"
        "run D1/left > ? 3 x 12/2 nm-b\n"
        "run D1/right > ? 14/2 nm-b\n"
    )
    left, right = shown(sheet, "D1")["sides"]
    assert (left["side"], left["verdict"], left["says"]["big"]) == ("left", "fails", "1.00 in³ over")
    assert left["says"]["hands"] == "One 12/2 cable too many"
    assert (right["side"], right["verdict"], right["says"]["big"]) == ("right", "passes", "8.75 in³ spare")
    assert [row["title"] for row in left["cables"]] == ["12/2"]
    assert [row["title"] for row in right["cables"]] == ["14/2"]


def test_the_boxes_around_and_the_one_to_copy():
    sheet = (
        "edition 2020\nbox K1\n  square 4 x 1-1/2\n  clamps inside\n  receptacle\nbox K2\nbox K3\n"
        "run K1 > ? 3 x 12/2 nm-b\n"
    )
    around = shown(sheet, "K2")["around"]
    assert (around["previous"], around["next"], around["new"]) == ("K1", "K3", "K4")
    says = "square 4 x 1-1/2, three 12/2, one receptacle, clamps inside"
    assert around["like"] == {"box": "K1", "says": says}
    assert around["boxes"][0] == {"line": "square 4 x 1-1/2", "top": "4 sq", "bottom": "1-1/2", "clamps": "inside"}
    assert shown("edition 2020\nbox K1\n", "K1")["around"]["like"] is None


def test_keys_are_what_the_job_uses_most_with_its_last_one_in_one_order():
    usual = ["a", "b", "c"]
    assert most_used([], usual, 3) == usual
    assert most_used(["x", "x", "b"], usual, 3) == ["a", "b", "x"]
    assert most_used(["x", "x", "y", "y", "z", "z", "w"], usual, 3) == ["x", "y", "w"]
