"""The mechanics of one job, from catalogue and layout to worked figures."""

from __future__ import annotations

from collections.abc import Sequence

from stringline.layout.result import Layout
from stringline.lengths import Unit, format_length
from stringline.mechanics import figures as work
from stringline.mechanics import reel, roll, run_state
from stringline.mechanics.machine import is_jammed, machine_of
from stringline.mechanics.result import Mechanics, Refusal
from stringline.quantities import amount
from stringline.system.model import Housing, Reel, System
from stringline.worked import Figure, Kind


def mechanics(
    system: System,
    layout: Layout,
    *,
    wet: bool = True,
    stations: int = 60,
    reels: Sequence[tuple[str, Reel]] = (),
    housings: Sequence[tuple[str, Housing]] = (),
    unit: Unit = Unit.M,
) -> Mechanics:
    """Work out roll, reels, pulls, torque, time, sag and margins for this catalogue on this layout.

    ``reels`` and ``housings`` are what else could be had, by name: where the catalogue's own is too small, the refusal
    names the smallest of them that works. ``unit`` is how a refusal's words say lengths. Raises ValueError where the
    slider jams whatever the pull, or the rope is wider than its reel: nothing after that would mean anything.
    """
    machine = machine_of(system, layout, wet=wet)
    if is_jammed(machine):
        raise ValueError("the slider jams whatever the pull; its guided length is too short for its eccentricity")
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
        refusals=_refusals(system, sheet, on_reel, full.hem_radius_m, reels, housings, unit),
        notes=_notes(sheet),
    )


def _refusals(
    system: System,
    sheet: dict[str, Figure],
    on_reel_m: float,
    roll_radius_m: float,
    reels: Sequence[tuple[str, Reel]],
    housings: Sequence[tuple[str, Housing]],
    unit: Unit,
) -> tuple[Refusal, ...]:
    """What cannot work at all, each with the nearest choice that would."""
    found = []
    if sheet["reel_freeboard"].value < system.reel.freeboard_m - 1e-12:
        other = reel.smallest_that_holds(reels, system.rope.diameter_m, on_reel_m)
        need = system.reel.flange_radius_m - sheet["reel_freeboard"].value + system.reel.freeboard_m
        why = (
            f"the reel would be {sheet['reel_fill'].value:.0%} full, counted to its freeboard; at this width it would "
            f"take a flange of {format_length(need, unit)} radius"
        )
        found.append(Refusal("reel-full", "rope reel", why, other))
    if sheet["clearance_open"].value < 0.0:
        able = [
            (min(h.inside_depth_m, h.inside_height_m), name)
            for name, h in housings
            if roll.clearance_m(roll_radius_m, h.inside_depth_m, h.inside_height_m) >= 0.0
        ]
        why = (
            "the rolled-up cover is larger than the housing's inside; it would take "
            f"{format_length(2.0 * roll_radius_m, unit)} each way, and room to turn in"
        )
        found.append(Refusal("housing-small", "housing", why, min(able)[1] if able else None))
    if sheet["motor_margin"].value < 1.0:
        rated = system.motor.rated_torque_nm
        need = rated / sheet["motor_margin"].value
        asked, given = (amount(torque, Kind.TORQUE, unit) for torque in (need, rated))
        why = f"the run needs {asked} at the shaft; the motor is rated {given}"
        found.append(Refusal("motor-weak", "motor", why, None))
    if sheet["design_factor"].value < 1.0:
        found.append(Refusal("rope-weak", "rope", "the rope's knotted strength is below its highest pull", None))
    return tuple(found)


def _notes(sheet: dict[str, Figure]) -> tuple[str, ...]:
    """What a reader should know about these figures."""
    said = [
        "Pulls are for both sides alike, moving steadily, hems wet: starting, wind and ice come on top.",
        "Nobody in the water, and the operator sees all of it, while the cover runs.",
    ]
    if sheet["middle_slack"].value > 0.05:
        said.append(
            "The hems build up faster than the sheet, so the middle winds up loosely: expect it baggy on the drum."
        )
    return tuple(said)
