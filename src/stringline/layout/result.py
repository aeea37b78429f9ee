"""What the layout room gives back."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.finding import Code
from stringline.geometry import Array, Frame
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class Clearance:
    """Distance from a part of the cover to an obstacle; negative where they overlap.

    ``part`` is a code, of :data:`stringline.layout.clearance.PARTS` or ``layout.part.far-water``.
    """

    obstacle: str
    part: str
    figure: Figure


@dataclass(frozen=True)
class Layout:
    """Where the cover goes. Outlines are in the survey's frame; (u, s) as in :class:`stringline.geometry.Frame`.

    Lengths are metres, σ the standard uncertainty that the survey leaves them; how each length is made up stands in
    :mod:`stringline.layout.place`.
    """

    frame: Frame
    housing_edge: tuple[str, str] | None  # the water's edge it lies along, left name first
    water: Array  # outline of the water with rounded corners, shape (n, 2), closed implicitly
    drive_side: str
    gauge: Figure  # between the track centrelines
    water_width: Figure  # extent of the water across
    water_length: Figure  # extent of the water along
    side_margin: Figure
    end_margin: Figure
    setback: Figure  # housing face to the nearest water
    travel: Figure  # of the leading edge: housing face to its stop beyond the far water
    channel: Figure  # track channel length, housing face to the channel's far end
    clearances: tuple[Clearance, ...] = ()
    notes: tuple[Code, ...] = ()
    water_area: Figure | None = None
    water_perimeter: Figure | None = None
    mount: str = ""  # under-coping, flush or on-deck; empty where it does not matter
    water_sigma: Array | None = None  # σ of the water's edge square to itself at each point of ``water``, shape (n,), m

    def corners(self) -> Array:
        """Cover rectangle on the track centrelines: near left, near right, far right, far left; shape (4, 2)."""
        g, length = self.gauge.value, self.channel.value
        return self.frame.to_survey(np.array([[-g / 2, 0], [g / 2, 0], [g / 2, length], [-g / 2, length]]))
