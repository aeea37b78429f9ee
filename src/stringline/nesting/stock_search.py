"""Finding a cutting plan and proving it: patterns by pricing, a plan from them, then all that could do better."""

from __future__ import annotations

import time
from collections import Counter
from dataclasses import replace
from fractions import Fraction

from stringline.finding import finding
from stringline.nesting.columns import INF, solve_integer
from stringline.nesting.knapsack import Knapsack, full_patterns
from stringline.nesting.stock_fit import dive, first_fit, trim, whole_part
from stringline.nesting.stock_lp import SCALE, Key, generate, pattern_column
from stringline.nesting.stock_model import OutOfTimeError, Problem, Progress, Solution, Used

NONE = -1  # stands for the bound where it is proven that there is no plan
POOL = 60_000  # patterns that are enumerated at most to close a gap


def search(problem: Problem, deadline: float, progress: Progress) -> Solution | None:
    """Least material, then fewest sticks, by ``deadline`` (of time.monotonic); None where the sticks do not suffice.

    First the cost is the material. Once that is proven, a second search costs each stick w·length + 1 with w above any
    number of sticks, so that no saving of sticks outweighs a unit of material.

    Raises OutOfTimeError where there was no time to find any plan.
    """
    best, bound = minimise(problem, None, -(-problem.pieces() // problem.unit), deadline, progress)
    if best is None:
        return None
    material = bound * problem.unit
    if problem.cost(best) > bound:
        return Solution(best, material, problem.fewest(problem.pieces()))
    fewest = problem.fewest(material)
    if best.total() == fewest or len(problem.stock) == 1:
        return Solution(best, material, best.total())
    # the material is proven: now the sticks, with a cost in which no saving of sticks outweighs a unit of material
    weight = sum(problem.demand) + 1
    both = replace(problem, costs=tuple(c * weight + 1 for c in problem.costs))
    best, bound = minimise(both, best, bound * weight + fewest, deadline, progress)
    assert best is not None
    return Solution(best, material, bound - material // problem.unit * weight)


def minimise(
    problem: Problem, start: Used | None, known: int, deadline: float, progress: Progress
) -> tuple[Used | None, int]:
    """The cheapest plan found and a proven bound on the cost, no lower than ``known``; no plan where there is none."""
    best = start or first_fit(problem)
    progress(finding("nesting.pricing-patterns", n=sum(problem.demand)))
    answer = generate(problem, best or (), deadline)
    if answer is None:
        return None, NONE
    pool, bound, duals = answer.use, max(known, answer.bound), answer.duals
    for attempt in (_rest, dive):
        if best is None or problem.cost(best) > bound:
            progress(finding("nesting.plan-from-patterns", n=len(pool)))
            until = time.monotonic() + 0.3 * (deadline - time.monotonic())
            best = _better(problem, best, attempt(problem, pool, best, until))
    if best is None or problem.cost(best) > bound:
        best = _better(problem, best, _from_pool(problem, pool, best, deadline))
    if best is None or problem.cost(best) > bound:
        best, bound = _close(problem, pool, best, bound, duals, deadline, progress)
    if best is None and bound != NONE:
        raise OutOfTimeError
    return best, bound


def _rest(problem: Problem, pool: dict[Key, float], best: Used | None, deadline: float) -> Used | None:
    """Keep the whole part of the fractional plan and solve what is left, which is small, as a problem of its own."""
    used, rest = whole_part(problem, pool)
    if not used or (best is not None and problem.cost(used) >= problem.cost(best)):
        return None
    if not any(rest.demand):
        return used
    try:
        tail, _ = minimise(rest, None, 0, deadline, lambda _: None)
    except OutOfTimeError:
        return None
    return None if tail is None else trim(problem, used + tail)


def _from_pool(problem: Problem, pool: dict[Key, float], best: Used | None, deadline: float) -> Used | None:
    """The best whole plan from the patterns at hand."""
    seconds = min(20.0, 0.4 * (deadline - time.monotonic()))
    return _solve(problem, list(pool), best, seconds)[0]


def _solve(problem: Problem, keys: list[Key], best: Used | None, seconds: float) -> tuple[Used | None, bool]:
    """A plan from these patterns that costs less than ``best``, if there is one; and whether the search finished."""
    if seconds <= 0:
        return None, False
    n = len(problem.lengths)
    limited = [k for k, lim in enumerate(problem.limits) if lim is not None]
    row_of = {k: n + j for j, k in enumerate(limited)}
    rows: list[tuple[float, float]] = [(float(d), INF) for d in problem.demand]
    rows += [(-INF, float(problem.limits[k] or 0)) for k in limited]
    columns = [pattern_column(problem, k, row_of) for k in keys]
    answer = solve_integer(rows, columns, seconds, None if best is None else problem.cost(best) - 1)
    if answer.x is None:
        return None, answer.finished
    return trim(problem, Counter({k: n for k, n in zip(keys, answer.x, strict=True) if n > 0})), answer.finished


def _better(problem: Problem, a: Used | None, b: Used | None) -> Used | None:
    if a is None or b is None:
        return b if a is None else a
    return b if problem.cost(b) < problem.cost(a) else a


def _close(
    problem: Problem,
    pool: dict[Key, float],
    best: Used | None,
    bound: int,
    duals: tuple[int, ...],
    deadline: float,
    progress: Progress,
) -> tuple[Used | None, int]:
    """Solve over every pattern that a plan cheaper than the best can hold; with all of them the answer is exact.

    In a plan that costs at most c, a pattern whose reduced cost exceeds c − bound cannot stand: the duals' own bound
    plus that reduced cost would already be more.
    """
    knapsack = Knapsack(problem.sizes, problem.demand, problem.capacities)
    targets = [None] if best is None else sorted({bound, problem.cost(best) - 1})
    for target in targets:
        keys = _candidates(problem, knapsack, duals, target, deadline)
        chosen = list(dict.fromkeys([*pool, *(keys or [])]))
        progress(finding("nesting.closing-over-patterns", n=len(chosen)))
        share = 1.0 if target == targets[-1] or keys is None else 0.5
        found, finished = _solve(problem, chosen, best, share * (deadline - time.monotonic()))
        best = _better(problem, best, found)
        if keys is not None and finished:
            if best is None:
                return None, NONE
            if target is None or problem.cost(best) <= target:
                return best, problem.cost(best)
            bound = max(bound, target + 1)
        if keys is None or problem.cost(best or Counter()) <= bound:
            break
    return best, bound


def _candidates(
    problem: Problem, knapsack: Knapsack, duals: tuple[int, ...], target: int | None, deadline: float
) -> list[Key] | None:
    """Every full pattern that may stand in a plan of cost ``target``; None where there are too many."""
    values = list(duals)
    kinds = range(len(problem.stock))
    worst = knapsack.best(values)
    charge = [max(0, worst[k] - problem.costs[k] * SCALE) for k in kinds]
    if any(charge[k] and problem.limits[k] is None for k in kinds):
        # shrink the duals until no unlimited stick yields more than it costs
        ratio = min(
            Fraction(problem.costs[k] * SCALE, worst[k]) for k in kinds if charge[k] and problem.limits[k] is None
        )
        values = [int(v * ratio) for v in values]
        worst = knapsack.best(values)
        charge = [max(0, worst[k] - problem.costs[k] * SCALE) for k in kinds]
    total = sum(d * v for d, v in zip(problem.demand, values, strict=True))
    total -= sum((problem.limits[k] or 0) * charge[k] for k in kinds if problem.limits[k] is not None)
    slack = None if target is None else target * SCALE - total
    if slack is not None and slack < 0:
        return []
    found: list[Key] = []
    for k in kinds:
        least = 0 if slack is None else max(0, problem.costs[k] * SCALE + charge[k] - slack)
        patterns = full_patterns(problem.sizes, problem.demand, problem.capacities[k], values, least, POOL, deadline)
        if patterns is None or len(found) + len(patterns) > POOL:
            return None
        found += [(k, p) for p in patterns if any(p)]
    return found
