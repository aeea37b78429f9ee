"""The next tape: each candidate's effect against adjusting again, what is advised, and when advice stops."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from pools import Pool, make_pool
from spoken import said
from stringline.finding import within
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Unit, parse
from stringline.limits import ENOUGH_R
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.design.candidates import candidates
from stringline.survey.design.next_tape import advise, effects, good_enough


def adjusted(pool: Pool) -> Adjustment:
    net = pool.network()
    return adjust(net, pool.start(net))


def with_line(pool: Pool, a: str, b: str, metres: float, sigma_m: float) -> Pool:
    tape = Tape(a, b, replace(parse("1 m", None), m=metres), sigma_m)
    return replace(pool, spec=replace(pool.spec, tapes=(*pool.spec.tapes, tape)))


def test_every_effect_agrees_with_adjusting_again() -> None:
    pool = make_pool(np.random.default_rng(1), points=5, braces=1)
    adj = adjusted(pool)
    c = candidates(adj.network, adj.xy, adj.Q)
    effect = effects(adj, adj.network, c)
    for k in range(len(c.i)):
        i, j = int(c.i[k]), int(c.j[k])
        names = adj.network.names
        more = adjust(
            with_line(pool, names[i], names[j], float(c.length[k]), float(c.sigma[k])).network(), adj.xy
        )  # the reading expected, so that nothing moves
        np.testing.assert_allclose(more.r[:-1], effect.r[k], atol=1e-6)
        assert more.r[-1] == pytest.approx(effect.own[k], abs=1e-6)
        np.testing.assert_allclose(more.ellipses[:, 0], effect.major[k], rtol=1e-5, atol=1e-9)


def open_square() -> Pool:
    """Point 3 hangs on two flat lines; the rest of the rectangle is well tied."""
    lines = [("A", "B", 4.0), ("A", "1", 3.0), ("B", "1", 5.0), ("A", "2", 5.0), ("B", "2", 3.0), ("1", "2", 4.0)]
    xy = np.array([[0.0, 0.0], [4.0, 0.0], [0.0, 3.0], [4.0, 3.0], [2.0, 0.15]])
    names = ("A", "B", "1", "2", "3")
    more = [("A", "3", float(np.hypot(2.0, 0.15))), ("B", "3", float(np.hypot(2.0, 0.15)))]
    tapes = tuple(Tape(a, b, parse(f"{length:.4f} m", None)) for a, b, length in lines + more)
    return Pool(names, xy, SurveyInput(tapes, baseline=("A", "B")))


def test_the_badly_tied_point_is_tied_first() -> None:
    adj = adjusted(open_square())
    advice = advise(adj, adj.network)
    assert len(advice) == 3
    assert "3" in (advice[0].frm, advice[0].to)
    assert {"1", "2"} & {advice[0].frm, advice[0].to}
    (ties,) = (f for f in within(advice[0].buys) if f.code == "taping.ties")
    assert ties.get("point") == "3"
    worst = adj.ellipses[adj.network.index["3"], 0]
    assert ties.get("was_m") == pytest.approx(worst)
    assert 0.0 < ties.get("now_m") < worst - 3e-4
    assert " mm; " in said(advice[0].buys, Unit.M)
    assert " in; " in said(advice[0].buys, Unit.FT_IN)
    assert [a.score for a in advice] == sorted((a.score for a in advice), reverse=True)
    assert advice[0].expected_m == pytest.approx(np.hypot(2.0, 2.85), abs=2e-3)


def test_following_the_advice_ends_with_every_reading_checked() -> None:
    pool = open_square()
    for _ in range(12):
        adj = adjusted(pool)
        advice = advise(adj, adj.network)
        if not advice:
            break
        pool = with_line(pool, advice[0].frm, advice[0].to, advice[0].expected_m, 0.0023)
    else:
        pytest.fail("advice never stopped")
    assert adj.r[: adj.network.tapes].min() >= ENOUGH_R
    assert good_enough(adj, adj.network)


def test_advice_stops_at_the_target() -> None:
    adj = adjusted(open_square())
    worst = float(adj.ellipses[:, 0].max())
    assert advise(adj, adj.network, target_m=1.01 * worst) == ()
    assert advise(adj, adj.network, target_m=0.99 * worst) != ()


def test_the_first_advice_beats_a_random_line() -> None:
    """Over twenty pools, the best advised line never leaves a worse axis and less checking than the average line."""
    rng = np.random.default_rng(3)
    for _ in range(20):
        adj = adjusted(make_pool(rng, points=7, braces=1))
        advice = advise(adj, adj.network)
        c = candidates(adj.network, adj.xy, adj.Q)
        effect = effects(adj, adj.network, c)
        names = adj.network.names
        k = next(
            k for k in range(len(c.i)) if {names[int(c.i[k])], names[int(c.j[k])]} == {advice[0].frm, advice[0].to}
        )
        short = np.maximum(ENOUGH_R - effect.r, 0.0).sum(axis=1)
        worst = effect.major.max(axis=1)
        assert short[k] <= short.mean() or worst[k] <= worst.mean()
        assert short[k] / short.mean() + worst[k] / worst.mean() < 2.0
