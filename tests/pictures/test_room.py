"""The room picture: every tile's area is what the worksheet says, and what does not fit stands outside."""

from collections import defaultdict
from itertools import combinations

import pytest
from hypothesis import given

from ampleroom import check
from ampleroom.pictures.drawing import Line, Rect
from ampleroom.pictures.room import (
    WIDE,
    before_and_after,
    room_outline,
    room_picture,
    scale_for,
    tiles,
)
from ampleroom.rules.all_rules import RULES
from tests.pictures.helpers import DIVIDED, OVERFULL, UNREAD, example, rects, report, texts, worst
from tests.strategies import examples, jobs

TILES = tuple(rule.drawn_as for rule in RULES.values() if rule.drawn_as)


def worksheets(found):
    """Every worksheet of a report, the best and the worst, with its scale."""
    for finding in found.findings:
        cases = [sheet for sheet in (finding.worst, finding.best) if sheet is not None]
        for sheet in cases:
            yield sheet, scale_for(cases)


def overlap(one, other):
    """The area two shapes share."""
    wide = min(one.x + one.wide, other.x + other.wide) - max(one.x, other.x)
    high = min(one.y + one.high, other.y + other.high) - max(one.y, other.y)
    return max(wide, 0) * max(high, 0)


@examples(60)
@given(jobs(unknowns=True))
def test_the_tiles_of_a_line_have_the_area_of_its_amount(job):
    for sheet, scale in worksheets(check(job)):
        areas: defaultdict[int, float] = defaultdict(float)
        for tile in tiles(sheet, scale):
            areas[tile.line] += tile.area
        for number, line in enumerate(sheet.need):
            expected = float(line.amount) if line.amount.is_finite() else 0.0
            assert areas[number] / scale == pytest.approx(expected, abs=1e-6)


@examples(30)
@given(jobs(unknowns=True))
def test_no_two_tiles_overlap_and_none_leaves_the_width(job):
    for sheet, scale in worksheets(check(job)):
        laid = tiles(sheet, scale)
        assert all(tile.x >= -1e-9 and tile.x + tile.wide <= WIDE + 1e-6 for tile in laid)
        assert all(overlap(one, other) < 1e-6 for one, other in combinations(laid[:80], 2))


@examples(40)
@given(jobs(unknowns=True))
def test_a_tile_is_within_the_room_or_wholly_outside(job):
    for sheet, scale in worksheets(check(job)):
        laid = tiles(sheet, scale)
        if not sheet.there.is_finite():
            assert not any(tile.over for tile in laid)
            continue
        edge = max(float(sheet.there), 0) * scale / WIDE
        for tile in laid:
            assert tile.y >= edge - 1e-6 if tile.over else tile.y + tile.high <= edge + 1e-6
        if sheet.needed.is_finite():
            outside = sum(tile.area for tile in laid if tile.over) / scale
            assert outside == pytest.approx(max(float(sheet.needed) - max(float(sheet.there), 0), 0), abs=1e-6)


def test_a_whole_count_is_so_many_tiles_and_a_quarter_a_quarter_tile():
    """Five grounds under the 2020 edition are 1 and 1/4 allowances; 3 x 2 and 2 x 3 conductors are twelve."""
    found = report("edition 2020\nbox A\n  marked 99 in3\nrun A > ? 3 x 12/2 nm-b\nrun A > ? 2 x 12/3 nm-b\n")
    sheet = worst(found)
    rows = {line.rule: number for number, line in enumerate(sheet.need)}
    laid = tiles(sheet, scale_for([sheet]))
    assert len([tile for tile in laid if tile.line == rows["box-fill-conductors"]]) == 12
    widths = [tile.wide for tile in laid if tile.line == rows["box-fill-grounds"]]
    assert widths == [pytest.approx(WIDE * 0.8), pytest.approx(WIDE * 0.2)]


def test_what_does_not_fit_is_hatched_and_drawn_below_the_edge():
    drawing = room_picture(report(OVERFULL).findings[0])
    (room,) = rects(drawing, "room")
    inside = [tile for tile in rects(drawing, *TILES) if not tile.hatched]
    outside = [tile for tile in rects(drawing, *TILES) if tile.hatched]
    assert inside
    assert outside
    assert all(tile.y + tile.high <= room.y + room.high + 1e-6 for tile in inside)
    assert all(tile.y > room.y + room.high for tile in outside)
    scale = room.wide * room.high / 7.5
    assert sum(tile.wide * tile.high for tile in inside) / scale == pytest.approx(7.5)
    assert sum(tile.wide * tile.high for tile in outside) / scale == pytest.approx(10.5)  # 18.0 needed, by hand


def test_the_words_beside_it_are_the_lines_of_the_worksheet_in_their_order():
    written = texts(room_picture(report(OVERFULL).findings[0]))
    lines = [
        *("Spliced or terminated here, #12", "4 x 2.25 = 9.00 in3 · 314.16(B)(1)", "Clamps inside"),
        *("1 x 2.25 = 2.25 in3 · 314.16(B)(2)", "1 yoke: receptacle", "2 x 2.25 = 4.50 in3 · 314.16(B)(4)"),
        *(
            "Equipment grounds",
            "1 x 2.25 = 2.25 in3 · 314.16(B)(5)",
            "box volume 7.50 in3",
            "box fill 18.00 in3",
            "10.50 in3 over",
        ),
    ]
    assert [text for text in written if text in lines] == lines
    assert {"A", "FAILS", "A is 10.50 in3 over: box fill 18.00 in3, box volume 7.50 in3"} <= set(written)


def test_no_words_of_a_room_picture_stand_on_one_another():
    for finding in example("studio").findings:
        if finding.worst is not None:
            assert_apart(room_picture(finding))


def assert_apart(drawing):
    from tests.pictures.boxes import overlapping_texts

    assert overlapping_texts(drawing) == []


def test_a_line_that_takes_no_room_has_words_and_no_tile():
    drawing = room_picture(report(OVERFULL.replace("clamps inside", "clamps outside")).findings[0])
    assert "Connectors outside" in texts(drawing)
    assert not rects(drawing, "clamps")


def test_where_facts_are_unknown_the_worst_and_the_best_stand_side_by_side_in_one_scale():
    old = OVERFULL.replace("device 3 x 2 x 1-1/2", "octagon 4 x ?").replace("receptacle #12", "switch #12")
    drawing = room_picture(report(old).findings[0])
    assert {"Worst case", "Best case"} <= set(texts(drawing))
    worst, best = rects(drawing, "room")
    assert worst.x + worst.wide < best.x
    assert (worst.high / best.high) == pytest.approx(12.5 / 21.5)  # an octagon of 4 by 1-1/4 and by 2-1/8


def test_a_room_nobody_knows_is_dashed_and_said_to_be_unknown():
    drawing = room_picture(report(UNREAD).findings[0])
    written = texts(drawing)
    assert "box volume not known, worst case 0.00 in3" in written
    assert "box volume not known" in written
    assert "box volume 0.00 in3" not in written
    assert [room.dashed for room in rects(drawing, "room")] == [False, True]


def test_every_space_has_a_picture_of_its_own():
    drawings = [room_picture(finding) for finding in report(DIVIDED).subjects[0].fill_findings]
    assert [drawing.title for drawing in drawings] == ["Fill of D/left", "Fill of D/right"]


def test_an_exactly_full_box_has_nothing_outside_and_says_so():
    exact = "edition 2020\nbox A\n  marked 6.75 in3\n  clamps outside\nrun A > ? 12/2 nm-b\n"
    drawing = room_picture(report(exact).findings[0])
    assert "exactly full" in texts(drawing)
    assert not any(rect.hatched for rect in rects(drawing))


def test_a_row_of_very_many_is_one_tile():
    sheet = worst(report("edition 2020\nbox A\n  marked 999 in3\nrun A > ? 90 x 12/2 nm-b\n"))
    conductors = [tile for tile in tiles(sheet, scale_for([sheet])) if sheet.need[tile.line].steps == "180 x 2.25"]
    assert len(conductors) == 1


def test_the_outline_has_the_same_tiles_and_the_numbers_of_the_lines():
    finding = report(OVERFULL).findings[0]
    drawing = room_outline(finding)
    assert [text for text in texts(drawing) if text.isdigit()] == ["1", "2", "3", "4"]
    assert len(rects(drawing, *TILES)) == len(rects(room_picture(finding), *TILES))
    (room,) = rects(drawing, "room")
    scale = room.wide * room.high / 7.5
    assert sum(r.wide * r.high for r in rects(drawing, *TILES)) / scale == pytest.approx(18.0)


def test_the_outline_of_a_side_says_which_side_and_which_case():
    old = DIVIDED.replace("clamps tabs", "clamps ?")
    left, right = report(old).subjects[0].fill_findings
    assert {"left, worst case", "left, best case"} <= set(texts(room_outline(left)))
    assert "right" in texts(room_outline(right))


def test_before_and_after_a_remedy_are_in_one_scale_with_both_verdicts_in_words():
    before = report(OVERFULL).findings[0]
    after = report(OVERFULL.replace("device 3 x 2 x 1-1/2", "square 4 x 1-1/2")).findings[0]
    drawing = before_and_after(before, after, "a square box")
    assert {"As it is", "With this fix", "10.50 in3 over", "3.00 in3 spare"} <= set(texts(drawing))
    first, second = rects(drawing, "room")
    assert second.high / first.high == pytest.approx(21 / 7.5)


def test_the_edge_of_an_overfull_room_is_drawn_thicker():
    def edge(sheet):
        drawing = room_picture(report(sheet).findings[0])
        (room,) = rects(drawing, "room")
        return next(
            shape.thick
            for shape in drawing.shapes
            if isinstance(shape, Line)
            and shape.points == ((room.x, room.y + room.high), (room.x + WIDE, room.y + room.high))
        )

    assert edge(OVERFULL) > edge(OVERFULL.replace("device 3 x 2 x 1-1/2", "square 4 x 1-1/2"))


def test_the_description_tells_the_room_and_every_line():
    drawing = room_picture(report(OVERFULL).findings[0])
    for words in (
        "box volume 7.50 in3",
        "Spliced or terminated here, #12, 4 of 2.25",
        "Clamps inside, 1 of 2.25",
        "10.50 in3 over",
    ):
        assert words in drawing.description


def test_everything_drawn_stays_on_its_page():
    for name in ("studio", "rowhouse"):
        for finding in example(name).findings[:40]:
            if finding.worst is not None:
                drawing = room_picture(finding)
                for shape in drawing.shapes:
                    if isinstance(shape, Rect):
                        assert shape.x >= 0
                        assert shape.y >= 0
                        assert shape.x + shape.wide <= drawing.wide
                        assert shape.y + shape.high <= drawing.high
