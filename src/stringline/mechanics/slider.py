"""When a slider jams in its track: the textbook sticking drawer, and how far a crooked edge may swing."""

from __future__ import annotations

import math


def jam_eccentricity_m(guided_m: float, mu: float) -> float:
    """Farthest that the pull may stand off the track before the slider jams, ℓ/(2μ) (source ``sticking-drawer``).

    Infinite without friction. Raises ValueError for a guided length or friction below nothing.
    """
    if guided_m <= 0.0 or mu < 0.0:
        raise ValueError("a slider has a guided length, and its friction is not negative")
    return math.inf if mu == 0.0 else guided_m / (2.0 * mu)


def jam_margin(guided_m: float, eccentricity_m: float, mu: float) -> float:
    """How many times the present eccentricity it would take to jam: 1 is jammed, infinite where nothing can jam it."""
    if eccentricity_m == 0.0:
        return math.inf
    return jam_eccentricity_m(guided_m, mu) / abs(eccentricity_m)


def pull_factor(guided_m: float, eccentricity_m: float, mu: float) -> float:
    """How many times harder than straight an eccentric pull must be, 1/(1 − 2μe/ℓ); infinite once jammed."""
    share = 2.0 * mu * abs(eccentricity_m) / guided_m
    return math.inf if share >= 1.0 else 1.0 / (1.0 - share)


def swing_rad(lead_m: float, gauge_m: float) -> float:
    """Angle of the leading edge to square for a lead over the gauge."""
    return math.atan2(lead_m, gauge_m)
