"""Area, perimeter and uncertainty band of the water's edge, from its points' covariance."""

from __future__ import annotations

import math

import numpy as np

from stringline.geometry import Arc, Array, Line
from stringline.layout.curve import ClosedCurve
from stringline.layout.outline import SAG_M, Outline
from stringline.worked import Figure, Kind, Origin, Term

_STEP_M = 1e-5


def area_figure(outline: Outline, cov: Array) -> Figure:
    """Area of the water with its σ from the points' covariance (2n, 2n)."""
    return _figure(
        "Water, area", outline, cov, Kind.AREA, "area inside the water's edge, rounded corners and bows as arcs"
    )


def perimeter_figure(outline: Outline, cov: Array) -> Figure:
    """Length of the water's edge with its σ from the points' covariance (2n, 2n)."""
    return _figure(
        "Water, perimeter", outline, cov, Kind.LENGTH, "length of the water's edge, along arcs where it is round"
    )


def band(outline: Outline, cov: Array) -> Array:
    """σ of the water's edge square to itself at each point of ``outline.polygon`` (m,), from ``cov`` (2n, 2n); metres.

    A line moves with its two corners, an arc with the points that set its centre and radius, a smooth curve with all.
    """
    if outline.curve is not None:
        return outline.curve.band(cov, outline.curve.stations(SAG_M))
    flat = outline.xy.reshape(-1)
    where, normal, owner = _drawn(outline)
    rows = np.zeros((len(where), flat.size))
    for i in range(flat.size):
        step = np.zeros(flat.size)
        step[i] = _STEP_M
        up, down = outline.moved(flat + step).pieces, outline.moved(flat - step).pieces
        if len(up) != len(outline.pieces) or len(down) != len(outline.pieces):
            continue  # a line between two arcs that all but meet comes and goes; its arcs say the same
        rows[:, i] = (_shift(up, where, normal, owner) - _shift(down, where, normal, owner)) / (2 * _STEP_M)
    return np.asarray(np.sqrt(np.maximum(np.einsum("mi,ij,mj->m", rows, cov, rows), 0.0)))


def _figure(label: str, outline: Outline, cov: Array, kind: Kind, rule: str) -> Figure:
    def measure(xy: Array) -> float:
        if outline.curve is not None:
            curve = ClosedCurve.through(xy.reshape(-1, 2))
            return abs(curve.area()) if kind is Kind.AREA else curve.length()
        moved = outline.moved(xy)
        return moved.area if kind is Kind.AREA else moved.perimeter

    flat = outline.xy.reshape(-1)
    row = np.zeros(flat.size)
    for i in range(flat.size):
        step = np.zeros(flat.size)
        step[i] = _STEP_M
        row[i] = (measure(flat + step) - measure(flat - step)) / (2 * _STEP_M)
    value = measure(flat)
    sigma = math.sqrt(max(float(row @ cov @ row), 0.0))
    return Figure.by_rule(label, value, rule, [Term("from the survey", value, Origin.MEASURED)], kind=kind, sigma=sigma)


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


def _shift(pieces: tuple[Line | Arc, ...], where: Array, normal: Array, owner: Array) -> Array:
    """How far outward each piece has gone past the points that were drawn on it."""
    found = np.zeros(len(where))
    for k, piece in enumerate(pieces):
        on = owner == k
        if isinstance(piece, Line):
            a, b = np.array(piece.a), np.array(piece.b)
            out = np.array([b[1] - a[1], a[0] - b[0]]) / np.hypot(*(b - a))
            found[on] = (a - where[on]) @ out / np.maximum(normal[on] @ out, 0.5)
        else:
            gap = np.hypot(*(where[on] - np.array(piece.centre)).T)
            found[on] = (piece.radius - gap) * math.copysign(1.0, piece.sweep)
    return found
