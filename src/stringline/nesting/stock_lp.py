"""The linear programme over all cutting patterns, its patterns found by pricing, its bound proven in whole numbers."""

from __future__ import annotations

import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

import numpy as np

from stringline.nesting.columns import INF, Column, Programme
from stringline.nesting.knapsack import Knapsack
from stringline.nesting.stock_model import Problem

Key = tuple[int, tuple[int, ...]]  # kind of stick, how many of each length
SCALE = 1 << 24  # duals are held as whole multiples of 1/SCALE


@dataclass(frozen=True, slots=True)
class Fractional:
    """Patterns with how often the linear programme uses each, its proven bound, and its duals as whole numbers."""

    use: dict[Key, float]
    bound: int
    duals: tuple[int, ...]


def generate(problem: Problem, start: Iterable[Key], deadline: float) -> Fractional | None:
    """Price patterns until none is worth adding or time is up; None where the sticks cannot do even in fractions."""
    n = len(problem.lengths)
    limited = [k for k, lim in enumerate(problem.limits) if lim is not None]
    row_of = {k: n + j for j, k in enumerate(limited)}
    rows: list[tuple[float, float]] = [(float(d), INF) for d in problem.demand]
    rows += [(-INF, float(problem.limits[k] or 0)) for k in limited]
    knapsack = Knapsack(problem.sizes, problem.demand, problem.capacities)
    programme = Programme(rows)
    keys: list[Key] = []
    seen: set[Key] = set()

    def add(new: Sequence[Key]) -> int:
        fresh = [k for k in dict.fromkeys(new) if k not in seen]
        programme.add([pattern_column(problem, k, row_of) for k in fresh])
        keys.extend(fresh)
        seen.update(fresh)
        return len(fresh)

    # an unmet piece costs more than any stick: a plan that still holds one shows that the sticks do not suffice
    unmet = 2 * max(problem.costs) * (sum(problem.demand) + 1 if limited else 1)
    programme.add([Column(unmet, (i,), (1,)) for i in range(n)])
    add(list(start))
    add([(k, _single(problem, k, i)) for k in range(len(problem.stock)) for i in range(n) if _holds(problem, k, i)])
    bound, duals = 0, (0,) * n
    x = np.zeros(0)
    best_dual = -1
    while True:
        answer = programme.linear()
        assert answer is not None
        x = answer.x
        whole = tuple(max(0, int(d * SCALE)) for d in answer.duals[:n])
        offsets = [
            0 if k not in row_of else max(0, int(-answer.duals[row_of[k]] * SCALE)) for k in range(len(problem.stock))
        ]
        proven = certified(problem, whole, knapsack)
        if proven > best_dual:
            best_dual, duals = proven, whole
            bound = max(bound, proven)
        if time.monotonic() > deadline:
            break
        new = [
            (k, counts)
            for k, (worth, counts) in enumerate(knapsack.patterns(whole))
            if worth > (problem.costs[k] * SCALE) + offsets[k] + n
        ]
        if not add(new):
            if x[:n].sum() > 1e-6:
                return None
            break
    return Fractional(dict(zip(keys, (float(v) for v in x[n:]), strict=True)), bound, duals)


def _single(problem: Problem, kind: int, i: int) -> tuple[int, ...]:
    most = min(problem.demand[i], problem.capacities[kind] // problem.sizes[i])
    return tuple(most if j == i else 0 for j in range(len(problem.sizes)))


def _holds(problem: Problem, kind: int, i: int) -> bool:
    return problem.sizes[i] <= problem.capacities[kind]


def pattern_column(problem: Problem, key: Key, row_of: dict[int, int]) -> Column:
    """The column of one pattern."""
    kind, counts = key
    rows = [i for i, c in enumerate(counts) if c]
    values = [counts[i] for i in rows]
    if kind in row_of:
        rows.append(row_of[kind])
        values.append(1)
    return Column(problem.costs[kind], tuple(rows), tuple(values))


def certified(problem: Problem, duals: Sequence[int], knapsack: Knapsack) -> int:
    """A bound on the cost in whole numbers, whatever rounding the solver did (source ``gilmore-gomory``).

    For duals y ≥ 0 of which no pattern is worth more than its stick costs, Σ demand·y bounds every plan from below. No
    stick of a kind yields more than ``best``; what that exceeds the stick's cost by is charged to the kind's limit,
    or, where there is none, shrinks all duals alike (Farley).
    """
    best = knapsack.best(duals)
    shrink = Fraction(1)
    for k, worth in enumerate(best):
        if problem.limits[k] is None and worth > problem.costs[k] * SCALE:
            shrink = min(shrink, Fraction(problem.costs[k] * SCALE, worth))
    total = Fraction(sum(d * y for d, y in zip(problem.demand, duals, strict=True))) * shrink / SCALE
    for k, worth in enumerate(best):
        limit = problem.limits[k]
        if limit is not None:
            total -= limit * max(Fraction(0), worth * shrink / SCALE - problem.costs[k])
    return max(0, ceil(total))
