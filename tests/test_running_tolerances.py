"""Scatter of the lead: bands, risks and shares."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from makers import make_layout, make_system
from spoken import said
from stringline.finding import finding, nested
from stringline.job.readings import Run, RunReading
from stringline.lead.predict import if_tightened, predict_lead
from stringline.lead.tolerances import Bounds, Tolerance, halved, spread, usual
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import Machine, machine_of
from stringline.mechanics.run_state import closing
from stringline.mechanics.travel import lead_run


@pytest.fixture(scope="module")
def machine() -> Machine:
    return machine_of(make_system(), make_layout())


WIDE = Bounds(lead_m=0.05, swing_rad=0.03, torque_nm=300.0)


def test_chunks_make_no_difference(machine: Machine) -> None:
    """One run of 3000, or three of 1000, agree to sampling: shares, risks and scatter."""
    tols = usual(machine)
    whole = spread(machine, tols, WIDE, rng=np.random.default_rng(1), samples=3000, stations=20, chunk=3000)
    parts = spread(machine, tols, WIDE, rng=np.random.default_rng(2), samples=3000, stations=20, chunk=1000)
    assert parts.samples == whole.samples == 3000
    assert parts.closing_sd_m == pytest.approx(whole.closing_sd_m, rel=0.08)
    assert parts.p_over == pytest.approx(whole.p_over, abs=0.02)
    assert parts.shares == pytest.approx(whole.shares, abs=0.06)


def test_one_tolerance_takes_the_whole_share(machine: Machine) -> None:
    tols = [
        Tolerance("reel_radius_m", "reels", 0.0002, "measure"),
        Tolerance("start_m", "ropes", 1e-6, "cut together"),
    ]
    got = spread(machine, tols, WIDE, rng=np.random.default_rng(3), samples=4000, stations=20)
    assert got.shares[0] > 0.97
    assert got.shares[1] < 0.02
    assert got.direction == "closing"
    assert got.at_m == pytest.approx(machine.closed_m)


def test_scatter_against_a_plain_loop(machine: Machine) -> None:
    """The same numbers run one at a time give the same counts and the same scatter."""
    tols = usual(machine)
    got = spread(machine, tols, WIDE, rng=np.random.default_rng(4), samples=60, stations=12)
    z = np.random.default_rng(4).standard_normal((len(tols), 60))
    ends, over = [], 0
    for i in range(60):
        values = {t.field: max(t.low, t.mean + t.sigma * float(z[k, i])) for k, t in enumerate(tols)}
        run = lead_run(machine, Deviations(**values), 12)
        ends.append(float(run.closing_m[-1]))
        over += max(float(np.abs(run.closing_m).max()), float(np.abs(run.opening_m).max())) > WIDE.lead_m
    assert got.over == over
    assert float(got.closing_sd_m[-1]) == pytest.approx(np.std(ends), rel=1e-9)


def test_risk_grows_with_the_tolerance_and_falls_with_the_limit(machine: Machine) -> None:
    tols = usual(machine)

    def over(scale: float, limit: float) -> float:
        wider = [replace(t, sigma=t.sigma * scale) for t in tols]
        bounds = replace(WIDE, lead_m=limit)
        return spread(machine, wider, bounds, rng=np.random.default_rng(5), samples=1500, stations=20).p_over

    assert over(2.0, 0.05) > over(1.0, 0.05) > over(0.5, 0.05)
    assert over(1.0, 0.03) > over(1.0, 0.06)


def test_binding_is_swing_or_torque(machine: Machine) -> None:
    tols = usual(machine)

    def bind(**changed: float) -> float:
        bounds = replace(WIDE, **changed)
        return spread(machine, tols, bounds, rng=np.random.default_rng(7), samples=400, stations=20).p_bind

    assert bind() == 0.0
    assert bind(torque_nm=5.0) == 1.0
    assert 0.0 < bind(swing_rad=0.004) < 1.0


def test_known_departures_shift_the_middle(machine: Machine) -> None:
    around = Deviations(drag_idle_n_m=20.0)
    got = spread(machine, usual(machine), WIDE, rng=np.random.default_rng(6), samples=800, stations=20, around=around)
    alone = lead_run(machine, around, 20)
    assert float(got.closing_mean_m[-1]) == pytest.approx(float(alone.closing_m[-1]), abs=0.006)


def test_page_names_the_tolerance_to_work_on() -> None:
    page = predict_lead(make_system(), make_layout(), samples=2000, stations=30)
    again = predict_lead(make_system(), make_layout(), samples=2000, stations=30)
    assert page.worst.value == again.worst.value  # one job, one page
    assert page.effort is not None
    assert page.effort == page.shares[0]
    after = if_tightened(make_system(), make_layout(), page, stations=30)
    assert after is not None
    assert after.value <= page.p_over.value
    assert 0.9 < sum(s.share for s in page.shares) < 1.1
    assert len(page.card) == 7
    for row in page.card:
        assert row.closing_low_m < row.closing_high_m
        assert row.closing_current_a > 0
    assert "mechanics.nobody-in-the-water" in page.notes
    assert after.label == finding("lead.over-if-tightened", tolerance=finding(str(page.effort.label)))


def test_logged_currents_replace_the_catalogues_friction() -> None:
    system = make_system()
    machine = machine_of(system, make_layout())
    true = replace(machine, drag=replace(machine.drag, per_m=9.0))
    logged = closing(true, system.motor)
    rows = tuple(
        RunReading.of(float(logged.station_m[i]), current_a=float(logged.current_a[i])) for i in (5, 20, 35, 50)
    )
    page = predict_lead(system, make_layout(), samples=300, stations=20, run=Run(rows))
    note = nested(page.notes[0])
    assert note.code == "lead.friction-from-currents"
    assert note.get("per_n_m") == pytest.approx(9.0)
    assert "9.0 N/m ±" in said(note)
    plain = predict_lead(system, make_layout(), samples=300, stations=20)
    assert float(page.nominal.closing_torque_nm[-1]) > 1.3 * float(plain.nominal.closing_torque_nm[-1])


def test_halving_touches_one_tolerance_only(machine: Machine) -> None:
    tols = usual(machine)
    tight = halved(tols, "start_m")
    assert [t.sigma for t in tight if t.field != "start_m"] == [t.sigma for t in tols if t.field != "start_m"]
    assert next(t for t in tight if t.field == "start_m").sigma == pytest.approx(0.003)


def test_no_samples_is_refused(machine: Machine) -> None:
    with pytest.raises(ValueError, match="sample"):
        spread(machine, usual(machine), WIDE, rng=np.random.default_rng(0), samples=0)
