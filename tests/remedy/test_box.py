"""All remedies of one box: what holds for every one of them over random jobs, and pairs by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom import check, read_job
from ampleroom.editions import CodeBook
from ampleroom.job import write_job
from ampleroom.job.cables import sizes_of
from ampleroom.job.edit import changed
from ampleroom.job.model import Box, Clamps, Item, Job, Run
from ampleroom.job.unknown import UNKNOWN
from ampleroom.record import replace
from ampleroom.remedy import Remedy, remedies, stock_from_text
from ampleroom.remedy.box import all_remedies, first_fact, in_place, not_tried, try_move
from ampleroom.remedy.moves import MOVES
from ampleroom.remedy.remedy import Move
from ampleroom.remedy.trial import Trial
from ampleroom.worksheet import Verdict
from tests.remedy.crowded import STOCK, crowded_jobs
from tests.remedy.helpers import (
    CABLES,
    CONNECTOR,
    assert_holds,
    bought,
    box_entry,
    figures,
    job_of,
    of,
    only,
    part_entry,
    stock,
    trial_of,
    whats,
)
from tests.strategies import Dice, examples, jobs

ANY = st.one_of(
    crowded_jobs(), crowded_jobs(), jobs(unknowns=True, most_boxes=3).map(lambda job: read_job(write_job(job)))
)
"""Mostly jobs there are remedies for; and any others, read from their sheets."""


# ---- what holds for all of them ------------------------------------------------------------------------------------


def ailing(trial: Trial) -> list[Box]:
    return [box for box in trial.job.boxes if trial.reports[box.name].verdict is not Verdict.PASSES]


def moves_of(trial: Trial, box: Box) -> list[Move]:
    placed = in_place(trial, box, STOCK)
    return [move for moves in MOVES["box"].makers for move in moves(placed)]


@examples(60)
@given(ANY)
def test_every_remedy_passes_the_whole_check_and_leaves_no_box_worse(job):
    trial = trial_of(job)
    for box in ailing(trial):
        for remedy in all_remedies(trial, box, STOCK):
            assert_holds(job, remedy)


@examples(40)
@given(ANY, st.sampled_from(["12/2 nm-b", "14/3 nm-b"]), st.sampled_from([0, 1, 4]))
def test_every_remedy_leaves_the_room_asked_for(job, spare, margin):
    """One more cable goes into the box mended and into every new one besides, and so much is left then."""
    trial = trial_of(job, spare)
    for box in ailing(trial):
        for remedy in all_remedies(trial, box, STOCK, Decimal(margin)):
            after = changed(job, remedy.change)
            new = [other.name for other in after.boxes if other.name not in trial.boxes]
            again = trial_of(after, spare).reports
            assert remedy.margin >= margin
            assert all(again[name].verdict is Verdict.PASSES for name in (box.name, *new)), remedy.action


def part_of(remedy: Remedy) -> list[str]:
    return remedy.action.split(", and ")


@examples(60)
@given(ANY)
def test_of_two_moves_that_are_a_remedy_together_neither_is_one_alone(job):
    trial = trial_of(job)
    for box in ailing(trial):
        alone = {
            move.action: try_move(trial, move, Decimal(0), trial.touched(move.change)).passes
            for move in moves_of(trial, box)
        }
        for remedy in all_remedies(trial, box, STOCK):
            if len(part_of(remedy)) > 1:
                assert [alone[what] for what in part_of(remedy)] == [False, False], remedy.action


def beats(one: Remedy, other: Remedy) -> bool:
    """At least as good in price, minutes, disturbance and room left, and better in one of them."""

    def good(remedy: Remedy) -> tuple[Decimal, ...]:
        return -remedy.price, -remedy.minutes, Decimal(-remedy.disturbance), remedy.margin

    pairs = list(zip(good(one), good(other), strict=True))
    return all(a >= b for a, b in pairs) and any(a > b for a, b in pairs)


@examples(60)
@given(ANY)
def test_no_remedy_of_the_list_beats_another_and_none_left_out_beats_one_of_it(job):
    trial = trial_of(job)
    for box in ailing(trial):
        found, every = remedies(trial, box, STOCK), all_remedies(trial, box, STOCK)
        assert not any(beats(one, other) for one in found for other in found)
        assert not any(beats(one, other) for one in every for other in found)
        for one in every:
            assert one in found or any(figures(other) == figures(one) or beats(other, one) for other in found)
        costs = [remedy.cost(STOCK) for remedy in found]
        assert costs == sorted(costs)


@examples(40)
@given(ANY)
def test_a_move_tried_on_its_boxes_alone_is_judged_as_in_the_whole_job(job):
    trial = trial_of(job)
    for box in job.boxes:
        for move in moves_of(trial, box):
            whole = {report.name: report for report in check(changed(job, move.change)).subjects}
            alone = trial.after(move.change)
            assert alone == {name: whole[name] for name in alone}, move.action
            rest = {name: report for name, report in whole.items() if name not in alone}
            assert rest == {name: trial.reports[name] for name in rest}, move.action


@examples(60)
@given(ANY, st.sampled_from(["", "12/2 nm-b"]))
def test_boxes_of_one_family_leave_more_as_they_hold_more(job, spare):
    """So that the small ones need not be judged once one was."""
    trial = trial_of(job, spare)
    for box in job.boxes:
        fill: dict[str, Decimal] = {}
        for move in moves_of(trial, box):
            if move.family:
                margin = try_move(trial, move, Decimal(0), trial.touched(move.change)).margin
                assert fill.setdefault(move.family, move.room - margin) == move.room - margin, move.action


def settled(dice: Dice, job: Job) -> Job:
    """The job once somebody looked: cables, grounds, counts and clamps that were not known are one thing or another."""
    boxes = tuple(replace(box, items=tuple(settled_item(dice, item) for item in box.items)) for box in job.boxes)
    return replace(job, boxes=boxes, runs=tuple(settled_run(dice.line(), run) for run in job.runs))


def settled_item(dice: Dice, item: Item) -> Item:
    if isinstance(item, Clamps) and item.way is UNKNOWN:
        return Clamps(dice.pick(("inside", "outside", "none")), at=item.at)
    return item


def settled_run(dice: Dice, run: Run) -> Run:
    cable = run.cable
    if cable is not None and cable.size is UNKNOWN:
        cable = cable._replace(size=dice.pick(sizes_of(cable)))
    if cable is not None and cable.ground is UNKNOWN:
        cable = cable._replace(ground=dice.pick(("none", "14")))
    return replace(run, cable=cable, count=dice.whole(1, 3) if run.count is UNKNOWN else run.count)


@st.composite
def surveys(draw):
    return draw(ANY), Dice(draw)


@examples(60)
@given(surveys())
def test_a_remedy_holds_however_the_unknown_facts_turn_out(survey):
    job, dice = survey
    trial = trial_of(job)
    for box in ailing(trial):
        for remedy in remedies(trial, box, STOCK)[:4]:
            after = settled(dice.line(), changed(job, remedy.change))
            assert check(after).subject(box.name).verdict is Verdict.PASSES, remedy.action


# ---- two moves together --------------------------------------------------------------------------------------------

CRAMPED = """box J1
  square 4 x 1-1/2
  {}
run J1 > ? 4 x 12/2 nm-b
run J1 > ? 14/3 nm-b
"""
"""8 x 2.25 + 3 x 2.00 + 2.25 = 26.25 in 21, and 2.25 more for clamps inside: 7.50 short."""
RING = part_entry("plaster ring 6 in3", "square 4", 3)


def test_two_moves_of_which_neither_is_enough_are_one_remedy():
    """The ring's 6 and the clamps' 2.25 leave 0.75. 3 and 5 connectors; 12 and 5 times 5 minutes."""
    text = CRAMPED.format("clamps inside")
    parts = stock(RING, CONNECTOR)
    found = only(of(text, parts))
    assert found.action == "add plaster ring 6 in3, and replace the inside clamps with outside connectors"
    assert figures(found) == (8, 37, Decimal("0.75"))
    assert_holds(job_of(text), found)
    assert of(text, stock(RING)) == []
    assert of(text, stock(CONNECTOR)) == []


def test_a_line_exchanged_and_a_line_added_by_the_two_moves_both_stand_in_the_sheet():
    """The ring takes another one's place on the last line of the box; the line on clamps comes below it."""
    text = CRAMPED.format("plaster ring 0.5 in3")
    found = only(of(text, stock(RING, CONNECTOR)))
    assert_holds(job_of(text), found)
    assert found.margin == Decimal("0.75")


def test_a_second_move_may_reach_into_a_neighboring_box_too():
    """Connectors gain 2.25, the cable taken to J2 4.50; both leave 1.50 of the 5.25 that are short and 2.25 for clamps.

    J1: 10 x #12, a ground, clamps: 22.50 + 2.25 + 2.25 in 21. Without the cable and clamps inside: 18 + 2.25.
    """
    text = "box J1\n  square 4 x 1-1/2\n  clamps inside\nbox J2\n  square 4 x 2-1/8\n  clamps outside\n"
    text += "run J1 > J2 12/2 nm-b circuit 3\nrun J1 > ? 12/2 nm-b circuit 3\nrun J1 > ? 3 x 12/2 nm-b circuit 5\n"
    found = of(text, stock(CONNECTOR, CABLES))
    assert sorted(part_of(only(found))) == [
        "end the 12/2 nm-b with its other end not known in J2 instead",
        "replace the inside clamps with outside connectors",
    ]
    assert only(found).margin == Decimal("0.75")
    assert only(found).touches == {"J1", "J2"}
    assert_holds(job_of(text), only(found))


def test_a_spare_cable_buys_no_connector():
    """Room for one more 12/2 is kept; the connectors are for the three cables there are. 8 x 2.25 + 2.25 go into 18 and
    the ring's 2.5; neither into 18 alone nor beside the clamps' 2.25.
    """
    job = job_of("box J1\n  square 4 x 1-1/4\n  clamps inside\nrun J1 > ? 3 x 12/2 nm-b\n")
    parts = stock(part_entry("plaster ring 2.5 in3", "square 4", 1), CONNECTOR)
    found = only(remedies(trial_of(job, "12/2 nm-b"), job.boxes[0], parts))
    assert found.margin == Decimal("0.25")
    assert bought(found) == [("plaster ring 2.5 in3", 1), ("clamp connector", 3)]


def test_a_box_that_only_is_too_shallow_gets_one_that_is_deep_enough():
    """22.5 in3 are enough for 15.75; a body of 1-3/8 in. needs 1-5/8 in., and a box of 1-1/2 in. is too shallow."""
    text = "box S1\n  marked 22.5 in3 plastic 1-gang 1-1/2 in deep\n  clamps none\n  receptacle #12 projects 1-3/8 in\n"
    text += "run S1 > ? 2 x 12/2 nm-b\n"
    shallow, deep = (box_entry(f"marked 30 in3 plastic 1-gang {depth} in deep", 2) for depth in ("1-1/4", "1-5/8"))
    found = only(of(text, stock(shallow, deep)))
    assert found.action.startswith("replace the box with marked 30 in3 plastic 1-gang 1-5/8 in deep")
    assert_holds(job_of(text), found)


# ---- what to look at first -----------------------------------------------------------------------------------------


def test_a_box_of_unknown_room_gets_what_holds_at_the_worst_and_the_fact_to_read_first():
    """4 x 2.25 + 2.25 + 4.50 = 15.75 in a box nobody read; whatever it holds, one of 18 is enough."""
    text = "box S1\n  marked ? in3 plastic 1-gang\n  clamps none\n  receptacle #12\nrun S1 > ? 2 x 12/2 nm-b\n"
    found = only(
        of(text, stock(box_entry("marked 18 in3 plastic 1-gang", 1), box_entry("marked 14 in3 plastic 1-gang", 1)))
    )
    assert found.margin == Decimal("2.25")
    job = job_of(text)
    fact = first_fact(trial_of(job), job.boxes[0])
    assert fact is not None
    assert fact.question == "the volume marked in S1"
    assert "15.75 in3 or more" in fact.settles


def test_a_box_that_fails_whatever_the_facts_has_no_fact_to_look_at():
    job = job_of("box S1\n  marked 9 in3\n  clamps ?\nrun S1 > ? 3 x 12/2 nm-b\n")
    assert first_fact(trial_of(job), job.boxes[0]) is None


def test_of_the_remedies_the_cheapest_is_first():
    """Ring 3 + 12; deep box 2 + 20; raised cover 9 + 12 which gains most."""
    text = CRAMPED.format("clamps outside")
    parts = stock(RING, box_entry("square 4 x 2-1/8", 2), part_entry("raised cover 12 in3", "square 4", 9))
    assert whats(of(text, parts)) == [
        "add plaster ring 6 in3",
        "add raised cover 12 in3",
        "replace the box with square 4 x 2-1/8",
    ]


@pytest.mark.parametrize(
    ("cables", "room", "left_out"),
    [
        (16, 75, ("Only 12 of 240 fixes were tried as the second of a pair.",)),  # 16 cables, each to 15 other ends
        (16, 20, ()),  # no two fixes together are enough, so none was left out
        (4, 15, ()),
    ],
)
def test_an_answer_says_where_not_every_fix_was_tried_as_the_second_of_a_pair(cables, room, left_out):
    text = f"edition 2020\nbox J1\n  marked {room} in3\n  clamps outside\n" + "".join(
        f"box B{number}\n  square 4 x 2-1/8\n  clamps outside\nrun J1 > B{number} 12/2 nm-b 9 ft circuit 1\n"
        for number in range(cables)
    )
    trial = Trial(read_job(text), CodeBook(2020))
    subject = trial.subjects["J1"]
    remedies(trial, subject, stock_from_text(""))
    assert not_tried(trial, subject, stock_from_text("")) == left_out
