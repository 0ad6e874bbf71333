"""A circuit's tree: lengths to scale, volts as the finding has them, words that stand clear, and nothing left out
untold.
"""

from __future__ import annotations

import random
import re
from decimal import Decimal

import pytest

from ampleroom.pictures.along import MOST_STEPS, Along, path_of
from ampleroom.pictures.circuit_tree import circuit_tree
from ampleroom.pictures.drawing import Dot, Drawing, Line
from ampleroom.pictures.svg import svg
from ampleroom.report import Report
from tests.pictures.boxes import outside, overlapping_texts
from tests.pictures.helpers import example, parsed, report, texts

HEAD = "edition 2020\npanel P 120/240 V terminals 75 C\ncable nm-b spaced\n"
FORK = HEAD + (
    "circuit 3 20 A 1500 VA for benches\nbox J1\nbox W1\nbox W2\nbox S1\n"
    "run P > J1 12/2 nm-b 38 ft circuit 3\nrun J1 > W1 12/2 nm-b 22 ft circuit 3\n"
    "run W1 > W2 10/2 nm-b 8 ft circuit 3\nrun J1 > S1 12/2 nm-b 15 ft circuit 3\n"
)


def drawing(found: Report, name: str = "3") -> Drawing:
    picture = circuit_tree(found, found.subject(name))
    assert picture is not None
    return picture


def path(found: Report, name: str = "circuit 3") -> Along:
    steps = path_of(found.job, name, found.book)
    assert steps is not None
    return steps


def tree(places: int, forks: float, seed: int, feet: str = "ft") -> str:
    """A random circuit of so many places; ``forks``: how often it goes on from an earlier place."""
    dice = random.Random(seed)
    lines, runs = [HEAD + "circuit 3 20 A 1500 VA for a long name of what it is for"], []
    for number in range(places):
        lines.append(f"box bench-{number}")
        start = f"bench-{dice.randrange(number) if dice.random() < forks else number - 1}" if number else "P"
        length = f"{dice.randrange(1, 60)} ft" if feet else ""
        runs.append(f"run {start} > bench-{number} {dice.choice(['12/2', '10/3'])} nm-b {length} circuit 3")
    return "\n".join([*lines, *runs, ""])


@pytest.mark.parametrize(("places", "forks", "feet"), [
    (1, 0, "ft"), (2, 0, "ft"), (7, 0.5, ""), (12, 1, "ft"), (40, 0, "ft"), (40, 0.4, "ft"), (41, 0, "ft"),
    (200, 0.2, "ft"),
])  # fmt: skip
def test_words_stand_clear_and_on_the_page_however_many_places(places: int, forks: float, feet: str):
    found = report(tree(places, forks, places, feet))
    picture = drawing(found)
    assert overlapping_texts(picture) == []
    assert outside(picture) == []
    parsed(svg(picture))
    shown = [text for text in texts(picture) if re.fullmatch(r"bench-\d+", text)]
    assert len(shown) == min(places, MOST_STEPS)
    told = [text for text in texts(picture) if "left out" in text]
    assert told == ([f"{places - MOST_STEPS} of {places} places are left out; the way to the farthest down is here."]
                    if places > MOST_STEPS else [])  # fmt: skip


def test_lengths_are_to_scale():
    picture = drawing(report(FORK))
    level = [shape for shape in picture.shapes if isinstance(shape, Line) and shape.role in ("ink", "faint")]
    longs = sorted(abs(x - far) for ((x, y), (far, bottom)) in (line.points for line in level) if y == bottom)
    feet = sorted((38, 22, 8, 15))
    assert [long / longs[-1] for long in longs] == pytest.approx([each / 38 for each in feet])


def test_volts_are_those_of_the_finding_and_the_farthest_is_marked():
    found = report(FORK)
    (finding,) = [each for each in found.subject("3").findings if each.rule == "voltage-drop"]
    steps = path(found)
    assert steps.farthest is not None
    assert finding.worst is not None
    assert steps.farthest.place == "W2"
    assert steps.farthest.lost == finding.worst.needed
    by_hand = {"J1": "1.88", "W1": "2.97", "W2": "3.22", "S1": "2.62"}  # 12.5 A, 1.98 and 1.24 ohms in 1,000 ft
    assert {step.place: str(step.lost) for step in steps.steps} == by_hand
    assert {step.place: step.ampacity for step in steps.steps} == {**dict.fromkeys(by_hand, "20 A"), "W2": "30 A"}
    (mark,) = [shape for shape in drawing(found).shapes if isinstance(shape, Dot) and shape.shape == "diamond"]
    assert mark.role == "passes"
    over = report(FORK.replace("38 ft", "80 ft"))
    (mark,) = [shape for shape in drawing(over).shapes if isinstance(shape, Dot) and shape.shape == "diamond"]
    assert mark.role == "advice"


def test_loads_stand_at_their_places_with_what_each_run_carries():
    placed = FORK.replace(" 1500 VA", "").replace(" 8 ft circuit 3", " 8 ft circuit 3 load 900 VA").replace(
        " 15 ft circuit 3", " 15 ft circuit 3 load 600 VA"
    )  # fmt: skip
    found = report(placed)
    steps = {step.place: step for step in path(found).steps}
    assert {place: step.load for place, step in steps.items() if step.load} == {"W2": "900 VA", "S1": "600 VA"}
    carries = {"J1": "12.50 A", "W1": "7.50 A", "W2": "7.50 A", "S1": "5.00 A"}
    assert {place: step.carries for place, step in steps.items()} == carries
    assert {"load", "carries", "900 VA", "7.50 A"} <= set(texts(drawing(found)))
    assert overlapping_texts(drawing(found)) == []


def test_what_is_not_written_is_no_length_of_zero():
    found = report(FORK.replace(" 22 ft", ""))
    steps = {step.place: step for step in path(found).steps}
    assert steps["W1"].feet is None
    assert steps["W2"].lost_text.endswith("or more")
    assert steps["S1"].lost_text == "2.62 V, 2.2 %"
    said = " ".join(texts(drawing(found)))
    assert "length not written" in said
    assert "Not written: the length of 12/2 nm-b, J1 > W1." in said
    assert "lost so far" not in texts(drawing(report(FORK.replace(" 1500 VA", ""))))


def test_an_ampacity_that_depends_on_company_nobody_wrote_has_both_ends():
    """Twelve cables of #12 bundled: 24 conductors that carry current, 30 A x 0.45; alone 20 A, its 60 C column."""
    found = report(tree(12, 0, 3).replace("cable nm-b spaced\n", "").replace("10/3", "12/2"))
    assert {step.ampacity for step in path(found).steps} == {"13.5 to 20 A"}


def test_a_loop_and_a_chain_in_one_run_are_told():
    found = report(FORK + "run W2 > S1 12/2 nm-b 9 ft circuit 3\n")
    again = [step for step in path(found).steps if step.is_again]
    assert [step.place for step in again] == ["W2"]  # from S1, seen from the panel
    chained = HEAD + (
        "circuit 3 20 A 1200 VA\nbox J1\nbox J2\nrun P > J1 > J2 12/2 nm-b 50 ft circuit 3\n"
    )  # fmt: skip
    assert [step.by for step in path(report(chained)).steps] == ["12/2 nm-b, 50 ft", "12/2 nm-b, goes on"]


def test_a_way_longer_than_the_picture_keeps_its_two_ends():
    found = report(tree(100, 0, 1))
    steps = path(found).steps
    assert [steps[0].place, steps[-1].place] == ["bench-0", "bench-99"]
    (gap,) = [step for step in steps if step.skipped]
    assert gap.skipped == 60
    lengths = [run.length for run in found.job.runs[20:81]]
    assert gap.feet == sum(length for length in lengths if isinstance(length, Decimal))


def test_without_a_panel_there_is_no_picture():
    found = report("edition 2020\nbox J1\nbox J2\ncircuit 3 20 A 1200 VA\nrun J1 > J2 12/2 nm-b 9 ft circuit 3\n")
    assert circuit_tree(found, found.subject("circuit 3")) is None


def test_every_circuit_of_the_example_has_its_tree():
    found = example("studio")
    for subject in found.of("circuit"):
        assert overlapping_texts(drawing(found, subject.name)) == []
