"""A wireway or gutter cut across: circles to scale in its section, none overlapping, and its areas drawn as areas."""

from __future__ import annotations

from decimal import Decimal
from itertools import combinations
from math import hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ampleroom.pictures.drawing import Dot, Drawing, Line, Rect
from ampleroom.pictures.kinds import beside
from ampleroom.pictures.packing import SquareWall, packed
from ampleroom.pictures.svg import svg
from ampleroom.pictures.wireway_section import LONGER_SIDE, cut_of, placed, wireway_section
from ampleroom.sheets.dxf import dxf_bytes
from tests.pictures.boxes import overlapping_texts
from tests.pictures.helpers import parsed, report, texts


def sheet(line: str, *runs: str) -> str:
    return "\n".join(["edition 2020", "panel P", "equipment M1", line, *runs, ""])


def drawing(line: str, *runs: str) -> Drawing:
    found = report(sheet(line, *runs))
    name = line.split()[1]
    picture = wireway_section(found.job, name, found.book)
    assert picture is not None
    return picture


def room_of(picture: Drawing) -> Rect:
    return next(shape for shape in picture.shapes if isinstance(shape, Rect) and shape.role == "room")


def shaded_of(picture: Drawing) -> Rect:
    return next(shape for shape in picture.shapes if isinstance(shape, Rect) and shape.role == "conductors")


def dashed_of(picture: Drawing) -> Line:
    return next(shape for shape in picture.shapes if isinstance(shape, Line) and shape.dashed)


def conductors(picture: Drawing) -> list[Dot]:
    """The circles of conductors; not those beside the words."""
    room = room_of(picture)
    dots = [shape for shape in picture.shapes if isinstance(shape, Dot)]
    return [dot for dot in dots if dot.x <= room.x + LONGER_SIDE]


@given(st.lists(st.floats(0.01, 2), max_size=40), st.floats(0.1, 8), st.floats(0.1, 8))
def test_no_two_circles_overlap_none_leaves_the_walls_and_none_is_lost(radii: list[float], wide: float, high: float):
    laid = packed(SquareWall(wide, high), radii)
    slack = 1e-7 * max(wide, high)
    for each in laid.inside:
        assert abs(each.x) + each.radius <= wide + slack
        assert abs(each.y) + each.radius <= high + slack
        assert each.radius == radii[each.place]
    for one, other in combinations(laid.inside, 2):
        assert hypot(one.x - other.x, one.y - other.y) >= one.radius + other.radius - slack
    assert sorted([*(each.place for each in laid.inside), *laid.outside]) == list(range(len(radii)))


def test_circles_that_just_fit_find_their_place_and_a_hair_more_does_not():
    assert not packed(SquareWall(2.0, 1.0), [1.0, 1.0]).outside
    assert len(packed(SquareWall(2.0, 1.0), [1.0001, 0.9]).outside) == 1
    assert not packed(SquareWall(3.0, 2.0), [1.0] * 6).outside
    assert len(packed(SquareWall(3.0, 2.0), [1.0] * 7).outside) == 1


@pytest.mark.parametrize("line", ["wireway W1 4 x 4 no splices", "gutter W1 6 x 3 splices 6 in2"])
def test_areas_are_to_scale_section_conductors_and_limit(line: str):
    picture = drawing(line, "wires P > M1 6 x #2 thhn black, 2 x #6 thhn green in W1")
    room, shaded, dashed = room_of(picture), shaded_of(picture), dashed_of(picture)
    whole = room.wide * room.high
    wide, high = (float(side) for side in line.split(" no")[0].split(" splices")[0].split("W1 ")[1].split(" x "))
    assert max(room.wide, room.high) == LONGER_SIDE
    assert room.wide / room.high == pytest.approx(wide / high)
    needed = 6 * 0.1158 + 2 * 0.0507  # Chapter 9 Table 5
    assert shaded.wide * shaded.high / whole == pytest.approx(needed / (wide * high))
    (left, top), _, (right, bottom), *_ = dashed.points
    assert (right - left) * (bottom - top) / whole == pytest.approx(0.20)  # 376.22(A) and 366.22(A)
    assert sum(pi * dot.radius**2 for dot in conductors(picture)) / whole == pytest.approx(
        needed / (wide * high), rel=0.02
    )  # the tables round areas and diameters apart
    assert not shaded.hatched
    assert overlapping_texts(picture) == []
    parsed(svg(picture))
    assert dxf_bytes(picture)


def test_what_is_over_is_hatched_and_drawn_no_larger_than_the_section():
    picture = drawing("wireway W1 2.5 x 2.5", "wires P > M1 60 x #8 thhn in W1")
    assert shaded_of(picture).hatched
    picture = drawing("wireway W1 2.5 x 2.5", "wires P > M1 30 x 500 kcmil thhn in W1")
    room, shaded = room_of(picture), shaded_of(picture)
    assert (shaded.wide, shaded.high) == (room.wide, room.high)
    outside = [dot for dot in conductors(picture) if dot.y > room.y + room.high]
    assert outside
    assert f"No room found for {len(outside)} of them:" in texts(picture)
    assert max(dot.y + dot.radius for dot in outside) <= picture.high


def test_a_conductor_that_comes_in_and_leaves_is_drawn_twice_and_splices_are_told():
    picture = drawing("gutter G1 at P 6 x 6 splices 6 in2", "wires P > G1 > M1 3 x #2 thhn red")
    assert [dot.color for dot in conductors(picture)] == ["red"] * 6
    assert "With splices and taps, not drawn: 6.6948 in2 of 27.0000 in2" in " ".join(texts(picture))


@pytest.mark.parametrize(
    ("line", "runs"),
    [
        ("wireway W1 4 x ?", ["wires P > M1 3 x #2 thhn in W1"]),
        ("wireway W1 ? x ?", ["wires P > M1 3 x #2 thhn in W1"]),
        ("wireway W1 4 x 4", []),
    ],
)
def test_without_its_sides_or_a_conductor_there_is_no_picture(line: str, runs: list[str]):
    found = report(sheet(line, *runs))
    assert wireway_section(found.job, "W1", found.book) is None
    assert beside(found, found.subject("W1")) == []
    assert wireway_section(found.job, "W2", found.book) is None


def test_the_case_is_told_and_a_nonmetallic_one_has_no_limit():
    assert "Worst case:" in texts(drawing("wireway W1 4 x 4", "wires P > M1 3 x #2 in W1"))
    assert "Best case:" in texts(drawing("wireway W1 4 x 4", "wires P > M1 ? x #2 thhn, 1 x #2 thhn in W1"))
    picture = drawing("wireway W1 4 x 4 nonmetallic", "wires P > M1 3 x #2 thhn in W1")
    assert not [shape for shape in picture.shapes if isinstance(shape, Line)]


def test_forty_conductors_lie_in_the_picture_of_the_page_and_none_touches_a_side():
    found = report(sheet("wireway W1 6 x 4", "wires P > M1 36 x #10 thhn, 4 x #1 thhn in W1"))
    cut = cut_of(found.job, "W1", found.book)
    assert cut is not None
    assert cut.sides == (Decimal(6), Decimal(4))
    assert len(placed(cut).inside) == 40
    (picture,) = beside(found, found.subject("W1"))
    assert picture.title == "W1 cut across"


def test_a_great_many_conductors_are_listed_and_not_drawn_one_by_one():
    picture = drawing("wireway W1 12 x 12", "wires P > M1 301 x #18 tffn in W1")
    assert conductors(picture) == []
    assert "More than 300 conductors are not drawn one by one." in texts(picture)
    assert len(conductors(drawing("wireway W1 12 x 12", "wires P > M1 300 x #18 tffn in W1"))) == 300
