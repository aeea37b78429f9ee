"""The fleet's linear programme: each run covered once, rack pieces once, joints apart; priced and bounded in grains."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd

import numpy as np

from stringline.cutting.columns import INF, Column, Programme
from stringline.cutting.fleet_model import Fleet, Ints
from stringline.cutting.fleet_price import Way, alone, cost, price


@dataclass(frozen=True)
class Relaxed:
    """Ways with their fractional use; a bound on the length bought, and the worths that prove it."""

    ways: tuple[Way, ...]
    use: tuple[float, ...]
    bound: int
    gain: Ints
    rack_worth: Ints
    settled: bool  # no way is left that would lower the fractional plan


class Rows:
    """Which rows a way stands in: runs, then rack pieces, then pairs of joints too close."""

    def __init__(self, fleet: Fleet, rack: int) -> None:
        self.fleet = fleet
        self.first_rack = len(fleet.runs)
        self.first_bar = self.first_rack + rack
        self.bounds: list[tuple[float, float]] = [(1.0, 1.0)] * len(fleet.runs)
        self.bounds += [(-INF, 1.0)] * (rack + len(fleet.barred))
        self.bars: list[list[int]] = [[] for _ in fleet.run]
        for k, (item, others) in enumerate(fleet.barred):
            for i in (item, *others):
                self.bars[i].append(self.first_bar + k)

    def column(self, way: Way) -> Column:
        """The way as a column."""
        rows = Counter(int(self.fleet.run[i]) for i in way.items)
        for i in way.items:
            rows.update(self.bars[i])
        if way.rack >= 0:
            rows[self.first_rack + way.rack] += 1
        return Column(cost(self.fleet, way), tuple(rows), tuple(rows.values()))

    def worths(self, duals: np.ndarray) -> tuple[Ints, Ints, int, Ints]:
        """Whole-grain worths of runs, of rack pieces, the sum over the bars, and the bars' share in each item."""
        whole = np.rint(duals).astype(np.int64)
        runs = whole[: self.first_rack]
        rack = np.maximum(0, -whole[self.first_rack : self.first_bar])
        bars = np.minimum(0, whole[self.first_bar :])
        share = np.array([bars[[b - self.first_bar for b in rows]].sum() if rows else 0 for rows in self.bars])
        return runs, rack, int(bars.sum()), share.astype(np.int64)


def relax(fleet: Fleet, rack: Ints, seeds: Sequence[Way], deadline: float, progress: Callable[[str], None]) -> Relaxed:
    """Price ways until none is worthwhile or time is up."""
    rows = Rows(fleet, len(rack))
    programme = Programme(rows.bounds)
    ways: list[Way] = []
    seen: set[Way] = set()

    def add(new: Sequence[Way]) -> int:
        fresh = [w for w in dict.fromkeys(new) if w not in seen]
        programme.add([rows.column(w) for w in fresh])
        ways.extend(fresh)
        seen.update(fresh)
        return len(fresh)

    add(alone(fleet))
    add(seeds)
    best: tuple[int, Ints, Ints] | None = None
    settled = False
    unit = reduce(gcd, fleet.sticks)
    while True:
        answer = programme.linear()
        assert answer is not None
        runs, rack_worth, bars, share = rows.worths(answer.duals)
        gain = runs[fleet.run] + share - fleet.whole
        new, least = price(fleet, rack, gain, rack_worth, 2 * len(fleet.runs) + 50)
        short = np.minimum(0, least)
        bound = int(runs.sum() + short.sum() + bars - rack_worth.sum())
        bound = -(-bound // unit) * unit  # whatever is bought is whole sticks
        if best is None or bound > best[0]:
            best = (bound, gain + short[fleet.run], rack_worth)
        progress(f"{len(ways)} ways to cut, gap {max(0.0, answer.value - best[0]) / max(1.0, answer.value):.3%}")
        settled = not add(new) or answer.value <= best[0]
        if settled or time.monotonic() > deadline:
            break
    use = tuple(float(v) for v in answer.x) + (0.0,) * (len(ways) - len(answer.x))
    return Relaxed(tuple(ways), use, best[0], best[1], best[2], settled)
