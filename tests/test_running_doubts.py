"""What the diagnosis doubts: single readings, tight spots that nothing else speaks for, and its own list."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from makers import make_layout, make_system
from spoken import said
from stringline.finding import nested, within
from stringline.job.readings import Run, RunReading
from stringline.lead.causes import every_cause
from stringline.lead.diagnosis import SOUND, diagnose
from stringline.lead.doubts import weigh_with_doubts
from stringline.lead.hypotheses import scaled, weigh
from stringline.lead.observations import NONE_MADE, read_observations
from stringline.lead.spots import spots
from stringline.lead.tolerances import usual
from stringline.lead.trial import BAD_M, Sheet, Trial, sheet
from stringline.lengths import Unit, metres
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.forces import current_a
from stringline.mechanics.machine import Machine, machine_of
from stringline.mechanics.travel import lead_run
from stringline.system.model import Motor

AT = (0.8, 2.8, 4.8, 6.8, 8.8, 10.8)
EIGHTH = 0.0254 / 8


@pytest.fixture(scope="module")
def machine() -> Machine:
    return machine_of(make_system(), make_layout())


@pytest.fixture(scope="module")
def motor() -> Motor:
    return make_system().motor


def taped(machine: Machine, motor: Motor, dev: Deviations, seed: int = 4) -> list[RunReading]:
    """Readings of a run at σ 1/8 in, with currents."""
    run, rng, rows = lead_run(machine, dev, 120), np.random.default_rng(seed), []
    for s in AT:
        shut, back, torque = (
            float(np.interp(s, run.station_m, a)) for a in (run.closing_m, run.opening_m, run.closing_torque_nm)
        )
        noise = EIGHTH * rng.standard_normal(2)
        rows.append(RunReading.of(s, shut + noise[0], back + noise[1], float(current_a(motor, torque))))
    return rows


def laid_out(machine: Machine, motor: Motor, rows: list[RunReading]) -> Sheet:
    return sheet(machine, motor, (Trial(tuple(rows)),), EIGHTH, 0.03 * motor.full_load_a)


@pytest.mark.parametrize("k", [1, 4])
def test_one_false_lead_is_named_and_flips_nothing(machine: Machine, motor: Motor, k: int) -> None:
    rows = taped(machine, motor, Deviations(start_m=0.06))
    good = diagnose(machine, motor, Run(tuple(rows)))
    assert good.doubtful == ()
    closing = rows[k].closing_m or 0.0
    rows[k] = replace(rows[k], closing=metres(-closing))
    got = diagnose(machine, motor, Run(tuple(rows)))
    assert got.first is not None
    assert (got.first.key, got.first.side) == ("rope-length", "idle")
    assert [(d.what, d.station_m) for d in got.doubtful] == [("closing", AT[k])]
    assert got.doubtful[0].lead_m == pytest.approx(-closing)
    assert got.doubtful[0].chance > 0.9
    assert got.doubtful[0].text in got.notes
    assert said(got.doubtful[0].text, Unit.FT_IN).endswith("take this one again.")


def test_the_gain_of_doubting_a_reading_is_that_of_the_evidence_itself(machine: Machine, motor: Motor) -> None:
    """The closed form against weighing again with that reading's variance raised, for the set without a cause."""
    page = laid_out(machine, motor, taped(machine, motor, Deviations()))
    j = 4
    field = scaled(page, every_cause((5.0,)))
    chance = np.full(len(field.causes), -50.0)  # only the set without a cause is left
    one, other = weigh(field, chance), weigh(replace(field, sheet=page.doubting(j)), chance)
    i = int(np.flatnonzero((one.sets < 0).all(axis=1))[0])
    assert one.weight[i] == pytest.approx(1.0)
    assert other.log_total - one.log_total == pytest.approx(one.if_bad[i, j], abs=0.02)
    assert page.doubting(j).cov[j, j] - page.cov[j, j] == pytest.approx(BAD_M**2)


def test_a_tight_spot_needs_more_than_one_lead(machine: Machine, motor: Motor) -> None:
    rows = taped(machine, motor, Deviations(start_m=0.05))
    lone = list(rows)
    lone[2] = replace(rows[2], closing=metres((rows[2].closing_m or 0.0) - 0.04))
    assert spots(laid_out(machine, motor, lone), NONE_MADE) == ()
    both = list(lone)
    both[2] = replace(lone[2], opening=metres((lone[2].opening_m or 0.0) - 0.04))
    assert spots(laid_out(machine, motor, both), NONE_MADE) == (AT[2],)
    peak = list(rows)
    peak[3] = replace(rows[3], current_a=(rows[3].current_a or 0.0) + 0.2 * motor.full_load_a)
    assert spots(laid_out(machine, motor, peak), NONE_MADE) == (AT[3],)
    caught = read_observations(["catches at 5.1 m"], Unit.M)
    assert spots(laid_out(machine, motor, rows), caught) == (5.1,)


def test_a_shape_that_no_cause_makes_is_something_else(machine: Machine, motor: Motor) -> None:
    """Both leads swing once over the travel, against each other: smooth, large, and on no list."""
    rows = [
        RunReading.of(
            s, 0.05 * float(np.sin(2 * np.pi * s / 11.0)), 0.05 * float(np.cos(2 * np.pi * s / 11.0)), r.current_a
        )
        for s, r in zip(AT, taped(machine, motor, Deviations()), strict=True)
    ]
    got = diagnose(machine, motor, Run(tuple(rows)), limit_m=0.05)
    assert got.other > 0.8
    assert not got.sure
    assert "lead.something-else" in [f.code for f in within(got.verdict)]
    assert "not on this list" in said(got.verdict)


def test_never_sure_where_nothing_fits(machine: Machine, motor: Motor) -> None:
    rows = [RunReading.of(s, 0.05 * (-1) ** i, -0.05 * (-1) ** i) for i, s in enumerate(AT)]
    got = diagnose(machine, motor, Run(tuple(rows)))
    assert not got.fits
    assert not got.sure


def test_a_sound_machine_s_scatter_is_no_fault(machine: Machine, motor: Motor) -> None:
    """A rope 6 mm long is within what a crew cuts to: nothing is accused, and the readings fit."""
    got = diagnose(machine, motor, Run(tuple(taped(machine, motor, Deviations(start_m=0.006)))), limit_m=0.05)
    assert got.fits
    assert nested(got.verdict).code != "lead.sure"
    page = laid_out(machine, motor, taped(machine, motor, Deviations()))
    wider = page.scattering(usual(machine), SOUND)
    assert np.all(np.diag(wider.cov) >= np.diag(page.cov) - 1e-18)
    assert np.allclose(wider.whiten @ wider.cov @ wider.whiten.T, np.eye(page.count), atol=1e-6)


def test_chances_add_up(machine: Machine, motor: Motor) -> None:
    page = laid_out(machine, motor, taped(machine, motor, Deviations(start_m=0.03)))
    field = scaled(page, every_cause((5.0,)))
    got = weigh_with_doubts(field, np.log([c.chance / (1 - c.chance) for c in field.causes]))
    assert got.other + got.weighed.weight.sum() == pytest.approx(1.0)
    assert np.all(np.diff(got.weighed.weight) <= 0.0)
