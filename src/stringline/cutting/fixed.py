"""The track's pins: where the rule puts them before a joint asks one to move."""

from __future__ import annotations

import math

from stringline.system.model import Track


def pin_stations(run_m: float, track: Track) -> tuple[float, ...]:
    """Pin places from the housing end of the track, evenly spaced and nowhere further apart than the catalogue says.

    The first is ``pin_from_end`` inside the channel's housing end, the last as far from the factory end at the pulley:
    pins pass through the channel, so none stands in the part of the track that is in the housing.
    """
    first = track.into_housing_m + track.pin_from_end_m
    last = run_m - track.pin_from_end_m
    if last <= first:
        return ((track.into_housing_m + run_m) / 2.0,) if run_m > track.into_housing_m else ()
    gaps = max(1, math.ceil((last - first) / track.pin_spacing_m - 1e-9))
    return tuple(first + (last - first) * i / gaps for i in range(gaps + 1))
