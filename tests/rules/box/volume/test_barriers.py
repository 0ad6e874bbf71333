"""A barrier makes spaces, takes its volume off, and each space is judged alone by its share."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from ampleroom import read_job
from ampleroom.editions import CodeBook
from ampleroom.facts import Assumption
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.box.volume.barriers import shared_out
from ampleroom.rules.builder import SpaceBuilder
from tests.helpers import COMPARED, findings, in_box, line, lines, report, settings, verdict

RULE = "box-room-barriers"


def divided(
    shares: str = "space left 1/2; space right 1/2", *runs: str, barrier: str = "metal", base: str = "marked 40 in3"
):
    return in_box(f"barrier {barrier}; {shares}", *runs, base=base)


def rooms(sheet: str, year: int = 2023) -> dict[str, Decimal]:
    return {name: sheet.there for name, sheet in report(sheet, year).worksheets.items()}


BARRIERS = [("metal", "0.5"), ("plastic", "1.0"), ("plastic marked 0.8 in3", "0.8")]


@pytest.mark.parametrize("year", COMPARED)
@pytest.mark.parametrize(("barrier", "takes"), BARRIERS)
def test_a_barrier_is_taken_off_since_2017_marked_or_not(year: int, barrier: str, takes: str):
    half = (40 - (Decimal(takes) if year >= 2017 else 0)) / 2
    assert rooms(divided(barrier=barrier), year) == {"A/left": half, "A/right": half}


@pytest.mark.parametrize("year", COMPARED)
@pytest.mark.parametrize(("barrier", "takes"), BARRIERS)
def test_read_so_a_barrier_is_taken_off_in_every_edition_marked_or_not(year: int, barrier: str, takes: str):
    half = (40 - Decimal(takes)) / 2
    assert rooms(stated(divided(barrier=barrier)), year) == {"A/left": half, "A/right": half}


def stated(sheet: str) -> str:
    """The sheet of an inspector who takes barriers off before the 2017 edition too."""
    return settings(sheet, "early-barrier", "takes-room")


NOT_MARKED, MARKED = "not marked: taken off", "the volume marked on it, taken off"


@pytest.mark.parametrize(
    ("year", "barrier", "why", "cite"),
    [
        (2014, "metal", f"{NOT_MARKED}; before 2017 none is stated", "314.16(A): no deduction stated"),
        (2014, "metal marked 0.4 in3", f"{MARKED}; before 2017 none is stated", "314.16(A): no deduction stated"),
        (2017, "metal", NOT_MARKED, "314.16(A)"),
        (2017, "metal marked 0.4 in3", MARKED, "314.16(A)"),
    ],
)
def test_the_line_says_why_it_is_taken_off(year: int, barrier: str, why: str, cite: str):
    found = lines(stated(divided(barrier=barrier)), year, RULE)[0]
    assert (found.label, found.why, found.cite) == ("Metal barrier", why, cite)
    assert found.readings == (("early-barrier",) if year < 2017 else ())


def test_the_line_of_a_barrier_that_takes_nothing_says_so():
    found = lines(divided(barrier="plastic marked 0.8 in3"), 2014, RULE)[0]
    assert (found.label, found.amount, found.readings) == ("Nonmetallic barrier", 0, ("early-barrier",))
    assert found.why == "the code gives no number before 2017; leave room for it anyway"


def test_what_a_place_says_of_barriers_is_no_disputed_point():
    text = 'place = "X"\n[[box_room.barrier]]\nfrom = 2011\nmetal = 0.75\n'
    found = report("amendments x.toml\n" + divided(), 2014, text)
    assert found.worksheets["A/left"].there == Decimal("19.625")
    assert found.readings == {}


# ---- shares --------------------------------------------------------------------------------------------------------


def test_a_box_is_shared_out_by_gangs():
    sheet = divided("space power 2 gangs; space signal 1 gang", base="marked 54 in3 3-gang", barrier="plastic")
    assert rooms(sheet) == {"A/power": Decimal("35.3333"), "A/signal": Decimal("17.6666")}  # 53 x 2/3 and 1/3, down
    found = lines(sheet, rule=RULE)[1]
    assert (found.label, found.why) == ("The other side's share", "this side has 2 of 3 gangs; the whole has 53.00 in3")


def test_a_share_that_is_no_decimal_is_kept_as_a_fraction_and_rounded_once():
    sheet = divided("space a 1/3; space b 2/3", base="marked 20.5 in3", barrier="metal marked 0.5 in3")
    found = lines(sheet, rule=RULE)[1]
    assert (found.count, found.each) == (Fraction(-2, 3), 20)
    assert found.amount == Decimal("-13.3334")
    assert rooms(sheet) == {"A/a": Decimal("6.6666"), "A/b": Decimal("13.3333")}


def test_the_sides_of_a_box_of_three_are_named():
    found = lines(divided("space a 1/2; space b 1/4; space c 1/4"), rule=RULE)[1]
    assert found.label == "The other sides' share"


def test_a_box_is_shared_out_by_the_volumes_of_its_sides():
    sheet = divided("space a 30 in3; space b 10 in3")
    assert rooms(sheet, 2014) == {"A/a": 30, "A/b": 10}
    assert [found.label for found in lines(sheet, 2014)][:3] == [
        "Marked box",
        "Metal barrier",
        "The other side's share",
    ]
    assert rooms(sheet, 2017) == {"A/a": Decimal("29.625"), "A/b": Decimal("9.875")}  # 3/4 and 1/4 of the half inch off
    assert lines(sheet, rule=RULE)[1].why == "this side has 30.00 of 40.00 as written; the whole has 39.50 in3"


def test_a_side_that_has_just_what_the_sheet_says_has_no_line_for_it():
    found = lines(divided("space a 30 in3; space b 10 in3"), 2014, RULE)
    assert "More than this side has" not in [line.label for line in found]


def test_a_side_by_its_fraction_says_so():
    found = lines(divided("space a 1/4; space b 3/4"), 2014, RULE)[1]
    assert found.why == "this side has 1/4; the whole has 40.00 in3"


def test_a_side_of_a_box_of_unknown_room_has_at_the_best_what_the_sheet_says():
    (found, _) = findings(divided("space a 20 in3; space b 10 in3", base="marked ? in3"), 2014)
    (line,) = found.best.have
    assert (line.label, line.count, line.each, line.why) == ("This side", 1, 20, "as the sheet says")


def test_a_side_of_a_box_of_unknown_room_has_no_bound_where_the_sheet_says_a_part():
    (found, _) = findings(divided("space a 1/3; space b 2/3", base="marked ? in3"), 2014)
    assert found.best.there.is_infinite()
    assert found.worst.there == 0


def test_a_clamp_assembly_takes_its_room_from_the_side_it_is_in():
    sheet = divided("space a 1/4; clamps assembly 0.8 in3; space b 3/4; clamps none")
    assert rooms(sheet, 2014) == {"A/a": Decimal("9.2"), "A/b": 30}
    assert [found.amount for found in lines(sheet, 2014, "box-room-clamp-assembly")] == [Decimal("-0.8")]


def test_a_side_never_has_more_than_the_sheet_says():
    sheet = divided("space a 15 in3; space b 5 in3")
    assert rooms(sheet, 2014) == {"A/a": 15, "A/b": 5}
    too_much = lines(sheet, 2014, RULE)[2]
    assert too_much.label == "More than this side has"
    assert too_much.amount == -15  # 3/4 of 40 less the 15 that are there
    assert too_much.why == "the sheet says this side has 15.00 in3"
    assert (too_much.cite, too_much.confidence) == ("314.16(A)", "from memory")


def test_a_box_that_is_not_divided_keeps_its_room():
    job = read_job(in_box())
    (space,) = SpaceBuilder(job.boxes[0], job.items(job.boxes[0]), (), CodeBook(2023)).spaces(Assumption(ENDS))
    room = tuple(lines(in_box()))
    assert shared_out(room, space, CodeBook(2023)) == room


def test_the_two_sides_are_judged_each_alone():
    sheet = divided("space left 1/2; space right 1/2", "wires A/left > ? 10 x #14", "wires A/right > ? 9 x #14")
    assert [(found.subject, found.verdict.word) for found in findings(sheet)] == [  # 19.75 a side
        ("A/left", "fails"),
        ("A/right", "passes"),
    ]
    assert verdict(sheet) == "fails"


def test_what_is_written_under_a_space_is_in_it_and_what_comes_before_is_common():
    sheet = divided("space left 1/2; switch #14; stud; space right 1/2; receptacle #12", "wires A/left > ? 1 x #14")
    needed = {name: sheet.needed for name, sheet in report(sheet).worksheets.items()}
    assert needed == {"A/left": 8, "A/right": Decimal("4.50")}  # 4.00 + 2.00 stud + 2.00


def test_a_conductor_that_crosses_counts_on_both_sides():
    sheet = divided("space left 1/2; space right 1/2", "wires A/left > A/right 1 x #12")
    needed = {name: sheet.needed for name, sheet in report(sheet).worksheets.items()}
    assert needed == {"A/left": Decimal("2.25"), "A/right": Decimal("2.25")}


def test_a_ring_is_shared_out_like_the_box():
    sheet = in_box("plaster ring 4 in3; barrier metal; space left 1/4; space right 3/4", base="marked 40 in3")
    assert rooms(sheet, 2014) == {"A/left": 11, "A/right": 33}


@pytest.mark.parametrize("shares", ["space a 2 gangs; space b 1 gang", "space a 20 in3; space b 10 in3"])
@pytest.mark.parametrize("base", ["marked ? in3", "unmarked", "mounted surface"])
def test_a_divided_box_of_unknown_room_needs_a_check(shares: str, base: str):
    assert verdict(divided(shares, "wires A/a > ? 2 x #14", base=base)) == "check needed"


# ---- clamp assemblies ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("year", COMPARED)
def test_a_clamp_assembly_is_taken_off_the_room_since_2014(year: int):
    found = lines(in_box("clamps assembly 0.8 in3", "run A > ? 14/2 nm-b"), year, "box-room-clamp-assembly")
    if year < 2014:
        assert found == []
    else:
        assert [(line.label, line.amount, line.why) for line in found] == [
            ("Clamp assembly left inside", Decimal("-0.8"), "its volume, taken off")
        ]
        assert found[0].cite == "314.16(B)(2)"


def test_other_clamps_take_nothing_off_the_room():
    assert line(in_box("clamps inside", "run A > ? 14/2 nm-b"), rule="box-room-marked").amount == 100
    assert lines(in_box("clamps inside", "run A > ? 14/2 nm-b"), rule="box-room-clamp-assembly") == []
