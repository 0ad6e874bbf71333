"""The least choice proved by HiGHS, where it is installed; else nothing, and the search answers alone."""

from __future__ import annotations

import math
import os
import sys
import time
from collections.abc import Callable
from typing import Any

from ampleroom.record import TupleRecord
from ampleroom.remedy.choice import LEFT, Choice, Problem, cost_of, is_allowed, lower_bound, with_fixed_along

BY = "HiGHS"
Picked = tuple[int, ...]
Row = tuple[list[tuple[int, float]], float, float]
"""Columns with their factors, and the least and the most they may add up to."""


def is_installed() -> bool:
    """Whether HiGHS can be imported."""
    from importlib.util import find_spec

    return find_spec("highspy") is not None


def solve(
    problem: Problem, seconds: float = 60.0, progress: Callable[[str], None] = lambda text: None
) -> Choice | None:
    """The least choice and its bound; None where HiGHS is not installed or found none in time.

    Where no choice mends every box, it is first asked how few must be left, and then which choice of those is least.
    Stopped from outside (Ctrl-C), it answers with the best it has.
    """
    if not is_installed():
        return None
    model = _Model(problem, seconds)
    fewest = 0
    try:
        progress("proving the lowest cost")
        solution = model.least_cost(0)
        if solution.is_impossible:
            progress("finding how few boxes must be left")
            few = model.fewest_left()
            if few.picked is None:
                return None
            fewest = few.picked.count(LEFT) if few.is_proved else 0
            solution = model.least_cost(few.picked.count(LEFT))
    except KeyboardInterrupt:  # before HiGHS had begun
        return None
    if solution.picked is None:
        return None
    cost = cost_of(problem, solution.picked)
    known = cost if solution.is_proved else max(solution.bound, 0 if LEFT in solution.picked else lower_bound(problem))
    return Choice(solution.picked, cost, min(known, cost), BY, fewest)


class _Found(TupleRecord):
    """What HiGHS came back with."""

    picked: Picked | None
    bound: int
    is_proved: bool
    is_impossible: bool


class _Model:
    """The choice as zeros and ones: a column for each kind, one for each option of each box, one for each box left."""

    def __init__(self, problem: Problem, seconds: float) -> None:
        self.problem = problem
        self.ends = time.monotonic() + seconds
        self.first: list[int] = []
        self.costs = [float(problem.charge)] * problem.kinds
        for options in problem.options:
            self.first.append(len(self.costs))
            self.costs += [float(option.cost) for option in options]
        self.left = len(self.costs)
        self.costs += [0.0] * len(problem.boxes)

    def least_cost(self, left: int) -> _Found:
        """The least cost with so many boxes left at most."""
        return self.run(self.costs, self.rows(left))

    def fewest_left(self) -> _Found:
        """The fewest boxes that must be left as they are, whatever it costs."""
        boxes = len(self.problem.boxes)
        return self.run([0.0] * self.left + [1.0] * boxes, self.rows(boxes))

    def rows(self, left: int) -> list[Row]:
        """Each box has one option, is fixed along with another one, or is left; an option needs its kinds; no box is
        touched twice; no more are left, and no more kinds carried, than allowed.
        """
        infinite = float("inf")
        problem = self.problem
        rows: list[Row] = [([(column, 1.0) for column in range(self.left, len(self.costs))], 0.0, float(left))]
        touching: dict[str, list[int]] = {}
        along: dict[str, list[int]] = {}
        for start, options in zip(self.first, problem.options, strict=True):
            for place, option in enumerate(options):
                for name in option.fixes:
                    along.setdefault(name, []).append(start + place)
        for box, (start, options) in enumerate(zip(self.first, problem.options, strict=True)):
            columns = [(start + option, 1.0) for option in range(len(options))]
            fixed = [(column, 1.0) for column in along.get(problem.boxes[box], ())]
            rows.append(([*columns, *fixed, (self.left + box, 1.0)], 1.0, 1.0))
            by_kind: dict[int, list[tuple[int, float]]] = {}
            for option_index, option in enumerate(options):
                for kind in option.kinds:
                    by_kind.setdefault(kind, []).append((start + option_index, 1.0))
                for touched in option.touches:
                    touching.setdefault(touched, []).append(start + option_index)
            rows += [([*needing, (kind, -1.0)], -infinite, 0.0) for kind, needing in by_kind.items()]
        own = {name: len(options) for name, options in zip(problem.boxes, problem.options, strict=True)}
        for name, touching_it in touching.items():
            if len(touching_it) > own.get(name, 1):  # by more than its own options, which are one already
                rows.append(([(column, 1.0) for column in touching_it], -infinite, 1.0))
        if problem.most_kinds is not None:
            rows.append(([(kind, 1.0) for kind in range(problem.kinds)], -infinite, float(problem.most_kinds)))
        return rows

    def run(self, costs: list[float], rows: list[Row]) -> _Found:
        """The choice of least cost that keeps all rows, with the bound that was proved. Stops when the time is up."""
        import highspy

        highs = quiet_highs(highspy)
        highs.setOptionValue("mip_rel_gap", 0.0)
        highs.setOptionValue("mip_abs_gap", 0.5)  # costs are whole: less than one apart is the same
        highs.setOptionValue("time_limit", max(0.0, self.ends - time.monotonic()))
        highs.passModel(program(highspy, costs, rows))
        # no choice to begin with is given: with one, HiGHS 1.16 proved some small choices least that are not
        run_until_stopped(highs, highspy)
        status = highs.getModelStatus()
        bound = highs.getInfo().mip_dual_bound
        solution = highs.getSolution()
        return _Found(
            self.picked_in(solution.col_value) if solution.value_valid else None,
            math.ceil(bound - 1e-6) if math.isfinite(bound) else 0,
            status == highspy.HighsModelStatus.kOptimal,
            status == highspy.HighsModelStatus.kInfeasible,
        )

    def picked_in(self, values: list[float]) -> Picked | None:
        """The options taken; None where they do not go together."""
        picked = []
        for first, options in zip(self.first, self.problem.options, strict=True):
            chosen = max(range(len(options)), key=lambda option: values[first + option], default=-1)
            picked.append(chosen if chosen >= 0 and values[first + chosen] > 0.5 else LEFT)
        choice = with_fixed_along(self.problem, picked)
        return choice if is_allowed(self.problem, choice) else None


def program(highspy: Any, costs: list[float], rows: list[Row]) -> Any:
    """The columns and rows as HiGHS takes them."""
    import numpy as np

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(costs), len(rows)
    lp.col_cost_ = np.array(costs)
    lp.col_lower_, lp.col_upper_ = np.zeros(len(costs)), np.ones(len(costs))
    lp.row_lower_, lp.row_upper_ = np.array([low for _, low, _ in rows]), np.array([high for _, _, high in rows])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(entries) for entries, _, _ in rows)]).astype(np.int32)
    lp.a_matrix_.index_ = np.array([column for entries, _, _ in rows for column, _ in entries], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([value for entries, _, _ in rows for _, value in entries])
    return lp


def run_until_stopped(highs: Any, highspy: Any) -> None:
    """Run HiGHS beside Python, which alone would not hear Ctrl-C before the end; stopped, it keeps the best it has."""
    highs.HandleUserInterrupt = True
    try:
        highs.startSolve()
    except highspy.HighsError:  # another one is running in this process
        highs.run()
        return
    except KeyboardInterrupt:
        highs.cancelSolve()
    while True:
        try:
            if highs.wait(0.1)[0]:
                return
        except KeyboardInterrupt:
            highs.cancelSolve()


def quiet_highs(highspy: Any) -> Any:
    """A solver that prints nothing: its constructor writes a banner to descriptor 1, which would spoil JSON on
    stdout.
    """
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
