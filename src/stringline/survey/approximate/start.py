"""Starting coordinates from nothing but the readings, right even where one of them is badly wrong."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.network import BoolArray, Datum, Network, Row
from stringline.survey.adjust.observe import predict
from stringline.survey.approximate.intersection import (
    Branches,
    intersect_all,
    seed_edge,
    seed_points,
    side_cost,
    sketch_cost,
)
from stringline.survey.approximate.robust import refine, settle

SEEDS = 8  # seeds tried at most
REFINED = 8  # branches of one seed settled in full
OUTLYING = 5.0  # σ
FEW = 2  # readings that may lie out of a placing that speaks for itself
SPARE_LINES = 3  # to different points, beyond one for each outlying reading, that every point must then keep
SCATTERS = 60  # throws where intersection reaches not every point


@dataclass(frozen=True)
class Place:
    """One way to place all points: ``xy`` (n, 2) in the network's frame, its robust misfit with the readings (χ², each
    capped at 25), and the same with what the sides and the sketch object to.
    """

    xy: Array
    cost: float
    total: float


@dataclass(frozen=True)
class Start:
    """Where the adjustment begins. ``others`` are other placings met on the way, the best first, not screened."""

    xy: Array
    cost: float
    total: float
    outlying: BoolArray  # (m,) readings further than 5 σ from it
    others: tuple[Place, ...]


def find_start(net: Network) -> Start:
    """Place every point of a network whose readings hold it together (see ``rigidity.check_rigidity``).

    Points are placed from several seeds until one fits all readings (or all but a few, with every point held by many
    others), or until two of them find the same best placing; else the placing that most readings agree with is taken.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> lines = (("A", "B", 4.0), ("A", "1", 3.0), ("B", "1", 5.0))
    >>> net = build_network(SurveyInput(tuple(Tape(a, b, metres(m)) for a, b, m in lines), baseline=("A", "B")))
    >>> find_start(net).xy.round(6).tolist()
    [[0.0, 0.0], [4.0, 0.0], [0.0, 3.0]]
    """
    found: list[Place] = []
    stalled: Branches | None = None
    for seed in _seeds(net):
        reached = intersect_all(seed)
        if not reached.placed.all():
            if stalled is None or reached.placed.sum() > stalled.placed.sum():
                stalled = reached
            continue
        places = _settled(net, reached)
        mine = min(places, key=lambda p: p.total)
        found.extend(places)
        best = min(found, key=lambda p: p.total)
        confirmed = mine.total < best.total + 1e-3 and best is not mine
        if confirmed or _speaks_for_itself(net, _outlying(net, best.xy)):
            break
    if not found and stalled is not None:
        found = _scatter(net, stalled)
    if not found:
        raise ValueError("no seed to begin from; the network has not been checked")
    ranked = distinct(found)
    best = ranked[0]
    return Start(best.xy, best.cost, best.total, _outlying(net, best.xy), tuple(ranked[1:]))


def _speaks_for_itself(net: Network, outlying: BoolArray) -> bool:
    """Whether a placing needs no second one, from another seed, to confirm it.

    All readings fit, or all but one or two, and without those every point is still held by lines enough (two place it,
    the others agree) that a placing elsewhere would contradict more readings than this one does.
    """
    out = int(np.count_nonzero(outlying))
    if not out or out > FEW:
        return not out
    lines = [len({j for row, j in net.neighbours[i] if not outlying[row]}) for i in range(net.n)]
    return min(lines) >= SPARE_LINES + out


def judge_places(net: Network, placings: list[Array]) -> list[Place]:
    """Settle placings robustly, side by side, and price each: readings, sides, sketch."""
    if not placings:
        return []
    settled, costs = refine(net, np.stack(placings))
    return [price(net, xy, float(cost)) for xy, cost in zip(settled, costs, strict=True)]


def price(net: Network, xy: Array, cost: float) -> Place:
    """Add what the sides and the sketch object to; a baseline that came out backwards is turned round."""
    if net.datum is Datum.BASELINE and net.baseline is not None and xy[net.baseline[1], 0] < 0.0:
        xy = -xy
    every = np.ones(net.n, dtype=bool)
    blur = np.full((1, net.n), 0.005)
    extra = side_cost(net, xy[None], blur, every)[0] + sketch_cost(net, xy[None], every)[0]
    return Place(xy, cost, cost + float(extra))


def distinct(places: list[Place], apart_m: float = 0.03) -> list[Place]:
    """The places sorted by total cost, without those within ``apart_m`` of a better one."""
    out: list[Place] = []
    for p in sorted(places, key=lambda p: p.total):
        if all(float(np.abs(p.xy - q.xy).max()) > apart_m for q in out):
            out.append(p)
    return out


def to_frame(net: Network, xy: Array) -> Array:
    """Shift and turn (never mirror) coordinates of some frame into the network's own, shape (n, 2)."""
    target = frame_points(net)
    who = np.flatnonzero(~np.isnan(target[:, 0]))
    if len(who) >= 2:
        z, t = _complex(xy[who]), _complex(target[who])
        turn = np.vdot(z - z.mean(), t - t.mean())
        turn = turn / abs(turn) if abs(turn) > 0.0 else 1.0
        return _plain(turn * (_complex(xy) - z.mean()) + t.mean())
    a, b = net.baseline if net.baseline is not None else (int(net.at[0, 0]), int(net.at[0, 1]))
    z = _complex(xy) - _complex(xy)[a]
    turn = np.conj(z[b]) / abs(z[b]) if abs(z[b]) > 0.0 else 1.0
    return _plain(turn * z)


def frame_points(net: Network) -> Array:
    """Points whose place in the network's frame is held or observed, NaN elsewhere: shape (n, 2)."""
    target = np.where(held_points(net)[:, None], net.fixed_xy, np.nan)
    if net.datum is Datum.BASELINE:
        target[:] = np.nan  # one held point and one held direction: handled as a baseline
    for row in np.flatnonzero((net.kind == Row.X) | (net.kind == Row.Y)):
        i, axis = int(net.at[row, 0]), int(net.kind[row] == Row.Y)
        if not bool(net.fixed[i].all()):
            target[i, axis] = net.value[row]
    target[np.isnan(target).any(axis=1)] = np.nan
    return target


def _seeds(net: Network) -> list[Branches]:
    """Held or observed points first, then the baseline, then lines that stand in most triangles, well apart."""
    seeds: list[Branches] = []
    target = frame_points(net)
    if np.count_nonzero(~np.isnan(target[:, 0])) >= 2:
        spread = np.zeros(net.n)
        for row in np.flatnonzero((net.kind == Row.X) | (net.kind == Row.Y)):
            spread[net.at[row, 0]] = max(spread[net.at[row, 0]], net.sigma[row])
        seeds.append(seed_points(net, target, np.where(held_points(net), 0.0, spread)))
    around = [{j for _, j in net.neighbours[i]} for i in range(net.n)]
    rows = [(len(around[net.at[k, 0]] & around[net.at[k, 1]]), k) for k in range(net.tapes)]
    rows.sort(key=lambda r: -r[0])
    if net.baseline is not None:
        base = set(net.baseline)
        rows.sort(key=lambda r: {int(net.at[r[1], 0]), int(net.at[r[1], 1])} != base)
    taken: list[set[int]] = []
    for most_shared in (0, 1, 2):
        for _, k in rows:
            ends = {int(net.at[k, 0]), int(net.at[k, 1])}
            if len(seeds) < SEEDS and all(len(ends & t) <= most_shared for t in taken):
                taken.append(ends)
                seeds.append(seed_edge(net, k))
                if most_shared == 2:
                    taken.append(ends)
    return seeds


def _settled(net: Network, reached: Branches) -> list[Place]:
    """The best branches of one seed, each settled in the network's frame."""
    total = (
        reached.cost
        + side_cost(net, reached.xy, reached.spread, reached.placed)
        + sketch_cost(net, reached.xy, reached.placed)
    )
    order = np.argsort(total, kind="stable")[:REFINED]
    return judge_places(net, [to_frame(net, reached.xy[s]) for s in order])


def _scatter(net: Network, reached: Branches) -> list[Place]:
    """Where intersection stalls (two bodies tied by three lines): throw the rest about the placed part, and settle."""
    rng = np.random.default_rng(20)
    base = to_frame(net, np.where(np.isnan(reached.xy[0]), 0.0, reached.xy[0]))
    placed = reached.placed
    reach = float(net.value[: net.tapes].max())
    thrown: list[Array] = []
    for _ in range(SCATTERS):
        xy = base.copy()
        centre = base[placed].mean(axis=0)
        xy[~placed] = centre + rng.normal(0.0, reach, (int((~placed).sum()), 2))
        if len(reached.xy) > 1:
            pick = to_frame(net, np.where(placed[:, None], reached.xy[rng.integers(len(reached.xy))], xy))
            xy = np.where(placed[:, None], pick, xy)
        thrown.append(settle(net, xy))
    return judge_places(net, thrown)


def _outlying(net: Network, xy: Array) -> BoolArray:
    return np.asarray(np.abs(predict(net, xy) - net.value) > OUTLYING * net.sigma)


def held_points(net: Network) -> BoolArray:
    """Points held in both coordinates, shape (n,)."""
    return np.asarray(net.fixed[:, 0] & net.fixed[:, 1])


def _complex(xy: Array) -> np.ndarray[tuple[int, ...], np.dtype[np.complex128]]:
    return np.asarray(xy[:, 0] + 1j * xy[:, 1])


def _plain(z: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]) -> Array:
    return np.stack([z.real, z.imag], axis=1)
