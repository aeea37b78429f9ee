"""From leads to causes: clear cases, open cases, what was seen, and learning from a second run."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from makers import make_job, make_layout, make_system
from spoken import said
from stringline.finding import Refused, finding, nested, within
from stringline.job.readings import EarlierRun, Run, RunReading
from stringline.lead.causes import FAMILIES, action, every_cause, fields_of
from stringline.lead.diagnosis import diagnose, diagnose_job
from stringline.lead.observations import KNOWN, read_observations
from stringline.lead.result import Diagnosis
from stringline.lengths import Unit, metres
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.forces import current_a
from stringline.mechanics.machine import Machine, machine_of
from stringline.mechanics.travel import lead_run
from stringline.system.model import Motor

AT = (0.8, 2.8, 4.8, 6.8, 8.8, 10.8)


@pytest.fixture(scope="module")
def machine() -> Machine:
    return machine_of(make_system(), make_layout())


@pytest.fixture(scope="module")
def motor() -> Motor:
    return make_system().motor


def taped(
    machine: Machine,
    motor: Motor,
    dev: Deviations,
    seed: int | None = None,
    at: tuple[float, ...] = AT,
    amps: bool = True,
) -> tuple[RunReading, ...]:
    """Readings of a run at σ 1/8 in, or exact without a seed."""
    run = lead_run(machine, dev)
    rng = np.random.default_rng(seed)
    noise = 0.0 if seed is None else 0.0254 / 8
    rows = []
    for s in at:
        shut, back, torque = (
            float(np.interp(s, run.station_m, a)) for a in (run.closing_m, run.opening_m, run.closing_torque_nm)
        )
        rows.append(
            RunReading.of(
                s,
                shut + noise * float(rng.standard_normal()),
                back + noise * float(rng.standard_normal()),
                float(current_a(motor, torque)) if amps else None,
            )
        )
    return tuple(rows)


CLEAR = [
    ("rope-length", "idle", 0.06),
    ("rope-length", "drive", 0.045),
    ("reel-stacking", "drive", 0.5),
    ("hem-drag", "idle", 30.0),
    ("hem-drag", "drive", 25.0),
    ("hem-roll", "idle", 0.00008),
    ("square", "drive", 0.06),
]


def departures(key: str, side: str, amount: float) -> Deviations:
    return Deviations(**{name: sign * amount for name, sign in fields_of(key, side)})


@pytest.mark.parametrize(("key", "side", "amount"), CLEAR)
def test_a_clear_cause_is_named_with_its_amount(
    machine: Machine, motor: Motor, key: str, side: str, amount: float
) -> None:
    got = diagnose(machine, motor, Run(taped(machine, motor, departures(key, side, amount), 5)))
    assert got.first is not None
    assert (got.first.key, got.first.side) == (key, side)
    assert got.sure
    assert got.first.amount.sigma is not None
    assert abs(got.first.amount.value - amount) < 3 * got.first.amount.sigma
    verdict = nested(got.verdict)
    assert verdict.code == "lead.sure"
    assert (verdict.get("cause"), verdict.get("action")) == (got.first.title, got.first.action)
    assert got.first.title.get("side") == side
    assert got.fits


def test_the_action_is_in_shop_terms(machine: Machine, motor: Motor) -> None:
    got = diagnose(machine, motor, Run(taped(machine, motor, Deviations(start_m=0.05))))
    assert got.first is not None
    assert got.first.action.code == "lead.take-up-rope"
    assert got.first.action.get("amount_m") == got.first.amount.value
    words = said(got.first.action, Unit.FT_IN)
    assert words.startswith("Take up ")
    assert words.endswith('" on the idle-side rope.')


def test_the_lead_after_the_action_is_small(machine: Machine, motor: Motor) -> None:
    got = diagnose(machine, motor, Run(taped(machine, motor, Deviations(start_m=0.06), 2)))
    assert got.after is not None
    assert got.after.worst.value < 0.02
    assert float(np.abs(got.explained.closing_m).max()) > 0.03


def test_opening_left_out_is_open_and_says_what_to_measure(machine: Machine, motor: Motor) -> None:
    """Two closing leads alone cannot tell a long rope from a cover out of square or a reel: it says so and asks."""
    run = lead_run(machine, Deviations(start_m=0.035))
    rows = tuple(RunReading.of(s, float(np.interp(s, run.station_m, run.closing_m))) for s in (4.0, 5.0))
    got = diagnose(machine, motor, Run(rows))
    assert not got.sure
    assert got.rivals
    assert got.next_reading is not None
    assert list(within(got.verdict))[1].code == "lead.cannot-tell"
    assert got.next_reading.text in list(within(got.verdict))
    assert said(got.verdict).startswith("Cannot tell yet")
    assert "Measure" in said(got.verdict)
    assert 0.0 < got.next_reading.bits <= got.next_reading.doubt_bits + 1e-6


def test_the_reading_it_asks_for_settles_doubt(machine: Machine, motor: Motor) -> None:
    """Taking the reading that was asked for leaves less doubt than taking a poor one."""
    dev = Deviations(start_m=0.035)
    run = lead_run(machine, dev)
    rows = tuple(RunReading.of(s, float(np.interp(s, run.station_m, run.closing_m))) for s in (4.0, 5.0))
    first = diagnose(machine, motor, Run(rows))
    ask = first.next_reading
    assert ask is not None

    def doubt(d: Diagnosis) -> float:
        return 1.0 - max(c.probability for c in d.causes)

    curve = {"closing": run.closing_m, "opening": run.opening_m, "current": run.closing_torque_nm}[ask.what]
    value = float(np.interp(ask.station_m, run.station_m, curve))
    extra = {
        "closing": RunReading.of(ask.station_m, closing_m=value),
        "opening": RunReading.of(ask.station_m, opening_m=value),
        "current": RunReading.of(ask.station_m, current_a=float(current_a(motor, value))),
    }[ask.what]
    poor = RunReading.of(4.5, float(np.interp(4.5, run.station_m, run.closing_m)))
    assert (
        doubt(diagnose(machine, motor, Run((*rows, extra))))
        < doubt(diagnose(machine, motor, Run((*rows, poor)))) + 0.05
    )


def test_a_straight_cover_has_nothing_wrong(machine: Machine, motor: Motor) -> None:
    got = diagnose(machine, motor, Run(taped(machine, motor, Deviations(), 3)), limit_m=0.05)
    assert all(c.effect_m < 0.015 for c in got.causes) or not got.sure
    assert got.fits


def test_a_catch_is_found_where_it_is(machine: Machine, motor: Motor) -> None:
    dev = Deviations(pinch_n=900.0, pinch_at_m=6.3, pinch_drive=0.0)
    rows = taped(machine, motor, dev, 4, (0.8, 2.8, 4.8, 6.3, 8.8, 10.8))
    got = diagnose(machine, motor, Run(rows), seen=read_observations(["catches at 6.3 m"], None))
    assert got.first is not None
    assert (got.first.key, got.first.side) == ("tight-spot", "idle")
    assert got.first.station_m == pytest.approx(6.3, abs=0.3)
    assert got.first.action.code == "lead.open-track-at"
    assert got.first.action.get("at_m") == got.first.station_m


def test_drag_alike_on_both_sides_shows_in_the_current(machine: Machine, motor: Motor) -> None:
    dev = Deviations(drag_drive_n_m=25.0, drag_idle_n_m=25.0)
    got = diagnose(machine, motor, Run(taped(machine, motor, dev, 6)))
    assert got.first is not None
    assert got.first.key == "both-drag"
    without = diagnose(machine, motor, Run(taped(machine, motor, dev, 6, amps=False)))
    assert all(c.key != "both-drag" for c in without.causes)
    assert "lead.no-currents" in without.notes
    assert "lead.no-currents" not in got.notes


def test_a_fault_that_is_not_on_the_list_does_not_fit(machine: Machine, motor: Motor) -> None:
    rows = tuple(RunReading.of(s, 0.05 * (-1) ** i, -0.05 * (-1) ** i) for i, s in enumerate(AT))
    got = diagnose(machine, motor, Run(rows))
    assert not got.fits
    assert got.misfit.value > 2.0


def test_second_run_teaches(machine: Machine, motor: Motor) -> None:
    """Part of the rope difference is taken up: both runs together are surer, and the record says that it worked."""
    before, put_right = Deviations(start_m=0.06), 0.04
    after = Deviations(start_m=0.06 - put_right)
    first_rows = taped(machine, motor, before, 8, (2.0, 7.0))
    second_rows = taped(machine, motor, after, 9, (2.0, 7.0))
    alone = diagnose(machine, motor, Run(first_rows))
    both = diagnose(machine, motor, Run(second_rows, (), (EarlierRun(first_rows, "rope-length", "idle", put_right),)))
    assert both.first is not None
    assert (both.first.key, both.first.side) == ("rope-length", "idle")
    assert alone.first is not None
    assert both.first.probability >= alone.first.probability - 0.02
    assert len(both.lessons) == 1
    lesson = both.lessons[0]
    assert lesson.predicted_m.shape == lesson.measured_m.shape == (4,)
    assert lesson.verdict == "lead.did-what-was-expected"


def test_an_action_that_missed_is_said_to_have_missed(machine: Machine, motor: Motor) -> None:
    """The hem was the cause; taking up rope only adds a second fault, and the record says that it did not work."""
    first_rows = taped(machine, motor, Deviations(start_m=0.05), 8)
    worse = taped(machine, motor, Deviations(start_m=0.10), 9)
    got = diagnose(machine, motor, Run(worse, (), (EarlierRun(first_rows, "rope-length", "idle", 0.05),)))
    assert got.lessons[0].verdict == "lead.did-not-do"


def test_sides_are_interchangeable(machine: Machine, motor: Motor) -> None:
    """Readings with their sign turned name the other side, with the same amount."""
    plain = replace(machine, shaft_rad_nm=0.0)
    rows = taped(plain, motor, Deviations(drag_idle_n_m=30.0), 10)
    turned = tuple(
        RunReading.of(r.station_m, -r.closing_m, -r.opening_m, r.current_a)
        for r in rows
        if r.closing_m is not None and r.opening_m is not None
    )
    one, other = diagnose(plain, motor, Run(rows)), diagnose(plain, motor, Run(turned))
    assert one.first is not None
    assert other.first is not None
    assert (one.first.key, other.first.key) == ("hem-drag", "hem-drag")
    assert {one.first.side, other.first.side} == {"drive", "idle"}
    assert one.first.amount.value == pytest.approx(other.first.amount.value, rel=1e-6)


def test_readings_off_the_travel_or_none_at_all_are_refused(machine: Machine, motor: Motor) -> None:
    with pytest.raises(Refused) as off:
        diagnose(machine, motor, Run((RunReading.of(99.0, 0.01),)))
    assert off.value.why == finding("lead.off-the-travel", station_m=99.0)
    with pytest.raises(Refused) as none:
        diagnose(machine, motor, Run((RunReading.of(1.0, current_a=4.0),)))
    assert none.value.why == "lead.needs-a-lead"
    with pytest.raises(Refused) as without:
        diagnose_job(make_job(), make_system(), make_layout())
    assert without.value.why == "lead.needs-a-lead"


def test_a_stop_a_little_past_the_travel_is_read_at_its_end(machine: Machine, motor: Motor) -> None:
    rows = taped(machine, motor, Deviations(start_m=0.06), 2)
    end = replace(rows[-1], station=metres(machine.closed_m))
    past = replace(end, station=metres(machine.closed_m + 0.1))
    one, other = (diagnose(machine, motor, Run((*rows[:-1], last))) for last in (end, past))
    assert one.causes == other.causes


def test_a_job_is_diagnosed_from_its_run(machine: Machine, motor: Motor) -> None:
    job = replace(make_job(), run=Run(taped(machine, motor, Deviations(start_m=0.06), 2)))
    assert (
        diagnose_job(job, make_system(), make_layout()).first
        == diagnose(machine, motor, job.run or Run(), limit_m=0.05).first
    )


def test_what_was_seen() -> None:
    got = read_observations(("Catches at 12' 6\"", "slack rope, right side", "makes a noise"), Unit.FT_IN, "left")
    assert list(got.catches_m) == pytest.approx([12.5 * 0.3048])
    assert got.odds["tight-spot"] > 1
    assert got.side_odds["rope-length", "idle"] > 1
    assert got.unread == ("makes a noise",)


def test_a_line_that_is_not_understood_is_named_with_what_would_be(machine: Machine, motor: Motor) -> None:
    rows = taped(machine, motor, Deviations(start_m=0.06), 2)
    got = diagnose(machine, motor, Run(rows), seen=read_observations(["makes a noise"], None))
    assert finding("lead.not-understood", line="makes a noise") in got.notes
    assert finding("lead.is-understood", phrases=KNOWN) in got.notes
    assert all(not read_observations([phrase], None).unread for phrase in KNOWN)


def test_every_cause_can_be_said_and_done() -> None:
    for c in every_cause((3.0,)):
        for much in (c.family.most / 2, c.family.most / 2000):
            words = said(action(c.family.key, c.side, much, c.at_m), Unit.FT_IN)
            assert words.endswith(".")
            assert "lead." not in words
        assert said(c.title).startswith(("The ", "A ", "Both "))
    assert sum(f.chance for f in FAMILIES) == pytest.approx(1.0)
