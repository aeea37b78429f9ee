"""Surveys with given coordinates and covariance, for tests that start after the adjustment."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from stringline.geometry import Array
from stringline.job.model import Corner, Obstacle, Pool
from stringline.survey.result import Ellipse, GlobalTest, PointResult, Survey


def surveyed(points: Mapping[str, tuple[float, float]], sigma: float = 0.003, cov: Array | None = None) -> Survey:
    """A survey whose points have those coordinates, each with the same σ both ways and no correlation by default."""
    n = len(points)
    spread = np.eye(2 * n) * sigma**2 if cov is None else cov
    made = []
    for i, (name, (x, y)) in enumerate(points.items()):
        sx, sy = math.sqrt(spread[2 * i, 2 * i]), math.sqrt(spread[2 * i + 1, 2 * i + 1])
        made.append(PointResult(name, x, y, sx, sy, Ellipse(max(sx, sy), min(sx, sy), 0.0)))
    return Survey(tuple(made), (), 0, 0.0, GlobalTest(0.0, 0.0, 0.0, True), spread)


def pool_of(*names: str, radius: float = 0.0, curve: bool = False, obstacles: tuple[Obstacle, ...] = ()) -> Pool:
    """A pool with one radius at every corner."""
    return Pool(tuple(Corner(n, radius) for n in names), curve, obstacles)
