"""The smallest pull box, from a sheet to what is printed."""

from __future__ import annotations

import json

import pytest

from ampleroom.check import book_for
from ampleroom.errors import AmpleroomError
from ampleroom.job import read_job
from ampleroom.sizing.pull_box import is_pull_box, smallest_pull_box
from tests.cli.helpers import inside

SHEET = """\
edition 2020
panel P
equipment K1
box PB1
  inside 24 x 18 x 6 in
  entry R1 left
  entry R2 top
box J1
  marked 90 in3
raceway R1 P > PB1 emt 3
raceway R2 PB1 > K1 emt 3
raceway R3 P > J1 emt 1
wires P > K1 3 x #250 thhn through PB1 in R1, R2
wires P > J1 3 x #12 thhn in R3
"""


def smallest(sheet: str):
    job = read_job(sheet)
    return smallest_pull_box(job, "PB1", book_for(job, None))


def test_an_angle_pull_of_two_3_in_raceways_needs_18_by_18():
    # EC&M newsletter, 2008: 6 x 3 both ways, and 18 in. between the entries
    found = smallest(SHEET)
    assert (found.as_written.across, found.as_written.down) == (18, 18)
    assert found.as_written.walls == ("left", "top")


def test_with_walls_free_the_same_pull_goes_straight_through():
    found = smallest(SHEET)
    assert found.chosen is not None
    assert (found.chosen.across, found.chosen.down) == (24, 3)  # 8 x 3 long, as wide as the raceway


def test_walls_nobody_wrote_are_chosen():
    found = smallest(SHEET.replace("  entry R2 top\n", ""))
    assert found.as_written.across * found.as_written.down == 24 * 3
    assert found.chosen is None


def test_a_box_of_small_wires_is_no_pull_box():
    job = read_job(SHEET)
    book = book_for(job, None)
    assert is_pull_box(job, "pb1", book)
    assert not is_pull_box(job, "J1", book)
    assert not is_pull_box(job, "K1", book)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (" in R1, R2", " in R1", "PB1 cannot be sized yet: the raceways 3 x 250 kcmil"),
        ("raceway R1 P > PB1 emt 3", "raceway R1 P > PB1 emt ?", "PB1 cannot be sized yet: the trade size of R1"),
        ("  entry R1 left\n", "  barrier metal\n  space a 1/2\n  space b 1/2\n  entry R1 left\n", "PB1 has a barrier"),
    ],
)
def test_what_is_missing_is_said_with_what_to_do(old: str, new: str, told: str):
    sheet = SHEET.replace(old, new)
    if "barrier" in new:
        sheet = sheet.replace("through PB1", "through PB1/a")
    with pytest.raises(AmpleroomError) as refused:
        smallest(sheet)
    assert str(refused.value).startswith(told)


def test_the_command_prints_the_measures_and_where_each_raceway_comes_in(tmp_path):
    path = tmp_path / "pull.job"
    path.write_text(SHEET, "utf-8")
    out = inside("size", "PB1", str(path)).out
    assert "The smallest box for PB1" in out
    assert "left wall, its middle" in out
    answer = json.loads(inside("size", "pb1", str(path), "--json").out)
    assert (answer["box"], answer["as_written"]["across"], answer["as_written"]["down"]) == ("PB1", "18", "18")


ROWS = """\
edition 2020
panel P
panel Q
box PB
  inside {} x 40 x 12 in
  entry R1 left
  entry R2 top
  entry R3 left row 2
  entry R4 bottom
raceway R1 P > PB emt 3
raceway R2 PB > Q emt 3
raceway R3 P > PB emt 2
raceway R4 PB > Q emt 2
wires P > Q 3 x #1/0 thhn through PB in R1, R2
wires P > Q 3 x #1/0 thhn through PB in R3, R4
"""


def test_each_row_of_a_wall_counts_alone_in_the_smallest_box_too():
    # by hand: 6 x 3 = 18 for the one row, 6 x 2 = 12 for the other; as one row it would be 18 + 2 = 20
    job = read_job(ROWS.format(40))
    found = smallest_pull_box(job, "PB", book_for(job, None))
    one_row = read_job(ROWS.format(40).replace(" row 2", ""))
    as_one = smallest_pull_box(one_row, "PB", book_for(one_row, None))
    assert [each.as_written.across for each in (found, as_one)] == [18, 20]
    assert (found.has_rows, found.as_written.is_proved) == (True, False)
    assert not as_one.has_rows


def test_with_several_rows_the_answer_says_how_they_stand(tmp_path):
    path = tmp_path / "rows.job"
    path.write_text(ROWS.format(40), "utf-8")
    assert "side by side here" in inside("size", "PB", str(path)).out
