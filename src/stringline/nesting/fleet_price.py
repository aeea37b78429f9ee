"""Which sticks are worth opening for whom, given what covering a run is worth; exact, in whole grains.

A column is a way to get one or two last pieces: from a rack piece (one), from one factory end of a new stick, from both
ends of one, or none at all (a run of whole sticks). Its cost is the length it buys, whole sticks of its runs included.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np

from stringline.nesting.fleet_model import Fleet, Ints

NONE = -1
FAR = np.iinfo(np.int64).max // 4


@dataclass(frozen=True, slots=True)
class Way:
    """A column: one or two items, the stick they come from (0: none), or the number of the rack piece."""

    items: tuple[int, ...]
    stick: int
    rack: int = NONE


def cost(fleet: Fleet, way: Way) -> int:
    """Length bought: the whole sticks of its runs and the stick that is opened, grains."""
    return int(sum(fleet.whole[i] for i in way.items)) + way.stick


def alone(fleet: Fleet) -> list[Way]:
    """Each item by itself: whole sticks only, or one end of the shortest stick that is long enough."""
    ways = []
    for i, last in enumerate(fleet.last):
        stick = 0 if last == 0 else min(s for s in fleet.sticks if s >= last)
        ways.append(Way((i,), stick))
    return ways


def price(fleet: Fleet, rack: Ints, gain: Ints, rack_worth: Ints, most: int) -> tuple[list[Way], Ints]:
    """The most worthwhile ways, at most ``most`` of them, and for each run the least reduced cost, shared.

    ``gain`` is what having an item is worth less its whole sticks; ``rack_worth`` (0 or more) is what a rack piece is
    worth kept for another. The second answer is, for each run, the least reduced cost of a way it stands in, halved
    (downwards) where the way serves two runs: added to what covering the runs is worth, it leaves no way worthwhile.
    """
    runs = len(fleet.runs)
    least = np.full(runs, FAR, dtype=np.int64)
    found: list[tuple[int, Way]] = []
    single = np.zeros(len(gain), dtype=np.int64)
    for s in fleet.sticks:
        single[fleet.last <= s] = s  # longest first, so the shortest that is long enough stays
    single[fleet.last == 0] = 0
    reduced = single - gain
    np.minimum.at(least, fleet.run, reduced)
    found += [(int(reduced[i]), Way((int(i),), int(single[i]))) for i in _worst(reduced, most)]
    for o, (length, worth) in enumerate(zip(rack, rack_worth, strict=True)):
        fits = np.flatnonzero((fleet.last <= length) & (fleet.last > 0))
        if len(fits):
            reduced = worth - gain[fits]
            np.minimum.at(least, fleet.run[fits], reduced)
            found += [(int(reduced[k]), Way((int(fits[k]),), 0, o)) for k in _worst(reduced, 4)]
    order = np.argsort(fleet.last, kind="stable")
    order = order[fleet.last[order] > 0]
    if len(order):
        _price_pairs(fleet, gain, order, most, least, found)
    found.sort(key=lambda f: f[0])
    return [w for _, w in found[:most]], least


def _price_pairs(fleet: Fleet, gain: Ints, order: Ints, most: int, least: Ints, found: list[tuple[int, Way]]) -> None:
    lasts, gains, owner = fleet.last[order], gain[order], fleet.run[order]
    first, second = _best_so_far(gains, owner)
    for s in fleet.sticks:
        room = s - fleet.kerf - lasts
        at = np.searchsorted(lasts, room, side="right") - 1
        some = np.flatnonzero(at >= 0)
        if not len(some):
            continue
        mate = first[at[some]]
        mate = np.where(owner[mate] == owner[some], second[at[some]], mate)
        some, mate = some[mate >= 0], mate[mate >= 0]
        reduced = s - gains[some] - gains[mate]
        np.minimum.at(least, owner[some], reduced // 2)
        np.minimum.at(least, owner[mate], reduced // 2)
        found += [(int(reduced[k]), Way(_pair(order[some[k]], order[mate[k]]), s)) for k in _worst(reduced, most)]


def _pair(a: np.int64, b: np.int64) -> tuple[int, int]:
    return (int(a), int(b)) if a < b else (int(b), int(a))


def _best_so_far(gains: Ints, owner: Ints) -> tuple[Ints, Ints]:
    """For each place, the best item up to there, and the best of another run."""
    n = len(gains)
    first, second = np.full(n, -1, dtype=np.int64), np.full(n, -1, dtype=np.int64)
    a, b = -1, -1
    value, own = gains.tolist(), owner.tolist()
    for i in range(n):
        if a < 0 or value[i] > value[a]:
            if a >= 0 and own[a] != own[i]:
                b = a
            a = i
        elif own[i] != own[a] and (b < 0 or value[i] > value[b]):
            b = i
        first[i], second[i] = a, b
    return first, second


def _worst(reduced: Ints, most: int) -> Ints:
    """Places of the lowest values below zero, at most ``most``."""
    below = np.flatnonzero(reduced < 0)
    if len(below) > most:
        below = below[np.argpartition(reduced[below], most)[:most]]
    return below


def within(
    fleet: Fleet, rack: Ints, gain: Ints, rack_worth: Ints, slack: int, limit: int, deadline: float
) -> list[Way] | None:
    """Every way whose reduced cost is at most ``slack``; None past ``limit`` of them or past the time."""
    ways = [w for w in alone(fleet) if w.stick - gain[w.items[0]] <= slack]
    for o, (length, worth) in enumerate(zip(rack, rack_worth, strict=True)):
        fits = np.flatnonzero((fleet.last <= length) & (fleet.last > 0) & (worth - gain <= slack))
        ways += [Way((int(i),), 0, o) for i in fits]
    if len(ways) > limit:
        return None
    order = np.argsort(fleet.last, kind="stable")
    order = order[fleet.last[order] > 0]
    lasts, gains, owner = fleet.last[order], gain[order], fleet.run[order]
    for k in range(len(order)):
        rest = slice(k + 1, len(order))
        total = lasts[k] + fleet.kerf + lasts[rest]
        worth = gains[k] + gains[rest]
        for s in fleet.sticks:  # longest first; a shorter one that also fits is never dearer
            shorter = max((t for t in fleet.sticks if t < s), default=0)
            fits = (total <= s) & (total > shorter) & (s - worth <= slack) & (owner[rest] != owner[k])
            ways += [Way(_pair(order[k], order[k + 1 + j]), s) for j in np.flatnonzero(fits)]
        if len(ways) > limit or time.monotonic() > deadline:
            return None
    return ways
