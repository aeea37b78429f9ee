"""The fleet's linear programme: each run covered once, rack pieces once, joints apart; priced and bounded in grains."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd

import numpy as np

from stringline.finding import finding
from stringline.nesting.columns import INF, Column, Programme
from stringline.nesting.fleet_model import Fleet, Ints
from stringline.nesting.fleet_price import Way, alone, cost, price
from stringline.nesting.stock_model import Progress


@dataclass(frozen=True)
class Relaxed:
    """Ways with their fractional use; a bound on the length bought, and the worths that prove it."""

    ways: tuple[Way, ...]
    use: tuple[float, ...]
    bound: int
    gain: Ints
    rack_worth: Ints
    settled: bool  # no way is left that would lower the fractional plan


@dataclass(frozen=True)
class Worths:
    """What covering a run is worth, keeping a rack piece, and keeping joints apart: grains, the last two 0 or more.

    ``share`` is what the bars take off each item (0 or less).
    """

    runs: Ints
    rack: Ints
    bars: Ints
    share: Ints


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

    def worths(self, duals: np.ndarray) -> Worths:
        """The programme's duals as worths in whole grains."""
        whole = np.rint(duals).astype(np.int64)
        rack = np.maximum(0, -whole[self.first_rack : self.first_bar])
        bars = np.maximum(0, -whole[self.first_bar :])
        return Worths(whole[: self.first_rack], rack, bars, self.share(bars))

    def between(self, a: Worths, b: Worths) -> Worths:
        """Three tenths of the way from one to the other."""
        runs, rack, bars = (x + 3 * (y - x) // 10 for x, y in ((a.runs, b.runs), (a.rack, b.rack), (a.bars, b.bars)))
        return Worths(runs, rack, bars, self.share(bars))

    def share(self, bars: Ints) -> Ints:
        """What the bars take off each item."""
        out = np.zeros(len(self.bars), dtype=np.int64)
        for i, rows in enumerate(self.bars):
            for b in rows:
                out[i] -= bars[b - self.first_bar]
        return out


def relax(fleet: Fleet, rack: Ints, seeds: Sequence[Way], deadline: float, progress: Progress) -> Relaxed:
    """Price ways until none is worthwhile or time is up (``deadline`` of time.monotonic).

    Minimise the length bought with every run covered once, every rack piece used at most once, and no two items that
    bar each other. The worths are smoothed: each step prices three tenths of the way from the best proof to the newest.
    """
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
    best = _proved(fleet, rack, _plain_worths(fleet, rack))
    centre = best.worths
    settled = False
    while True:
        answer = programme.linear()
        assert answer is not None
        now = rows.worths(answer.duals)
        new: list[Way] = []
        for worths in (
            rows.between(centre, now),
            now,
        ):  # a step from the best towards the newest, then the newest itself
            proved = _proved(fleet, rack, worths)
            if proved.bound > best.bound:
                best, centre = proved, worths
            new = [w for w in proved.new if w not in seen]
            if new:
                break
        gap = max(0.0, answer.value - best.bound) / max(1.0, answer.value)
        progress(finding("nesting.pricing-ways", n=len(ways), gap_percent=100.0 * gap))
        settled = not add(new) or answer.value <= best.bound
        if settled or time.monotonic() > deadline:
            break
    use = tuple(float(v) for v in answer.x) + (0.0,) * (len(ways) - len(answer.x))
    return Relaxed(tuple(ways), use, best.bound, best.gain, best.worths.rack, settled)


@dataclass(frozen=True)
class _Proved:
    """What a set of worths proves: a bound, gains that leave no way worthwhile, and the ways that were worthwhile."""

    bound: int
    gain: Ints
    new: list[Way]
    worths: Worths


def _proved(fleet: Fleet, rack: Ints, worths: Worths) -> _Proved:
    gain = worths.runs[fleet.run] + worths.share - fleet.whole
    new, least = price(fleet, rack, gain, worths.rack, 2 * len(fleet.runs) + 50)
    short = np.minimum(0, least)
    bound = int(worths.runs.sum() + short.sum() - worths.bars.sum() - worths.rack.sum())
    unit = reduce(gcd, fleet.sticks)
    return _Proved(-(-bound // unit) * unit, gain + short[fleet.run], new, worths)  # what is bought is whole sticks


def _plain_worths(fleet: Fleet, rack: Ints) -> Worths:
    """Worths to begin with: a run is worth its length and half a kerf, a rack piece the longest last piece it holds."""
    half = fleet.kerf // 2
    lasts = np.sort(fleet.last)
    at = np.searchsorted(lasts, rack, side="right") - 1
    held = np.where(at >= 0, lasts[np.maximum(at, 0)] + half, 0)
    runs = np.array([r.length + half for r in fleet.runs], dtype=np.int64)
    return Worths(
        runs, held.astype(np.int64), np.zeros(len(fleet.barred), np.int64), np.zeros(len(fleet.run), np.int64)
    )
