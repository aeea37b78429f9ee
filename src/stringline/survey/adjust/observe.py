"""What each row would read at given coordinates, and how that changes as points move.

A row touches two points (a distance), three (a stringline reading) or one (a coordinate), so the design is held as a
few entries a row: ``columns`` (m, w) and values (m, w) with w = 4 or 6. Entries not used, and those of held
coordinates, point to one column behind the last, 2n, which is dropped. Normal matrices are added up from them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.survey.adjust.network import IntArray, Network, Row

TINY_M = 1e-12  # stands in for the length of a line whose ends coincide


@dataclass(frozen=True, slots=True)
class Sparsity:
    """Where each row's entries go; computed once for a network.

    ``columns`` (m, w) as in the module's docstring, ``raw`` the same with held coordinates in their own columns,
    ``pairs`` the flat index of every product of two entries of a row in a (2n + 1)² matrix.
    """

    columns: IntArray
    raw: IntArray
    pairs: IntArray
    held: IntArray
    i: IntArray  # ends of the taped lines
    j: IntArray
    lines: IntArray  # rows of STATION and OFFSET
    is_station: IntArray
    a: IntArray
    b: IntArray
    p: IntArray
    coords: IntArray  # rows of X and Y
    coord_column: IntArray


def sparsity(net: Network) -> Sparsity:
    """The network's sparsity, made at first use."""
    cached: Sparsity | None = net.__dict__.get("_sparsity")
    if cached is not None:
        return cached
    t, spare = net.tapes, 2 * net.n
    i, j = net.at[:t, 0].copy(), net.at[:t, 1].copy()
    lines = np.flatnonzero((net.kind == Row.STATION) | (net.kind == Row.OFFSET))
    a, b, p = (net.at[lines, c] for c in range(3))
    coords = np.flatnonzero((net.kind == Row.X) | (net.kind == Row.Y))
    coord_column = 2 * net.at[coords, 0] + (net.kind[coords] == Row.Y)
    raw = np.full((net.m, 6 if len(lines) else 4), spare, dtype=np.int64)
    raw[:t, :4] = np.stack([2 * i, 2 * i + 1, 2 * j, 2 * j + 1], axis=1)
    if len(lines):
        raw[lines] = np.stack([2 * a, 2 * a + 1, 2 * b, 2 * b + 1, 2 * p, 2 * p + 1], axis=1)
    raw[coords, 0] = coord_column
    held = np.flatnonzero(net.fixed.reshape(-1))
    columns = np.where(np.isin(raw, held), spare, raw)
    pairs = (columns[:, :, None] * (spare + 1) + columns[:, None, :]).reshape(-1)
    station = (net.kind[lines] == Row.STATION).astype(np.int64)
    made = Sparsity(columns, raw, pairs, held, i, j, lines, station, a, b, p, coords, coord_column)
    net.__dict__["_sparsity"] = made  # a frozen dataclass without slots: the cache is invisible to eq and repr
    return made


def predict(net: Network, xy: Array) -> Array:
    """Reading that each row would give at ``xy`` (…, n, 2), metres, shape (…, m).

    A distance |x_j − x_i|; a station e·(x_p − x_a) and an offset n·(x_p − x_a) with e the direction a → b and n its
    left normal; a coordinate itself.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Offset, Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> offset = Offset("A", "B", metres(3.0), metres(2.0), "P")
    >>> net = build_network(SurveyInput((Tape("A", "B", metres(5.0)),), offsets=(offset,), baseline=("A", "B")))
    >>> predict(net, np.array([[0.0, 0.0], [5.0, 0.0], [3.1, 2.0]])).tolist()
    [5.0, 3.1, 2.0]
    """
    return entries(net, xy)[0]


def entries(net: Network, xy: Array) -> tuple[Array, Array]:
    """Predicted readings (…, m) and the design's entries (…, m, w) at one or many placings ``xy`` (…, n, 2).

    ∂l/∂x_j = u = (x_j − x_i)/l and ∂l/∂x_i = −u for a distance. For a station s and an offset o over a line of length
    L: ∂s/∂x_p = e, ∂s/∂x_b = (o/L) n; ∂o/∂x_p = n, ∂o/∂x_b = −(s/L) n; and by x_a minus the sum of both.
    """
    lay = sparsity(net)
    t, many = net.tapes, xy.shape[:-2]
    d = xy.take(lay.j, axis=-2) - xy.take(lay.i, axis=-2)
    length = np.sqrt(d[..., 0] * d[..., 0] + d[..., 1] * d[..., 1])
    values = np.zeros((*many, *lay.raw.shape))
    values[..., :t, 2:4] = u = d / np.maximum(length, TINY_M)[..., None]
    values[..., :t, 0:2] = -u
    if net.m == t:
        return length, values
    out = np.empty((*many, net.m))
    out[..., :t] = length
    if len(lay.lines):
        e, n, along, off, size = _along(lay, xy)
        station = lay.is_station.astype(bool)
        out[..., lay.lines] = np.where(station, along, off)
        to_p = np.where(station[:, None], e, n)
        to_b = (np.where(station, off, -along) / size)[..., None] * n
        values[..., lay.lines, :] = np.concatenate([-to_p - to_b, to_b, to_p], axis=-1)
    out[..., lay.coords] = xy.reshape(*many, -1)[..., lay.coord_column]
    values[..., lay.coords, 0] = 1.0
    return out, values


def linearise(net: Network, xy: Array) -> tuple[Array, Array]:
    """Predicted readings (m,) and full design (m, 2n) at ``xy`` (n, 2): columns x₁, y₁, x₂, y₂, … of every point.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> net = build_network(SurveyInput((Tape("A", "B", metres(5.0)),), baseline=("A", "B")))
    >>> linearise(net, np.array([[0.0, 0.0], [3.0, 4.0]]))[1].tolist()
    [[-0.6, -0.8, 0.6, 0.8]]
    """
    computed, values = entries(net, xy)
    return computed, dense(net, sparsity(net).raw, values)


def dense(net: Network, columns: IntArray, values: Array) -> Array:
    """A design (m, 2n) from its entries."""
    full = np.zeros((net.m, 2 * net.n + 1))
    full[np.arange(net.m)[:, None], columns] = values
    return full[:, :-1]


def normal_matrix(net: Network, values: Array, weight: Array, bend: Array | None = None) -> Array:
    """AᵀPA (…, 2n, 2n) over the unknowns from entries (…, m, w) and weights (…, m); zero rows where held.

    With ``bend`` = P·v/l (…, m) for v = computed − read also Σ p·v·∇²l over the taped lines, which Gauss–Newton leaves
    out of the second derivatives: a line of length l bends by n nᵀ/l, n square to it.
    """
    size, t, many = 2 * net.n + 1, net.tapes, values.shape[:-2]
    u, along = values[..., :t, 2:4], weight[..., :t]
    if bend is not None:
        along = along - bend[..., :t]  # n nᵀ = 1 − u uᵀ
    block = np.empty((*along.shape, 3))
    block[..., 0] = along * u[..., 0] * u[..., 0]
    block[..., 1] = along * u[..., 0] * u[..., 1]
    block[..., 2] = along * u[..., 1] * u[..., 1]
    if bend is not None:
        block[..., 0] += bend[..., :t]
        block[..., 2] += bend[..., :t]
    product = block @ _ENDS
    if net.m > t:
        wide = (values * weight[..., None])[..., :, None] * values[..., None, :]
        wide[..., :t, :4, :4] = product.reshape(*many, t, 4, 4)
        product = wide
    flat = _added(sparsity(net).pairs, product.reshape(*many, -1), size * size)
    return np.asarray(flat.reshape(*many, size, size)[..., :-1, :-1], dtype=float)


def _added(where: IntArray, what: Array, size: int) -> Array:
    """Sums of ``what`` (…, k) by the place that ``where`` (k,) gives each, shape (…, size)."""
    many = what.shape[:-1]
    if not many:
        return np.asarray(np.bincount(where, what, size), dtype=float)
    count = int(np.prod(many))
    places = (size * np.arange(count)[:, None] + where).reshape(-1)
    return np.asarray(np.bincount(places, what.reshape(-1), size * count), dtype=float).reshape(*many, size)


# xx, xy and yy of a line's 2 × 2 block, in the 4 × 4 products of its ends: [[+, −], [−, +]]
_ENDS = np.stack(
    [np.kron([[1, -1], [-1, 1]], part).reshape(-1) for part in ([[1, 0], [0, 0]], [[0, 1], [1, 0]], [[0, 0], [0, 1]])]
).astype(float)


def gradient(net: Network, values: Array, weighted: Array) -> Array:
    """AᵀPb (…, 2n) over the unknowns from entries (…, m, w) and P·b (…, m); zero where held."""
    parts = (values * weighted[..., None]).reshape(*weighted.shape[:-1], -1)
    return _added(sparsity(net).columns.reshape(-1), parts, 2 * net.n + 1)[..., :-1]


def row_variance(net: Network, values: Array, cov: Array) -> Array:
    """diag(A Q Aᵀ), shape (m,): the variance of every computed reading, from entries and Q (2n, 2n) zero where held."""
    lay = sparsity(net)
    raw = np.minimum(lay.raw, 2 * net.n - 1)  # entries not used are zero, wherever they point
    block = cov.reshape(-1).take(raw[:, :, None] * (2 * net.n) + raw[:, None, :])
    return np.asarray(((block @ values[:, :, None])[:, :, 0] * values).sum(axis=1))


def _along(lay: Sparsity, xy: Array) -> tuple[Array, Array, Array, Array, Array]:
    """Direction a→b, its left normal, station, offset and length of the line, for each line row of ``xy`` (…, n, 2)."""
    line = xy.take(lay.b, axis=-2) - xy.take(lay.a, axis=-2)
    size = np.maximum(np.hypot(line[..., 0], line[..., 1]), TINY_M)
    e = line / size[..., None]
    n = np.stack([-e[..., 1], e[..., 0]], axis=-1)
    q = xy.take(lay.p, axis=-2) - xy.take(lay.a, axis=-2)
    return e, n, (q * e).sum(axis=-1), (q * n).sum(axis=-1), size
