"""The smallest pull box: against trying every wall and every place, and never one that the distances refuse."""

from __future__ import annotations

from decimal import Decimal
from itertools import product
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ampleroom.editions import CodeBook
from ampleroom.rules.box.pull_box.distances import OPPOSITE, SIDES, Pull, PullEntry, Wall, distances, least, spacings
from ampleroom.sizing import arrangement
from ampleroom.sizing.arrangement import MOST_ENTRIES, Arrangement, TooMany, smallest_box
from tests.helpers import EDITION

BOOK = CodeBook(EDITION)


def raceways(*sizes: object) -> list[PullEntry]:
    return [PullEntry(f"R{number}", Decimal(str(size)), "left", 1, "4") for number, size in enumerate(sizes)]


def area(box: Arrangement) -> Decimal:
    return box.across * box.down


def edges_apart(
    walls: tuple[Wall, ...],
    centers: tuple[float, ...],
    sizes: list[float],
    box: tuple[float, float],
    pair: tuple[int, int],
) -> float:
    """How far apart the nearest edges of two entries are, from their corners on a plane."""

    def ends(number: int) -> list[tuple[float, float]]:
        along = [centers[number] - sizes[number] / 2, centers[number] + sizes[number] / 2]
        across, down = box
        at: dict[str, list[tuple[float, float]]] = {"left": [(0, y) for y in along],
            "right": [(across, y) for y in along],
              "top": [(x, 0) for x in along], "bottom": [(x, down) for x in along]}  # fmt: skip
        return at[walls[number]]

    one, other = map(ends, pair)
    if OPPOSITE[walls[pair[0]]] == walls[pair[1]]:
        overlap = min(centers[n] + sizes[n] / 2 for n in pair) - max(centers[n] - sizes[n] / 2 for n in pair)
        between = box[0] if walls[pair[0]] in ("left", "right") else box[1]
        return hypot(between, max(-overlap, 0))
    return min(hypot(x - u, y - v) for x, y in one for u, v in other)


def can_be_placed(
    entries: list[PullEntry], pulls: list[Pull], walls: tuple[Wall, ...], box: tuple[float, float], step: float
) -> bool:
    """Whether some places on a grid keep all entries apart and on their walls."""
    sizes = [float(entry.size) for entry in entries]
    placed = [entry._replace(wall=wall) for entry, wall in zip(entries, walls, strict=True)]
    needed = [((spacing.one, spacing.other), float(spacing.inches)) for spacing in spacings(placed, pulls, BOOK)]
    lengths = [box[1] if wall in ("left", "right") else box[0] for wall in walls]
    grids = []
    for size, length in zip(sizes, lengths, strict=True):
        grids.append([size / 2 + step * n for n in range(int((length - size) / step + 1e-9) + 1)])
    for centers in product(*grids):
        overlapping = any(
            walls[i] == walls[j] and abs(centers[i] - centers[j]) < (sizes[i] + sizes[j]) / 2 - 1e-9
            for i in range(len(walls)) for j in range(i)
        )  # fmt: skip
        if not overlapping and all(
            edges_apart(walls, centers, sizes, box, pair) >= apart - 1e-9 for pair, apart in needed
        ):
            return True
    return False


def bound_of(entries: list[PullEntry], pulls: list[Pull], walls: tuple[Wall, ...]) -> tuple[float, float]:
    """The least sides by the distances alone, and by what has to stand side by side."""
    placed = [entry._replace(wall=wall) for entry, wall in zip(entries, walls, strict=True)]
    needed = distances(placed, pulls, BOOK)
    across, down = least(needed, "across"), least(needed, "down")
    for wall in SIDES:
        along = sum((entry.size for entry in placed if entry.wall == wall), Decimal(0))
        for spacing in spacings(placed, pulls, BOOK):
            if placed[spacing.one].wall == wall == placed[spacing.other].wall:
                along = max(along, spacing.inches + placed[spacing.one].size + placed[spacing.other].size)
        if wall in ("left", "right"):
            down = max(down, along)
        else:
            across = max(across, along)
    return float(across), float(down)


@pytest.mark.parametrize(
    ("sizes", "pulls", "across", "down"),
    [  # by hand
        ((2, 2), [Pull(0, 1)], 16, 2),  # straight: 8 x 2 long, as wide as the raceway
        ((2, 2), [Pull(0, 1, True)], 12, 2),  # spliced across: 6 x 2
        ((3, 3, 2, 2), [Pull(0, 1), Pull(2, 3)], 24, 5),
        ((2,) * 8, [Pull(0, 1), Pull(2, 3), Pull(4, 5), Pull(6, 7)], 16, 8),
    ],
)
def test_the_smallest_box_worked_by_hand(sizes: tuple[int, ...], pulls: list[Pull], across: int, down: int):
    box = smallest_box(raceways(*sizes), pulls, [None] * len(sizes), BOOK)
    assert (box.across, box.down, box.is_proved) == (Decimal(across), Decimal(down), True)


@pytest.mark.parametrize(
    ("sizes", "walls", "across", "down"),
    [  # published questions of test_distances.py, with their walls
        ((2, 2), ("left", "top"), 12, 12),
        ((2, 2), ("left", "left"), 14, 16),  # 2 + 12 + 2 along the wall that has both
        ((3, 3), ("left", "bottom"), 18, 18),
        ((3, 3), ("left", "right"), 24, 3),
    ],
)
def test_where_the_walls_are_known_the_box_follows(sizes, walls, across: int, down: int):
    box = smallest_box(raceways(*sizes), [Pull(0, 1)], walls, BOOK)
    assert (box.across, box.down, box.walls) == (Decimal(across), Decimal(down), walls)


def test_a_box_grows_where_entries_would_come_too_close():
    # 6 x 4 = 24 across and 6 x 1 = 6 down, but a 4 and a 1 in. entry of the same conductors have to be 24 in. apart.
    box = smallest_box(raceways(4, 1), [Pull(0, 1)], ["left", "top"], BOOK)
    assert area(box) > 24 * 6
    assert not box.is_proved
    walls: tuple[Wall, Wall] = ("left", "top")
    sizes, centers = [4.0, 1.0], tuple(map(float, box.centers))
    assert edges_apart(walls, centers, sizes, (float(box.across), float(box.down)), (0, 1)) >= 24


def test_a_back_entry_asks_for_depth_and_no_length_of_its_own():
    entries = [PullEntry("A", Decimal(2), "left", 1, "250"), PullEntry("B", Decimal(2), "left", 1, "250")]
    box = smallest_box(entries, [Pull(0, 1)], ["rear", None], BOOK)
    assert box.deep == Decimal("4.5")
    assert {box.across, box.down} == {12, 2}


def test_more_raceways_than_can_be_arranged_are_refused():
    with pytest.raises(TooMany):
        smallest_box(raceways(*[2] * (MOST_ENTRIES + 1)), [], [None] * (MOST_ENTRIES + 1), BOOK)
    fixed: list[Wall | None] = ["left"] * (MOST_ENTRIES + 1)
    assert smallest_box(raceways(*[2] * (MOST_ENTRIES + 1)), [], fixed, BOOK).down == 18


@st.composite
def jobs(draw: st.DrawFn, most: int, sizes: list[int]) -> tuple[list[PullEntry], list[Pull]]:
    entries = raceways(*draw(st.lists(st.sampled_from(sizes), min_size=1, max_size=most)))
    entries = [entry if draw(st.integers(0, 4)) else entry._replace(thickest="") for entry in entries]
    order = draw(st.permutations([number for number, entry in enumerate(entries) if entry.is_large]))
    pairs = zip(order[::2], order[1::2], strict=False)
    return entries, [Pull(one, other, draw(st.booleans())) for one, other in pairs]


@settings(max_examples=60, deadline=None)
@given(jobs(3, [2, 4]))
def test_no_choice_of_walls_and_places_gives_a_smaller_box(job: tuple[list[PullEntry], list[Pull]]):
    entries, pulls = job
    box = smallest_box(entries, pulls, [None] * len(entries), BOOK)
    found = float(area(box))
    for walls in product(SIDES, repeat=len(entries)):
        across, down = bound_of(entries, pulls, walls)
        if across * down < found - 1e-9:
            assert not can_be_placed(entries, pulls, walls, (across, down), 1)


@settings(max_examples=60, deadline=None)
@given(jobs(4, [1, 2, 3, 4]), st.lists(st.sampled_from([None, *SIDES]), min_size=4, max_size=4))
def test_the_bound_of_every_choice_of_walls_proves_it(job, fixed: list[Wall | None]):
    entries, pulls = job
    fixed = fixed[: len(entries)]
    box = smallest_box(entries, pulls, fixed, BOOK)
    bounds = []
    for walls in product(SIDES, repeat=len(entries)):
        if all(known in (None, wall) for known, wall in zip(fixed, walls, strict=True)):
            across, down = bound_of(entries, pulls, walls)
            bounds.append(across * down)
    assert float(area(box)) >= min(bounds)
    if box.is_proved:
        assert float(area(box)) == min(bounds)


@settings(max_examples=100, deadline=None)
@given(jobs(8, [1, 2, 3, 4]), st.lists(st.sampled_from([None, None, *SIDES]), min_size=8, max_size=8))
def test_the_box_that_is_offered_keeps_every_distance(job, fixed: list[Wall | None]):
    entries, pulls = job
    box = smallest_box(entries, pulls, fixed[: len(entries)], BOOK)
    placed = [entry._replace(wall=wall) for entry, wall in zip(entries, box.walls, strict=True)]
    assert all(known in (None, wall) for known, wall in zip(fixed, box.walls, strict=False))
    needed = distances(placed, pulls, BOOK)
    assert box.across >= least(needed, "across")
    assert box.down >= least(needed, "down")
    sizes, centers = [float(entry.size) for entry in entries], tuple(map(float, box.centers))
    sides = (float(box.across), float(box.down))
    for spacing in spacings(placed, pulls, BOOK):
        pair = (spacing.one, spacing.other)
        assert edges_apart(box.walls, centers, sizes, sides, pair) >= float(spacing.inches) - 1e-9
    for one in range(len(entries)):
        length = sides[1] if box.walls[one] in ("left", "right") else sides[0]
        assert sizes[one] / 2 - 1e-9 <= centers[one] <= length - sizes[one] / 2 + 1e-9
        for other in range(one):
            if box.walls[one] == box.walls[other]:
                assert abs(centers[one] - centers[other]) >= (sizes[one] + sizes[other]) / 2 - 1e-9


def test_eight_raceways_that_crowd_each_other_are_placed_a_few_thousand_times_at_most(monkeypatch: pytest.MonkeyPatch):
    # Each choice of walls was once tried in every box up to the best: 187,745 times here, 9 s.
    placed, times = arrangement.placed, 0

    def counted(*words):
        nonlocal times
        times += 1
        return placed(*words)

    monkeypatch.setattr(arrangement, "placed", counted)
    pulls = [Pull(0, 1, True), Pull(2, 3), Pull(4, 5), Pull(6, 7), Pull(2, 2, True)]
    pulls += [Pull(0, 2, True, False), Pull(1, 2, True, False)]
    box = smallest_box(raceways(1, 4, 4, "1.25", 2, 2, 2, 1), pulls, [None] * 8, BOOK)
    assert (box.across, box.down) == (Decimal("25.25"), Decimal(25))
    assert times < 5_000
