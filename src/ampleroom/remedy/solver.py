"""The least choice proved by HiGHS, where it is installed; else nothing, and the search answers alone."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable
from typing import Any

from ampleroom.remedy.choice import Choice, Problem, cost_of, is_allowed, lower_bound

BY = "HiGHS"


def is_installed() -> bool:
    from importlib.util import find_spec

    return find_spec("highspy") is not None


def solve(
    problem: Problem,
    start: Choice | None = None,
    seconds: float = 60.0,
    tell: Callable[[str], None] = lambda text: None,
) -> Choice | None:
    """The least choice and its bound; None where HiGHS is not installed or found none in time."""
    if not is_installed():
        return None
    import highspy
    import numpy as np

    began = time.perf_counter()
    model = build(problem, highspy, np)
    highs = quiet_highs(highspy)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("mip_abs_gap", 0.5)
    highs.setOptionValue("time_limit", float(seconds))
    if hasattr(highs, "HandleKeyboardInterrupt"):
        highs.HandleKeyboardInterrupt = True
    highs.passModel(model.lp)
    if start is not None and is_allowed(problem, start.picked):
        give_start(highs, highspy, problem, model, start)
    tell("HiGHS is proving the least cost")
    try:
        highs.run()
    except KeyboardInterrupt:
        tell("stopped; the best found so far stands")
    values = highs.getSolution().col_value
    if not values:
        return None
    picked = []
    for first, options in zip(model.first, problem.options, strict=True):
        number = max(range(len(options)), key=lambda option: values[first + option], default=-1)
        picked.append(number if number >= 0 and values[first + number] > 0.5 else -1)
    if not is_allowed(problem, tuple(picked)):
        return None
    cost = cost_of(problem, tuple(picked))
    optimal = highs.getModelStatus() == highspy.HighsModelStatus.kOptimal
    bound = cost if optimal else max(lower_bound(problem), int(highs.getInfo().mip_dual_bound))
    tell(f"HiGHS: {cost / 100:.2f} after {time.perf_counter() - began:.1f} s")
    return Choice(tuple(picked), cost, min(bound, cost), BY)


class Model:
    """The columns: one for each kind, then one for each option of each box."""

    def __init__(self, lp: Any, first: list[int]) -> None:
        self.lp = lp
        self.first = first


def build(problem: Problem, highspy: Any, np: Any) -> Model:
    """Rows: one option a box; an option needs its kinds; no box touched twice; no more kinds than allowed."""
    first: list[int] = []
    cost = [float(problem.charge)] * problem.kinds
    for options in problem.options:
        first.append(len(cost))
        cost += [float(option.cost) for option in options]
    rows: list[list[tuple[int, float]]] = []
    low: list[float] = []
    high: list[float] = []
    infinite = highspy.kHighsInf

    def row(entries: list[tuple[int, float]], least: float, most: float) -> None:
        rows.append(entries)
        low.append(least)
        high.append(most)

    touching: dict[str, list[int]] = {}
    for start, options in zip(first, problem.options, strict=True):
        row([(start + number, 1.0) for number in range(len(options))], 1.0, 1.0)
        by_kind: dict[int, list[int]] = {}
        for number, option in enumerate(options):
            for kind in option.kinds:
                by_kind.setdefault(kind, []).append(start + number)
            for box in option.touches:
                touching.setdefault(box, []).append(start + number)
        for kind, columns in by_kind.items():
            row([*((column, 1.0) for column in columns), (kind, -1.0)], -infinite, 0.0)
    own = set(problem.boxes)
    for box, columns in touching.items():
        if box not in own or len(columns) > len(problem.options[problem.boxes.index(box)]):
            row([(column, 1.0) for column in columns], -infinite, 1.0)
    if problem.most_kinds is not None:
        row([(kind, 1.0) for kind in range(problem.kinds)], -infinite, float(problem.most_kinds))

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(cost), len(rows)
    lp.col_cost_ = np.array(cost)
    lp.col_lower_, lp.col_upper_ = np.zeros(len(cost)), np.ones(len(cost))
    lp.row_lower_, lp.row_upper_ = np.array(low), np.array(high)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(cost)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(entries) for entries in rows)]).astype(np.int32)
    lp.a_matrix_.index_ = np.array([column for entries in rows for column, _ in entries], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([value for entries in rows for _, value in entries])
    return Model(lp, first)


def give_start(highs: Any, highspy: Any, problem: Problem, model: Model, start: Choice) -> None:
    """The search's choice as a beginning: HiGHS then only has to beat it."""
    values = [0.0] * model.lp.num_col_
    for first, number, options in zip(model.first, start.picked, problem.options, strict=True):
        values[first + number] = 1.0
        for kind in options[number].kinds:
            values[kind] = 1.0
    solution = highspy.HighsSolution()
    solution.col_value = values
    highs.setSolution(solution)


def quiet_highs(highspy: Any) -> Any:
    """A solver that prints nothing: its constructor writes a banner to descriptor 1, which would spoil JSON on stdout."""
    sys.stdout.flush()
    keep, null = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    os.dup2(null, 1)
    try:
        highs = highspy.Highs()
        highs.setOptionValue("output_flag", False)
    finally:
        os.dup2(keep, 1)
        os.close(keep)
        os.close(null)
    return highs
