"""Intersection: place point after point from those placed already, every mirror image kept until a reading decides.

All branches of the search share one order of placing (it depends on the lines alone), so they are held as arrays:
``xy`` (S, n, 2), ``spread`` (S, n) a rough σ of each placed point and ``cost`` (S,) in units of χ², each reading's part
capped so that one gross misreading cannot outvote the rest.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.network import BoolArray, IntArray, Network, Row

CAP = 25.0  # no reading counts more than a residual of 5 σ
KEEP = 32  # branches kept alive
SLACK = 3.2 * CAP  # a branch is dropped once it is this much worse than the best
PAIRS = 12  # pairs of lines intersected for one point
SIDE_COST = 20.0  # a point on the wrong side of the baseline: less than one contradicted reading, so readings decide
SKETCH_COST = 12.0  # for each e-fold by which the sketch fits worse
SKETCH_ROUGH = 0.15  # a sketch's misfit as part of its size that counts as good drawing
TWIN_M = 0.1  # candidates of one branch closer together than this are one
BLUR_M = 0.02  # a side is doubtful within this of the baseline


@dataclass
class Branches:
    """The living branches of one placing of all points; arrays as in the module's docstring."""

    net: Network
    placed: BoolArray
    xy: Array
    spread: Array
    cost: Array
    order: list[int] = field(default_factory=list)


def seed_edge(net: Network, row: int) -> Branches:
    """Two branches' worth of frame: the row's two points on the x axis."""
    i, j = int(net.at[row, 0]), int(net.at[row, 1])
    out = _empty(net)
    out.xy[0, [i, j]] = [[0.0, 0.0], [net.value[row], 0.0]]
    out.placed[[i, j]] = True
    out.spread[0, [i, j]] = 0.7 * net.sigma[row]
    return out


def seed_points(net: Network, xy: Array, spread: Array) -> Branches:
    """Start from all points whose ``xy`` (n, 2) is not NaN, each with its σ."""
    out = _empty(net)
    out.placed[:] = ~np.isnan(xy).any(axis=1)
    out.xy[0, out.placed] = xy[out.placed]
    out.spread[0, out.placed] = spread[out.placed]
    return out


def _empty(net: Network) -> Branches:
    return Branches(
        net, np.zeros(net.n, dtype=bool), np.full((1, net.n, 2), np.nan), np.zeros((1, net.n)), np.zeros(1), []
    )


def intersect_all(b: Branches) -> Branches:
    """Place point after point, the best-tied first, until none is left that two readings reach.

    Each point doubles the branches (two circles meet twice); those that the readings, the sides and the sketch together
    leave behind by more than 3.2 capped readings are dropped, and no more than 32 are kept.
    """
    while (k := _next(b)) is not None:
        _place(b, k)
    return b


def _ties(net: Network, k: int, placed: BoolArray) -> tuple[list[tuple[int, int]], list[int], list[int]]:
    """What ties k to placed points: taped lines (row, other), station rows that put it on a stringline, and offset
    rows that stand alone (a right angle off a line, wherever along it).
    """
    lines = [(row, j) for row, j in net.neighbours[k] if placed[j]]
    strings: list[int] = []
    squares: list[int] = []
    for row in range(net.tapes, net.m):
        if net.at[row, 2] == k and placed[net.at[row, 0]] and placed[net.at[row, 1]]:
            if net.kind[row] == Row.STATION:
                strings.append(row)
            elif net.kind[row - 1] != Row.STATION or (net.at[row - 1] != net.at[row]).any():
                squares.append(row)
    return lines, strings, squares


def _next(b: Branches) -> int | None:
    best, best_rank = None, (0, 0)
    for k in np.flatnonzero(~b.placed):
        lines, strings, squares = _ties(b.net, int(k), b.placed)
        ties = len({j for _, j in lines}) + 2 * len(strings) + len(squares)
        if ties < 2 or (len(squares) == ties):  # where only right angles meet, the lines themselves must cross: rare
            continue
        rank = (ties, len(b.net.neighbours[k]))
        if rank > best_rank:
            best, best_rank = int(k), rank
    return best


def _place(b: Branches, k: int) -> None:
    """Replace the branches by their best continuations with point k placed."""
    net = b.net
    lines, strings, squares = _ties(net, k, b.placed)
    rows = np.array([row for row, _ in lines], dtype=np.int64)
    ends = np.array([j for _, j in lines], dtype=np.int64)
    candidates = _candidates(b, lines, strings, squares)  # (S, C, 2)
    anchors = b.xy[:, ends]  # (S, L, 2)
    blur = net.sigma[rows] ** 2 + b.spread[:, ends] ** 2  # (S, L)
    cost = np.zeros(candidates.shape[:2])
    own = _candidate_spread(candidates, anchors, blur)
    if len(rows):
        d = candidates[:, :, None, :] - anchors[:, None, :, :]
        miss = np.sqrt(np.einsum("scli,scli->scl", d, d)) - net.value[rows]
        cost += np.minimum(miss**2 / (blur[:, None, :] + own[:, :, None] ** 2), CAP).sum(axis=2)
    for row in strings:
        a, c = b.xy[:, net.at[row, 0]], b.xy[:, net.at[row, 1]]
        there = a[:, None] + _off_string(net, row, a, c)[:, None]
        wide = net.sigma[row] ** 2 + net.sigma[row + 1] ** 2 + own**2 + b.spread[:, net.at[row, 0], None] ** 2
        cost += np.minimum(((candidates - there) ** 2).sum(axis=2) / wide, 2.0 * CAP)
    for row in squares:
        off = _square_off(candidates, b.xy[:, net.at[row, 0], None], b.xy[:, net.at[row, 1], None])
        cost += np.minimum((off - net.value[row]) ** 2 / (net.sigma[row] ** 2 + own**2), CAP)
    parent, chosen = _choose(b.cost[:, None] + cost, candidates)
    point = candidates[parent, chosen]
    total = b.cost[parent] + cost[parent, chosen]
    point, spread = _polish(point, anchors[parent], net.value[rows], blur[parent], own[parent, chosen])
    b.placed[k] = True
    b.order.append(k)
    b.xy = b.xy[parent]
    b.spread = b.spread[parent]
    b.xy[:, k] = point
    b.spread[:, k] = spread
    b.cost = total
    _prune(b)


def _prune(b: Branches) -> None:
    """Drop branches that the readings, the sides and the sketch together have left behind."""
    total = b.cost + side_cost(b.net, b.xy, b.spread, b.placed) + sketch_cost(b.net, b.xy, b.placed)
    keep = np.argsort(total, kind="stable")[:KEEP]
    keep = keep[total[keep] <= total[keep[0]] + SLACK]
    b.xy, b.spread, b.cost = b.xy[keep], b.spread[keep], b.cost[keep]


def side_cost(net: Network, xy: Array, spread: Array, placed: BoolArray) -> Array:
    """What standing on the wrong side of the baseline costs, shape (S,)."""
    if net.baseline is None or not (placed[net.baseline[0]] and placed[net.baseline[1]]):
        return np.zeros(len(xy))
    demand = np.where(np.isnan(net.sketch[:, 0]) | ~sketch_usable(net), net.side, 0)
    who = np.flatnonzero(placed & (demand != 0))
    a, c = xy[:, net.baseline[0]], xy[:, net.baseline[1]]
    e = c - a
    e = e / np.maximum(np.hypot(e[:, 0], e[:, 1]), 1e-9)[:, None]
    q = xy[:, who] - a[:, None]
    left = e[:, None, 0] * q[..., 1] - e[:, None, 1] * q[..., 0]
    depth = np.maximum(-left * demand[who], 0.0)
    cost = np.minimum(depth / np.maximum(BLUR_M, spread[:, who]), 1.0) * SIDE_COST
    return np.asarray(cost.sum(axis=1))


def sketch_usable(net: Network) -> bool:
    """Whether the sketch names enough points, not all on one line, to tell an image from its mirror."""
    t = net.sketch[~np.isnan(net.sketch[:, 0])]
    if len(t) < 3:
        return False
    s = np.linalg.svd(t - t.mean(axis=0), compute_uv=False)
    return bool(s[1] > 0.02 * s[0])


def sketch_cost(net: Network, xy: Array, placed: BoolArray) -> Array:
    """Misfit of the sketch after the best shift, turn and scale (never a mirroring), shape (S,).

    With points as complex numbers the best similarity leaves |t|² − |⟨z, t⟩|²/|z|² of the sketch t unexplained.
    """
    who = np.flatnonzero(placed & ~np.isnan(net.sketch[:, 0]))
    if len(who) < 3 or not sketch_usable(net):
        return np.zeros(len(xy))
    t = net.sketch[who, 0] + 1j * net.sketch[who, 1]
    t = t - t.mean()
    z = xy[:, who, 0] + 1j * xy[:, who, 1]
    z = z - z.mean(axis=1, keepdims=True)
    size = float(np.vdot(t, t).real)
    shared = np.abs(np.conj(z) @ t) ** 2 / np.maximum((np.abs(z) ** 2).sum(axis=1), 1e-12)
    part = np.maximum(1.0 - shared / max(size, 1e-300), 0.0)
    return np.asarray(SKETCH_COST * np.log1p(part / SKETCH_ROUGH**2))


def _candidates(b: Branches, lines: list[tuple[int, int]], strings: list[int], squares: list[int]) -> Array:
    """Both intersections of many pairs of lines, each stringline's own point, and where circles meet the line that a
    right-angle offset leaves: shape (S, C, 2).
    """
    net = b.net
    out: list[Array] = []
    for row in strings:
        a, c = b.xy[:, net.at[row, 0]], b.xy[:, net.at[row, 1]]
        out.append(a + _off_string(net, row, a, c))
    for row in squares:
        for tape, j in lines:
            out.extend(
                _along_offset(
                    b.xy[:, net.at[row, 0]], b.xy[:, net.at[row, 1]], net.value[row], b.xy[:, j], net.value[tape]
                )
            )
    pairs = _pairs(b, lines)
    if not pairs:
        return np.stack(out, axis=1)
    (row1, j1), (row2, j2) = np.array(pairs).transpose(1, 2, 0)
    left, right = intersect(b.xy[:, j1], net.value[row1], b.xy[:, j2], net.value[row2], net.sigma[row1])
    both = np.stack([left, right], axis=2).reshape(len(b.xy), -1, 2)  # each pair's two images one after the other
    return np.concatenate([np.stack(out, axis=1), both], axis=1) if out else both


def _pairs(b: Branches, lines: list[tuple[int, int]]) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """Pairs of lines that cross best, each line in at least one."""
    found: list[tuple[float, tuple[tuple[int, int], tuple[int, int]]]] = []
    for one, two in combinations(lines, 2):
        if one[1] == two[1]:
            continue
        d = b.xy[0, two[1]] - b.xy[0, one[1]]
        base = float(np.hypot(d[0], d[1]))
        r1, r2 = b.net.value[one[0]], b.net.value[two[0]]
        cosine = (r1 * r1 + r2 * r2 - base * base) / (2.0 * r1 * r2)
        sine = float(np.sqrt(max(0.0, 1.0 - min(1.0, cosine * cosine))))
        found.append((sine / (b.spread[0, one[1]] + b.spread[0, two[1]] + 1e-3), (one, two)))
    found.sort(key=lambda f: -f[0])
    picked = [pair for _, pair in found[:PAIRS]]
    for line in lines:  # a line left out could be the only good one
        if not any(line in pair for pair in picked):
            picked.extend(pair for _, pair in found if line in pair and len(picked) < 2 * PAIRS)
    return picked


def intersect(a: Array, ra: Array, b: Array, rb: Array, sigma: Array) -> tuple[Array, Array]:
    """Both meeting points of circles about ``a`` and ``b`` (…, 2) with radii (…); those that miss meet half way.

    With c the distance of the centres the points lie ½(c + (r_a² − r_b²)/c) along a → b and √(r_a² − along²) to either
    side. The two images are never closer to the line than the readings could tell (√(σ·r)), so that a step of least
    squares can still move them off it.

    >>> a, b = np.array([0.0, 0.0]), np.array([4.0, 0.0])
    >>> left, right = intersect(a, np.array(3.0), b, np.array(5.0), np.array(0.002))
    >>> left.tolist(), right.tolist()
    ([0.0, 3.0], [0.0, -3.0])
    """
    d = b - a
    base = np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-9)
    e = d / base[..., None]
    along = 0.5 * (base + (ra - rb) * (ra + rb) / base)
    square = ra * ra - along * along
    # no meeting point: share the gap between the two circles
    outside = ra + rb < base
    near = np.where(outside, 0.5 * (ra + base - rb), np.where(ra > rb, 0.5 * (ra + base + rb), -0.5 * (ra + rb - base)))
    along = np.where(square < 0.0, near, along)
    off = np.sqrt(np.maximum(square, sigma * np.minimum(ra, rb)))
    foot = a + along[..., None] * e
    side = off[..., None] * np.stack([-e[..., 1], e[..., 0]], axis=-1)
    return foot + side, foot - side


def _off_string(net: Network, row: int, a: Array, c: Array) -> Array:
    """From the stringline's start to the point that its station and offset name, shape (S, 2)."""
    d = c - a
    e = d / np.maximum(np.hypot(d[:, 0], d[:, 1]), 1e-9)[:, None]
    n = np.stack([-e[:, 1], e[:, 0]], axis=1)
    has_offset = row + 1 < net.m and net.kind[row + 1] == Row.OFFSET and net.at[row + 1, 2] == net.at[row, 2]
    return np.asarray(net.value[row] * e + (net.value[row + 1] if has_offset else 0.0) * n)


def _square_off(points: Array, a: Array, c: Array) -> Array:
    """Offset of points (…, 2) from the line a → c, + to its left."""
    d = c - a
    q = points - a
    return np.asarray(
        (d[..., 0] * q[..., 1] - d[..., 1] * q[..., 0]) / np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-9)
    )


def _along_offset(a: Array, c: Array, off: float, centre: Array, radius: float) -> tuple[Array, Array]:
    """Where a circle meets the parallel to a → c at an offset, (S, 2) twice; its nearest point where it does not."""
    d = c - a
    e = d / np.maximum(np.hypot(d[:, 0], d[:, 1]), 1e-9)[:, None]
    n = np.stack([-e[:, 1], e[:, 0]], axis=1)
    rest = off - np.einsum("si,si->s", centre - a, n)
    reach = np.sqrt(np.maximum(radius * radius - rest * rest, 0.0))
    foot = centre + rest[:, None] * n
    return foot + reach[:, None] * e, foot - reach[:, None] * e


def _candidate_spread(candidates: Array, anchors: Array, blur: Array) -> Array:
    """Rough σ of each candidate along its weakest direction, shape (S, C)."""
    if anchors.shape[1] == 0:
        return np.full(candidates.shape[:2], 0.005)
    return _spread(candidates[:, :, None, :] - anchors[:, None, :, :], 1.0 / blur[:, None, :])


def _spread(d: Array, weight: Array) -> Array:
    """√ of the largest eigenvalue of (Σ w u uᵀ)⁻¹ over the last lines axis, kept between 1 mm and 0.5 m."""
    u = d / np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-9)[..., None]
    xx, yy = (weight * u[..., 0] ** 2).sum(-1), (weight * u[..., 1] ** 2).sum(-1)
    xy = (weight * u[..., 0] * u[..., 1]).sum(-1)
    least = 0.5 * (xx + yy) - np.hypot(0.5 * (xx - yy), xy)
    return np.asarray(np.clip(1.0 / np.sqrt(np.maximum(least, 1e-12)), 1e-3, 0.5))


def _choose(total: Array, candidates: Array) -> tuple[IntArray, IntArray]:
    """The best distinct continuations as (branch, candidate) indices, the cheapest first."""
    limit = float(total.min()) + SLACK + SIDE_COST
    order = np.argsort(total, axis=1, kind="stable")
    rows = np.arange(len(total))[:, None]
    within = total[rows, order] <= limit
    deepest = int(within.sum(axis=1).max())
    order, within = order[:, :deepest], within[:, :deepest]
    points = candidates[rows, order]
    gap = np.abs(points[:, :, None, :] - points[:, None, :, :])
    twin = gap[..., 0] + gap[..., 1] < TWIN_M
    kept = within.copy()
    for c in range(1, deepest):  # each candidate of a branch against the better ones that were kept
        kept[:, c] &= ~(twin[:, c, :c] & kept[:, :c]).any(axis=1)
    parents, places = np.nonzero(kept)
    chosen = order[parents, places]
    flat = parents * total.shape[1] + chosen
    best = np.lexsort((flat, total[parents, chosen]))[: 3 * KEEP]
    return parents[best], chosen[best]


def _polish(point: Array, anchors: Array, value: Array, blur: Array, own: Array) -> tuple[Array, Array]:
    """Two robust least-squares steps of one point on its lines, in every branch at once: (S, 2) and its σ (S,)."""
    if anchors.shape[1] < 2:
        return point, np.maximum(own, 0.005)
    weight = 1.0 / blur
    for _ in range(2):
        d = point[:, None] - anchors
        r = np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-9)
        u = d / r[..., None]
        miss = value - r
        w = weight / (1.0 + miss**2 / (9.0 * (blur + own[:, None] ** 2))) ** 2
        xx, yy, xy = (w * u[..., 0] ** 2).sum(1), (w * u[..., 1] ** 2).sum(1), (w * u[..., 0] * u[..., 1]).sum(1)
        gx, gy = (w * u[..., 0] * miss).sum(1), (w * u[..., 1] * miss).sum(1)
        lift = 1.0 / 0.3**2  # a step of much over 0.3 m is not a polish
        xx, yy = xx + lift, yy + lift
        det = xx * yy - xy * xy
        point = point + np.stack([(yy * gx - xy * gy) / det, (xx * gy - xy * gx) / det], axis=1)
    return point, _spread(point[:, None] - anchors, w)
