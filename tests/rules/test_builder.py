"""What a box is asked on the spot, by whom its runs are named, and what may be made of plastic."""

from __future__ import annotations

from decimal import Decimal

import pytest

from ampleroom import read_job
from ampleroom.check import book_for
from ampleroom.facts import Assumption
from ampleroom.job.model import Run
from ampleroom.record import replace
from ampleroom.rules.box.fill.ends import ENDS
from ampleroom.rules.builder import SpaceBuilder
from ampleroom.rules.runs_at_box import direction, run_name
from ampleroom.rules.space import Entering
from tests.helpers import finding, in_box, lines, reminders, report

CABLE = "run A > ? 14/2 nm-b"


def asked(sheet: str) -> dict[str, int]:
    """The questions a box A raises, and what it takes to answer each."""
    job = read_job(sheet)
    assumption = Assumption(ENDS)
    box = job.box("A")
    SpaceBuilder(box, job.items(box), job.graph.runs_at["A"], book_for(job, 2023)).spaces(assumption)
    return {question.text: question.effort for question in assumption.needed.values()}


@pytest.mark.parametrize(
    ("inside", "question"),
    [
        ("switch", "the largest conductor on the switch in A"),
        ("switch + receptacle", "the largest conductor on the switch + receptacle in A"),
        ("module #?", "the largest conductor on the module in A"),
        ("terminal block #?", "the largest conductor on the block in A"),
    ],
)
def test_of_two_sizes_that_land_it_is_asked_which_is_on_a_device_after_taking_it_out(inside: str, question: str):
    sheet = in_box(f"clamps none\n  {inside}", "wires A > ? 2 x #12, 2 x #14")
    assert asked(sheet) == {question: 1}


@pytest.mark.parametrize(
    ("runs", "is_asked"),
    [
        (["wires A > ? 2 x #14", "wires A > ? 2 x #12 class 2"], False),  # low-voltage wires are on no switch
        (["wires A > ? 2 x #14, ground #16"], False),  # nor is a ground the largest where all else is thicker
        (["wires A > ? 2 x #14, ground #12"], True),
        (["wires A > ? 2 x #14", "wires ? > ? 2 x #12 through A"], False),  # what passes straight lands nowhere
        (["wires A > ? 2 x #14", "wires ? > ? 2 x #12 through A landed"], True),
    ],
)
def test_only_what_may_land_on_a_device_is_asked_about(runs: list[str], is_asked: bool):
    found = asked(in_box("clamps none\n  switch", *runs))
    assert ("the largest conductor on the switch in A" in found) is is_asked


@pytest.mark.parametrize(
    ("base", "is_asked"),
    [("marked 30 in3", True), ("conduit body lb 1 marked 30 in3", False), ("conduit body c 1 marked 30 in3", False)],
)
def test_a_conduit_body_has_no_clamps_to_ask_for(base: str, is_asked: bool):
    found = asked(in_box("", CABLE, base=base))
    assert ("whether cables are clamped inside A" in found) is is_asked


def entering(run: Run) -> list[Entering]:
    """What one run brings into box B."""
    job = replace(read_job("box B\n  marked 90 in3\n"), runs=(run,))
    box = job.box("B")
    (space,) = SpaceBuilder(box, job.items(box), job.graph.runs_at["B"], book_for(job, 2023)).spaces(Assumption(ENDS))
    return list(space.entering)


def test_a_run_is_named_by_the_place_before_it_and_at_its_start_by_the_one_after():
    (run,) = read_job("box A\nbox B\nbox C\nrun A > B > C 14/2 nm-b\n").runs
    assert [direction(run, here) for here in "ABC"] == ["to B", "from A and on to C", "from B"]
    (before, after) = [one.own_name("B") for one in entering(run) if one.role == "insulated"]
    assert (before, after) == ("2 of 14/2 nm-b from A", "2 of 14/2 nm-b to C")
    assert direction(run, "D") == "passing on A > B > C"


def test_a_very_long_run_that_passes_on_is_named_by_its_first_stops_and_its_last():
    names = [f"S{n}" for n in range(40)]
    sheet = "".join(f"equipment {name}\n" for name in names) + f"box D\nrun {' > '.join(names)} 14/2 nm-b through D\n"
    (run,) = read_job(sheet).runs
    assert direction(run, "D") == "passing on S0 > S1 > S2 > S3 > S4 > S5 > (33 more) > S39"
    assert direction(run, "S20") == "from S19 and on to S21"


def test_of_a_run_of_many_groups_the_first_are_named():
    (run,) = read_job(f"panel P\nbox A\nwires P > A {', '.join(['2 x #12 thhn'] * 10)}\n").runs
    assert run_name(run, "A") == ", ".join(["2 x #12"] * 8) + " and 2 more from P"


@pytest.mark.parametrize(
    ("base", "told"),
    [
        ("marked 20 in3 plastic 1-gang", True),
        ("marked 20 in3", True),  # nobody says what it is made of
        ("unmarked", True),
        ("marked 200 in3 metal", False),
        ("square 4 x 1-1/2", False),  # the sizes of the table are those of metal boxes
        ("inside 6 x 6 x 4 in", False),
        ("", True),
    ],
)
def test_before_2017_sheath_comes_into_what_may_be_a_nonmetallic_box(base: str, told: bool):
    found = reminders(in_box("", CABLE, base=base), 2014, "covers")
    assert any("sheath" in reminder.text for reminder in found) is told


def test_one_conductor_that_ends_among_others_that_pass_needs_free_length():
    sheet = in_box("", "wires ? > ? 2 x #12 through A", "wires A > ? 1 x #12")
    assert len(reminders(sheet, 2023, "free-conductor")) == 1


def test_a_marking_is_read_by_looking_in():
    assert asked(in_box("clamps none", CABLE, base="marked ? in3")) == {"the volume marked in A": 0}


# ---- sizes nobody knows ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["nm-b", "uf-b", "mc", "ac", "old", "?"])
def test_a_cable_of_unknown_size_may_be_as_thick_as_6_awg_of_any_kind(kind: str):
    sheet = in_box("clamps none", f"run A > ? ?/2 {kind}")
    assert {line.each for line in lines(sheet, rule="box-fill-conductors")} == {5}  # the allowance of #6
    (question,) = [text for text in asked(sheet) if text.startswith("the size of ")]
    assert question.endswith("taken up to #6, as #4 and larger go by pull-box distances")


@pytest.mark.parametrize(
    ("wires", "least", "most"),
    [
        ("2 x #12, ground ?", "2.00", "2.25"),  # 14 AWG to the circuit's 12
        ("2 x #6, ground ?", "2.00", "5.00"),
        ("2 x #12, 1 x #10, ground ?", "2.00", "2.50"),
        ("2 x #18, ground ?", "1.50", "2.00"),
        ("2 x #14, ground ?", "2.00", "2.00"),
    ],
)
def test_a_ground_of_unknown_size_is_bounded_by_its_circuit(wires: str, least: str, most: str):
    sheet = in_box("clamps none", f"wires A > ? {wires}")
    found = finding(sheet)
    grounds = [
        line.amount
        for taken in (found.best or found.worst, found.worst)
        for line in taken.need
        if line.rule == "box-fill-grounds"
    ]
    assert grounds == [Decimal(least), Decimal(most)]
    assert report(sheet).readings == {"unknown-ground": ["A"]}


def test_a_ground_beside_conductors_nobody_knows_may_be_of_any_size():
    sheet = in_box("clamps none", "wires A > ? 2 x #?, ground ?")
    assert report(sheet).readings == {}


def test_a_question_that_moves_nothing_is_not_asked():
    # 12 AWG is in the box, so whether a thinner device wire is a 14 or a 12 changes the yoke and nothing of the clamp
    sheet = in_box("clamps ?; switch #12; module #14", "run A > ? 12/2 nm-b", base="marked 12 in3")
    found = finding(sheet)
    assert all(fact.swing for fact in found.facts)


def test_what_decides_a_depth_does_not_ask_for_what_has_no_part_in_it():
    sheet = in_box("clamps ?; receptacle #12 projects 1-1/4 in", "run A > ? 12/2 nm-b", base="square 4 x ?")
    found = finding(sheet, rule="box-depth")
    assert [fact.question for fact in found.facts] == ["how deep A is: square 4"]


def test_two_sizes_that_decide_together_are_both_asked_with_what_each_value_settles():
    """Clamps and a stud go by the largest wire: four times #6 is 20.00 of 14; with one #6 and the other #18 still
    16.50. With one #8 it depends on the other: 3 x 3.00 + 1.50 = 10.50, or 20.00 - 2.00 = 18.00.
    """
    sheet = in_box("clamps inside; stud; 2 x pigtail #14", "wires A > ? 1 x #?, 1 x #?", base="marked 14 in3")
    found = finding(sheet)
    assert found.verdict.word == "check needed"
    assert found.worst.needed == 20
    assert found.best.needed == 7  # two by the #14 pigtail, and twice 1.50
    assert [fact.settles for fact in found.facts] == ["#18, #16, #14, #12, #10, #8: check needed; #6: fails"] * 2
