"""Whole plans for a fleet: ways to begin with, a plan picked from a fractional one, and a better one solved for."""

from __future__ import annotations

import time
from collections.abc import Sequence

import numpy as np

from stringline.nesting.columns import solve_integer
from stringline.nesting.fleet_lp import Relaxed, Rows
from stringline.nesting.fleet_model import Fleet, Ints
from stringline.nesting.fleet_price import Way, alone, cost

NEAR = 3  # partners that are tried for each item and stick


def seeds(fleet: Fleet, rack: Ints) -> list[Way]:
    """For each last piece the partners that fill a stick best; for each rack piece the last pieces that use it up."""
    order = np.argsort(fleet.last, kind="stable")
    order = order[fleet.last[order] > 0]
    lasts = fleet.last[order]
    ways: list[Way] = []
    for s in fleet.sticks:
        at = np.searchsorted(lasts, s - fleet.kerf - lasts, side="right") - 1
        for k in range(len(order)):
            taken = 0
            j = int(at[k])
            while j >= 0 and taken < NEAR:
                if fleet.run[order[j]] != fleet.run[order[k]]:
                    a, b = sorted((int(order[j]), int(order[k])))
                    ways.append(Way((a, b), s))
                    taken += 1
                j -= 1
    for o, length in enumerate(rack):
        j = int(np.searchsorted(lasts, length, side="right"))
        ways += [Way((int(i),), 0, o) for i in order[max(0, j - 4 * NEAR) : j]]
    return ways


def pick(fleet: Fleet, rack: int, ways: Sequence[Way], use: Sequence[float]) -> tuple[Way, ...]:
    """A whole plan: the ways most used first as long as they agree, then each run left by itself."""
    taken = _Taken(fleet, rack)
    waste = [cost(fleet, w) - sum(int(fleet.whole[i] + fleet.last[i]) for i in w.items) for w in ways]
    for k in sorted(range(len(ways)), key=lambda k: (-round(use[k], 6), waste[k])):
        if use[k] <= 0 and len(ways[k].items) < 2 and ways[k].rack < 0:
            continue
        taken.add(ways[k])
    for w in sorted(alone(fleet), key=lambda w: w.stick - int(fleet.last[w.items[0]])):
        taken.add(w)
    return tuple(taken.ways)


class _Taken:
    """A plan being put together: which runs are covered, which rack pieces are gone."""

    def __init__(self, fleet: Fleet, rack: int) -> None:
        self.fleet = fleet
        self.item: dict[int, int] = {}
        self.free = [True] * rack
        self.barred = {(a, b) for a, others in fleet.barred for b in others}
        self.barred |= {(b, a) for a, b in self.barred}
        self.ways: list[Way] = []

    def add(self, way: Way) -> bool:
        """Take the way if nothing speaks against it."""
        if way.rack >= 0 and not self.free[way.rack]:
            return False
        runs = [int(self.fleet.run[i]) for i in way.items]
        if any(r in self.item for r in runs):
            return False
        new = dict(zip(runs, way.items, strict=True))
        for r, i in new.items():
            mate = self.fleet.partner.get(r)
            j = None if mate is None else new.get(mate, self.item.get(mate))
            if j is not None and (i, j) in self.barred:
                return False
        self.item.update(new)
        if way.rack >= 0:
            self.free[way.rack] = False
        self.ways.append(way)
        return True


def improve(fleet: Fleet, rack: int, relaxed: Relaxed, best: tuple[Way, ...], deadline: float) -> tuple[Way, ...]:
    """Keep what the fractional plan is sure of and solve the rest in whole numbers, then over all ways found."""
    for sure in (0.999, 2.0):
        bought = sum(cost(fleet, w) for w in best)
        if bought <= relaxed.bound:
            break
        kept = [w for w, u in zip(relaxed.ways, relaxed.use, strict=True) if u >= sure]
        covered = {int(fleet.run[i]) for w in kept for i in w.items}
        gone = {w.rack for w in kept if w.rack >= 0}
        rest = [
            w for w in relaxed.ways if w.rack not in gone and not any(int(fleet.run[i]) in covered for i in w.items)
        ]
        if len(rest) > 40_000:
            rest = _likely(relaxed, rest, 40_000)
        until = deadline if sure > 1 else time.monotonic() + 0.6 * (deadline - time.monotonic())
        found, _ = solve(fleet, rack, [*kept, *rest], bought - 1, until)
        best = found or best
    return best


def _likely(relaxed: Relaxed, ways: list[Way], most: int) -> list[Way]:
    """The ways of least reduced cost."""

    def reduced(w: Way) -> int:
        worth = int(relaxed.rack_worth[w.rack]) if w.rack >= 0 else 0
        return w.stick + worth - sum(int(relaxed.gain[i]) for i in w.items)

    return sorted(ways, key=reduced)[:most]


def solve(
    fleet: Fleet, rack: int, ways: Sequence[Way], at_most: int, deadline: float
) -> tuple[tuple[Way, ...] | None, bool]:
    """The best whole plan from these ways that buys no more than ``at_most``, and whether the search was finished."""
    rows = Rows(fleet, rack)
    columns = [rows.column(w) for w in ways]
    seconds = deadline - time.monotonic() - 5e-6 * len(ways)  # the solver takes the columns over before it looks
    if seconds <= 0 or not ways:
        return None, False
    answer = solve_integer(rows.bounds, columns, seconds, at_most=at_most)
    if answer.x is None:
        return None, answer.finished
    chosen = tuple(w for w, n in zip(ways, answer.x, strict=True) if n > 0)
    taken = _Taken(fleet, rack)
    if not all(taken.add(w) for w in chosen) or len(taken.item) != len(fleet.runs):
        return None, False
    return chosen, answer.finished
