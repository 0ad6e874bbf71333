"""The job as a graph: runs at a place, wires in a raceway, circuits as trees, company along a stretch."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given

from ampleroom import check, read_job
from ampleroom.job import UNKNOWN
from ampleroom.job.edit import PutRun, changed, edited
from ampleroom.job.graph import Graph
from ampleroom.job.model import Job, Stop
from ampleroom.job.writer import written
from ampleroom.record import replace
from tests.helpers import lines_run
from tests.strategies import examples, jobs

SHEET = """edition 2020
panel P
panel Q
circuit 1 20 A on P
circuit 3 15 A
box A
box B
box C
box D
raceway R1 P > A emt 1
raceway R2 A > B emt 3/4
raceway R3 C > D emt 3/4
route loft ambient 43 C
run P > A > B 12/2 nm-b circuit 1
run D > B 12/2 nm-b circuit 1
run B > ? 12/2 nm-b circuit 1
run A > B 12/2 nm-b circuit 1
run C > ? 12/2 nm-b circuit 1
wires P > B 3 x #12 thhn through A in R1 then R2 by loft circuit 3+5
wires B > P 3 x #10 thhn through A in R1 then emt 3/4 by loft by loft
run Q > D > C 14/2 nm-b circuit 7
circuit 5
circuit 7
"""


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(SHEET)


def lines_of(runs):
    return [run.at.line for run in runs]


def test_a_graph_is_built_once_and_kept_with_its_job(job):
    assert job.graph is job.graph
    assert job.graph_at("A") is job.graph
    assert job.graph.runs_at is job.graph.runs_at


def test_the_graph_of_one_place_is_built_of_its_runs_alone_and_says_the_same_of_it():
    fresh = read_job(SHEET)
    near = fresh.graph_at("A")
    assert near is not fresh.graph
    assert near.runs_at["A"] == fresh.graph.runs_at["A"]
    assert near.raceways_at["A"] == fresh.graph.raceways_at["A"]


def test_the_runs_at_a_place_end_there_or_pass_it_in_the_order_of_the_sheet(job):
    assert [(run.at.line, type(met).__name__) for run, met in job.graph.runs_at["A"]] == [
        (14, "Stop"), (14, "Stop"), (17, "Stop"), (19, "Through"), (20, "Through"),
    ]  # fmt: skip
    assert "?" not in job.graph.runs_at
    assert UNKNOWN not in job.graph.runs_at


def test_ends_nobody_found_are_kept_apart(job):
    assert lines_of(run for run, _ in job.graph.open_ends) == [16, 18]


def test_a_raceway_is_where_it_ends_and_where_the_runs_in_it_are(job):
    names = {place: [raceway.name for raceway in each] for place, each in job.graph.raceways_at.items()}
    assert names == {"P": ["R1"], "A": ["R1", "R2"], "B": ["R2"], "C": ["R3"], "D": ["R3"]}
    only = read_job(SHEET + "wires P > D 2 x #12 thhn in R1\n").graph.raceways_at
    assert [raceway.name for raceway in only["D"]] == ["R3", "R1"]


def test_the_wires_in_a_raceway_and_along_a_route(job):
    assert {name: lines_of(runs) for name, runs in job.graph.runs_in.items()} == {"R1": [19, 20], "R2": [19]}
    assert {name: lines_of(runs) for name, runs in job.graph.runs_along.items()} == {"loft": [19, 20]}


def test_who_shares_each_stretch_with_a_run(job):
    *_, loft = job.graph.company(job.runs[5])
    assert (loft.kind, loft.name, lines_of(loft.runs)) == ("route", "loft", [19, 20])
    stretches = [(each.kind, each.name, lines_of(each.runs)) for each in job.graph.company(job.runs[6])]
    assert stretches == [("raceway", "R1", [19, 20]), ("raceway", "", [20]), ("route", "loft", [19, 20])]


def steps(branches):
    return [(branch.run.at.line, branch.start_stop.name, branch.end_stop.name, branch.before) for branch in branches]


def test_a_circuit_is_a_tree_from_its_panel_whichever_way_round_runs_are_written(job):
    tree = job.graph.tree("1")
    assert tree.source == "P"
    assert steps(tree.branches) == [(14, "P", "A", None), (14, "A", "B", 0), (15, "B", "D", 1), (16, "B", UNKNOWN, 1)]
    assert steps(tree.back) == [(17, "A", "B", 0)]
    assert lines_of(tree.apart) == [18]
    assert tree.last == (2, 3)
    assert steps(tree.path(3)) == [(14, "P", "A", None), (14, "A", "B", 0), (16, "B", UNKNOWN, 1)]


def test_a_run_of_two_circuits_is_in_both_trees(job):
    assert [steps(job.graph.tree(name).branches) for name in ("3", "5")] == [[(19, "P", "B", None)]] * 2


def test_a_circuit_is_fed_from_the_only_panel_its_runs_reach_and_else_from_none(job):
    assert job.graph.tree("7").source == "Q"
    both = read_job(SHEET + "run P > C 14/2 nm-b circuit 7\n").graph.tree("7")
    assert (both.source, both.branches, lines_of(both.apart)) == (None, (), [21, 24])
    assert job.graph.tree("9").apart == ()


def test_two_unknown_ends_are_two_places():
    job = read_job("edition 2020\npanel P\nbox A\nrun P > ? > A 12/2 nm-b circuit 1\nrun ? > A 12/2 nm-b circuit 1\n")
    tree = job.graph.tree("1")
    assert [(branch.run.at.line, branch.start, branch.end) for branch in tree.branches] == [
        (4, 0, 1),
        (4, 1, 2),
        (5, 1, 0),
    ]


def test_alike_runs_are_two_and_not_one():
    graph = read_job("edition 2020\npanel P\nbox A\n" + "run P > A 12/2 nm-b circuit 1\n" * 2).graph
    tree = graph.tree("1")
    assert (lines_of(run for run, _ in graph.runs_at["A"]), len(tree.branches), len(tree.back)) == ([4, 5], 1, 1)


# ---- where raceways end off the path of a run ----------------------------------------------------------------------


def assumed(line: str) -> list[str]:
    return [text for text in read_job(SHEET + line + "\n").assumptions if "raceway" in text]


def test_a_raceway_that_ends_where_its_run_is_not_is_told():
    (text,) = assumed("wires P > D 2 x #12 thhn in R1")
    assert text == (
        "Assumes that nothing passes where a raceway ends unless its run says so: R1 at A (line 24). If the wires pass "
        "there, they count in that box: write through A"
    )


@pytest.mark.parametrize(
    "line",
    [
        "wires P > D 2 x #12 thhn through A in R1",
        "wires P > A > B 2 x #12 thhn in R1 then R2",
        "wires P > ? 2 x #12 thhn in R1",
        "wires P > D 2 x #12 thhn through A in R1 then emt 3/4",
        "wires P > D 2 x #12 thhn in emt 3/4",
        "run P > D 12/2 nm-b through A, C in R1 then R3",
    ],
)
def test_nothing_is_told_where_every_raceway_of_a_run_ends_on_its_path(line):
    assert assumed(line) == []


def test_one_unknown_end_may_be_one_of_the_places_and_not_two():
    assert assumed("wires P > ? 2 x #12 thhn in R1 then R2") != []


def test_single_wires_need_a_raceway_between_two_that_do_not_meet():
    (text,) = assumed("wires P > D 2 x #12 thhn through A, C in R1 then R3")
    assert text == (
        "Assumes another raceway between two that do not meet: R1 and R3 (line 24). Name it, such as: "
        "in R1 then emt ? then R3"
    )
    assert assumed("wires P > D 2 x #12 thhn through A, C in R1 then emt ? then R3") == []


def test_many_are_counted_and_not_all_named():
    (text,) = assumed("\n".join(["wires P > D 2 x #12 thhn in R1"] * 9))
    assert "R1 at A (line 29) and 3 more. If" in text


# ---- work ----------------------------------------------------------------------------------------------------------


def chain(number: int) -> str:
    boxes = "".join(f"box B{n}\n" for n in range(number))
    runs = "".join(f"run B{n} > B{n + 1} 12/2 nm-b circuit 1 in R{n} by loft\n" for n in range(number - 1))
    raceways = "".join(f"raceway R{n} B{n} > B{n + 1} emt 1\n" for n in range(number - 1))
    return boxes + "run P > B0 12/2 nm-b circuit 1\n" + runs + raceways


def star(number: int) -> str:
    return "raceway R0 P > A emt 4\nbox A\n" + "wires P > A 2 x #12 thhn circuit 1 in R0 by loft\n" * number


def many_circuits(number: int) -> str:
    panels = "".join(f"panel P{n}\nrun P{n} > A 12/2 nm-b circuit {n}\n" for n in range(number))
    return f"box A\n{panels}"


def one_long_run(number: int) -> str:
    boxes = "".join(f"box B{n}\n" for n in range(number))
    raceways = "".join(f"raceway R{n} B{n} > B{n + 1} emt 1\n" for n in range(number - 1))
    stops = " > ".join(f"B{n}" for n in range(number))
    within = " then ".join(f"R{n}" for n in range(number - 1))
    return f"{boxes}{raceways}wires P > {stops} 2 x #12 thhn in {within} circuit 1\n"


def whole(job: Job) -> None:
    """Everything a graph has to say of a job, but for the paths, which are as long as they are."""
    graph = Graph(job)
    graph.runs_at, graph.raceways_at, graph.open_ends, graph.unsaid_ends, graph.parted_raceways
    for circuit in graph.runs_of:
        assert graph.tree(circuit).branches
    for run in job.runs:
        assert all(run in stretch.runs[:1] or stretch.runs for stretch in graph.company(run))


@pytest.mark.parametrize("shape", [chain, star, many_circuits, one_long_run], ids=lambda shape: shape.__name__)
def test_a_graph_of_twice_the_job_is_twice_the_work(shape: Callable[[int], str]):
    counted = []
    for number in (60, 120, 240):
        sheet = read_job(f"edition 2020\npanel P\nroute loft\n{shape(number)}")
        counted.append(lines_run(lambda sheet=sheet: whole(sheet)))  # type: ignore[misc]
    small, middle, large = counted
    assert large - middle <= 2.25 * max(middle - small, 400)


# ---- any job -------------------------------------------------------------------------------------------------------


def ends_of(stop: Stop) -> object:
    return id(stop) if stop.name is UNKNOWN else stop.name


@examples(80)
@given(jobs(unknowns=True, extras=True))
def test_the_tree_of_any_circuit_reaches_what_a_plain_flood_does(job: Job):
    graph = job.graph
    for circuit in {run.circuit for run in job.runs if run.circuit}:
        tree = graph.tree(circuit)
        runs = [run for run in job.runs if run.circuit == circuit]
        reached: set[object] = set() if tree.source is None else {tree.source}
        for _ in runs:  # as often as there are runs: then nothing more can be reached
            for run in runs:
                if reached & set(map(ends_of, run.stops)):
                    reached |= set(map(ends_of, run.stops))
        assert {tree.source, *(ends_of(branch.end_stop) for branch in tree.branches)} - {None} == reached
        walked = sorted((id(each.run), min(each.start, each.end)) for each in (*tree.branches, *tree.back))
        connected = [run for run in runs if reached & set(map(ends_of, run.stops))]
        assert walked == sorted((id(run), number) for run in connected for number in range(len(run.stops) - 1))
        assert [id(run) for run in tree.apart] == [id(run) for run in runs if run not in connected]
        for number, branch in enumerate(tree.branches):
            path = tree.path(number)
            assert path[-1] is branch
            assert ends_of(path[0].start_stop) == tree.source
            assert all(ends_of(one.end_stop) == ends_of(other.start_stop) for one, other in pairwise(path))


@examples(80)
@given(jobs(unknowns=True, extras=True))
def test_one_place_alone_is_as_in_the_whole_job(job: Job):
    for box in job.boxes:
        near = Graph(job, tuple([run for run in job.runs if box.name in run.place_names]))
        assert near.runs_at.get(box.name) == job.graph.runs_at.get(box.name)
        assert near.raceways_at.get(box.name) == job.graph.raceways_at.get(box.name)


# ---- boxes between two raceways of a run ---------------------------------------------------------------------------


JOINED = """edition 2020
panel P
panel S
box PB1
  inside 24 x 12 x 6 in
raceway R1 P > PB1 emt 2
raceway R2 PB1 > S emt 2
raceway R3 PB1 > S emt 2
"""


def passed(line: str, sheet: str = JOINED) -> list[tuple[str, bool]]:
    (run,) = read_job(f"{sheet}{line}\n").runs
    return [(place.name, place.derived) for place in run.through]


@pytest.mark.parametrize(
    ("line", "places"),
    [
        ("wires P > S 3 x 3/0 thhn in R1, R2", [("PB1", True)]),
        ("wires P > S 3 x 3/0 thhn in r1 then r2", [("PB1", True)]),
        ("wires P > S 3 x 3/0 thhn through PB1 in R1, R2", [("PB1", False)]),
        ("wires P > PB1 > S 3 x 3/0 thhn in R1, R2", []),
        ("wires P > PB1 3 x 3/0 thhn in R1, R2", []),
        ("wires P > S 3 x 3/0 thhn in R1", []),
        ("wires P > ? 3 x 3/0 thhn in R2, R3", []),  # they end together at both ends: the sheet has to say where
        ("wires P > S 3 x 3/0 thhn in R1, emt 2, R2", []),
    ],
)
def test_wires_pass_the_box_where_two_of_their_raceways_meet(line: str, places: list[tuple[str, bool]]):
    assert passed(line) == places


def test_a_divided_box_is_passed_on_the_side_the_sheet_says():
    divided = JOINED.replace(
        "24 x 12 x 6 in\n", "24 x 12 x 6 in\n  barrier metal\n  space left 1/2\n  space right 1/2\n"
    )
    assert passed("wires P > S 3 x #6 thhn in R1, R2", divided) == []


def test_wires_that_pass_unsaid_are_counted_there_and_told():
    job = read_job(f"{JOINED}wires P > S 4 x #12 thhn in R1, R2\n")
    (box,) = check(job).of("box")
    (fill,) = [finding.worst for finding in box.findings if finding.rule == "box-fill"]
    assert fill is not None
    assert fill.needed == Decimal("9.00")  # four conductors that pass, 2.25 each
    assert job.assumptions == (
        "Takes wires to go straight through where two of their raceways meet: PB1 (line 9). If they are spliced there, "
        "write the box between the ends, such as: P > PB1 > S",
    )


def test_what_a_sheet_does_not_say_is_not_written_into_it():
    job = read_job(f"{JOINED}wires P > S 3 x 3/0 thhn in R1, R2\n")
    (run,) = job.runs
    assert written(run) == "wires P > S 3 x #3/0 thhn in R1 then R2"
    longer = replace(run, length=Decimal(40))
    assert read_job(edited(job, (PutRun(longer, run),))) == changed(job, (PutRun(longer, run),))
