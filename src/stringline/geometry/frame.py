"""The frame of the cover on that of the survey, and the array type that all geometry speaks."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Frame:
    """The cover's own frame laid on the survey's.

    ``origin`` is the middle of the housing's face, ``heading_rad`` the direction one looks standing at the housing and
    looking over the water, counter-clockwise from the survey's x axis. In the frame, ``u`` runs to the right across
    the pool and ``s`` along the tracks away from the housing; (u, s) is right-handed.
    """

    origin: tuple[float, float]
    heading_rad: float

    def to_survey(self, us: Array) -> Array:
        """Turn (u, s) of shape (n, 2) or (2,) into survey (x, y)."""
        p = np.asarray(us, dtype=float)
        c, s = math.cos(self.heading_rad), math.sin(self.heading_rad)
        x = self.origin[0] + p[..., 0] * s + p[..., 1] * c
        y = self.origin[1] - p[..., 0] * c + p[..., 1] * s
        return np.stack([x, y], axis=-1)

    def from_survey(self, xy: Array) -> Array:
        """Turn survey (x, y) of shape (n, 2) or (2,) into (u, s)."""
        p = np.asarray(xy, dtype=float) - np.asarray(self.origin)
        c, s = math.cos(self.heading_rad), math.sin(self.heading_rad)
        return np.stack([p[..., 0] * s - p[..., 1] * c, p[..., 0] * c + p[..., 1] * s], axis=-1)
