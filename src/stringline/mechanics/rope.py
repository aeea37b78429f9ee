"""The rope's real path: slider, far-end pulley, return channel, reel."""

from __future__ import annotations

import math

import numpy as np

from stringline.geometry import Array


def out_m(station_m: float | Array, pulley_m: float) -> Array:
    """Rope from the slider to the middle of the far-end pulley."""
    return np.asarray(pulley_m - np.asarray(station_m))


def back_m(pulley_m: float, pulley_radius_m: float, behind_m: float) -> float:
    """Rope from the top of the pulley's half turn to where it meets the reel: half turn, return channel, and the way
    behind the housing's face.
    """
    return math.pi * pulley_radius_m + pulley_m + behind_m


def compliance_m_n(out: float | Array, back: float | Array, ea_n: float | Array, back_pull: float | Array) -> Array:
    """Stretch of a rope for one newton at the slider.

    The far stretch carries the slider's pull, the return ``back_pull`` times it: 1/η when the reel winds in, η when the
    slider pulls rope off. ``ea_n`` is pull over strain.
    """
    return np.asarray((out + np.multiply(back, back_pull)) / ea_n)
