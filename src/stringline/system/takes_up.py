"""The one table of what made-to-measure parts take up: by how much each may be off and still do as it is."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.system.model import System


@dataclass(frozen=True, slots=True)
class TakesUp:
    """By how much a gauge, a travel or a run may differ from the one that a part was made for, either way, in metres.

    Cover and leading edge follow the gauge everywhere, the drum the gauge at the housing, the cover's length the
    travel. ``rope_m`` counts one way only: how far the common cut point can still go from the housing, for ropes that
    turn out short; a long rope is cut.
    """

    cover_width_m: float  # the hems
    leading_edge_m: float  # both adjustable ends together
    drum_m: float  # the room at its ends
    cover_length_m: float  # the wraps that stay on the drum
    rope_m: float = 0.0

    @property
    def gauge_m(self) -> float:
        """How far an even change of gauge may go along the run before one of the ordered parts does not follow."""
        return min(self.cover_width_m, self.leading_edge_m)


def takes_up(system: System, rope_cut_m: float | None = None) -> TakesUp:
    """What a catalogue's parts take up. ``rope_cut_m`` is the ropes' cut point where it is not the catalogue's.

    >>> from stringline.system.read import load_system
    >>> room = takes_up(load_system("invented-18"))
    >>> room.gauge_m == min(room.cover_width_m, room.leading_edge_m)
    True
    """
    cut = system.rope.cut_station_m if rope_cut_m is None else rope_cut_m
    return TakesUp(
        cover_width_m=system.fabric.width_take_up_m,
        leading_edge_m=2 * system.leading_edge.adjust_m,
        drum_m=system.tolerances.drum_play_m,
        cover_length_m=system.fabric.length_take_up_m,
        rope_m=system.rope.cut_station_high_m - cut,
    )
