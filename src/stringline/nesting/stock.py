"""Cutting pieces from stock lengths: least material, then fewest sticks, with a bound proven in whole numbers.

The bound is the linear programme's over all patterns (Gilmore and Gomory), verified with whole-number duals; a plan
that does not meet it is closed by solving over every pattern that could stand in a better plan. Kerf: a piece takes its
length and one kerf, a stick holds its length and one kerf.
"""

from __future__ import annotations

import time
from collections import Counter, deque
from collections.abc import Sequence
from dataclasses import dataclass

from stringline.nesting.stock_model import Problem, Progress, Solution, StockShortError, make_problem
from stringline.nesting.stock_search import search


@dataclass(frozen=True, slots=True)
class StockPiece:
    """Pieces wanted of one length. Lengths here are whole numbers of any one unit."""

    name: str
    length: int
    count: int


@dataclass(frozen=True, slots=True)
class Stick:
    """A stock length; ``count`` None where as many as wanted can be had."""

    name: str
    length: int
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way of cutting one stick, ``times`` over: pieces by name and length, and what is left."""

    stick: str
    length: int
    times: int
    pieces: tuple[tuple[str, int, int], ...]  # name, length, how many on one stick
    left: int


@dataclass(frozen=True, slots=True)
class StockPlan:
    """A cutting plan.

    ``bound``: no plan with so little material has fewer sticks (with one stock length: no plan at all). ``proven`` is
    true where material and sticks both meet their bounds. ``waste`` is material less pieces: offcuts and kerf.
    """

    patterns: tuple[Pattern, ...]
    sticks_used: int
    bound: int
    proven: bool
    material: int
    material_bound: int
    waste: int


_Names = deque[tuple[str, int | None]]  # names with how many are left; None: no end


def cut_stock(
    pieces: Sequence[StockPiece],
    sticks: Sequence[Stick],
    kerf: int = 0,
    *,
    seconds: float = 60.0,
    progress: Progress | None = None,
) -> StockPlan:
    """Cut all pieces from the sticks: least material first, then fewest sticks.

    Within ``seconds`` the best plan so far is kept; what is not proven by then says so. Raises ValueError for a length
    that is not above zero, a negative count or kerf, or a piece longer than every stick, and StockShortError where the
    sticks do not suffice, OutOfTimeError where no plan at all was found in time.

    >>> plan = cut_stock([StockPiece("a", 1380, 22), StockPiece("b", 2200, 20)], [Stick("s", 5600)], kerf=0)
    >>> plan.sticks_used, plan.bound, plan.proven
    (16, 16, True)
    """
    wanted = [p for p in pieces if p.count > 0]
    _validate(pieces, sticks, kerf)
    if not wanted:
        return StockPlan((), 0, 0, True, 0, 0, 0)
    lengths = Counter[int]()
    for p in wanted:
        lengths[p.length] += p.count
    stock: dict[int, int | None] = {}
    for s in sticks:
        if s.count != 0:
            old = stock.get(s.length, 0)
            stock[s.length] = None if s.count is None or old is None else old + s.count
    problem = make_problem(lengths, stock, kerf)
    solution = search(problem, time.monotonic() + seconds, progress or (lambda _: None))
    if solution is None:
        raise StockShortError
    return _named(problem, solution, wanted, sticks)


def _validate(pieces: Sequence[StockPiece], sticks: Sequence[Stick], kerf: int) -> None:
    if kerf < 0:
        raise ValueError("the kerf is negative")
    for p in pieces:
        if p.length <= 0 or p.count < 0:
            raise ValueError(f"piece '{p.name}' needs a length above zero and a count of 0 or more")
    for s in sticks:
        if s.length <= 0 or (s.count is not None and s.count < 0):
            raise ValueError(f"stick '{s.name}' needs a length above zero and a count of 0 or more")
    longest = max((s.length for s in sticks if s.count != 0), default=0)
    for p in pieces:
        if p.count and p.length > longest:
            raise ValueError(f"piece '{p.name}' is longer than every stick")


def _named(problem: Problem, solution: Solution, pieces: Sequence[StockPiece], sticks: Sequence[Stick]) -> StockPlan:
    """Hand the pieces' and sticks' names out over the patterns, and check every one again in whole numbers."""
    queues: dict[int, _Names] = {}
    for p in pieces:
        queues.setdefault(p.length, deque()).append((p.name, p.count))
    racks: dict[int, _Names] = {}
    for s in sticks:
        if s.count != 0:
            racks.setdefault(s.length, deque()).append((s.name, s.count))
    made: Counter[tuple[str, int, tuple[tuple[str, int, int], ...], int]] = Counter()
    for (kind, counts), times in sorted(solution.used.items(), key=lambda u: (-u[1], u[0])):
        length = problem.stock[kind]
        for _ in range(times):
            held = Counter(
                (_take(queues[problem.lengths[i]]), problem.lengths[i]) for i, n in enumerate(counts) for _ in range(n)
            )
            parts = tuple(sorted((name, size, n) for (name, size), n in held.items()))
            n_parts = sum(counts)
            full = sum(size * n for _, size, n in parts)
            if full + problem.kerf * (n_parts - 1) > length:
                raise AssertionError("a pattern does not fit its stick")
            left = max(0, length - full - problem.kerf * n_parts)
            made[(_take(racks[length]), length, parts, left)] += 1
    if any(n for queue in queues.values() for _, n in queue):
        raise AssertionError("a piece was left out")
    patterns = tuple(
        Pattern(name, length, times, parts, left)
        for (name, length, parts, left), times in sorted(made.items(), key=lambda m: (-m[1], m[0]))
    )
    used = sum(p.times for p in patterns)
    material = sum(p.times * p.length for p in patterns)
    waste = material - sum(p.length * p.count for p in pieces)
    proven = used == solution.sticks_bound and material == solution.material_bound
    return StockPlan(patterns, used, solution.sticks_bound, proven, material, solution.material_bound, waste)


def _take(queue: _Names) -> str:
    name, left = queue[0]
    if left is None:
        return name
    queue.popleft()
    if left > 1:
        queue.appendleft((name, left - 1))
    return name
