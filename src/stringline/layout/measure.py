"""Area, perimeter and uncertainty band of the water's edge, from its points' covariance.

Area and length of lines and arcs are exact, those of a smooth curve by quadrature; σ² = g·C·g with g the derivatives by
the points' coordinates (central differences of 10 µm) and C their joint covariance, first order. What the edge does
between its points is not in it: a side that nobody surveyed may bow without the σ knowing.
"""

from __future__ import annotations

import math

import numpy as np

from stringline.geometry import Arc, Array, Line
from stringline.layout.outline import SAG_M, STEP_M, Outline
from stringline.worked import Figure, Kind, Origin, Term


def area_figure(outline: Outline, cov: Array) -> Figure:
    """Area of the water, m², with its σ from the points' covariance (2n, 2n), m².

    A square of 4 m whose points are each known to 3 mm each way: every coordinate moves the area by half a side, so
    σ = √8 × 2 m × 3 mm.

    >>> corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    >>> sides = tuple(Line(corners[i], corners[(i + 1) % 4]) for i in range(4))
    >>> square = Outline(("1", "2", "3", "4"), np.array(corners), sides, (0.0,) * 4, (False,) * 4)
    >>> area = area_figure(square, 0.003**2 * np.eye(8))
    >>> area.value, round(area.sigma, 6) == round(math.sqrt(8) * 2 * 0.003, 6)
    (16.0, True)
    """
    return _figure("layout.water-area", "layout.water-area-rule", outline, cov, Kind.AREA)


def perimeter_figure(outline: Outline, cov: Array) -> Figure:
    """Length of the water's edge, m, with its σ from the points' covariance (2n, 2n), m²."""
    return _figure("layout.water-perimeter", "layout.water-perimeter-rule", outline, cov, Kind.LENGTH)


def band(outline: Outline, cov: Array) -> Array:
    """σ of the water's edge square to itself at each point of ``outline.polygon`` (m,), from ``cov`` (2n, 2n); metres.

    A line moves with its two corners, an arc with the points that set its centre and radius, a smooth curve with all.
    """
    if outline.curve is not None:
        return outline.curve.band(cov, outline.curve.stations(SAG_M))
    where, normal, owner = _drawn(outline)
    rows = np.zeros((len(where), outline.xy.size))
    for i, (up, down) in enumerate(outline.neighbours):
        # where lines between arcs that all but meet come and go, their arcs say the same
        if len(up.pieces) == len(outline.pieces) == len(down.pieces):
            rows[:, i] = _gone(outline, up, down, where, normal, owner)
    return np.asarray(np.sqrt(np.maximum(np.einsum("mi,ij,mj->m", rows, cov, rows), 0.0)))


def _figure(label: str, rule: str, outline: Outline, cov: Array, kind: Kind) -> Figure:
    def measure(of: Outline) -> float:
        return of.area if kind is Kind.AREA else of.perimeter

    row = np.array([(measure(up) - measure(down)) / (2 * STEP_M) for up, down in outline.neighbours])
    value = measure(outline)
    sigma = math.sqrt(max(float(row @ cov @ row), 0.0))
    term = Term("layout.from-survey", value, Origin.MEASURED)
    return Figure.by_rule(label, value, rule, [term], kind=kind, sigma=sigma)


def _drawn(outline: Outline) -> tuple[Array, Array, Array]:
    """Points of the drawn outline, outward normals there, and which piece each lies on."""
    where, normal, owner = [], [], []
    for k, piece in enumerate(outline.pieces):
        if isinstance(piece, Line):
            run = np.array(piece.b) - np.array(piece.a)
            points = np.array([piece.a])
            out = np.array([[run[1], -run[0]]]) / np.hypot(*run)
        else:
            points = piece.points(SAG_M)[:-1]
            out = (points - np.array(piece.centre)) / piece.radius * math.copysign(1.0, piece.sweep)
        where.append(points)
        normal.append(out)
        owner.append(np.full(len(points), k))
    return np.vstack(where), np.vstack(normal), np.concatenate(owner)


def _gone(outline: Outline, up: Outline, down: Outline, where: Array, normal: Array, owner: Array) -> Array:
    """How fast each drawn point goes outward between two neighbours of its outline; most pieces stay where they are."""
    found = np.zeros(len(where))
    for k, (old, one, other) in enumerate(zip(outline.pieces, up.pieces, down.pieces, strict=True)):
        if one == old == other:
            continue
        on = owner == k
        past = [_past(piece, where[on], normal[on]) for piece in (one, other)]
        found[on] = (past[0] - past[1]) / (2 * STEP_M)
    return found


def _past(piece: Line | Arc, where: Array, normal: Array) -> Array:
    """How far outward a piece stands from points (m, 2) that lie all but on it."""
    if isinstance(piece, Line):
        a, b = np.array(piece.a), np.array(piece.b)
        out = np.array([b[1] - a[1], a[0] - b[0]]) / np.hypot(*(b - a))
        return np.asarray((a - where) @ out / np.maximum(normal @ out, 0.5))
    gap = np.hypot(*(where - np.array(piece.centre)).T)
    return np.asarray((piece.radius - gap) * math.copysign(1.0, piece.sweep))
