"""Checks on roll, reels, rope, motor, drum, sliders and lead."""

from __future__ import annotations

from dataclasses import replace

from makers import make_layout, make_system
from stringline.finding import finding
from stringline.job.readings import Run, RunReading
from stringline.judging import Stage, Verdict
from stringline.lead.predict import predict_lead
from stringline.mechanics.assemble import mechanics
from stringline.plan.checks.mechanics import lead_checks, mechanics_checks
from stringline.system.model import System


def verdicts(system: System) -> dict[str, Verdict]:
    return {c.code: c.verdict for c in mechanics_checks(mechanics(system, make_layout()), system)}


def test_a_sound_machine_passes() -> None:
    assert set(verdicts(make_system()).values()) == {Verdict.PASS}


def test_each_weak_part_fails_its_own_check() -> None:
    s = make_system()
    weak = {
        "roll-clearance": replace(s, housing=replace(s.housing, inside_height_m=0.2)),
        "reel-freeboard": replace(s, reel=replace(s.reel, flange_radius_m=0.06)),
        "rope-strength": replace(s, rope=replace(s.rope, break_load_n=900.0)),
        "motor-torque": replace(s, motor=replace(s.motor, rated_torque_nm=15.0)),
        "drum-sag": replace(s, drum=replace(s.drum, wall_m=0.001)),
    }
    for code, system in weak.items():
        got = verdicts(system)
        assert got[code] is Verdict.FAIL, code
        assert [c for c, v in got.items() if v is not Verdict.PASS] == [code]


def test_a_refused_reel_names_the_one_that_works() -> None:
    s = make_system()
    small = replace(s, reel=replace(s.reel, flange_radius_m=0.06))
    found = mechanics(small, make_layout(), reels=[("reel 90", s.reel)])
    held = next(c for c in mechanics_checks(found, small) if c.code == "reel-freeboard")
    assert held.action == finding(
        "mechanics.order-nearest",
        nearest=finding("mechanics.reel-of", system="reel 90"),
        part=finding("mechanics.part-reel"),
    )
    assert held.stage is Stage.ORDER


def test_lead_is_not_measured_then_measured() -> None:
    s = make_system()
    expected = predict_lead(s, make_layout(), samples=500, stations=20)
    before = {c.code: c for c in lead_checks(expected, None, None, s)}
    assert before["lead-measured"].verdict is Verdict.NOT_MEASURED
    assert not before["lead-expected"].holds
    for lead, verdict in ((0.02, Verdict.PASS), (0.049, Verdict.CANNOT_TELL), (0.09, Verdict.FAIL)):
        run = Run((RunReading.of(3.0, -lead, 0.001),))
        after = {c.code: c for c in lead_checks(expected, run, None, s)}
        assert after["lead-measured"].verdict is verdict
