"""What stands in a sheet and no rule judges is counted and told, and such a job is never a plain pass."""

import pytest

from ampleroom import Verdict, check, read_job
from ampleroom.job.subjects import SUBJECTS, not_judged
from ampleroom.rules.kinds import judged_names

BOX = "edition 2020\nbox J1\n  square 4 x 2-1/8\n  clamps inside\npanel P 120/240 V\nrun P > J1 12/2 nm-b 30 ft\n"


def text(more):
    return check(read_job(BOX + more)).not_judged_text


@pytest.mark.parametrize(
    "more",
    [
        "",
        "circuit 3 for the bench\n",
        "circuit 3 240 V on P\n",
        "route attic 24 ft at the ridge\n",
        "equipment K1 at the kiln\n",
        "wires J1 > ? 2 x #14\n",
    ],
)
def test_boxes_and_plain_runs_are_all_judged(more):
    report = check(read_job(BOX + more))
    assert report.not_judged == ()
    assert report.verdict is Verdict.PASSES


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("load range 12 kW\n", "1 load"),
        ("load 2 x heater 2 kW\n", "2 loads"),
        ("panel Q 120/240 V main 200 A\n", "1 panel"),
        ("panel Q bus 225 A\npanel R terminals 75 C\n", "2 panels"),
        ("route attic ambient 110 F\n", "1 route"),
        ("run J1 > ? 14/2 nm-b in insulation\n", "1 run in insulation"),
        ("load range 12 kW\nload dryer 5 kW\n", "2 loads"),
    ],
)
def test_what_no_rule_judges_is_counted_and_leaves_the_job_open(more, told):
    report = check(read_job(BOX + more))
    assert report.not_judged_text == f"Not judged: {told}"
    assert report.verdict is Verdict.OPEN
    assert report.subjects[0].verdict is Verdict.PASSES


@pytest.mark.parametrize("rated", ["20 A", "? A", "1500 VA", "20 A 3000 VA continuous", "mca 22 A", "motor 5 hp"])
def test_a_circuit_with_a_breaker_a_load_or_a_nameplate_is_judged_and_one_without_wires_is_open(rated):
    report = check(read_job(f"{BOX}circuit 3 {rated}\ncircuit 5 for lights\n"))
    assert report.not_judged == ()
    assert [subject.name for subject in report.subjects if subject.kind == "circuit"] == ["circuit 3"]
    assert report.verdict is Verdict.OPEN


def test_the_heat_along_the_runs_of_a_judged_circuit_is_judged_with_it():
    more = "route attic ambient 110 F\nequipment M\nrun P > M 12/2 nm-b by attic in insulation"
    assert text(more + "\n") == "Not judged: 1 route, 1 run in insulation"
    assert text(f"{more} circuit 3\ncircuit 3 20 A\n") == ""
    assert text(f"{more} circuit 3\ncircuit 3 for lights\n") == "Not judged: 1 route, 1 run in insulation"


def test_a_job_that_fails_fails_whatever_was_not_judged():
    report = check(read_job(BOX + "load range 12 kW\nrun J1 > ? 9 x 12/2 nm-b\n"))
    assert report.verdict is Verdict.FAILS
    assert report.not_judged_text == "Not judged: 1 load"


def test_what_a_kind_covers_is_no_longer_told_as_not_judged():
    job = read_job(BOX + "raceway R1 P > J1 emt 1\nload range 12 kW\n")
    assert [each.text for each in not_judged(job, {"box"})] == ["1 raceway", "1 load"]
    assert [each.text for each in not_judged(job, {"box", "raceway"})] == ["1 load"]


def test_every_kind_covers_what_a_sheet_may_hold_and_boxes_are_judged():
    assert judged_names() <= {each.name for each in SUBJECTS}
    assert "box" in judged_names()


def test_the_json_says_how_many_of_each_kind_and_one_box_alone_says_nothing_of_the_rest():
    report = check(read_job(BOX + "raceway R1 P > J1 emt 1\nload range 12 kW\n"))
    answer = report.to_json()
    assert answer["verdict"] == "check needed"
    assert answer["not_judged"] == [
        {"kind": "load", "number": 1, "text": "1 load"},
    ]
    alone = report.subject_alone_json(report.subjects[0])
    assert (alone["verdict"], alone["not_judged"]) == ("passes", [])
