"""The taping plan: what it promises against adjusting a survey taped so, and against the plain two-point scheme."""

from __future__ import annotations

import math

import numpy as np
import pytest

from pools import outline
from spoken import refused, said
from stringline.faults import Faults
from stringline.finding import finding
from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Length, Unit
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.build import build_network
from stringline.survey.design.network_design import axes, covariance, exchange, possible_lines, redundancy, with_each
from stringline.survey.design.taping_plan import TapingPlan, taping_plan

Places = dict[str, tuple[float, float]]


def rough_pool(seed: int, n: int) -> Places:
    water = outline(np.random.default_rng(seed), n)
    return {str(i + 1): (float(x), float(y)) for i, (x, y) in enumerate(water)}


def in_frame(places: Places, plan: TapingPlan) -> dict[str, Array]:
    a, b = np.array(plan.a), np.array(plan.b)
    e = (b - a) / np.hypot(*(b - a))
    left = np.array([-e[1], e[0]])
    every = {**places, plan.baseline[0]: plan.a, plan.baseline[1]: plan.b}
    return {n: np.array([(np.array(p) - a) @ e, (np.array(p) - a) @ left]) for n, p in every.items()}


def taped(lines: list[tuple[str, str]], at: dict[str, Array], baseline: tuple[str, str]) -> Adjustment:
    """Adjust exact readings of some lines."""
    tapes = []
    for a, b in lines:
        m = float(np.hypot(*(at[b] - at[a])))
        tapes.append(Tape(a, b, Length(m, f"{m:.6f} m", "m")))
    net = build_network(SurveyInput(tuple(tapes), baseline=baseline))
    return adjust(net, np.array([at[name] for name in net.names]))


def two_point(places: Places, plan: TapingPlan) -> float:
    """Worst axis of the plain scheme from stakes at the plan's own baseline."""
    at = in_frame(places, plan)
    lines = [("A", "B"), *((end, name) for name in places for end in ("A", "B"))]
    return float(taped(lines, at, ("A", "B")).ellipses[:, 0].max())


@pytest.mark.parametrize(("seed", "n"), [(1, 4), (2, 6), (3, 8), (4, 10), (5, 10)])
def test_what_it_promises_is_what_an_adjustment_gives(seed: int, n: int) -> None:
    places = rough_pool(seed, n)
    plan = taping_plan(places, 30.0)
    at = in_frame(places, plan)
    whole = taped([(line.frm, line.to) for line in plan.lines], at, plan.baseline)
    for name, axis in plan.axis_m.items():
        assert whole.ellipses[whole.network.index[name], 0] == pytest.approx(axis, rel=1e-4, abs=1e-9)
    assert whole.r.min() == pytest.approx(plan.weakest_r, abs=1e-5)
    first = taped([(line.frm, line.to) for line in plan.lines if not line.check], at, plan.baseline)
    assert first.ellipses[:, 0].max() == pytest.approx(plan.worst_m, rel=1e-4)
    assert len(first.v) == plan.needed


@pytest.mark.parametrize("seed", range(8))
def test_it_beats_the_two_point_scheme_with_as_many_lines(seed: int) -> None:
    n = (4, 6, 8, 10)[seed % 4]
    places = rough_pool(20 + seed, n)
    plan = taping_plan(places, 30.0)
    assert plan.needed <= 2 * n + 1
    assert plan.two_point_worst_m is not None
    assert plan.worst_m < plan.two_point_worst_m
    if plan.baseline == ("A", "B"):
        assert plan.worst_m <= two_point(places, plan) * (1 + 1e-6)


def test_readings_taped_so_scatter_as_promised() -> None:
    """200 simulated surveys: each point's scatter along its worst axis is the promised one within 20 %."""
    places = rough_pool(6, 6)
    plan = taping_plan(places, 30.0)
    at = in_frame(places, plan)
    exact = taped([(line.frm, line.to) for line in plan.lines], at, plan.baseline)
    net, rng = exact.network, np.random.default_rng(8)
    found = []
    for _ in range(200):
        noisy = exact.network.value + net.sigma * rng.standard_normal(net.m)
        tapes = tuple(
            Tape(t.a, t.b, Length(float(v), "", "m"), float(s))
            for t, v, s in zip(net.reading, noisy, net.sigma, strict=True)
            if isinstance(t, Tape)
        )
        again = build_network(SurveyInput(tapes, baseline=plan.baseline))
        found.append(adjust(again, exact.xy).xy)
    scatter = np.array(found) - exact.xy
    for i, name in enumerate(net.names):
        if plan.axis_m[name] > 0.0:
            angle = exact.ellipses[i, 2]
            along = scatter[:, i] @ np.array([math.cos(angle), math.sin(angle)])
            assert along.std() == pytest.approx(plan.axis_m[name], rel=0.2)


def test_every_reading_is_checked_where_there_are_lines_enough() -> None:
    plan = taping_plan(rough_pool(9, 10), 30.0)
    assert plan.weakest_r >= 0.2
    assert all(line.check for line in plan.lines[plan.needed :])
    assert plan.checked_worst_m <= plan.worst_m


def test_limits_are_kept() -> None:
    places = rough_pool(10, 8)
    forbidden = frozenset({frozenset({"1", "5"}), frozenset({"2", "6"})})
    plan = taping_plan(places, 12.0, lines=19, cannot=forbidden)
    assert len(plan.lines) <= 19
    assert max(line.length_m for line in plan.lines) <= 12.0
    assert not {frozenset({line.frm, line.to}) for line in plan.lines} & forbidden
    assert len({frozenset({line.frm, line.to}) for line in plan.lines}) == len(plan.lines)


def test_stakes_stay_clear_of_the_points_and_left_of_them() -> None:
    places = rough_pool(11, 4)
    plan = taping_plan(places, 30.0, setback_m=1.5)
    at = in_frame(places, plan)
    if plan.baseline == ("A", "B"):
        assert min(at[name][1] for name in places) >= 1.5 - 1e-6
        assert said(plan.where(places), Unit.FT_IN).startswith("Set A and B about ")
    else:
        assert plan.where(places) == finding("taping.no-stakes", a=plan.baseline[0], b=plan.baseline[1])


def test_refusals_come_together() -> None:
    with pytest.raises(Faults) as caught:
        taping_plan({"A": (0.0, 0.0)}, 0.0, lines=2)
    assert {f.code for f in caught.value.faults} == {"few-points", "taken-name", "tape-length", "few-lines"}
    with refused("cannot tie every point"):
        taping_plan({"1": (0.0, 0.0), "2": (20.0, 0.0), "3": (40.0, 20.0)}, 5.0)


def test_exchange_never_makes_it_worse_and_keeps_the_number() -> None:
    rng = np.random.default_rng(12)
    xy = np.vstack([[0, 0], [9, 0], outline(rng, 7) + np.array([0.0, 1.0])])
    i, j = np.triu_indices(len(xy), 1)
    p = possible_lines(xy, np.full(len(i), 0.0023), i, j)
    start = i <= 1
    better = exchange(p, start)
    assert better.sum() == start.sum()
    before, after = axes(covariance(p, start)), axes(covariance(p, better))
    assert after.max() <= before.max()
    out = ~better
    k = int(np.flatnonzero(out)[0])
    more = better.copy()
    more[k] = True
    after_k = axes(covariance(p, more))
    assert with_each(p, covariance(p, better))[k] == pytest.approx((after_k**8).sum() ** 0.125)
    assert redundancy(p, better)[k] == pytest.approx(redundancy(p, more)[k])
