"""How a machine departs from both sides alike: every way in which a cover comes to run crooked.

One field a departure. A difference is drive side less idle side, so each has a sign; what can only rub has a field for
either side instead and is not negative.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from stringline.geometry import Array

Real = float | Array


@dataclass(frozen=True)
class Deviations:
    """Departures, each a float or an array of samples, shape (n,). Nought everywhere is a machine with both sides
    alike. Lengths in metres, forces in newtons.

    >>> Deviations(start_m=0.02).samples is None, Deviations(start_m=np.zeros(5), pinch_n=300.0).samples
    (True, 5)
    """

    start_m: Real = 0.0  # the idle-side rope is longer by this much
    early_turns: Real = 0.0  # the drive-side reel gives way to its next layer this many turns sooner
    reel_radius_m: Real = 0.0  # the drive-side barrel is larger by this much
    rope_diameter_m: Real = 0.0  # the drive-side rope is thicker by this much
    stretch_drive: Real = 0.0  # the drive-side rope stretches more by this share
    stretch_idle: Real = 0.0
    drag_drive_n: Real = 0.0  # extra drag at the drive-side slider
    drag_idle_n: Real = 0.0
    drag_drive_n_m: Real = 0.0  # extra drag for every metre of hem in the drive-side track
    drag_idle_n_m: Real = 0.0
    square_m: Real = 0.0  # cover longer on the drive side, from drum to leading edge
    hem_drive_m: Real = 0.0  # the drive-side hem builds up thicker by this much a turn
    pinch_n: Real = 0.0  # extra drag at one spot
    pinch_at_m: Real = 0.0
    pinch_drive: Real = 1.0  # share of it on the drive side, 0 … 1
    pinch_width_m: Real = 0.3  # standard width of the spot
    drag_scale: Real = 1.0  # both sides' drag over the catalogue's
    brake_scale: Real = 1.0  # both brakes over the catalogue's

    @property
    def samples(self) -> int | None:
        """Number of samples; None where every departure is a single number. Raises ValueError where they disagree."""
        sizes = {np.size(v) for v in self._values() if np.ndim(v) > 0}
        if len(sizes) > 1:
            raise ValueError(f"departures come in different numbers of samples: {sorted(sizes)}")
        return sizes.pop() if sizes else None

    def part(self, rows: slice) -> Deviations:
        """The same departures for some of the samples."""
        picked = {f.name: v[rows] if np.ndim(v := getattr(self, f.name)) > 0 else v for f in fields(self)}
        return Deviations(**picked)

    def _values(self) -> tuple[Real, ...]:
        return tuple(getattr(self, f.name) for f in fields(self))
