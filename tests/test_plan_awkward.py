"""Legal but awkward jobs from text to JSON: each is planned or refused with faults, and nothing else happens."""

from __future__ import annotations

import itertools
import json
import math
from dataclasses import replace

import pytest

from spoken import said
from stringline.as_json.write import dumps, plan_json
from stringline.faults import Faults
from stringline.job.read import read_job
from stringline.plan import Plan, plan
from stringline.system.read import load_system

BOX = {"1": (1.0, 2.0), "2": (11.0, 2.0), "3": (11.0, 7.0), "4": (1.0, 7.0)}
FLUSH = 'mount = "flush"\nhousing = ["1", "4"]\ndrive_side = "left"\nmargins = { side = "75 mm", end = "300 mm" }\n'


def job_text(
    points: dict[str, tuple[float, float]], more: str = "", *, scale: float = 1.0, pool: str = "", cover: str = FLUSH
) -> str:
    """A job whose readings are the true distances between all points and a baseline."""
    xy = {"A": (0.0, 0.0), "B": (12.0, 0.0), **points}
    rows = [
        f'["{a}", "{b}", "{scale * math.dist(xy[a], xy[b]):.6f} m"]'
        for a, b in itertools.combinations(xy, 2)
        if xy[a] != xy[b]
    ]
    water = ", ".join(f'"{p}"' for p in points)
    return (
        '[job]\nunit = "m"\nstage = "fit-out"\nsystem = "invented-metric"\n'
        f'[survey]\nbaseline = ["A", "B"]\ntapes = [{", ".join(rows)}]\n'
        f"[pool]\nwater = [{water}]\n{pool}\n[cover]\n{cover}\n{more}\n"
    )


def planned(text: str) -> Plan:
    made = plan(read_job(text, "a job"), load_system("invented-metric"))
    json.loads(dumps(plan_json(made)))
    return made


@pytest.mark.parametrize("scale", [0.02, 0.2, 5.0])
def test_pools_from_a_hand_s_breadth_to_fifty_metres(scale: float) -> None:
    made = planned(job_text(BOX, scale=scale))
    assert made.advice is not None
    assert [c.key for c in made.advice.choices if c.key != "reading"] == ["now", "wait"]


def test_parts_that_take_up_nothing_are_planned_and_will_hardly_fit() -> None:
    system = load_system("invented-metric")
    rigid = replace(system, fabric=replace(system.fabric, width_take_up_m=0.0, length_take_up_m=0.0))
    made = plan(read_job(job_text(BOX), "a job"), rigid)
    assert made.advice is not None
    assert made.advice.choice("now").fit.all == pytest.approx(0.0, abs=1e-9)


def test_two_names_for_one_point_are_refused_or_laid_out() -> None:
    doubled = {"1": BOX["1"], "2": BOX["2"], "2a": BOX["2"], "3": BOX["3"], "4": BOX["4"]}
    for pool in ("", "curve = true"):
        made = planned(job_text(doubled, pool=pool))
        assert any("one place" in said(m) for n in made.needs for m in n.missing)


def test_a_sigma_that_nothing_reaches_is_refused() -> None:
    text = job_text(BOX).replace("[survey]", '[survey]\nsigma = "0.00001 mm"')
    with pytest.raises(Faults) as raised:
        planned(text)
    assert [f.code for f in raised.value.faults] == ["out-of-range"]


@pytest.mark.parametrize(
    "built",
    [
        'gauge = [["2 m", "5.2 m"]]',
        'gauge = [["9 m", "5.21 m"], ["0 m", "5.2 m"], ["90 m", "5.22 m"]]',
        'gauge = [["1 m", "5.2 m"], ["1 m", "5.22 m"]]',
        'channel = { left = "10.6 m" }',
        'channel = { left = "0.01 m", right = "0.01 m" }',
        'channel = { right = "900 m" }',
        'diagonals = ["11 m", "11.9 m"]',
        'offsets = { left = [["5 m", "0 m"], ["5 m", "3 mm"], ["5 m", "1 mm"]] }',
        'housing = { inside = "0.1 m" }\nfascia = { clear = "0.01 m" }\nlid = { opening = "0.001 m" }',
    ],
)
def test_as_built_readings_that_are_few_or_far_out(built: str) -> None:
    planned(job_text(BOX, f"[as_built]\n{built}"))


@pytest.mark.parametrize(
    "leads",
    [
        '["3 m", "10 mm"]',
        '["3 m", "", "10 mm"]',
        '["90 m", "10 mm", "10 mm"]',
        '["3 m", "3 m", "-3 m"], ["5 m", "4 m", "4 m"]',
        '["3 m", "3 mm", "", 3.1], ["5 m", "4 mm", "", 900], ["6 m", "4 mm", "", 0]',
    ],
)
def test_run_readings_that_are_few_or_wild(leads: str) -> None:
    planned(job_text(BOX, f"[run]\nleads = [{leads}]"))
