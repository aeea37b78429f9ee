"""Rope on a reel, layer by layer.

A reel w wide takes m = ⌊w/d⌋ turns of rope d thick in each layer. On a barrel of radius b the middle of layer k = 0, 1,
… lies at r_k = b + d/2 + k·c·d with c between √3/2 (each turn nests in the groove below) and 1 (stacked), and a turn
takes 2πr_k: length is piecewise linear in turns (source ``reel-layers``). It leaves out the step from layer to layer,
the slant of a turn, and rope that is flattened by the turns above.

Metres and turns. Functions take floats or arrays of any shape and give that shape back.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.system.model import Reel

NESTED = math.sqrt(3.0) / 2.0
"""Pitch of the layers over the rope's thickness where each turn lies in the groove of two below."""

STACKED = 1.0
"""The same where each turn lies on top of one below: the cautious guess for how full a reel is."""


@dataclass(frozen=True, slots=True)
class Spooling:
    """How rope of one diameter lies on one reel; every array has shape (layers,), from the barrel outwards."""

    diameter_m: float  # of the rope
    turns_a_layer: int
    layer_radius_m: Array  # to the middle of the rope
    turns_before: Array  # turns on the reel when the layer begins
    length_before_m: Array  # rope on the reel when the layer begins
    outer_m: Array  # outside of the rope when the layer is on
    room: int  # how many of these layers stay below the flange less its freeboard

    @property
    def capacity_m(self) -> float:
        """Rope that fills the layers below the freeboard."""
        if self.room == 0:
            return 0.0
        full = 2.0 * math.pi * float(self.layer_radius_m[: self.room].sum())
        return full * self.turns_a_layer


def spooling(reel: Reel, rope_diameter_m: float, nesting: float = NESTED) -> Spooling:
    """Lay out the layers, every one with the same number of turns.

    Layers run on past the flange, so that a reel that is too small shows how much too small. Raises ValueError for a
    rope thicker than the reel is wide, or a nesting outside √3/2 … 1.

    >>> laid = spooling(Reel(0.04, 0.09, 0.06, 0.006), 0.008, STACKED)
    >>> laid.turns_a_layer, laid.room, round(laid.capacity_m, 2)
    (7, 5, 13.19)
    """
    d = rope_diameter_m
    if not NESTED - 1e-9 <= nesting <= STACKED + 1e-9:
        raise ValueError("nesting lies between √3/2 (nested) and 1 (stacked)")
    if not d > 0.0:
        raise ValueError("a rope needs a diameter")
    m = math.floor(reel.width_m / d + 1e-9)
    if m < 1:
        raise ValueError("the rope is thicker than the reel is wide")
    depth = reel.flange_radius_m - reel.freeboard_m - reel.barrel_radius_m
    room = max(0, math.floor((depth / d - 1.0) / nesting + 1e-9) + 1) if depth >= d - 1e-12 else 0
    count = room + 40
    radius = reel.barrel_radius_m + d / 2.0 + np.arange(count, dtype=np.float64) * (nesting * d)
    before = np.arange(count, dtype=np.float64) * m
    length = np.concatenate([[0.0], np.cumsum(2.0 * math.pi * m * radius)[:-1]])
    return Spooling(d, m, radius, before, length, radius + d / 2.0, room)


def length_at(laid: Spooling, turned: float | Array) -> Array:
    """Rope on the reel after that many turns, Σ 2πr_k over full layers and the part of the last one.

    >>> laid = spooling(Reel(0.04, 0.09, 0.06, 0.006), 0.008, STACKED)
    >>> round(float(length_at(laid, 7.0)), 3), round(float(turns_at(laid, length_at(laid, 9.5))), 9)
    (1.935, 9.5)
    """
    # Every layer is one pitch larger than the last, so the sum over full layers needs no table.
    m, first = laid.turns_a_layer, float(laid.layer_radius_m[0])
    pitch = float(laid.layer_radius_m[1]) - first
    n = np.asarray(turned, dtype=float)
    k = np.floor(n / m)
    return np.asarray(2.0 * math.pi * (first * n + pitch * k * (n - 0.5 * m * (k + 1.0))))


def turns_at(laid: Spooling, length_m: float | Array) -> Array:
    """Turns on the reel when it holds that much rope; the inverse of :func:`length_at`."""
    k = _layer(laid.length_before_m, length_m)
    return np.asarray(
        laid.turns_before[k] + (length_m - laid.length_before_m[k]) / (2.0 * math.pi * laid.layer_radius_m[k])
    )


def radius_at(laid: Spooling, turned: float | Array) -> Array:
    """Radius at which the rope runs off or on, to its middle."""
    return np.asarray(laid.layer_radius_m[_layer(laid.turns_before, turned)])


@dataclass(frozen=True, slots=True)
class Fill:
    """How full a reel is with a given length of rope on it; ``freeboard_m`` is negative where it overflows."""

    length_m: float
    turns: float
    layers: int
    outer_radius_m: float
    freeboard_m: float  # flange to the outside of the rope
    share: float  # of the length that fits below the catalogue's freeboard; more than 1 is too much


def fill(reel: Reel, rope_diameter_m: float, length_m: float, nesting: float = STACKED) -> Fill:
    """Fill of the reel; stacked unless told, as the cautious guess. Raises ValueError for a negative length."""
    if length_m < 0.0:
        raise ValueError("a reel cannot hold less than nothing")
    laid = spooling(reel, rope_diameter_m, nesting)
    n = float(turns_at(laid, length_m))
    last = int(_layer(laid.turns_before, max(0.0, n - 1e-9)))
    outer = float(laid.outer_m[last]) if length_m > 0.0 else reel.barrel_radius_m
    share = length_m / laid.capacity_m if laid.capacity_m > 0.0 else (math.inf if length_m > 0.0 else 0.0)
    return Fill(length_m, n, last + 1 if length_m > 0.0 else 0, outer, reel.flange_radius_m - outer, share)


def smallest_that_holds(
    candidates: Sequence[tuple[str, Reel]], rope_diameter_m: float, length_m: float, nesting: float = STACKED
) -> str | None:
    """Name of the candidate with the least capacity that still holds the rope below its freeboard; None where none
    does.
    """
    able = []
    for name, reel in candidates:
        if reel.width_m < rope_diameter_m:
            continue
        room = spooling(reel, rope_diameter_m, nesting).capacity_m
        if room >= length_m:
            able.append((room, name))
    return min(able)[1] if able else None


def _layer(starts: Array, at: float | Array) -> Array:
    """Index of the layer in which each value falls."""
    return np.clip(np.searchsorted(starts, at, side="right") - 1, 0, len(starts) - 1)
