"""The job map: every place and run, few crossings, and words that can be read."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given

from ampleroom import check
from ampleroom.job.model import Job
from ampleroom.pictures.drawing import Dot, Line, Text
from ampleroom.pictures.job_map import TONES, job_map, layout_of
from ampleroom.pictures.svg import svg
from ampleroom.worksheet import Verdict
from tests.pictures.boxes import outside, overlapping_texts
from tests.pictures.helpers import example, rects, report, texts
from tests.strategies import examples, jobs


def lines(drawing, dashed):
    """The solid or the dashed lines under the legend, a curve as short straight pieces."""
    return [
        list(pairwise(points_of(shape)))
        for shape in drawing.shapes
        if isinstance(shape, Line) and shape.dashed == dashed and shape.points[0][1] > 70
    ]


def points_of(line):
    if not line.curved:
        return line.points
    (x1, y1), (x2, y2) = line.points
    bend = max(18.0, abs(x2 - x1) / 2)
    steps = [number / 24 for number in range(25)]
    corners = ((x1, y1), (x1 + bend, y1), (x2 - bend, y2), (x2, y2))
    return [
        tuple(
            (1 - t) ** 3 * corners[0][k] + 3 * t * (1 - t) ** 2 * corners[1][k]
            + 3 * t * t * (1 - t) * corners[2][k] + t**3 * corners[3][k]
            for k in (0, 1)
        )
        for t in steps
    ]  # fmt: skip


def cross(one, other):
    """Whether two straight pieces cross; those that only touch at an end do not."""
    (a, b), (c, d) = one, other

    def side(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-6 and side(c, d, a) * side(c, d, b) < -1e-6


def meet(one, other):
    """Whether two lines cross anywhere; those whose frames lie apart cannot."""
    frames = []
    for line in (one, other):
        xs, ys = zip(*(point for piece in line for point in piece), strict=True)
        frames.append((min(xs), max(xs), min(ys), max(ys)))
    (left, right, top, bottom), (left2, right2, top2, bottom2) = frames
    if left > right2 or left2 > right or top > bottom2 or top2 > bottom:
        return False
    return any(cross(p, q) for p in one for q in other)


def crossings(some, others):
    return sum(meet(one, other) for one in some for other in others)


def crossings_among(some):
    return sum(meet(one, other) for one, other in combinations(some, 2))


@pytest.mark.parametrize("name", ["studio", "rowhouse"])
def test_the_tree_of_runs_crosses_itself_nowhere(name):
    assert crossings_among(lines(job_map(example(name)), dashed=False)) == 0


@pytest.mark.parametrize(("name", "most"), [("studio", 1), ("rowhouse", 8)])
def test_what_closes_a_loop_crosses_little(name, most):
    """One loop in the studio, three in each of four houses."""
    drawing = job_map(example(name))
    assert crossings(lines(drawing, dashed=True), lines(drawing, dashed=False)) <= most


@pytest.mark.parametrize("name", ["studio", "rowhouse"])
def test_no_words_stand_on_one_another_or_leave_the_page(name):
    drawing = job_map(example(name))
    assert overlapping_texts(drawing) == []
    assert outside(drawing) == []


@pytest.mark.parametrize("name", ["studio", "rowhouse"])
def test_every_place_is_drawn_once(name):
    found = example(name)
    written = texts(job_map(found))
    for place in found.job.places():
        assert written.count(place.name) == 1


@examples(40)
@given(jobs(unknowns=True, extras=True))
def test_every_box_of_a_random_job_is_drawn_with_its_verdict(job):
    found = check(job)
    drawing = job_map(found)
    dots = [shape for shape in drawing.shapes if isinstance(shape, Dot) and shape.y > 80]
    shapes = {"fails": "square", "check needed": "diamond", "passes": "circle", "advice": "triangle"}
    assert sorted(dot.shape for dot in dots) == sorted(
        shapes[box.verdict.word]
        for box in found.subjects
        if box.kind in ("box", "conduit body", "wireway", "gutter", "panel")
    )
    assert {box.name for box in job.boxes} <= set(texts(drawing))


def test_a_verdict_that_is_not_good_is_told_in_a_word_too():
    written = texts(
        job_map(
            report(
                "edition 2020\n"
                "box A\n"
                "  marked 1 in3\n"
                "  clamps none\n"
                "run A > ? 12/2 nm-b\n"
                "box B\n"
                "  marked ? in3\n"
                "run B > ? 12/2 nm-b\n"
            )
        )
    )
    assert written.count("fails") == 2  # in the legend and beside A
    assert written[written.index("B") + 1] == "?"


def test_a_run_is_drawn_with_its_circuit_and_its_cable():
    sheet = (
        "edition 2020\n"
        "panel P\n"
        "box A\n"
        "  marked 30 in3\n"
        "box B\n"
        "  marked 30 in3\n"
        "circuit 7 20 A\n"
        "run P > A 12/2 nm-b circuit 7\n"
        "run A > B 3 x 14/2 mc\n"
    )
    written = texts(job_map(report(sheet)))
    assert "7: 12/2" in written
    assert "3 x 14/2 mc" in written


def tones(drawing):
    """The roles of the lines between places, under the legend."""
    return [shape.role for shape in drawing.shapes if isinstance(shape, Line) and shape.points[0][1] > 70]


def test_all_runs_of_a_circuit_are_of_one_tone_and_neighbors_of_another():
    sheet = "edition 2020\npanel P\n" + "".join(f"box {name}\n  marked 90 in3\n" for name in "ABCDE")
    sheet += "run P > A 12/2 nm-b circuit 1\nrun A > B 12/2 nm-b circuit 1\nrun P > C 12/2 nm-b circuit 2\n"
    sheet += "run P > D 12/2 nm-b circuit 3\nrun P > E 12/2 nm-b\n"
    found = tones(job_map(report(sheet)))
    assert [found.count(role) for role in (*TONES, "faint")] == [4, 2, 2, 2]  # each run is a curve and a level line
    several = sheet.replace("circuit 2\n", "circuit 2\nrun P > C 12/2 nm-b circuit 3\n")
    assert tones(job_map(report(several))).count("faint") == 4
    assert "one tone" not in " ".join(texts(job_map(report(sheet.replace(" circuit ", " for "))))).lower()


def test_an_end_nobody_knows_is_drawn_as_a_question():
    sheet = (
        "edition 2020\npanel P\nbox A\n  marked 30 in3\nrun P > A 12/2 nm-b\nrun A > ? 12/2 nm-b\nrun A > ? 14/2 nm-b\n"
    )
    drawing = job_map(report(sheet))
    questions = [shape for shape in drawing.shapes if isinstance(shape, Text) and shape.text == "?" and shape.y > 80]
    assert len(questions) == 2


def test_several_runs_between_two_places_are_one_thick_line():
    sheet = "edition 2020\npanel P\nbox A\n  marked 60 in3\nrun P > A 12/2 nm-b\nrun P > A 14/2 nm-b\n"
    drawing = job_map(report(sheet))
    thick = [shape.thick for shape in drawing.shapes if isinstance(shape, Line) and shape.points[0][1] > 70]
    assert set(thick) == {2.6}
    assert "12/2, 14/2" in texts(drawing)


def test_a_loop_is_dashed_and_labeled():
    sheet = "edition 2020\npanel P\n" + "".join(f"box {name}\n  marked 90 in3\n" for name in "ABC")
    sheet += "run P > A 12/2 nm-b\nrun P > B 12/2 nm-b\nrun A > C 12/2 nm-b\nrun B > C 10/3 nm-b\nrun A > B 10/2 nm-b\n"
    drawing = job_map(report(sheet))
    assert lines(drawing, dashed=True)
    assert {"10/3", "10/2"} <= set(texts(drawing))
    assert overlapping_texts(drawing) == []


def test_a_run_from_a_box_into_itself_is_drawn():
    sheet = (
        "edition 2020\n"
        "box A\n"
        "  marked 60 in3\n"
        "  barrier plastic\n"
        "  space l 1/2\n"
        "  space r 1/2\n"
        "run A/l > A/r 12/2 nm-b\n"
    )
    assert len(lines(job_map(report(sheet)), dashed=True)) == 1


def test_a_job_without_runs_or_boxes_is_drawn():
    assert texts(job_map(report("edition 2020\nbox A\n  marked 9 in3\n  switch #14\n")))[-1] == "A"
    assert job_map(report("edition 2020\npanel P\n")).high > 0
    assert job_map(check(Job(edition=2020))).description == "0 boxes, 0 panels, 0 runs: nothing to check."


def test_the_same_job_is_always_the_same_map():
    assert svg(job_map(example("rowhouse"))) == svg(job_map(example("rowhouse")))


def test_a_panel_and_equipment_have_shapes_of_their_own():
    rounded = [rect.rounded for rect in rects(job_map(example("studio")), "room")]
    assert sorted(rounded) == [0, 0, 9, 9]  # two of each


def test_a_long_chain_is_laid_out():
    sheet = "edition 2020\npanel P\n" + "".join(f"box B{n}\n  marked 30 in3\n" for n in range(400))
    sheet += "run P > B0 12/2 nm-b\n" + "".join(f"run B{n} > B{n + 1} 12/2 nm-b\n" for n in range(399))
    drawing = job_map(report(sheet))
    assert {f"B{n}" for n in range(400)} <= set(texts(drawing))


def test_the_description_says_what_fails():
    assert job_map(example("studio")).description == (
        "13 boxes, 2 panels, 19 runs: 2 fail, 2 need a check, 19 pass; not judged: 2 panels. Failing: A1, A2."
    )


WIREWAYS = """edition 2023
panel P
equipment K1
box J1
  inside 12 x 12 x 6 in
wireway W1 P > J1 4 x 4 5 ft no splices
raceway R1 P > W1 emt 2 10 ft
raceway R2 W1 > K1 emt 1 10 ft
wires P > J1 12 x #10 thhn in W1
wires P > K1 3 x #6 thhn, ground #10 in R1 then R2
wireway W9 2.5 x 2.5 no splices
"""


def test_a_wireway_stands_between_the_places_whose_wires_lie_in_it():
    """Named by a run, or met by a raceway of it; one with nothing in it stands alone, with its verdict."""
    layout = layout_of(report(WIREWAYS))
    tree = {node.name: [child.name for child in node.children] for node in layout.nodes}
    assert tree == {"P": ["W1"], "W1": ["J1", "K1"], "J1": [], "K1": [], "W9": []}
    assert layout.verdicts["W9"] is Verdict.OPEN
    assert not layout.loops
