"""The choice against exhaustive search: thousands of small ones, each tried in full."""

from __future__ import annotations

import random
from itertools import product

import pytest

from ampleroom.remedy.choice import Choice, Option, Problem, cost_of, is_allowed, lower_bound, rank, reduced, search
from ampleroom.remedy.solver import is_installed, solve

CHUNKS, IN_A_CHUNK = 8, 250
"""Two thousand choices, in chunks so that several workers may share them."""

needs_highs = pytest.mark.skipif(not is_installed(), reason="HiGHS is not installed: the extra 'optimize' brings it")


def small_choice(seed: int) -> Problem:
    """Up to five boxes with up to five options each, of up to four kinds, some touching a neighbor or fixing it along,
    some with no option.
    """
    dice = random.Random(seed)
    names = [f"B{number}" for number in range(dice.randint(1, 5))]
    kinds = dice.randint(0, 4)
    rows = []
    for name in names:
        row = []
        for number in range(dice.choice((0, 1, 2, 3, 3, 4, 5)) if dice.random() < 0.2 else dice.randint(1, 5)):
            carried = dice.sample(range(kinds), min(kinds, dice.choice((0, 1, 1, 1, 2))))
            neighbor = {dice.choice(names)} if dice.random() < 0.3 else set()
            new = {f"{name}b"} if dice.random() < 0.2 else set()
            along = frozenset(neighbor - {name}) if dice.random() < 0.4 else frozenset()
            touches = frozenset({name} | neighbor | new)
            row.append(Option(dice.randint(0, 60), frozenset(carried), touches, number, along))
        rows.append(tuple(row))
    most = dice.choice((None, None, None, 0, 1, 2))
    return Problem(tuple(names), tuple(rows), dice.choice((0, 5, 20, 50)), kinds, most)


def best_of_all(problem: Problem) -> tuple[int, int]:
    """Every way to choose, tried: the fewest boxes left, and the least cost with so few left. Counted by its own
    means.
    """
    best = (len(problem.boxes), 0)
    for picked in product(*([-1, *range(len(options))] for options in problem.options)):
        chosen = [problem.options[box][number] for box, number in enumerate(picked) if number >= 0]
        touched = [box for option in chosen for box in option.touches]
        kinds = set().union(*(option.kinds for option in chosen))
        if len(touched) != len(set(touched)) or (problem.most_kinds is not None and len(kinds) > problem.most_kinds):
            continue
        along = {name for option in chosen for name in option.fixes}
        left = sum(number < 0 and name not in along for name, number in zip(problem.boxes, picked, strict=True))
        best = min(best, (left, sum(option.cost for option in chosen) + problem.charge * len(kinds)))
    return best


def found(choice: Choice) -> tuple[int, int]:
    return choice.left, choice.cost


@needs_highs
@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_the_solver_finds_what_trying_everything_finds(chunk):
    for seed in range(chunk * IN_A_CHUNK, (chunk + 1) * IN_A_CHUNK):
        problem = small_choice(seed)
        choice = solve(problem)
        assert choice is not None, seed
        assert found(choice) == best_of_all(problem), seed
        assert choice.is_proved, seed
        assert choice.gap == 0, seed
        assert is_allowed(problem, choice.picked), seed
        assert cost_of(problem, choice.picked) == choice.cost, seed


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_the_search_is_never_better_than_the_best_of_all_nor_than_its_own_bound(chunk):
    exact = 0
    for seed in range(chunk * IN_A_CHUNK, (chunk + 1) * IN_A_CHUNK):
        problem = small_choice(seed)
        choice, best = search(problem), best_of_all(problem)
        assert is_allowed(problem, choice.picked), seed
        assert cost_of(problem, choice.picked) == choice.cost, seed
        assert found(choice) >= best, seed
        assert choice.fewest <= best[0], seed
        if choice.left == best[0]:
            assert choice.bound <= best[1], seed
        if choice.is_proved:
            assert found(choice) == best, seed
        exact += found(choice) == best
    assert exact >= 0.8 * IN_A_CHUNK  # so small, and so often in each other's way: real jobs are easier


@pytest.mark.parametrize("seed", range(0, 2000, 10))
def test_the_bound_without_a_solver_is_no_more_than_the_least_cost(seed):
    problem = small_choice(seed)
    left, cost = best_of_all(problem)
    if not left:
        assert lower_bound(problem) <= cost


@pytest.mark.parametrize("seed", range(0, 2000, 10))
def test_options_left_out_as_needless_change_no_best_choice(seed):
    problem = small_choice(seed)
    kept = tuple(
        tuple(reduced(list(options), box)) for box, options in zip(problem.boxes, problem.options, strict=True)
    )
    fewer = Problem(problem.boxes, kept, problem.charge, problem.kinds, problem.most_kinds)
    assert best_of_all(fewer) == best_of_all(problem)


# ---- by hand -------------------------------------------------------------------------------------------------------


def option(cost: int, kinds: str = "", *touches: str) -> Option:
    return Option(cost, frozenset("ab".index(kind) for kind in kinds), frozenset(touches), 0)


TWO_BOXES = Problem(
    ("B1", "B2"),
    (
        (option(10, "a", "B1"), option(14, "b", "B1")),
        (option(13, "b", "B2"), option(30, "", "B2")),
    ),
    charge=5,
    kinds=2,
)
"""Each alone cheapest: a for B1 (10 + 5), b for B2 (13 + 5): 33. One kind for both: 14 + 13 + 5 = 32."""


def answers(problem: Problem) -> list[Choice]:
    solved = solve(problem) if is_installed() else None
    return [search(problem), *([solved] if solved else [])]


def test_one_kind_for_two_boxes_is_cheaper_than_the_cheapest_box_for_each():
    assert [(choice.picked, choice.cost) for choice in answers(TWO_BOXES)] == [((1, 0), 32)] * len(answers(TWO_BOXES))


def test_no_kind_at_all_leaves_the_box_that_needs_one():
    """B2 has a way without any kind; B1 none, so it is left."""
    problem = Problem(TWO_BOXES.boxes, TWO_BOXES.options, 5, 2, most_kinds=0)
    assert [found(choice) for choice in answers(problem)] == [(1, 30)] * len(answers(problem))


def test_two_boxes_do_not_mend_themselves_at_each_others_cost():
    """B1's cheap way changes B2, B2's changes B1; both ways cannot be gone, so one pays for the dear one."""
    problem = Problem(
        ("B1", "B2"),
        (
            (option(1, "", "B1", "B2"), option(9, "", "B1")),
            (option(2, "", "B2", "B1"), option(7, "", "B2")),
        ),
        charge=0,
        kinds=0,
    )
    assert [found(choice) for choice in answers(problem)] == [(0, 16)] * len(answers(problem))


def test_a_choice_that_leaves_fewer_boxes_is_better_whatever_it_costs():
    assert rank(TWO_BOXES, (0, 1)) < rank(TWO_BOXES, (0, -1)) < rank(TWO_BOXES, (-1, -1))


def test_nothing_to_choose_costs_nothing():
    for choice in answers(Problem((), (), 5, 0)):
        assert (choice.picked, choice.cost, choice.is_proved) == ((), 0, True)
