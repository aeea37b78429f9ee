"""A linear or integer programme that is written one column at a time, solved by HiGHS.

Only this module knows the solver. What it answers is rounded and has to be verified in whole numbers by whoever asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from stringline.geometry import Array

INF = float("inf")


@dataclass(frozen=True, slots=True)
class Column:
    """One variable: its whole-number cost, the rows it stands in and how often, and the most it may be."""

    cost: int
    rows: tuple[int, ...]
    values: tuple[int, ...]
    most: float = INF


@dataclass(frozen=True, slots=True)
class LinearAnswer:
    """Optimal value, the variables and the rows' duals."""

    value: float
    x: Array
    duals: Array


@dataclass(frozen=True, slots=True)
class IntegerAnswer:
    """Best whole-number solution found (None where there is none), the solver's bound, and whether it finished."""

    x: tuple[int, ...] | None
    bound: float
    finished: bool


class Programme:
    """Rows with bounds, columns added as they are found; the linear programme restarts from its last basis."""

    def __init__(self, rows: Sequence[tuple[float, float]]) -> None:
        self.rows = list(rows)
        self.columns: list[Column] = []
        self._highs = _highs()
        for low, high in rows:
            self._highs.addRow(low, high, 0, np.empty(0, dtype=np.int32), np.empty(0))

    def add(self, columns: Sequence[Column]) -> None:
        """Append columns."""
        if not columns:
            return
        starts, index, value = _flatten([(c.rows, c.values) for c in columns])
        self._highs.addCols(
            len(columns),
            np.array([c.cost for c in columns], dtype=float),
            np.zeros(len(columns)),
            np.array([c.most for c in columns], dtype=float),
            len(index),
            starts,
            index,
            value,
        )
        self.columns.extend(columns)

    def linear(self) -> LinearAnswer | None:
        """Solve without whole numbers; None where there is no solution.

        >>> programme = Programme([(7.0, INF)])
        >>> programme.add([Column(3, (0,), (2,))])
        >>> answer = programme.linear()
        >>> answer.value, answer.duals.tolist()
        (10.5, [1.5])
        """
        h = self._highs
        h.run()
        if h.modelStatusToString(h.getModelStatus()) != "Optimal":
            return None
        s = h.getSolution()
        return LinearAnswer(float(h.getObjectiveValue()), np.array(s.col_value), np.array(s.row_dual))


def solve_integer(
    rows: Sequence[tuple[float, float]],
    columns: Sequence[Column],
    seconds: float,
    at_most: float | None = None,
) -> IntegerAnswer:
    """Minimise Σ cost·x with low ≤ A·x ≤ high, 0 ≤ x ≤ most, x whole; costs are whole. ``at_most`` bars worse answers.

    No starting solution is handed over: with one, this solver was seen to stop at it and call it optimal.

    >>> answer = solve_integer([(7.0, INF)], [Column(3, (0,), (2,)), Column(2, (0,), (1,))], seconds=5.0)
    >>> answer.x, answer.finished
    ((3, 1), True)
    """
    h = _highs()
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("time_limit", max(0.05, seconds))
    n = len(columns)
    for low, high in rows:
        h.addRow(low, high, 0, np.empty(0, dtype=np.int32), np.empty(0))
    starts, index, value = _flatten([(c.rows, c.values) for c in columns])
    costs = np.array([c.cost for c in columns], dtype=float)
    most = np.array([c.most for c in columns], dtype=float)
    h.addCols(n, costs, np.zeros(n), most, len(index), starts, index, value)
    h.changeColsIntegrality(n, np.arange(n, dtype=np.int32), np.ones(n, dtype=np.uint8))
    if at_most is not None:
        used = np.flatnonzero(costs).astype(np.int32)
        h.addRow(-INF, float(at_most), len(used), used, costs[used])
    h.run()
    status = h.modelStatusToString(h.getModelStatus())
    info = h.getInfo()
    if status == "Infeasible":
        return IntegerAnswer(None, INF, True)
    x = h.getSolution().col_value
    found = tuple(round(v) for v in x) if info.primal_solution_status == 2 and len(x) == n else None
    bound = float(info.mip_dual_bound)
    closed = bool(found is not None and float(info.objective_function_value) - bound < 0.999)
    return IntegerAnswer(found, bound, status == "Optimal" and closed)


def _flatten(entries: Sequence[tuple[Sequence[int], Sequence[int]]]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    sizes = [len(rows) for rows, _ in entries]
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.int32) if sizes else np.empty(0, dtype=np.int32)
    index = np.fromiter((r for rows, _ in entries for r in rows), dtype=np.int32, count=sum(sizes))
    value = np.fromiter((v for _, values in entries for v in values), dtype=float, count=sum(sizes))
    return starts, index, value


def _highs() -> Any:
    # the class below highspy.Highs, because that one prints a banner to standard output, where our JSON goes
    from highspy._core import _Highs

    h = _Highs()
    h.setOptionValue("log_to_console", False)
    h.setOptionValue("output_flag", False)
    h.setOptionValue("random_seed", 1)
    h.setOptionValue("threads", 1)
    return h
