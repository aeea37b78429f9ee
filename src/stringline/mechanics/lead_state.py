"""Why a leading edge runs crooked: one state of the run, in closed form.

The leading edge is a stiff bar whose ends slide freely, so each end is in balance by itself. Closing, the reels hold
the two ropes and the drum turns free against its brake, which fixes the *sum* of the two hem pulls; how they share it
is what the lead decides, until one hem is slack and the other carries all. Opening is the mirror image: the drum holds
the hems, the reels turn free against their brake, and it is the ropes that share. Either way one unknown is left, the
difference of the shared pulls, and it is a clipped linear function (source ``lead``):

q = clip((rope − hem)/(k_rope + k_hem), −shared, +shared)

with *rope* and *hem* where rope and hem alone would put the lead, k the mean stretch of either for one newton and
*shared* the sum that the brake fixes. The stretch is elastic and small against the lengths; nothing has mass.

All arguments are floats or arrays that broadcast. ``lead_m`` here is x_drive − x_idle with x from the housing,
whichever way the cover moves; :mod:`stringline.mechanics.travel` turns it into what a person calls ahead.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array

Real = float | Array


@dataclass(frozen=True, slots=True)
class Pair:
    """One quantity on both sides."""

    drive: Real
    idle: Real

    @property
    def mean(self) -> Array:
        """Half their sum."""
        return np.asarray(0.5 * (np.asarray(self.drive) + self.idle))

    @property
    def difference(self) -> Array:
        """Drive less idle."""
        return np.asarray(np.asarray(self.drive) - self.idle)


@dataclass(frozen=True, slots=True)
class State:
    """Lead and the shared pulls: the hems' while closing, the ropes' (at the slider) while opening."""

    lead_m: Array
    difference_n: Array  # of the shared pulls, drive less idle
    shared_n: Real  # their sum

    @property
    def drive_n(self) -> Array:
        """Drive side's share."""
        return np.asarray((self.shared_n + self.difference_n) / 2.0)

    @property
    def idle_n(self) -> Array:
        """Idle side's share."""
        return np.asarray((self.shared_n - self.difference_n) / 2.0)

    @property
    def slack(self) -> Array:
        """+1 where the drive side hangs slack, −1 the idle side, 0 where both pull."""
        return np.where(np.abs(self.difference_n) >= self.shared_n, -np.sign(self.difference_n), 0.0)


def closing_state(
    taken_m: Real, hem_m: Real, rope_m_n: Pair, hem_m_n: Pair, drag_n: Pair, hem_own_m: Pair, shared_n: Real
) -> State:
    """State while closing.

    ``taken_m``: rope taken in, drive less idle, unstretched. ``hem_m``: hem paid out, drive less idle, unstretched.
    ``rope_m_n``: stretch of each rope for one newton of resistance at its slider. ``hem_m_n``: stretch of each hem for
    one newton. ``drag_n``: sliding resistance. ``hem_own_m``: stretch of each hem from its own drag along the track.
    ``shared_n``: sum of the two hem pulls behind the guides, which the drum's brake fixes.
    """
    half = np.asarray(shared_n) / 2.0
    rope = taken_m - _stretch(rope_m_n, drag_n) - rope_m_n.difference * half
    hem = hem_m + hem_own_m.difference + hem_m_n.difference * half
    give = rope_m_n.mean
    q = _shared_difference(rope - hem, give + hem_m_n.mean, shared_n)
    return State(np.asarray(rope - give * q), q, shared_n)


def opening_state(
    taken_m: Real, hem_m: Real, rope_m_n: Pair, hem_m_n: Pair, hem_own_m: Pair, shared_n: Real, jam: Real = 1.0
) -> State:
    """State while opening.

    ``hem_own_m``: stretch of each hem from all drag on its side. ``shared_n``: sum of the two rope pulls at the
    sliders, which the reels' brake fixes. ``jam``: resistance at a slider for one newton of its rope's pull.
    """
    half = np.asarray(shared_n) / 2.0
    hem = hem_m + hem_own_m.difference + jam * hem_m_n.difference * half
    rope = taken_m - rope_m_n.difference * half
    give = jam * hem_m_n.mean
    q = _shared_difference(rope - hem, rope_m_n.mean + give, shared_n)
    return State(np.asarray(hem + give * q), q, shared_n)


def _stretch(compliance: Pair, pull: Pair) -> Array:
    """Difference of stretch, drive less idle."""
    return np.asarray(np.multiply(compliance.drive, pull.drive) - np.multiply(compliance.idle, pull.idle))


def _shared_difference(gap_m: Array, compliance_m_n: Array, shared_n: Real) -> Array:
    """Difference of the shared pulls that closes the gap, as far as neither side would have to push."""
    return np.clip(gap_m / compliance_m_n, -np.asarray(shared_n), shared_n)
