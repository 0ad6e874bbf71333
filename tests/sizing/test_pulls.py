"""A question about pulls: how it is read, and that no choice of walls has a smaller box."""

from __future__ import annotations

from itertools import product

import pytest

from ampleroom.ask import ask
from ampleroom.editions import CodeBook
from ampleroom.errors import AmpleroomError
from ampleroom.rules.box.pull_box.distances import OPPOSITE, SIDES
from ampleroom.sizing.arrangement import NotArranged, smallest_box
from ampleroom.sizing.pulls import asked_pulls, smallest_for

BOOK = CodeBook(2020)


def least(question: str) -> tuple[str, str]:
    box, _, _ = smallest_for(asked_pulls(question, BOOK), BOOK)
    return str(box.across), str(box.down)


@pytest.mark.parametrize(
    ("question", "across", "down"),
    [
        ("straight pull 3 in raceway 4/0", "24", "3"),  # 8 x 3
        ("angle pull 2 in", "12", "12"),  # 6 x 2
        ("angle pull 3 in to 2 in", "18", "12"),  # 6 x 3 and 6 x 2; 18 in. between them goes across the corner
        ("angle pull 2 x 2 in", "12", "12"),  # the second pull goes by the two other walls
        ("u pull 2 in", "14", "16"),  # 6 x 2 + 2 to the opposite wall; 2 + 12 + 2 along this one
        ("pull box, 3 in straight, 2 in angle", "24", "12"),
        ('pull box, 1 1/4" straight', "10", "1.25"),
        ("pull box, 2 x 4 in straight and 3 in straight", "32", "11"),
    ],
)
def test_the_least_of_the_distances(question: str, across: str, down: str):
    # 8 and 6 times: EC&M, "Taking the Mystery Out of Sizing Pull Boxes and Junction Boxes"; the sums by hand
    assert least(question) == (across, down)


@pytest.mark.parametrize(
    "question", ["2 in angle, 1 in angle", "3 in straight, 1 in u", "2 in u, 2 in angle", "3 in to 1 in angle, 2 in u"]
)
def test_turning_and_mirroring_the_first_pull_loses_no_smaller_box(question: str):
    asked = asked_pulls(question, BOOK)
    box, entries, pulls = smallest_for(asked, BOOK)
    ways = {
        "straight": [(wall, OPPOSITE[wall]) for wall in SIDES],
        "u": [(wall, wall) for wall in SIDES],
        "angle": [(one, other) for one in SIDES for other in SIDES if other not in (one, OPPOSITE[one])],
    }
    areas = []
    for chosen in product(*(ways[pull.way] for pull in asked)):
        try:
            tried = smallest_box(entries, pulls, [wall for pair in chosen for wall in pair], BOOK)
        except NotArranged:
            continue
        areas.append(tried.across * tried.down)
    assert box.across * box.down == min(areas)


def test_the_answer_is_a_sheet_that_passes_and_nothing_in_it_is_spare_but_what_is_said():
    answer = ask("pull box, 3 in straight, 2 in angle", 2020)
    assert answer.verdict.word == "passes"
    assert answer.sized == "pull box"
    assert "inside 24 x 12 x 4 in" in answer.sheet
    assert "as 4 in. deep, for which there is no code number" in answer.smallest.assumes
    assert answer.to_json()["sized"] == "pull box"


def test_conductors_that_do_not_go_into_the_raceway_fail_it():
    # 3 x 0.3197 of 0.346 in 1 in. EMT
    assert ask("straight pull 1 in, 3 x 4/0 xhhw", 2020).verdict.word == "fails"


def test_a_back_entry_goes_by_the_conductors():
    answer = ask("angle pull 3 in from the back, 250 kcmil", 2020)
    assert "from the back to the cover 4-1/2 in." in answer.smallest.reason
    assert answer.verdict.word == "check needed"  # how far the two are apart nobody measured


@pytest.mark.parametrize(
    ("question", "across", "deep", "back"),
    [
        ("back entry 3 in, 250 kcmil", "18", "4.5", "3"),
        ("pull box, 3 in opposite a removable cover, 250 kcmil", "18", "4.5", "3"),
        ("pull box, 3 in entry opposite the cover to 2 in, 4/0", "12", "4", "3"),
        ("pull box, 2 in to 3 in in the back, 4/0", "12", "4", "3"),
        ("pull box, 3 in to 2 in in the back, 4/0", "18", "4", "2"),
    ],
)
def test_an_entry_opposite_the_cover_is_in_the_back(question: str, across: str, deep: str, back: str):
    # 6 times the side entry to the wall opposite it; the bending space of Table 312.6(A), one wire, to the cover
    box, entries, _ = smallest_for(asked_pulls(question, BOOK), BOOK)
    assert (str(box.across), str(box.deep)) == (across, deep)
    assert [str(entry.size) for entry in entries if entry.wall == "rear"] == [back]
    assert ask(question, 2020).sized == "pull box"


@pytest.mark.parametrize(
    ("question", "trouble"),
    [
        ("pull box", "which pulls"),
        ("pull box, 3 in", "says no way"),
        ("pull box, 3 in straight 2 in angle", "says two ways"),
        ("straight pull", "write the trade size"),
        ("3 in straight pull from the back, 4/0", "turns to a side wall"),
        ("straight pull 7 in", "emt has no trade size 7"),
        ("straight pull 2 in, #12", "#12 goes by box fill"),
        ("straight pull 2 in bogus", "unknown word 'bogus'"),
        ("angle pull 3 in from the back", "how thick are the conductors"),
        ("pull box, 5 x 2 in straight", "up to 8 raceways"),
        ("pull box, 9999999999 x 2 in straight", "up to 8 raceways"),
        ("pull box, 0 x 2 in straight", "there is none"),
    ],
)
def test_what_cannot_be_read_says_what_to_write(question: str, trouble: str):
    with pytest.raises(AmpleroomError, match=trouble):
        ask(question, 2020)


@pytest.mark.parametrize(
    ("question", "length", "nipple"),
    [
        ("3 x #6 thhn, ground #10 bare in emt", "10 ft", True),
        ("3 x #6 thhn in emt 1/2", "10 ft", True),
        ("3 x #6 thhn in emt 18 in", "1.5 ft", False),
        ('3 x #6 thhn in emt 3/4 18"', "1.5 ft", False),
        ("3 x #6 thhn in emt nipple", "2 ft", False),
        ("3 x #6 thhn in emt 1/2 40 ft", "40 ft", False),
        ("3 x #6 thhn 40 ft in emt", "40 ft", False),
    ],
)
def test_a_raceway_of_no_length_is_an_ordinary_run_and_a_nipple_is_told_beside(question, length, nipple):
    answer = ask(question, 2020)
    assert f" {length}\n" in answer.sheet
    assert ("in a nipple of 24 in. or less: 1/2" in answer.smallest.reason) is nipple
    assert bool(answer.smallest.assumes) is nipple
    assert not any(finding.facts for finding in answer.box.findings)


def test_the_smallest_for_an_ordinary_run_is_plain():
    # 3 x 0.0507 = 0.1521 of 0.122 in 1/2 EMT, 0.213 in 3/4; of 0.182 in a nipple of 1/2
    answer = ask("3 x #6 thhn in emt", 2020)
    assert (answer.sizes[0].certain, answer.sizes[0].possible) == ("3/4", "3/4")
    assert ask("3 x #6 thhn in emt nipple", 2020).sizes[0].certain == "1/2"
    assert ask("3 x #6 thhn in emt 1/2", 2020).verdict.word == "fails"


def test_what_is_asked_of_a_conduit_body_passes_it():
    answer = ask("conduit body lb 3 on rmc, marked for 3 x #4/0, 3 x #4/0 xhhw", 2020)
    assert answer.verdict.word == "passes"
    assert answer.sheet.endswith("wires ? > ? 3 x #4/0 xhhw through B1\n")
    assert answer.sized == "conduit body"
    assert answer.smallest.reason.startswith("listed and marked for 3 conductors up to #4/0, or more")
    assert "run B1" not in ask("lb 3/4 on emt, 3 x #12 thhn", 2020).sheet
    assert "wires B1 > ?" in ask("lb 3/4 on emt marked 12 in3, 3 x #12 thhn", 2020).sheet
