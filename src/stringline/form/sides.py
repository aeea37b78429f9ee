"""Which surveyed points lie along each track, read off the water's edge in the cover's own frame.

An edge runs along a track if it lies within 10° of the tracks' direction and within 150 mm of the outermost water on
its side, so that the short leg of an L is no track's side; bows are none. The two numbers are practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array, Frame
from stringline.layout.outline import Outline
from stringline.survey.result import Survey

_ALONG_RAD = math.radians(10)  # an edge within this of the tracks' direction runs along one
_BAND_M = 0.15  # and does so beside the track if it lies this close to the outermost water


@dataclass(frozen=True)
class Side:
    """Points along one track from the housing on: names, (u, s) of shape (n, 2), in the cover's frame."""

    names: tuple[str, ...]
    us: Array


def sides_of(outline: Outline, frame: Frame) -> tuple[Side, Side]:
    """Points of the water's edge along the left and the right track. A side without a straight edge is empty."""
    us = frame.from_survey(outline.xy)
    if outline.curve is not None:
        return Side((), np.zeros((0, 2))), Side((), np.zeros((0, 2)))
    right = _along(outline, us, 1.0)
    left = _along(outline, us, -1.0)
    return left, right


def joint_covariance(survey: Survey, frame: Frame, names: tuple[str, ...]) -> Array:
    """Covariance of the named points in the frame's (u, s), shape (2n, 2n), m²; the frame itself is held.

    R·C·Rᵀ with R turning each point's (x, y) into (u, s).
    """
    c, s = math.cos(frame.heading_rad), math.sin(frame.heading_rad)
    turn = np.kron(np.eye(len(names)), np.array([[s, -c], [c, s]]))
    found: Array = turn @ survey.cov_of(*names) @ turn.T
    return found


def _along(outline: Outline, us: Array, side: float) -> Side:
    n = len(us)
    outermost = float(np.max(side * us[:, 0]))
    chosen: set[int] = set()
    for i in range(n):
        j = (i + 1) % n
        if outline.through[i] or outline.through[j]:
            continue
        # counter-clockwise, the water's right edge runs away from the housing and its left edge back to it
        run = side * (us[j] - us[i])
        if abs(math.atan2(run[0], run[1])) > _ALONG_RAD:
            continue
        if min(side * us[i, 0], side * us[j, 0]) >= outermost - _BAND_M:
            chosen |= {i, j}
    order = sorted(chosen, key=lambda k: float(us[k, 1]))
    return Side(tuple(outline.names[k] for k in order), us[order].reshape(-1, 2))
