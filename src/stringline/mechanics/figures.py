"""Each figure of the mechanics page with the working that a person can follow on paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from stringline.layout.result import Layout
from stringline.mechanics import drum, forces, reel, roll, slider
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


def _cat(label: str, value: float) -> Term:
    return Term(label, value, Origin.CATALOGUE, "catalogue")


def _got(label: str, value: float) -> Term:
    return Term(label, value, Origin.DERIVED)


def roll_diameter(w: Loads, *, closed: bool) -> Figure:
    """Diameter over the hems."""
    r = w.bare if closed else w.full
    d0 = 2.0 * w.system.drum.outer_radius_m
    return Figure.by_rule(
        f"Roll over the hems, cover {'closed' if closed else 'open'}",
        2.0 * r.hem_radius_m,
        "square root of (drum diameter² + 4 × hem thickness × length on the drum ÷ π)",
        [_cat("drum diameter", d0), _cat("hem thickness × packing", w.machine.hem_m), _got("on the drum", r.wound_m)],
        source="spiral",
    )


def middle_diameter(w: Loads) -> Figure:
    """Diameter in the middle, cover open."""
    return Figure.by_rule(
        "Roll in the middle, cover open",
        2.0 * w.full.middle_radius_m,
        "drum diameter + 2 × turns × sheet thickness",
        [
            _cat("drum diameter", 2.0 * w.system.drum.outer_radius_m),
            _got("turns", w.full.turns),
            _cat("sheet thickness × packing", w.machine.sheet_m),
        ],
        source="spiral",
    )


def roll_turns(w: Loads) -> Figure:
    """Turns on the drum, cover open."""
    return Figure.by_rule(
        "Turns on the drum, cover open",
        w.full.turns,
        "(roll radius over the hems − drum radius) ÷ hem thickness",
        [
            _got("roll radius over the hems", w.full.hem_radius_m),
            _cat("drum radius", w.system.drum.outer_radius_m),
            _cat("hem thickness × packing", w.machine.hem_m),
        ],
        kind=Kind.TURNS,
        source="spiral",
    )


def middle_slack(w: Loads) -> Figure:
    """Cover that the middle winds up loosely; less where the hems wander sideways and do not lie on themselves."""
    return Figure.by_rule(
        "Cover that the middle winds up loosely, at most",
        w.full.middle_slack_m,
        "length on the drum − π × turns × (drum diameter + turns × sheet thickness)",
        [
            _got("on the drum", w.full.wound_m),
            _got("turns", w.full.turns),
            _cat("drum diameter", 2.0 * w.system.drum.outer_radius_m),
            _cat("sheet thickness × packing", w.machine.sheet_m),
        ],
        source="spiral",
    )


def clearance(w: Loads, *, closed: bool) -> Figure:
    """Roll to the nearest wall of the housing, drum in its middle."""
    h = w.system.housing
    r = w.bare if closed else w.full
    return Figure.sum(
        f"Roll to the housing's nearest wall, cover {'closed' if closed else 'open'}",
        [
            _cat("half the housing's smaller inside", min(h.inside_depth_m, h.inside_height_m) / 2.0),
            _got("roll radius over the hems", -r.hem_radius_m),
        ],
        source="spiral",
    )


def reel_layers(w: Loads) -> Figure:
    """Layers of rope on a reel, cover closed."""
    return Figure.by_rule(
        "Layers of rope on a reel, cover closed",
        float(w.fill.layers),
        "turns on the reel ÷ turns a layer, begun layers counted; layers stacked",
        [_got("turns on the reel", w.fill.turns), _got("turns a layer", float(w.machine.laid.turns_a_layer))],
        kind=Kind.COUNT,
        source="reel-layers",
    )


def reel_fill(w: Loads) -> Figure:
    """Share of a reel's room that is used, cover closed; by depth where not one layer fits below the freeboard."""
    got, reel = w.fill, w.system.reel
    label = "Reel full, cover closed"
    if math.isfinite(got.share):
        return Figure.by_rule(
            label,
            got.share,
            "rope on the reel ÷ rope that fits below the freeboard, layers stacked",
            [_got("rope on the reel", got.length_m), _cat("freeboard", reel.freeboard_m)],
            kind=Kind.RATIO,
            source="reel-layers",
        )
    return Figure.by_rule(
        label,
        (got.outer_radius_m - reel.barrel_radius_m) / (reel.flange_radius_m - reel.barrel_radius_m),
        "depth of the rope ÷ depth of the flange: not one layer fits below the freeboard",
        [
            _got("outside of the rope", got.outer_radius_m),
            _cat("barrel radius", reel.barrel_radius_m),
            _cat("flange radius", reel.flange_radius_m),
        ],
        kind=Kind.RATIO,
        source="reel-layers",
    )


def reel_freeboard(w: Loads) -> Figure:
    """Flange over the rope, cover closed."""
    return Figure.sum(
        "Flange over the rope, cover closed",
        [_cat("flange radius", w.system.reel.flange_radius_m), _got("outside of the rope", -w.fill.outer_radius_m)],
        source="reel-layers",
    )


def rope_length(w: Loads) -> Figure:
    """Each rope from the slider, cover open, to its end on the reel."""
    m, s = w.machine, w.system
    return Figure.sum(
        "Each rope, slider to its end on the reel",
        [
            Term("open slider to the far-end pulley", m.pulley_m - m.open_m, Origin.DERIVED),
            _cat("half turn of the pulley", math.pi * s.rope.pulley_radius_m),
            Term("pulley back to the housing's face", m.pulley_m, Origin.DERIVED),
            _cat("behind the face, with the turns that stay on", s.rope.reel_tail_m),
        ],
    )


def peak_pull(w: Loads) -> Figure:
    """Highest pull in a rope."""
    k = int(np.argmax(w.closing.reel_n))
    return Figure.by_rule(
        "Highest pull in a rope",
        float(w.closing.reel_n[k]),
        "(hem pull + drag) × jam factor × guide factor ÷ pulley efficiency, at the station where it is highest",
        [
            _got("hem pull from the drum's brake", float(w.closing.hem_n[k])),
            _got("drag of one side", float(w.closing.drag_n[k])),
            _got("jam factor of the slider", w.machine.jam_closing),
            _got("guide factor e^(μβ)", w.machine.guide),
            _cat("pulley efficiency", w.machine.pulley_efficiency),
        ],
        kind=Kind.FORCE,
        source="capstan",
    )


def rope_factor(w: Loads) -> Figure:
    """Design factor of the rope."""
    peak = float(w.closing.reel_n.max())
    return Figure.by_rule(
        "Design factor of the rope",
        forces.design_factor(w.system.rope, peak),
        "break load × knot efficiency ÷ highest pull",
        [
            _cat("break load", w.system.rope.break_load_n),
            _cat("knot efficiency", w.system.rope.knot_efficiency),
            _got("highest pull", peak),
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
        f"Highest torque, {run.direction}",
        float(run.torque_nm[k]),
        f"2 × pull of one side at the {'reel × reel' if shut else 'drum × roll'} radius there",
        [_got("pull of one side", float(pull[k])), _got("radius", float(run.torque_nm[k] / (2.0 * pull[k])))],
        kind=Kind.TORQUE,
    )


def motor_margin(w: Loads) -> Figure:
    """Rated torque over the highest needed."""
    need = float(w.worst.torque_nm.max())
    rated = w.system.motor.rated_torque_nm
    return Figure.by_rule(
        "Motor torque to spare",
        rated / need,
        f"rated torque ÷ highest torque, which comes while {w.worst.direction}",
        [_cat("rated torque", rated), _got("highest torque", need)],
        kind=Kind.RATIO,
    )


def peak_current(w: Loads) -> Figure:
    """Highest motor current."""
    m = w.system.motor
    need = float(w.worst.torque_nm.max())
    return Figure.by_rule(
        "Highest motor current while running",
        float(w.worst.current_a.max()),
        "no-load current + (full-load − no-load current) × highest torque ÷ rated torque",
        [
            _cat("full-load current", m.full_load_a),
            Term("no-load share", m.no_load_share, Origin.PRACTICE, "motor-line"),
            _got("highest torque", need),
            _cat("rated torque", m.rated_torque_nm),
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
        "Drum bends in its middle by",
        sag,
        "5 × load a metre × span⁴ ÷ (384 × E × I), weight and pull at a right angle, all spread evenly",
        [
            _got("weight of tube a metre", load.tube_n_m),
            _got("weight of cover a metre", load.fabric_n_m),
            _got("pull a metre", load.pull_n_m),
            _got("span", w.span_m),
            _cat("E", w.system.drum.modulus_pa),
            _got("I", section.inertia_m4),
        ],
        source="beam-sag",
    )


def drum_sag_ratio(w: Loads) -> Figure:
    """Sag over span."""
    sag = drum_sag(w)
    return Figure.by_rule(
        "Drum bends by this share of its span",
        sag.value / w.span_m,
        "bend in the middle ÷ span",
        [sag.term("bend in the middle"), _got("span", w.span_m)],
        kind=Kind.RATIO,
        source="beam-sag",
    )


def drum_twist(w: Loads) -> Figure:
    """Twist of the drum end to end at the highest opening torque, half of which goes to the idle end."""
    d = w.system.drum
    section = drum.tube(d.outer_radius_m, d.wall_m)
    torque = float(w.opening.torque_nm.max()) / 2.0
    return Figure.by_rule(
        "Drum twists from end to end by",
        drum.twist_rad(torque, w.span_m, d.shear_modulus_pa, section.polar_m4),
        "torque of the idle end × span ÷ (G × J)",
        [
            _got("torque of the idle end", torque),
            _got("span", w.span_m),
            _cat("G", d.shear_modulus_pa),
            _got("J", section.polar_m4),
        ],
        kind=Kind.ANGLE,
        source="torsion",
    )


def jam_margin(w: Loads) -> Figure:
    """Eccentricity that jams over the eccentricity there is."""
    e, f = w.system.leading_edge, w.system.friction
    margin = slider.jam_margin(e.slider_length_m, e.slider_eccentricity_m, f.slider)
    return Figure.by_rule(
        "Slider's margin against jamming",
        min(margin, 1e6),
        "guided length ÷ (2 × friction × eccentricity); 1 is jammed",
        [
            _cat("guided length", e.slider_length_m),
            _cat("friction", f.slider),
            _cat("eccentricity", e.slider_eccentricity_m),
        ],
        kind=Kind.RATIO,
        source="sticking-drawer",
    )


def run_time(w: Loads, run: RunState) -> Figure:
    """Time for the whole travel."""
    return Figure.by_rule(
        f"Time for {run.direction}",
        run.run_time_s,
        "travel ÷ speed, added up along the run; speed = shaft speed × radius",
        [
            _got("travel", w.machine.closed_m - w.machine.open_m),
            _got("lowest speed", float(run.speed_m_s.min())),
            _got("highest speed", float(run.speed_m_s.max())),
        ],
        kind=Kind.TIME,
    )
