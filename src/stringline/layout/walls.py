"""A wall beyond the far water is where a cover stops: how far that is from the housing's face, and how sure.

The stop is the least s, in the cover's frame, of the wall over the width that the tracks take. Its σ is first order,
from the wall's points and the water's together (central differences of 1 µm). Walls on this side of the far water less
what may stay open are obstacles like any other.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array, Frame
from stringline.job.model import Pool
from stringline.layout.ground import Size
from stringline.layout.outline import Outline
from stringline.layout.stance import AHEAD, BEHIND, LEFT, RIGHT, Stance
from stringline.survey.result import Survey

_STEP = 1e-6


@dataclass(frozen=True, slots=True)
class WallStop:
    """The wall that stops the leading edge: ``cut_m`` shortens the travel, whose σ is then ``sigma_m``.

    ``past_m`` is how far the channels would run into the wall; ``cut_m`` is 0 where only they reach it.
    """

    wall: str
    cut_m: float
    sigma_m: float
    past_m: float


def frame_at(heading: float, reach: Array, size: Size) -> Frame:
    """The cover's frame: its origin half way between the tracks on the housing's face.

    >>> size = Size(0.1, 0.3, 0.3, 0.08, 0.04, 0.25, 0.45, 0.025)
    >>> frame = frame_at(math.pi / 2, np.array([4.0, 0.0, 10.0, 0.0]), size)  # right, left, ahead, behind
    >>> [round(float(x), 9) for x in frame.origin]
    [2.0, -0.3]
    """
    ahead = np.array([math.cos(heading), math.sin(heading)])
    right = np.array([ahead[1], -ahead[0]])
    at = right * (reach[RIGHT] - reach[LEFT]) / 2 - ahead * (reach[BEHIND] + size.setback)
    return Frame((float(at[0]), float(at[1])), heading)


def stop_at_wall(survey: Survey, pool: Pool, outline: Outline, stood: Stance, size: Size) -> WallStop | None:
    """The nearest wall between the far water (less ``size.short``) and the channels' far end, over the tracks' width.

    None where no wall stands there.
    """
    q = np.concatenate([[stood.heading_rad], stood.reach])
    full = size.setback + float(stood.reach[AHEAD] + stood.reach[BEHIND]) + size.end
    nearest: WallStop | None = None
    closest = full + size.past_stop
    for wall in (o for o in pool.obstacles if o.kind == "wall"):
        xy = survey.xy[[survey.index[p] for p in wall.points]].reshape(-1)
        at = _reached(q, xy, size)
        if at >= closest:
            continue
        closest = at
        by_stance = gradient(lambda x, xy=xy: _reached(x, xy, size), q) @ stood.rows  # type: ignore[misc]
        by_wall = gradient(lambda x: _reached(q, x, size), xy)
        sigma = joint_sigma(survey, outline, wall.points, by_stance, by_wall)
        nearest = WallStop(wall.name, max(full - at, 0.0), sigma, size.past_stop - max(at - full, 0.0))
    return nearest


def gradient(of: Callable[[Array], float], at: Array) -> Array:
    """Central differences of a function of ``at`` (n,), shape (n,); from one side where the other is infinite.

    A wall whose end stands just where the tracks' width ends is met on one side of that place and missed on the other.

    >>> gradient(lambda x: float(x[0] ** 2 + 3.0 * x[1]), np.array([2.0, 1.0])).round(6).tolist()
    [4.0, 3.0]
    """
    found = np.zeros(at.size)
    for i in range(at.size):
        step = np.zeros(at.size)
        step[i] = _STEP
        above, below = of(at + step), of(at - step)
        if math.isfinite(above) and math.isfinite(below):
            found[i] = (above - below) / (2 * _STEP)
        elif math.isfinite(above):
            found[i] = (above - of(at)) / _STEP
        elif math.isfinite(below):
            found[i] = (of(at) - below) / _STEP
    return found


def joint_sigma(
    survey: Survey, outline: Outline, points: tuple[str, ...], by_outline: Array, by_points: Array
) -> float:
    """σ of a quantity from its derivatives by the outline's coordinates and by those of other points: √(r·C·r).

    C is the joint covariance of all of them, so that what the two share is neither lost nor counted twice.
    """
    row = np.concatenate([by_outline, by_points])
    cov = survey.cov_of(*outline.names, *points)
    return math.sqrt(max(float(row @ cov @ row), 0.0))


def _reached(q: Array, wall: Array, size: Size) -> float:
    """Least s, beyond the far water less ``short``, of the wall over the tracks' width; infinite if none."""
    us = frame_at(float(q[0]), q[1:], size).from_survey(wall.reshape(-1, 2))
    half = float(q[1 + RIGHT] + q[1 + LEFT]) / 2 + size.side + size.track_half
    water = size.setback + float(q[1 + AHEAD] + q[1 + BEHIND]) - size.short - 1e-6
    pairs = itertools.pairwise(us) if len(us) > 1 else [(us[0], us[0])]
    found = [s for a, b in pairs if (s := _nearest_in_band(a, b, half)) is not None and s >= water]
    return min(found, default=math.inf)


def _nearest_in_band(a: Array, b: Array, half: float) -> float | None:
    """Least s of a segment where it lies within ``half`` of the middle; None where it does not."""
    lo, hi = 0.0, 1.0
    du = float(b[0] - a[0])
    if abs(du) < 1e-12:
        if abs(a[0]) > half:
            return None
    else:
        t = sorted(((-half - float(a[0])) / du, (half - float(a[0])) / du))
        lo, hi = max(lo, t[0]), min(hi, t[1])
        if lo > hi:
            return None
    return float(min(a[1] + lo * (b[1] - a[1]), a[1] + hi * (b[1] - a[1])))
