"""The mechanics of one job, from catalogue and layout to worked figures, and the parts that cannot do it."""

from __future__ import annotations

from collections.abc import Sequence

from stringline.finding import Code, Refused, finding
from stringline.layout.result import Layout
from stringline.mechanics import figures as work
from stringline.mechanics import reel, roll, run_state
from stringline.mechanics.machine import is_jammed, machine_of
from stringline.mechanics.result import Mechanics, Refusal
from stringline.system.model import Housing, Reel, System
from stringline.worked import Figure


def mechanics(
    system: System,
    layout: Layout,
    *,
    wet: bool = True,
    stations: int = 60,
    reels: Sequence[tuple[str, Reel]] = (),
    housings: Sequence[tuple[str, Housing]] = (),
) -> Mechanics:
    """Work out roll, reels, pulls, torque, time, sag and margins for this catalogue on this layout.

    ``reels`` and ``housings`` are what else could be had, by the name of their catalogue: where this one's own is too
    small, the refusal names the smallest of them that works. Raises Refused where the slider jams whatever the pull,
    the leading edge has no travel or no rope is pulled at all: nothing after that would mean anything.
    """
    machine = machine_of(system, layout, wet=wet)
    if is_jammed(machine):
        raise Refused("mechanics.slider-jams")
    closing = run_state.closing(machine, system.motor, stations)
    opening = run_state.opening(machine, system.motor, stations)
    wound_open = machine.on_drum_m + (machine.closed_m - machine.open_m)
    full = roll.roll_of(system.drum, system.fabric, wound_open)
    bare = roll.roll_of(system.drum, system.fabric, machine.on_drum_m)
    on_reel = float(reel.length_at(machine.laid, machine.dead_turns)) + machine.closed_m - machine.open_m
    fill = reel.fill(system.reel, system.rope.diameter_m, on_reel)
    loads = work.Loads(system, layout, machine, closing, opening, full, bare, fill)
    sheet = {
        "roll_open": work.roll_diameter(loads, closed=False),
        "roll_open_middle": work.middle_diameter(loads),
        "roll_closed": work.roll_diameter(loads, closed=True),
        "roll_turns": work.roll_turns(loads),
        "middle_slack": work.middle_slack(loads),
        "clearance_open": work.clearance(loads, closed=False),
        "clearance_closed": work.clearance(loads, closed=True),
        "reel_layers": work.reel_layers(loads),
        "reel_fill": work.reel_fill(loads),
        "reel_freeboard": work.reel_freeboard(loads),
        "rope_length": work.rope_length(loads),
        "peak_pull": work.peak_pull(loads),
        "design_factor": work.rope_factor(loads),
        "peak_torque_closing": work.peak_torque(closing),
        "peak_torque_opening": work.peak_torque(opening),
        "motor_margin": work.motor_margin(loads),
        "peak_current": work.peak_current(loads),
        "drum_sag": work.drum_sag(loads),
        "drum_sag_ratio": work.drum_sag_ratio(loads),
        "drum_twist": work.drum_twist(loads),
        "jam_margin": work.jam_margin(loads),
        "run_time_closing": work.run_time(loads, closing),
        "run_time_opening": work.run_time(loads, opening),
    }
    return Mechanics(
        **sheet,
        closing=closing,
        opening=opening,
        machine=machine,
        refusals=_refusals(system, sheet, on_reel, full.hem_radius_m, reels, housings),
        notes=_notes(sheet),
    )


def _refusals(
    system: System,
    sheet: dict[str, Figure],
    on_reel_m: float,
    roll_radius_m: float,
    reels: Sequence[tuple[str, Reel]],
    housings: Sequence[tuple[str, Housing]],
) -> tuple[Refusal, ...]:
    """What cannot work at all, each with the nearest choice that would."""
    found = []
    if sheet["reel_freeboard"].value < system.reel.freeboard_m - 1e-12:
        other = reel.smallest_that_holds(reels, system.rope.diameter_m, on_reel_m)
        need = system.reel.flange_radius_m - sheet["reel_freeboard"].value + system.reel.freeboard_m
        why = finding("mechanics.reel-full", full_share=sheet["reel_fill"].value, flange_m=need)
        nearest = None if other is None else finding("mechanics.reel-of", system=other)
        found.append(Refusal("reel-full", finding("mechanics.part-reel"), why, nearest))
    if sheet["clearance_open"].value < 0.0:
        able = [
            (min(h.inside_depth_m, h.inside_height_m), name)
            for name, h in housings
            if roll.clearance_m(roll_radius_m, h.inside_depth_m, h.inside_height_m) >= 0.0
        ]
        why = finding("mechanics.housing-small", across_m=2.0 * roll_radius_m)
        nearest = finding("mechanics.housing-of", system=min(able)[1]) if able else None
        found.append(Refusal("housing-small", finding("mechanics.part-housing"), why, nearest))
    if sheet["motor_margin"].value < 1.0:
        rated = system.motor.rated_torque_nm
        why = finding("mechanics.motor-weak", needed_nm=rated / sheet["motor_margin"].value, rated_nm=rated)
        found.append(Refusal("motor-weak", finding("mechanics.part-motor"), why, None))
    if sheet["design_factor"].value < 1.0:
        why = finding("mechanics.rope-weak")
        found.append(Refusal("rope-weak", finding("mechanics.part-rope"), why, None))
    return tuple(found)


def _notes(sheet: dict[str, Figure]) -> tuple[Code, ...]:
    """What a reader should know about these figures."""
    said = ["mechanics.steady-pulls", "mechanics.nobody-in-the-water"]
    if sheet["middle_slack"].value > 0.05:
        said.append("mechanics.loose-middle")
    return tuple(said)
