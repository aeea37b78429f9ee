"""The adjustment against a general solver, against its own algebra, and against chance."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import least_squares

from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Offset
from stringline.lengths import Length
from stringline.survey.adjust.least_squares import SingularError, adjust, global_test, inner_constraints
from stringline.survey.adjust.network import Network, Row
from stringline.survey.adjust.observe import linearise, predict
from stringline.survey.approximate.start import find_start
from stringline.survey.build import build_network
from stringline.survey.run import survey
from taped import Made, make, tape, taped


def length(m: float) -> Length:
    return Length(m, f"{m:.4f} m", "m")


def judge(net: Network, start: Array) -> tuple[Array, Array]:
    """Coordinates (n, 2) and covariance of the unknowns from a general solver that knows nothing of ours."""
    full = np.where(net.fixed, net.fixed_xy, start).reshape(-1)

    def residuals(x: Array) -> Array:
        full[net.free] = x
        xy = full.reshape(-1, 2)
        out = []
        for kind, at, value, sigma in zip(net.kind, net.at, net.value, net.sigma, strict=True):
            a, b, c = (xy[int(i)] for i in at)
            if kind == Row.DISTANCE:
                read = np.linalg.norm(b - a)
            elif kind == Row.STATION:
                read = np.dot(c - a, b - a) / np.linalg.norm(b - a)
            elif kind == Row.OFFSET:
                along, off = b - a, c - a
                read = (along[0] * off[1] - along[1] * off[0]) / np.linalg.norm(along)
            else:
                read = a[0 if kind == Row.X else 1]
            out.append((read - value) / sigma)
        return np.array(out)

    found = least_squares(residuals, full[net.free].copy(), xtol=1e-15, ftol=1e-15, gtol=1e-15, jac="3-point")
    full[net.free] = found.x
    jac = np.asarray(found.jac, dtype=float)
    return full.reshape(-1, 2).copy(), np.asarray(np.linalg.inv(jac.T @ jac))


@pytest.mark.parametrize("seed", range(12))
def test_a_general_solver_agrees(seed: int) -> None:
    made = make(np.random.default_rng([1, seed]), 5 + seed % 4, 3, 3)
    net = made.network()
    ours = adjust(net, find_start(net).xy)
    theirs, cov = judge(net, made.true_for(net))
    assert ours.converged
    assert ours.xy == pytest.approx(theirs, abs=1e-8)
    assert ours.Q[np.ix_(net.free, net.free)] == pytest.approx(cov, rel=1e-5, abs=1e-12)


def offsets_spec() -> SurveyInput:
    """A stringline from A to B with two points off it, one tape across, and a right angle dropped at a point."""
    tapes = (tape("A", "B", 9.998), tape("A", "1", 5.003), tape("1", "2", 4.121), tape("B", "2", 5.830))
    offsets = (
        Offset("A", "B", length(3.001), length(4.002), "1"),
        Offset("A", "B", length(7.0), length(5.001), "2"),
        Offset("1", "2", length(2.0), length(-1.0), "3", sigma_m=0.01),
        Offset("A", "1", length(5.0), length(-2.0), "3"),
    )
    return SurveyInput(tapes, baseline=("A", "B"), offsets=offsets)


def test_a_general_solver_agrees_on_stringlines() -> None:
    net = build_network(offsets_spec())
    start = find_start(net).xy
    ours = adjust(net, start)
    theirs, cov = judge(net, start)
    assert ours.converged
    assert ours.f == net.m - len(net.free) == 5
    assert ours.xy == pytest.approx(theirs, abs=1e-8)
    assert ours.Q[np.ix_(net.free, net.free)] == pytest.approx(cov, rel=1e-5, abs=1e-12)


def test_design_is_the_derivative_of_the_readings() -> None:
    net = build_network(offsets_spec())
    xy = find_start(net).xy
    _, design = linearise(net, xy)
    step = 1e-6
    for column in range(2 * net.n):
        up, down = xy.reshape(-1).copy(), xy.reshape(-1).copy()
        up[column] += step
        down[column] -= step
        slope = (predict(net, up.reshape(-1, 2)) - predict(net, down.reshape(-1, 2))) / (2 * step)
        assert design[:, column] == pytest.approx(slope, abs=1e-8)


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**6), points=st.integers(3, 9), extra=st.integers(0, 8))
def test_redundancy_numbers_add_up_to_the_freedom(seed: int, points: int, extra: int) -> None:
    made = make(np.random.default_rng(seed), points, 3, extra)
    net = made.network()
    adj = adjust(net, made.true_for(net))
    # the covariance is that of the last step but a few, at most 0.1 mm from where the design is taken
    assert float(adj.r.sum()) == pytest.approx(adj.f, abs=1e-5)
    assert float(adj.A.T @ (adj.p * adj.v) @ (adj.A.T @ (adj.p * adj.v))) == pytest.approx(0.0, abs=1e-6)
    of_residuals = np.diag(net.sigma**2) - adj.A @ adj.Q @ adj.A.T
    assert np.diag(of_residuals) == pytest.approx(adj.r * net.sigma**2, abs=1e-12)


def test_every_point_lies_in_its_ellipse_as_often_as_it_should() -> None:
    """400 surveys from their readings alone; the distance of one point each, in its own covariance, is χ² with 2."""
    part = []
    for seed in range(400):
        rng = np.random.default_rng([7, seed])
        made = make(rng, int(rng.integers(4, 8)), 3, int(rng.integers(1, 5)))
        net = made.network()
        adj = adjust(net, find_start(net).xy)
        i = int(rng.integers(2, net.n))
        block = slice(2 * i, 2 * i + 2)
        off = adj.xy[i] - made.true_for(net)[i]
        part.append(float(stats.chi2.cdf(off @ np.linalg.solve(adj.Q[block, block], off), 2)))
    found = np.array(part)
    assert stats.kstest(found, "uniform").pvalue > 0.01
    for inside in (0.683, 0.95, 0.997):
        hits = int(np.count_nonzero(found <= inside))
        assert stats.binomtest(hits, len(found), inside).pvalue > 0.01, (inside, hits)


def test_the_global_test_rejects_one_good_survey_in_twenty() -> None:
    rejected, total = 0, 300
    for seed in range(total):
        made = make(np.random.default_rng([8, seed]), 5, 3, 4)
        net = made.network()
        rejected += not adjust(net, made.true_for(net)).test.pass_
    assert stats.binomtest(rejected, total, 0.05).pvalue > 0.01


def test_chi_square_interval_is_scipys() -> None:
    test = global_test(9.0, 7)
    assert (test.low, test.high) == pytest.approx((stats.chi2.ppf(0.025, 7), stats.chi2.ppf(0.975, 7)))
    assert test.pass_
    assert global_test(0.0, 0).pass_


def test_a_free_network_has_the_least_trace_and_moves_as_little_as_it_can() -> None:
    made = make(np.random.default_rng(3), 5, 3, 4)
    spec = replace(made.spec, baseline=None)
    net = build_network(spec)
    true = made.true_for(net)
    free = adjust(net, true)
    null = inner_constraints(free.xy)
    assert free.f == net.m - 2 * net.n + 3
    assert pytest.approx(np.zeros((3, 2 * net.n)), abs=1e-12) == null.T @ free.Q
    normal = free.A.T @ (free.p[:, None] * free.A)
    assert pytest.approx(np.linalg.pinv(normal, rcond=1e-10), abs=1e-12) == free.Q
    held = adjust(made.network(), made.true_for(made.network()))
    assert free.vtpv == pytest.approx(held.vtpv, rel=1e-8)
    assert np.trace(free.Q) < np.trace(held.Q)


def shape(spec: SurveyInput) -> dict[frozenset[str], float]:
    found = survey(spec)
    return {
        frozenset((p.name, q.name)): float(np.hypot(p.x_m - q.x_m, p.y_m - q.y_m))
        for p in found.points
        for q in found.points
        if p.name < q.name
    }


@pytest.mark.parametrize("seed", range(4))
def test_names_order_and_baseline_do_not_matter(seed: int) -> None:
    rng = np.random.default_rng([5, seed])
    made = make(rng, 6, 3, 5)
    first = shape(made.spec)
    tapes = [made.spec.tapes[int(k)] for k in rng.permutation(len(made.spec.tapes))]
    turned = [replace(t, a=t.b, b=t.a) if rng.random() < 0.5 else t for t in tapes]
    shuffled = shape(replace(made.spec, tapes=tuple(turned)))
    everything_else = tuple(n for n in made.names if n not in ("A", "B"))
    backwards = shape(replace(made.spec, baseline=("B", "A"), behind=everything_else))
    renamed = {n: f"p{i}" for i, n in enumerate(rng.permutation(list(made.names)).tolist())}
    other_names = shape(
        replace(
            made.spec,
            tapes=tuple(replace(t, a=renamed[t.a], b=renamed[t.b]) for t in made.spec.tapes),
            baseline=(renamed["A"], renamed["B"]),
        )
    )
    for pair, d in first.items():
        assert shuffled[pair] == pytest.approx(d, abs=1e-9)
        assert backwards[pair] == pytest.approx(d, abs=1e-9)
        assert other_names[frozenset(renamed[n] for n in pair)] == pytest.approx(d, abs=1e-9)


def test_a_row_left_out_is_still_predicted() -> None:
    made = make(np.random.default_rng(11), 6, 3, 6)
    net = made.network()
    use = np.ones(net.m, dtype=bool)
    use[4] = False
    rest = adjust(net, made.true_for(net), use=use)
    smaller = build_network(replace(made.spec, tapes=made.spec.tapes[:4] + made.spec.tapes[5:]))
    alone = adjust(smaller, made.true_for(smaller))
    assert rest.f == alone.f
    assert rest.vtpv == pytest.approx(alone.vtpv, rel=1e-9)
    assert rest.xy == pytest.approx(alone.xy[[smaller.index[n] for n in net.names]], abs=1e-9)
    assert np.isnan(rest.r[4])
    assert rest.computed[4] - rest.v[4] == pytest.approx(net.value[4])


def test_the_same_line_taped_twice_is_two_readings() -> None:
    xy = {"A": (0.0, 0.0), "B": (5.0, 0.0), "1": (2.0, 4.0)}
    tapes = taped(xy, [("A", "B"), ("A", "1"), ("B", "1"), ("A", "1")])
    tapes = (*tapes[:3], replace(tapes[3], length=length(tapes[3].length.m + 0.006)))
    net = build_network(SurveyInput(tapes, sigma_m=0.003, baseline=("A", "B")))
    adj = adjust(net, find_start(net).xy)
    assert adj.f == 1
    assert adj.r == pytest.approx([0.0, 0.5, 0.0, 0.5], abs=1e-9)
    assert adj.v[[1, 3]] == pytest.approx([0.003, -0.003], abs=1e-9)


@pytest.mark.parametrize("slip", [1.0, 3.0, -2.0])
def test_a_gross_slip_is_fitted_to_the_bottom(slip: float) -> None:
    made = make(np.random.default_rng(21), 7, 4, 6, slip=slip)
    net = made.network()
    adj = adjust(net, find_start(net).xy)
    pull = adj.A.T @ (adj.p * adj.v)
    assert adj.converged
    assert float(np.abs(adj.Q @ pull).max()) < 1e-8


def test_what_is_not_held_is_refused_by_the_algebra_too() -> None:
    made: Made = make(np.random.default_rng(2), 4, 3)
    loose = replace(made.spec, tapes=tuple(t for t in made.spec.tapes if "4" not in (t.a, t.b)) + made.spec.tapes[-1:])
    net = build_network(loose)
    with pytest.raises(SingularError):
        adjust(net, made.true_for(net))
