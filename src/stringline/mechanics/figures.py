"""Each figure of the mechanics page with the working that a person can follow on paper.

The laws themselves, with their ranges, stand in :mod:`~stringline.mechanics.roll`, ``reel``, ``forces`` and ``drum``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.layout.result import Layout
from stringline.mechanics import drum, forces, reel, roll
from stringline.mechanics.machine import Machine
from stringline.mechanics.run_state import RunState
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin, Term


@dataclass(frozen=True)
class Loads:
    """What the figures are worked from."""

    system: System
    layout: Layout
    machine: Machine
    closing: RunState
    opening: RunState
    full: roll.Roll  # cover open
    bare: roll.Roll  # cover closed
    fill: reel.Fill  # cover closed

    @property
    def worst(self) -> RunState:
        """The run that needs the higher torque."""
        return max((self.closing, self.opening), key=lambda r: float(r.torque_nm.max()))

    @property
    def span_m(self) -> float:
        """Drum between its bearings, taken as its length."""
        return self.machine.gauge_m - self.system.drum.deduct_m


def _cat(label: str, value: float, kind: Kind | None = None) -> Term:
    return Term(label, value, Origin.CATALOGUE, "catalogue", kind=kind)


def _got(label: str, value: float, kind: Kind | None = None) -> Term:
    return Term(label, value, Origin.DERIVED, kind=kind)


def roll_diameter(w: Loads, *, closed: bool) -> Figure:
    """Diameter over the hems."""
    r = w.bare if closed else w.full
    d0 = 2.0 * w.system.drum.outer_radius_m
    return Figure.by_rule(
        "mechanics.roll-closed" if closed else "mechanics.roll-open",
        2.0 * r.hem_radius_m,
        "mechanics.roll-rule",
        [
            _cat("mechanics.drum-diameter", d0),
            _cat("mechanics.hem-thickness", w.machine.hem_m),
            _got("mechanics.on-the-drum", r.wound_m),
        ],
        source="spiral",
    )


def middle_diameter(w: Loads) -> Figure:
    """Diameter in the middle, cover open."""
    return Figure.by_rule(
        "mechanics.roll-middle",
        2.0 * w.full.middle_radius_m,
        "mechanics.roll-middle-rule",
        [
            _cat("mechanics.drum-diameter", 2.0 * w.system.drum.outer_radius_m),
            _got("mechanics.turns", w.full.turns, Kind.TURNS),
            _cat("mechanics.sheet-thickness", w.machine.sheet_m),
        ],
        source="spiral",
    )


def roll_turns(w: Loads) -> Figure:
    """Turns on the drum, cover open."""
    return Figure.by_rule(
        "mechanics.roll-turns",
        w.full.turns,
        "mechanics.roll-turns-rule",
        [
            _got("mechanics.roll-radius", w.full.hem_radius_m, Kind.LENGTH),
            _cat("mechanics.drum-radius", w.system.drum.outer_radius_m, Kind.LENGTH),
            _cat("mechanics.hem-thickness", w.machine.hem_m, Kind.LENGTH),
        ],
        kind=Kind.TURNS,
        source="spiral",
    )


def middle_slack(w: Loads) -> Figure:
    """Cover that the middle winds up loosely; less where the hems wander sideways and do not lie on themselves."""
    return Figure.by_rule(
        "mechanics.middle-slack",
        w.full.middle_slack_m,
        "mechanics.middle-slack-rule",
        [
            _got("mechanics.on-the-drum", w.full.wound_m),
            _got("mechanics.turns", w.full.turns, Kind.TURNS),
            _cat("mechanics.drum-diameter", 2.0 * w.system.drum.outer_radius_m),
            _cat("mechanics.sheet-thickness", w.machine.sheet_m),
        ],
        source="spiral",
    )


def clearance(w: Loads, *, closed: bool) -> Figure:
    """Roll to the nearest wall of the housing, drum in its middle."""
    h = w.system.housing
    r = w.bare if closed else w.full
    return Figure.sum(
        "mechanics.clearance-closed" if closed else "mechanics.clearance-open",
        [
            _cat("mechanics.half-the-inside", min(h.inside_depth_m, h.inside_height_m) / 2.0),
            _got("mechanics.roll-radius", -r.hem_radius_m),
        ],
        source="spiral",
    )


def reel_layers(w: Loads) -> Figure:
    """Layers of rope on a reel, cover closed."""
    return Figure.by_rule(
        "mechanics.reel-layers",
        float(w.fill.layers),
        "mechanics.reel-layers-rule",
        [
            _got("mechanics.turns-on-the-reel", w.fill.turns, Kind.TURNS),
            _got("mechanics.turns-a-layer", float(w.machine.laid.turns_a_layer)),
        ],
        kind=Kind.COUNT,
        source="reel-layers",
    )


def reel_fill(w: Loads) -> Figure:
    """Share of a reel's room that is used, cover closed; by depth where not one layer fits below the freeboard."""
    got, reel = w.fill, w.system.reel
    label = "mechanics.reel-fill"
    if math.isfinite(got.share):
        return Figure.by_rule(
            label,
            got.share,
            "mechanics.reel-fill-rule",
            [
                _got("mechanics.rope-on-the-reel", got.length_m, Kind.LENGTH),
                _cat("mechanics.freeboard", reel.freeboard_m, Kind.LENGTH),
            ],
            kind=Kind.RATIO,
            source="reel-layers",
        )
    return Figure.by_rule(
        label,
        (got.outer_radius_m - reel.barrel_radius_m) / (reel.flange_radius_m - reel.barrel_radius_m),
        "mechanics.reel-depth-rule",
        [
            _got("mechanics.rope-outside", got.outer_radius_m, Kind.LENGTH),
            _cat("mechanics.barrel-radius", reel.barrel_radius_m, Kind.LENGTH),
            _cat("mechanics.flange-radius", reel.flange_radius_m, Kind.LENGTH),
        ],
        kind=Kind.RATIO,
        source="reel-layers",
    )


def reel_freeboard(w: Loads) -> Figure:
    """Flange over the rope, cover closed."""
    return Figure.sum(
        "mechanics.reel-freeboard",
        [
            _cat("mechanics.flange-radius", w.system.reel.flange_radius_m),
            _got("mechanics.rope-outside", -w.fill.outer_radius_m),
        ],
        source="reel-layers",
    )


def rope_length(w: Loads) -> Figure:
    """Each rope from the slider, cover open, to its end on the reel."""
    m, s = w.machine, w.system
    return Figure.sum(
        "mechanics.rope-length",
        [
            _got("mechanics.rope-to-the-pulley", m.pulley_m - m.open_m),
            _cat("mechanics.rope-round-the-pulley", math.pi * s.rope.pulley_radius_m),
            _got("mechanics.rope-back", m.pulley_m),
            _cat("mechanics.rope-behind", s.rope.reel_tail_m),
        ],
    )


def peak_pull(w: Loads) -> Figure:
    """Highest pull in a rope."""
    k = int(np.argmax(w.closing.reel_n))
    return Figure.by_rule(
        "mechanics.peak-pull",
        float(w.closing.reel_n[k]),
        "mechanics.peak-pull-rule",
        [
            _got("mechanics.hem-pull", float(w.closing.hem_n[k])),
            _got("mechanics.drag-of-one-side", float(w.closing.drag_n[k])),
            _got("mechanics.jam-factor", w.machine.jam_closing, Kind.RATIO),
            _got("mechanics.guide-factor", w.machine.guide, Kind.RATIO),
            _cat("mechanics.pulley-efficiency", w.machine.pulley_efficiency, Kind.RATIO),
        ],
        kind=Kind.FORCE,
        source="capstan",
    )


def rope_factor(w: Loads) -> Figure:
    """Design factor of the rope."""
    peak = float(w.closing.reel_n.max())
    return Figure.by_rule(
        "mechanics.rope-factor",
        forces.design_factor(w.system.rope, peak),
        "mechanics.rope-factor-rule",
        [
            _cat("mechanics.break-load", w.system.rope.break_load_n, Kind.FORCE),
            _cat("mechanics.knot-efficiency", w.system.rope.knot_efficiency),
            _got("mechanics.highest-pull", peak, Kind.FORCE),
        ],
        kind=Kind.RATIO,
        source="design-factor",
    )


def peak_torque(run: RunState) -> Figure:
    """Highest torque at the shaft in one direction."""
    k = int(np.argmax(run.torque_nm))
    shut = run.direction == "closing"
    pull = run.reel_n if shut else run.drum_n
    return Figure.by_rule(
        "mechanics.torque-closing" if shut else "mechanics.torque-opening",
        float(run.torque_nm[k]),
        "mechanics.torque-closing-rule" if shut else "mechanics.torque-opening-rule",
        [
            _got("mechanics.pull-of-one-side", float(pull[k]), Kind.FORCE),
            _got("mechanics.radius", float(run.torque_nm[k] / (2.0 * pull[k])), Kind.LENGTH),
        ],
        kind=Kind.TORQUE,
    )


def motor_margin(w: Loads) -> Figure:
    """Rated torque over the highest needed."""
    need = float(w.worst.torque_nm.max())
    rated = w.system.motor.rated_torque_nm
    return Figure.by_rule(
        "mechanics.motor-margin",
        rated / need,
        "mechanics.motor-while-closing" if w.worst.direction == "closing" else "mechanics.motor-while-opening",
        [_cat("mechanics.rated-torque", rated, Kind.TORQUE), _got("mechanics.highest-torque", need, Kind.TORQUE)],
        kind=Kind.RATIO,
    )


def peak_current(w: Loads) -> Figure:
    """Highest motor current."""
    m = w.system.motor
    need = float(w.worst.torque_nm.max())
    return Figure.by_rule(
        "mechanics.peak-current",
        float(w.worst.current_a.max()),
        "mechanics.peak-current-rule",
        [
            _cat("mechanics.full-load-current", m.full_load_a),
            Term("mechanics.no-load-share", m.no_load_share, Origin.PRACTICE, "motor-line", kind=Kind.RATIO),
            _got("mechanics.highest-torque", need, Kind.TORQUE),
            _cat("mechanics.rated-torque", m.rated_torque_nm, Kind.TORQUE),
        ],
        kind=Kind.CURRENT,
        source="motor-line",
    )


def _bending(w: Loads) -> tuple[drum.Section, drum.DrumLoad, float]:
    """Section, worst load and sag of the drum: all of the cover on it, and the highest pull of the opening run."""
    d, f = w.system.drum, w.system.fabric
    section = drum.tube(d.outer_radius_m, d.wall_m)
    width = w.machine.gauge_m + 2.0 * f.hem_each_side_m
    pull = 2.0 * float(w.opening.drum_n.max())
    load = drum.drum_load(d, w.span_m, w.full.wound_m, width, f.mass_kg_m2, pull)
    return section, load, drum.sag_m(load.resultant_n_m, w.span_m, d.modulus_pa, section.inertia_m4)


def drum_sag(w: Loads) -> Figure:
    """Sag of the drum in its middle."""
    section, load, sag = _bending(w)
    return Figure.by_rule(
        "mechanics.drum-sag",
        sag,
        "mechanics.drum-sag-rule",
        [
            _got("mechanics.tube-weight", load.tube_n_m, Kind.STIFFNESS),
            _got("mechanics.cover-weight", load.fabric_n_m, Kind.STIFFNESS),
            _got("mechanics.pull-a-metre", load.pull_n_m, Kind.STIFFNESS),
            _got("mechanics.span", w.span_m),
            _cat("mechanics.modulus", w.system.drum.modulus_pa),
            _got("mechanics.inertia", section.inertia_m4),
        ],
        source="beam-sag",
    )


def drum_sag_ratio(w: Loads) -> Figure:
    """Sag over span."""
    sag = drum_sag(w)
    return Figure.by_rule(
        "mechanics.drum-sag-ratio",
        sag.value / w.span_m,
        "mechanics.drum-sag-ratio-rule",
        [
            Term("mechanics.bend", sag.value, sag.origin, sag.source, kind=Kind.LENGTH),
            _got("mechanics.span", w.span_m, Kind.LENGTH),
        ],
        kind=Kind.RATIO,
        source="beam-sag",
    )


def drum_twist(w: Loads) -> Figure:
    """Twist of the drum end to end at the highest opening torque, half of which goes to the idle end."""
    d = w.system.drum
    section = drum.tube(d.outer_radius_m, d.wall_m)
    torque = float(w.opening.torque_nm.max()) / 2.0
    return Figure.by_rule(
        "mechanics.drum-twist",
        drum.twist_rad(torque, w.span_m, d.shear_modulus_pa, section.polar_m4),
        "mechanics.drum-twist-rule",
        [
            _got("mechanics.idle-torque", torque, Kind.TORQUE),
            _got("mechanics.span", w.span_m, Kind.LENGTH),
            _cat("mechanics.shear-modulus", d.shear_modulus_pa),
            _got("mechanics.polar-inertia", section.polar_m4),
        ],
        kind=Kind.ANGLE,
        source="torsion",
    )


def jam_margin(w: Loads) -> Figure:
    """Eccentricity that jams over the eccentricity there is."""
    e, f = w.system.leading_edge, w.system.friction
    margin = forces.jam_margin(e.slider_length_m, e.slider_eccentricity_m, f.slider)
    return Figure.by_rule(
        "mechanics.jam-margin",
        min(margin, 1e6),
        "mechanics.jam-margin-rule",
        [
            _cat("mechanics.guided-length", e.slider_length_m, Kind.LENGTH),
            _cat("mechanics.friction", f.slider),
            _cat("mechanics.eccentricity", e.slider_eccentricity_m, Kind.LENGTH),
        ],
        kind=Kind.RATIO,
        source="sticking-drawer",
    )


def run_time(w: Loads, run: RunState) -> Figure:
    """Time for the whole travel."""
    return Figure.by_rule(
        "mechanics.time-closing" if run.direction == "closing" else "mechanics.time-opening",
        run.run_time_s,
        "mechanics.time-rule",
        [
            _got("mechanics.travel", w.machine.closed_m - w.machine.open_m, Kind.LENGTH),
            _got("mechanics.lowest-speed", float(run.speed_m_s.min()), Kind.SPEED),
            _got("mechanics.highest-speed", float(run.speed_m_s.max()), Kind.SPEED),
        ],
        kind=Kind.TIME,
    )
