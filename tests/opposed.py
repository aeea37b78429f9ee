"""The opponent's covers put before the diagnosis, and what came of it.

Here alone the two meet: the machine is handed over as plain numbers, the sheet comes back as readings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from opponent import Cover, Numbers
from stringline.job.readings import Run, RunReading
from stringline.lead.diagnosis import diagnose
from stringline.lead.observations import read_observations
from stringline.lengths import Unit
from stringline.mechanics.forces import current_a
from stringline.mechanics.machine import Machine
from stringline.system.model import Motor


def numbers_of(machine: Machine, motor: Motor) -> Numbers:
    """The machine as plain numbers."""
    laid, idle, loaded = machine.laid, float(current_a(motor, 0.0)), float(current_a(motor, 100.0))
    return Numbers(
        travel_m=machine.closed_m,
        pulley_m=machine.pulley_m,
        rope_back_m=machine.rope_back_m,
        hem_behind_m=machine.hem_behind_m,
        width_m=machine.gauge_m,
        barrel_m=float(laid.layer_radius_m[0]),
        layer_m=float(laid.layer_radius_m[1] - laid.layer_radius_m[0]),
        turns_a_layer=float(laid.turns_a_layer),
        dead_turns=machine.dead_turns,
        core_m=machine.core_m,
        hem_m=machine.hem_m,
        hem_on_drum_m=machine.on_drum_m,
        rope_ea_n=machine.rope_ea_n,
        hem_ea_n=machine.hem_ea_n,
        pulley=machine.pulley_efficiency,
        guide=machine.guide,
        jam=machine.jam_closing,
        drag_n=float(machine.drag.end_n),
        drag_n_m=float(machine.drag.per_m),
        drum_brake_nm=machine.drum_brake_nm,
        reel_brake_nm=machine.reel_brake_nm,
        shaft_rad_nm=machine.shaft_rad_nm,
        idle_a=idle,
        a_nm=(loaded - idle) / 100.0,
        full_load_a=motor.full_load_a,
        torque_nm=motor.rated_torque_nm,
    )


def run_of(cover: Cover) -> Run:
    """The sheet of one cover as a run."""
    rows = tuple(RunReading.of(r.station_m, r.closing_m, r.opening_m, r.current_a) for r in cover.readings)
    seen = () if cover.caught_m is None else (f"catches at {cover.caught_m:.2f} m",)
    return Run(rows, seen)


@dataclass(frozen=True)
class Outcome:
    """What came of one cover. ``accused``: sure of a cause, of whatever kind."""

    first: tuple[str, str]
    promised: float
    sure: bool
    accused: bool
    fits: bool
    right: bool
    covered: bool | None  # the amount within 2σ, where the cause is right


def judge(machine: Machine, motor: Motor, cover: Cover) -> Outcome:
    """Diagnose one cover blind."""
    run = run_of(cover)
    got = diagnose(machine, motor, run, seen=read_observations(run.seen, Unit.M), limit_m=0.05)
    first = got.first
    if first is None:
        return Outcome(("none", ""), 0.0, got.sure, False, got.fits, not cover.faults, None)
    key = (first.key, first.side)
    right = bool(cover.faults) and key == (cover.faults[0].key, cover.faults[0].side)
    sigma = first.amount.sigma or 0.0
    covered = abs(first.amount.value - cover.faults[0].amount) <= 2.0 * sigma if right else None
    # Sure with a cause that leads less than half of the weight is sure that nothing is wrong.
    accused = got.sure and first.main > 0.5
    return Outcome(key, first.main, got.sure, accused, got.fits, right, covered)


def figures(found: Sequence[Outcome]) -> dict[str, Any]:
    """Shares over covers of one kind; None where nothing counts."""

    def share(values: Sequence[bool]) -> float | None:
        return float(np.mean(values)) if values else None

    return {
        "covers": len(found),
        "right_first": share([o.right for o in found]),
        "promised": float(np.mean([o.promised for o in found])),
        "amount_within_two_sigma": share([o.covered for o in found if o.covered is not None]),
        "called_sure": share([o.accused for o in found]),
        "right_when_sure": share([o.right for o in found if o.accused]),
        "fits": share([o.fits for o in found]),
    }
