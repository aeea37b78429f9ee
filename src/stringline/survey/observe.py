"""What each row would read at given coordinates, and how that changes as points move."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.survey.network import IntArray, Network, Row

TINY_M = 1e-12  # stands in for the length of a line whose ends coincide


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the entries of each kind of row go in the flat design (m·2n); computed once for a network."""

    i: IntArray
    j: IntArray
    distance: tuple[IntArray, ...]  # four flat index arrays: xi, yi, xj, yj
    lines: IntArray  # rows of STATION and OFFSET
    is_station: IntArray
    a: IntArray
    b: IntArray
    p: IntArray
    line: tuple[IntArray, ...]  # six flat index arrays: xa, ya, xb, yb, xp, yp
    coords: IntArray  # rows of X and Y
    coord_column: IntArray


def _layout(net: Network) -> _Layout:
    cached: _Layout | None = net.__dict__.get("_layout")
    if cached is not None:
        return cached
    wide = 2 * net.n
    t = net.tapes
    rows = np.arange(t)
    i, j = net.at[:t, 0].copy(), net.at[:t, 1].copy()
    lines = np.flatnonzero((net.kind == Row.STATION) | (net.kind == Row.OFFSET))
    a, b, p = (net.at[lines, c] for c in range(3))
    coords = np.flatnonzero((net.kind == Row.X) | (net.kind == Row.Y))
    made = _Layout(
        i,
        j,
        tuple(rows * wide + c for c in (2 * i, 2 * i + 1, 2 * j, 2 * j + 1)),
        lines,
        (net.kind[lines] == Row.STATION).astype(np.int64),
        a,
        b,
        p,
        tuple(lines * wide + c for q in (a, b, p) for c in (2 * q, 2 * q + 1)),
        coords,
        2 * net.at[coords, 0] + (net.kind[coords] == Row.Y),
    )
    net.__dict__["_layout"] = made  # a frozen dataclass without slots: the cache is invisible to eq and repr
    return made


def predict(net: Network, xy: Array) -> Array:
    """Reading that each row would give at ``xy`` (n, 2), metres, shape (m,)."""
    lay = _layout(net)
    out = np.empty(net.m)
    d = xy[lay.j] - xy[lay.i]
    out[: net.tapes] = np.sqrt(np.einsum("ij,ij->i", d, d))
    if len(lay.lines):
        _, _, t, o, _ = _along(lay, xy)
        out[lay.lines] = np.where(lay.is_station, t, o)
    if len(lay.coords):
        out[lay.coords] = xy.ravel()[lay.coord_column]
    return out


def linearise(net: Network, xy: Array) -> tuple[Array, Array]:
    """Predicted readings (m,) and design (m, 2n) at ``xy`` (n, 2), the columns x₁, y₁, x₂, y₂, … of every point.

    Columns of held coordinates are filled too; the adjustment masks them.
    """
    lay = _layout(net)
    out = np.empty(net.m)
    design = np.zeros((net.m, 2 * net.n))
    flat = design.reshape(-1)
    d = xy[lay.j] - xy[lay.i]
    length = np.sqrt(np.einsum("ij,ij->i", d, d))
    out[: net.tapes] = length
    u = d / np.maximum(length, TINY_M)[:, None]
    ux, uy = u[:, 0], u[:, 1]
    for where, value in zip(lay.distance, (-ux, -uy, ux, uy), strict=True):
        flat[where] = value
    if len(lay.lines):
        e, n, t, o, size = _along(lay, xy)
        station = lay.is_station.astype(bool)
        out[lay.lines] = np.where(station, t, o)
        to_p = np.where(station[:, None], e, n)
        to_b = np.where(station[:, None], (o / size)[:, None] * n, -(t / size)[:, None] * n)
        to_a = -to_p - to_b
        values = (to_a[:, 0], to_a[:, 1], to_b[:, 0], to_b[:, 1], to_p[:, 0], to_p[:, 1])
        for where, value in zip(lay.line, values, strict=True):
            flat[where] = value
    if len(lay.coords):
        out[lay.coords] = xy.ravel()[lay.coord_column]
        design[lay.coords, lay.coord_column] = 1.0
    return out, design


def _along(lay: _Layout, xy: Array) -> tuple[Array, Array, Array, Array, Array]:
    """Direction a→b, its left normal, station, offset and length of the line, for each line row."""
    line = xy[lay.b] - xy[lay.a]
    size = np.maximum(np.hypot(line[:, 0], line[:, 1]), TINY_M)
    e = line / size[:, None]
    n = np.stack([-e[:, 1], e[:, 0]], axis=1)
    q = xy[lay.p] - xy[lay.a]
    return e, n, np.einsum("ij,ij->i", q, e), np.einsum("ij,ij->i", q, n), size
