"""One machine, stripped to the numbers that its statics need, and the lengths and radii that follow from a station.

A station is where the leading edge stands, metres from the housing's face towards the far end.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.finding import Refused
from stringline.geometry import Array
from stringline.layout.result import Layout
from stringline.mechanics import drum as tube_drum
from stringline.mechanics import reel, roll
from stringline.mechanics.forces import Drag, capstan, pull_factor, side_drag
from stringline.system.model import System


@dataclass(frozen=True)
class Machine:
    """Lengths in metres, forces in newtons; stations from the housing's face. All scalars, both sides alike."""

    gauge_m: float
    open_m: float  # station of the leading edge with the cover open
    closed_m: float
    pulley_m: float  # middle of the far-end pulley
    pulley_radius_m: float
    rope_behind_m: float  # free rope behind the housing's face
    hem_behind_m: float  # hem between the drum and the housing's face
    laid: reel.Spooling
    dead_turns: float
    core_m: float
    sheet_m: float  # effective thickness
    hem_m: float  # effective thickness
    on_drum_m: float
    rope_ea_n: float
    hem_ea_n: float
    pulley_efficiency: float
    guide: float  # pull behind a guide over the pull before it
    drag: Drag
    drum_brake_nm: float
    reel_brake_nm: float
    shaft_rad_nm: float  # twist end to end for one newton-metre
    omega_rad_s: float
    jam_closing: float  # rope pull over the resistance at the slider
    jam_opening: float  # resistance at the slider over the rope pull

    def stations(self, count: int = 60) -> Array:
        """Even stations from open to closed, shape (count,)."""
        return np.linspace(self.open_m, self.closed_m, count)

    def reel_turns(self, station_m: float | Array) -> Array:
        """Turns on a reel with the leading edge at that station."""
        wound = reel.length_at(self.laid, self.dead_turns) + (np.asarray(station_m) - self.open_m)
        return reel.turns_at(self.laid, wound)

    def reel_radius_m(self, station_m: float | Array) -> Array:
        """Radius at which rope runs on or off."""
        return reel.radius_at(self.laid, self.reel_turns(station_m))

    def wound_m(self, station_m: float | Array) -> Array:
        """Cover on the drum."""
        return np.asarray(self.on_drum_m + (self.closed_m - np.asarray(station_m)))

    def drum_radius_m(self, station_m: float | Array) -> Array:
        """Radius at which the hems run on or off the roll."""
        return roll.radius_m(self.core_m, self.hem_m, self.wound_m(station_m))

    def drum_turns(self, station_m: float | Array) -> Array:
        """Turns of hem on the drum."""
        return roll.turns(self.core_m, self.hem_m, self.wound_m(station_m))

    def rope_out_m(self, station_m: float | Array) -> Array:
        """Rope from the slider to the middle of the far-end pulley, p − s."""
        return np.asarray(self.pulley_m - np.asarray(station_m))

    @property
    def rope_back_m(self) -> float:
        """Rope from the top of the far-end pulley to the reel, πr + p + b: half turn, way back, way behind the face."""
        return math.pi * self.pulley_radius_m + self.pulley_m + self.rope_behind_m

    def rope_give_m_n(self, station_m: float | Array, back_pull: float) -> Array:
        """Stretch of a rope for one newton at the slider, (out + back·k)/EA.

        The way out carries the slider's pull, the way back ``back_pull`` k times it: 1/η where the reel winds in, η
        where the slider pulls rope off.
        """
        return np.asarray((self.rope_out_m(station_m) + self.rope_back_m * back_pull) / self.rope_ea_n)

    def hem_free_m(self, station_m: float | Array) -> Array:
        """Hem between the drum and the slider."""
        return np.asarray(np.asarray(station_m) + self.hem_behind_m)


def machine_of(system: System, layout: Layout, *, wet: bool = True, nesting: float = reel.NESTED) -> Machine:
    """Strip a catalogue and a layout down to the machine.

    Raises Refused where the leading edge would run past the pulley or has no travel, ValueError for a rope wider than
    its reel.
    """
    s = system
    laid = reel.spooling(s.reel, s.rope.diameter_m, nesting)
    dead_m = float(reel.length_at(laid, s.reel.dead_turns))
    mu, guided, off = s.friction.slider, s.leading_edge.slider_length_m, s.leading_edge.slider_eccentricity_m
    behind = s.housing.drum_behind_m
    gauge = layout.gauge.value
    pulley = layout.channel.value - (s.track.pulley_spacer_m if s.track.channels == 2 else 0.0)
    if not 0.0 < layout.travel.value < pulley:
        raise Refused("mechanics.no-travel")
    return Machine(
        gauge_m=gauge,
        open_m=0.0,
        closed_m=layout.travel.value,
        pulley_m=pulley,
        pulley_radius_m=s.rope.pulley_radius_m,
        rope_behind_m=max(0.0, s.rope.reel_tail_m - dead_m),
        hem_behind_m=behind,
        laid=laid,
        dead_turns=s.reel.dead_turns,
        core_m=s.drum.outer_radius_m,
        sheet_m=roll.effective_thickness_m(s.fabric),
        hem_m=roll.effective_hem_m(s.fabric),
        on_drum_m=s.fabric.on_drum_m,
        rope_ea_n=s.rope.stiffness_n,
        hem_ea_n=s.fabric.hem_stiffness_n,
        pulley_efficiency=s.friction.pulley_efficiency,
        guide=float(capstan(1.0, s.friction.guide, s.friction.guide_wrap_rad)),
        drag=side_drag(s.friction, s.leading_edge, gauge, wet=wet),
        drum_brake_nm=s.drum.brake_nm,
        reel_brake_nm=s.reel.brake_nm,
        shaft_rad_nm=tube_drum.shaft_compliance_rad(s.drum, gauge - s.drum.deduct_m),
        omega_rad_s=s.motor.speed_rad_s,
        jam_closing=pull_factor(guided, off, mu),
        jam_opening=1.0 + 2.0 * mu * abs(off) / guided,
    )


def twist_share(machine: Machine, radius_m: float | Array) -> Array:
    """Movement lost at the idle end for one newton at that radius there: r²·L/(GJ)."""
    return np.asarray(np.square(radius_m) * machine.shaft_rad_nm)


def is_jammed(machine: Machine) -> bool:
    """Whether the slider sticks whatever the pull."""
    return math.isinf(machine.jam_closing)
