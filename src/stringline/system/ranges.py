"""What the numbers of a catalogue can be, and which of them have to stand in an order."""

from __future__ import annotations

import math
from typing import Any

from stringline.document.schema import Checker
from stringline.finding import finding

# least, most, more than: anything not named here is 0 or more
RANGES: dict[str, tuple[float, float, float | None]] = {
    "track.channels": (1, 2, None),
    "track.pin_spacing": (0, math.inf, 0.0),
    "track.pin_hole": (0, math.inf, 0.0),
    "wedge.length": (0, math.inf, 0.0),
    "rope.diameter": (0, math.inf, 0.0),
    "rope.cut_station": (0, math.inf, 0.0),
    "rope.break_load_n": (0, math.inf, 0.0),
    "rope.stiffness_n": (0, math.inf, 0.0),
    "rope.min_design_factor": (1, 100, None),
    "rope.knot_efficiency": (0, 1, 0.0),
    "reel.barrel_radius": (0, math.inf, 0.0),
    "reel.flange_radius": (0, math.inf, 0.0),
    "reel.width": (0, math.inf, 0.0),
    "leading_edge.slider_length": (0, math.inf, 0.0),
    "leading_edge.max_swing_rad": (0, math.pi / 2, 0.0),
    "drum.outer_radius": (0, math.inf, 0.0),
    "drum.wall": (0, math.inf, 0.0),
    "drum.modulus_pa": (0, math.inf, 0.0),
    "drum.shear_modulus_pa": (0, math.inf, 0.0),
    "drum.density_kg_m3": (0, math.inf, 0.0),
    "fabric.thickness": (0, math.inf, 0.0),
    "fabric.packing": (1, 3, None),
    "fabric.hem_thickness": (0, math.inf, 0.0),
    "fabric.mass_kg_m2": (0, math.inf, 0.0),
    "fabric.hem_stiffness_n": (0, math.inf, 0.0),
    "housing.inside_depth": (0, math.inf, 0.0),
    "housing.inside_height": (0, math.inf, 0.0),
    "housing.lid_panel": (0, math.inf, 0.0),
    "housing.fascia_stick": (0, math.inf, 0.0),
    "housing.min_drain_fall": (0, 1, None),
    "motor.rated_power_w": (0, math.inf, 0.0),
    "motor.rated_torque_nm": (0, math.inf, 0.0),
    "motor.speed_rad_s": (0, math.inf, 0.0),
    "motor.gear_efficiency": (0, 1, 0.0),
    "motor.full_load_a": (0, math.inf, 0.0),
    "motor.volts": (0, 1000, 0.0),
    "motor.no_load_share": (0, 0.95, None),
    "friction.hem_dry": (0, 2, None),
    "friction.hem_wet": (0, 2, None),
    "friction.guide": (0, 2, None),
    "friction.guide_wrap_rad": (0, 4 * math.pi, None),
    "friction.pulley_efficiency": (0, 1, 0.0),
    "friction.slider": (0, 2, None),
    "tolerances.as_built_tape": (0, math.inf, 0.0),
    "tolerances.lead_tape": (0, math.inf, 0.0),
    "tolerances.least_fit_probability": (0, 1, None),
    "hardware.wedge_spacing": (0, math.inf, 0.0),
    "limits.straightness": (0, math.inf, 0.0),
    "limits.parallelism": (0, math.inf, 0.0),
    "limits.gauge": (0, math.inf, 0.0),
    "limits.square": (0, math.inf, 0.0),
    "limits.diagonal": (0, math.inf, 0.0),
    "limits.lead": (0, math.inf, 0.0),
    "limits.max_width": (0, math.inf, 0.0),
    "limits.max_length": (0, math.inf, 0.0),
    "limits.drum_sag_ratio": (0, 1, 0.0),
    "limits.along_coping_rad": (0, math.pi / 4, None),
}

# the first is not more than the second; BELOW where they may not be equal either
AT_MOST, BELOW = "system.at-most", "system.below"
_ORDER: tuple[tuple[str, str, str], ...] = (
    ("rope.cut_station_low", "rope.cut_station", AT_MOST),
    ("rope.cut_station", "rope.cut_station_high", AT_MOST),
    ("wedge.shift", "wedge.shim", AT_MOST),
    ("wedge.length", "hardware.wedge_spacing", AT_MOST),
    ("reel.barrel_radius", "reel.flange_radius", BELOW),
    ("rope.diameter", "reel.width", AT_MOST),
    ("drum.wall", "drum.outer_radius", BELOW),
    ("fabric.thickness", "fabric.hem_thickness", AT_MOST),
    ("leading_edge.screw_from_inner_end", "leading_edge.end_length", BELOW),
    ("drum.outer_radius", "housing.inside_height", BELOW),
    ("drum.outer_radius", "housing.inside_depth", BELOW),
)


def check_order(check: Checker, sections: dict[str, dict[str, Any]]) -> None:
    """Note each pair of values that contradict each other in their order."""

    def value(full: str) -> float | None:
        section, key = full.split(".")
        written = sections[section].get(f"{key}_m")
        return None if written is None else float(written)

    for small, big, how in _ORDER:
        a, b = value(small), value(big)
        if a is None or b is None:
            continue  # left to its default
        if a > b or (how == BELOW and a == b):
            section, key = small.split(".")
            check.fault("not-in-order", (section, key), finding(how, key=big), finding("system.check-both", key=big))
    if sections["track"]["min_last_piece_m"] > max(sections["track"]["stick_lengths_m"]):
        right = finding("system.check-both", key="track.stick_lengths")
        check.fault("not-in-order", ("track", "min_last_piece"), "system.last-piece-too-long", right)
