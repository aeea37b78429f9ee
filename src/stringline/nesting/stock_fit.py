"""Whole plans by rule: first fit, diving from a fractional plan, and putting a solver's answer right."""

from __future__ import annotations

import time
from bisect import bisect_left, insort
from collections import Counter
from dataclasses import replace

from stringline.nesting.stock_lp import Key, generate
from stringline.nesting.stock_model import Problem, Used


def first_fit(problem: Problem) -> Used | None:
    """Longest pieces first, each where it leaves least; a new stick is the one whose price a unit is least.

    None where the limits of the sticks run out. Every pattern is then moved to the cheapest stick that holds it.
    """
    left = list(problem.limits)
    bins: list[tuple[int, list[int]]] = []
    rooms: list[tuple[int, int]] = []  # what each bin still holds, with its number, in order
    order = sorted(range(len(problem.stock)), key=lambda k: (problem.costs[k] / problem.stock[k], -problem.stock[k]))
    for i, size in enumerate(problem.sizes):
        for _ in range(problem.demand[i]):
            at = bisect_left(rooms, (size, -1))
            if at < len(rooms):
                room, b = rooms.pop(at)
                bins[b][1][i] += 1
                insort(rooms, (room - size, b))
                continue
            kind = next((k for k in order if problem.capacities[k] >= size and left[k] != 0), None)
            if kind is None:
                return None
            if left[kind] is not None:
                left[kind] = (left[kind] or 0) - 1
            counts = [0] * len(problem.sizes)
            counts[i] = 1
            insort(rooms, (problem.capacities[kind] - size, len(bins)))
            bins.append((kind, counts))
    return _shrink(problem, Counter((k, tuple(c)) for k, c in bins), left)


def _shrink(problem: Problem, used: Used, left: list[int | None]) -> Used:
    """Move each pattern to the cheapest stick that still holds it."""
    out: Used = Counter()
    for (kind, counts), times in used.items():
        need = sum(n * s for n, s in zip(counts, problem.sizes, strict=True))
        for _ in range(times):
            best = kind
            for k in range(kind):
                if problem.capacities[k] >= need and left[k] != 0 and problem.costs[k] < problem.costs[best]:
                    best = k
                    break
            if best != kind:
                if left[kind] is not None:
                    left[kind] = (left[kind] or 0) + 1
                if left[best] is not None:
                    left[best] = (left[best] or 0) - 1
            out[(best, counts)] += 1
    return out


def whole_part(problem: Problem, pool: dict[Key, float]) -> tuple[Used, Problem]:
    """What the fractional plan uses whole times, and the problem that is left."""
    used: Used = Counter()
    left, room = list(problem.demand), list(problem.limits)
    for (kind, counts), x in sorted(pool.items(), key=lambda p: (-p[1], p[0])):
        times = int(x + 1e-6)
        for c, n in zip(counts, left, strict=True):
            times = min(times, n // c) if c else times
        if times > 0:
            used[(kind, counts)] += times
            left = [n - times * c for n, c in zip(left, counts, strict=True)]
            count = room[kind]
            room[kind] = None if count is None else count - times
    return used, replace(problem, demand=tuple(left), limits=tuple(room))


def dive(problem: Problem, pool: dict[Key, float], best: Used | None, deadline: float) -> Used | None:
    """Fix what the fractional plan is surest of, price patterns for the rest, and so on; None where it cannot win."""
    used: Used = Counter()
    left, room = list(problem.demand), list(problem.limits)
    x = pool
    seeds = dict.fromkeys(pool)
    limit = None if best is None else problem.cost(best)
    while True:
        ordered = sorted(x.items(), key=lambda p: (-p[1], p[0]))
        whole = [(key, int(v + 1e-6)) for key, v in ordered if v > 1 - 1e-6]
        for (kind, counts), times in whole or [(ordered[0][0], 1)]:
            for _ in range(times):
                kept = tuple(min(c, n) for c, n in zip(counts, left, strict=True))
                if not any(kept) or room[kind] == 0 or (whole and kept != counts and times > 1):
                    break
                used[(kind, kept)] += 1
                left = [n - c for n, c in zip(left, kept, strict=True)]
                count = room[kind]
                room[kind] = None if count is None else count - 1
        if not any(left):
            return trim(problem, used)
        if time.monotonic() > deadline:
            return None
        rest = replace(problem, demand=tuple(left), limits=tuple(room))
        answer = generate(rest, seeds, deadline)
        if answer is None or (limit is not None and problem.cost(used) + answer.bound >= limit):
            return None
        x = answer.use
        seeds.update(dict.fromkeys(k for k, v in x.items() if v > 0))


def trim(problem: Problem, used: Used) -> Used | None:
    """Take surplus pieces out; None where the plan falls short or breaks a limit: rounding is not trusted."""
    over = [-d for d in problem.demand]
    for (_, counts), times in used.items():
        over = [o + times * c for o, c in zip(over, counts, strict=True)]
    if min(over) < 0:
        return None
    out: Used = Counter()
    for (kind, counts), times in used.items():
        for _ in range(times):
            less = tuple(min(c, o) for c, o in zip(counts, over, strict=True))
            kept = tuple(c - d for c, d in zip(counts, less, strict=True))
            over = [o - d for o, d in zip(over, less, strict=True)]
            if any(kept):
                out[(kind, kept)] += 1
    per_kind = Counter[int]()
    for (kind, _), times in out.items():
        per_kind[kind] += times
    if any(lim is not None and per_kind[k] > lim for k, lim in enumerate(problem.limits)):
        return None
    return _shrink(problem, out, [None if lim is None else lim - per_kind[k] for k, lim in enumerate(problem.limits)])
