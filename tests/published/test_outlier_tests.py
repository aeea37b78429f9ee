"""Outlier tests: standardised residuals, redundancy, Pope's τ, and a slip that a textbook network carries."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from stringline.finding import code_of, finding, within
from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Unit, parse
from stringline.limits import BAARDA_W, NONCENTRALITY
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.adjust.network import Network
from stringline.survey.build import build_network
from stringline.survey.slips.data_snooping import Linearised
from stringline.survey.slips.search import find_suspects, search

FT = 0.3048


def test_baarda_limit() -> None:
    """Source: Baarda, A testing procedure for geodetic networks (1968): |w| 3.29 at α = 0.001, δ₀ 4.13 — verified."""
    assert pytest.approx(stats.norm.isf(0.0005), abs=1e-9) == BAARDA_W
    assert pytest.approx(3.29, abs=5e-3) == BAARDA_W
    assert pytest.approx(4.13, abs=5e-3) == NONCENTRALITY


def level_net() -> tuple[Array, Array, Array]:
    """Design over heights 1, 2, 3 (4 is held), weights, and misclosures against the preliminary heights, mm."""
    lines = [(1, 2, -0.749, 1.1), (1, 3, -1.274, 1.8), (1, 4, -2.890, 1.4), (2, 3, -0.530, 1.5), (2, 4, -2.141, 1.9),
             (3, 4, -1.614, 0.9)]  # fmt: skip
    start = {1: 104.234, 2: 103.487, 3: 102.958, 4: 101.345}
    A = np.zeros((6, 3))
    for k, (i, j, _, _) in enumerate(lines):
        A[k, i - 1] = -1.0
        if j < 4:
            A[k, j - 1] = 1.0
    d = np.array([1000.0 * (h - (start[j] - start[i])) for i, j, h, _ in lines])
    return A, np.array([1.0 / (0.7 * km) ** 2 for *_, km in lines]), d


def test_redundancy_and_both_statistics_of_a_level_net() -> None:
    """Source: OSGeoLab BME, tutorial "Level network adjustment and data snooping" (Siki 2014), results — verified.

    Printed: redundancy, t (our τ) and U (our w) to 0.1, m₀ 1.65, vᵀPv 8.217.
    """
    A, p, d = level_net()
    Q = np.asarray(np.linalg.inv(A.T @ (p[:, None] * A)), dtype=float)
    frame = Linearised.from_design(A, Q, p, d)
    assert frame.omega == pytest.approx(8.217, abs=5e-4)
    assert frame.freedom == 3
    m0 = np.sqrt(frame.omega / 3)
    assert m0 == pytest.approx(1.65, abs=5e-3)
    np.testing.assert_allclose(np.diag(frame.M) / p, [0.3, 0.7, 0.5, 0.5, 0.7, 0.2], atol=0.051)
    np.testing.assert_allclose(np.abs(frame.w), [1.9, 2.1, 0.0, 2.6, 0.7, 0.6], atol=0.051)
    np.testing.assert_allclose(np.abs(frame.w) / m0, [1.1, 1.3, 0.0, 1.6, 0.4, 0.4], atol=0.051)


def test_largest_normalised_residual_of_a_level_loop() -> None:
    """Source: sample output of gama-local 1.5.09, a loop of four points levelled both ways — verified.

    Printed: [pvv] 146.625, m₀' 5.42, largest normalised residual 1.68 at observation 6.
    """
    rise = [-1.225, -0.848, 1.342, 0.720, -0.724, -1.335, 0.842, 1.231]
    ends = [(0, 3), (3, 2), (2, 1), (1, 0), (0, 1), (1, 2), (2, 3), (3, 0)]
    A = np.zeros((8, 4))
    for k, (i, j) in enumerate(ends):
        A[k, i] -= 1.0
        A[k, j] += 1.0
    A = A[:, 1:]
    p = np.full(8, 1.0 / 25.0)
    frame = Linearised.from_design(
        A, np.asarray(np.linalg.inv(A.T @ A * 0.04), dtype=float), p, 1000.0 * np.array(rise)
    )
    assert 25.0 * frame.omega == pytest.approx(146.625, abs=5e-4)
    assert 5.0 * np.sqrt(frame.omega / frame.freedom) == pytest.approx(5.42, abs=5e-3)
    assert int(np.argmax(np.abs(frame.w))) == 5
    assert np.abs(frame.w).max() == pytest.approx(1.68, abs=5e-3)


def ghilani(badger_wisconsin: str, *again: str) -> tuple[Network, Adjustment]:
    lines = [("Badger", "Wisconsin", badger_wisconsin), ("Badger", "Campus", "7297.588 ft"),
             ("Wisconsin", "Campus", "3616.434 ft"), ("Wisconsin", "Bucky", "5742.878 ft"),
             ("Campus", "Bucky", "5123.760 ft"), *(("Badger", "Wisconsin", text) for text in again)]  # fmt: skip
    tapes = tuple(Tape(a, b, parse(text, Unit.FT)) for a, b, text in lines)
    known = {"Badger": (0.0, 0.0), "Bucky": (1820.0 * FT, -3118.778 * FT)}
    net = build_network(SurveyInput(tapes, sigma_m=0.01 * FT, known=known))
    near = {**known, "Wisconsin": (5776.9 * FT, 1043.3 * FT), "Campus": (6892.7 * FT, -2396.7 * FT)}
    return net, adjust(net, np.array([near[name] for name in net.names]))


def test_one_reading_to_spare_shows_a_slip_but_not_where() -> None:
    """Source: Ghilani, Adjustment Computations, 5th ed. (2010), ex. 14.5, p. 251 — verified.

    Five distances, f = 1. The printed 5870.302 ft fits a thousand times worse than 5870.640 ft; with f = 1 every |τ| is
    1, so the search names all five lines as possible and accuses none.
    """
    net, adj = ghilani("5870.302 ft")
    assert adj.f == 1
    np.testing.assert_allclose(np.abs(adj.tau), 1.0, atol=1e-6)
    assert adj.sigma0 > 1000.0 * ghilani("5870.640 ft")[1].sigma0
    suspects, notes = find_suspects(adj, net)
    assert suspects == ()
    assert code_of(notes[0]) == "survey.unlocated"
    assert finding("survey.line", a="Badger", b="Wisconsin") in within(notes[0])
    found = search(adj, net)
    assert found is not None
    weights = [h.log_weight for h in found.hypotheses]
    assert max(weights) - min(weights) < 1e-3  # nothing tells one line from another


def test_a_second_taping_names_the_line_and_the_reading_expected() -> None:
    """Source: Ghilani, Adjustment Computations, 5th ed. (2010), ex. 14.5, p. 251, one line taped again — verified.

    With the line taped once more at the value that fits, the search names Badger–Wisconsin's 5870.302 ft and expects
    5870.640 ft within its σ.
    """
    net, adj = ghilani("5870.302 ft", "5870.640 ft")
    suspects, _ = find_suspects(adj, net)
    assert [(s.frm, s.to) for s in suspects] == [("Badger", "Wisconsin")]
    assert suspects[0].read_m == pytest.approx(5870.302 * FT)
    assert abs(suspects[0].expected_m - 5870.640 * FT) < suspects[0].sigma_m
