"""The mechanics page of an invented job: its figures, their working, and what it refuses."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from makers import make_layout, make_system
from stringline.finding import Refused, finding
from stringline.mechanics import reel
from stringline.mechanics.assemble import mechanics
from stringline.mechanics.machine import machine_of
from stringline.mechanics.result import Mechanics
from stringline.mechanics.run_state import closing, drag_from_currents, opening
from stringline.system.model import Reel


@pytest.fixture(scope="module")
def page() -> Mechanics:
    return mechanics(make_system(), make_layout())


def test_every_figure_is_worked(page: Mechanics) -> None:
    assert len(page.figures) >= 20
    for f in page.figures:
        assert f.terms, f.label
        assert math.isfinite(f.value)


def test_roll_by_hand(page: Mechanics) -> None:
    system, layout = make_system(), make_layout()
    wound = layout.travel.value + system.fabric.on_drum_m
    hem = 0.0025 * 1.1
    by_hand = 2 * math.sqrt(0.0635**2 + hem * wound / math.pi)
    assert page.roll_open.value == pytest.approx(by_hand, rel=1e-12)
    assert page.roll_closed.value < page.roll_open.value
    assert page.clearance_open.value == pytest.approx(0.225 - by_hand / 2, rel=1e-9)


def test_torque_by_hand(page: Mechanics) -> None:
    """At the closed end: brake over roll, guide, drag, slider, pulley, guide, reel."""
    m = page.machine
    roll_radius = page.roll_closed.value / 2
    guide = math.exp(0.2 * 1.57)
    drag = 20.0 + 0.2 * 1.5 * m.gauge_m / 2 * 9.80665 + 0.2 * 8.0 * m.closed_m
    pull = (4.0 / 2 / roll_radius * guide + drag) / (1 - 2 * 0.2 * 0.02 / 0.15) * guide / 0.92
    assert page.closing.reel_n[-1] == pytest.approx(pull, rel=1e-9)
    assert page.closing.torque_nm[-1] == pytest.approx(2 * pull * float(m.reel_radius_m(m.closed_m)), rel=1e-9)


def test_run_time_against_integration(page: Mechanics) -> None:
    """Second judge: scipy integrates 1/(ω·r(s)) both ways."""
    from scipy.integrate import quad

    m = page.machine

    def slow_reel(s: float) -> float:
        return 1.0 / (m.omega_rad_s * float(m.reel_radius_m(s)))

    def slow_drum(s: float) -> float:
        return 1.0 / (m.omega_rad_s * float(m.drum_radius_m(s)))

    shut, _ = quad(slow_reel, m.open_m, m.closed_m, limit=400)
    back, _ = quad(slow_drum, m.open_m, m.closed_m)
    assert page.run_time_closing.value == pytest.approx(shut, rel=2e-3)
    assert page.run_time_opening.value == pytest.approx(back, rel=1e-4)


def test_energy_balances(page: Mechanics) -> None:
    """Work at the reels covers the drag, with the losses between; it can never be less."""
    r = page.closing
    work = np.trapezoid(2 * r.reel_n, r.station_m)
    useful = np.trapezoid(2 * r.drag_n, r.station_m)
    assert work > useful > 0


def test_small_reel_is_refused_with_the_nearest_that_works() -> None:
    system = make_system()
    small = replace(system.reel, flange_radius_m=0.05)
    choices = [("large", replace(small, flange_radius_m=0.12)), ("medium", replace(small, flange_radius_m=0.09))]
    page = mechanics(replace(system, reel=small), make_layout(), reels=choices)
    refusal = next(r for r in page.refusals if r.code == "reel-full")
    assert refusal.nearest == finding("mechanics.reel-of", system="medium")
    assert refusal.why.code == "mechanics.reel-full"
    assert refusal.why.get("full_share") == page.reel_fill.value > 1.0
    assert refusal.why.get("flange_m") == pytest.approx(page.reel_freeboard.terms[1].value * -1 + small.freeboard_m)
    assert page.reel_freeboard.value < small.freeboard_m


def test_no_choice_is_said_to_work_when_none_does() -> None:
    system = make_system()
    small = replace(system.reel, flange_radius_m=0.05)
    page = mechanics(replace(system, reel=small), make_layout(), reels=[("tiny", small)])
    assert next(r for r in page.refusals if r.code == "reel-full").nearest is None


def test_small_housing_is_refused() -> None:
    system = make_system()
    tight = replace(system.housing, inside_depth_m=0.2)
    page = mechanics(replace(system, housing=tight), make_layout(), housings=[("deep", system.housing)])
    refusal = next(r for r in page.refusals if r.code == "housing-small")
    assert refusal.nearest == finding("mechanics.housing-of", system="deep")
    assert refusal.why.get("across_m") == pytest.approx(page.roll_open.value)
    assert page.clearance_open.value < 0


def test_jammed_slider_is_refused() -> None:
    system = make_system()
    bad = replace(system.leading_edge, slider_eccentricity_m=0.5)
    with pytest.raises(Refused) as refused:
        mechanics(replace(system, leading_edge=bad), make_layout())
    assert refused.value.why == "mechanics.slider-jams"


def test_a_leading_edge_that_would_pass_the_pulley_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        mechanics(make_system(), make_layout(channel_m=11.0, travel_m=11.2))
    assert refused.value.why == "mechanics.no-travel"


def test_reel_length_and_turns_are_inverse() -> None:
    laid = reel.spooling(Reel(0.04, 0.09, 0.06, 0.006), 0.008)
    turned = np.linspace(0.0, 40.0, 401)
    length = reel.length_at(laid, turned)
    assert reel.turns_at(laid, length) == pytest.approx(turned, abs=1e-9)
    assert np.all(np.diff(length) > 0)


def test_reel_length_against_integration() -> None:
    """Second judge: the integral of 2πr over turns, turn by turn."""
    laid = reel.spooling(Reel(0.04, 0.09, 0.06, 0.006), 0.008)
    fine = (np.arange(400000) + 0.5) * 30.0 / 400000
    summed = float((2 * math.pi * reel.radius_at(laid, fine)).sum() * 30.0 / 400000)
    assert float(reel.length_at(laid, 30.0)) == pytest.approx(summed, rel=1e-6)


def test_overfull_reel_has_negative_freeboard_and_more_than_all() -> None:
    full = reel.fill(Reel(0.04, 0.06, 0.06, 0.006), 0.008, 60.0)
    assert full.share > 1.0
    assert full.freeboard_m < 0.0


def test_friction_from_logged_currents() -> None:
    """Currents of a machine with other friction than the catalogue's give that friction back, within what is stated."""
    system = make_system()
    m = machine_of(system, make_layout())
    true = replace(m, drag=replace(m.drag, end_n=61.0, per_m=2.9))
    run = closing(true, system.motor)
    pick = np.array([2, 12, 22, 32, 42, 52, 58])
    exact = drag_from_currents(m, system.motor, run.station_m[pick], run.current_a[pick])
    assert exact.end_n == pytest.approx(61.0, abs=1e-6)
    assert exact.per_m_n == pytest.approx(2.9, abs=1e-6)
    rng = np.random.default_rng(11)
    off = []
    for _ in range(300):
        noisy = run.current_a[pick] + 0.02 * rng.normal(size=pick.size)
        got = drag_from_currents(m, system.motor, run.station_m[pick], noisy)
        off.append((got.per_m_n - 2.9) / got.per_m_sigma_n)
    # Student's t with five degrees of freedom: |t| < 2.571 in 95 %.
    assert np.mean(np.abs(off) < 2.571) == pytest.approx(0.95, abs=0.04)


def test_opening_needs_no_pull_from_the_far_end_but_the_brake() -> None:
    system = make_system()
    m = machine_of(system, make_layout())
    free = opening(replace(m, reel_brake_nm=0.0), system.motor)
    assert free.slider_n == pytest.approx(0.0)
    assert np.all(opening(m, system.motor).torque_nm > free.torque_nm)
