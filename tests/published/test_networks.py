"""Networks of distances: coordinates, standard deviations, redundancy and residuals as textbooks print them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
import pytest

from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Length
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.approximate.start import find_start
from stringline.survey.build import build_network
from stringline.survey.run import survey

Line = tuple[str, str, float]


def given(
    lines: Iterable[Line],
    sigma: float,
    known: Mapping[str, tuple[float, float]],
    sketch: Mapping[str, tuple[float, float]] | None = None,
) -> SurveyInput:
    tapes = tuple(Tape(a, b, Length(m, f"{m}", "m")) for a, b, m in lines)
    return SurveyInput(tapes, sigma_m=sigma, known=known, sketch=sketch or {})


def solved(spec: SurveyInput) -> tuple[Adjustment, dict[str, Array], dict[str, Array]]:
    """The adjustment from the readings alone, coordinates and a-priori standard deviations by name."""
    net = build_network(spec)
    adj = adjust(net, find_start(net).xy)
    assert adj.converged
    sigma = np.sqrt(np.diag(adj.Q)).reshape(-1, 2)
    return adj, {n: adj.xy[i] for n, i in net.index.items()}, {n: sigma[i] for n, i in net.index.items()}


BENNING = given(
    [("1", "3", 1000.02), ("1", "4", 1414.20), ("2", "3", 1414.24), ("2", "4", 999.98), ("3", "4", 1000.00)],
    0.010,
    {"1": (0.0, 1000.0), "2": (1000.0, 1000.0)},
    {"1": (0.0, 1.0), "2": (1.0, 1.0), "3": (0.0, 0.0), "4": (1.0, 0.0)},
)


def test_benning_quadrilateral() -> None:
    """Source: Benning, Statistik in Geodäsie, Geoinformation und Bauwesen (2011), ex. 8-2, p. 256 — verified: coordinates to 0.1 mm, σ̂ to 0.01 mm, redundancy to 0.001."""  # noqa: E501
    adj, xy, sigma = solved(BENNING)
    assert xy["3"] == pytest.approx([-0.0096, -0.0226], abs=5e-5)
    assert xy["4"] == pytest.approx([999.9930, 0.0174], abs=5e-5)
    assert adj.f == 1
    assert 10.0 * adj.sigma0 == pytest.approx(6.882, abs=5e-4)
    for name in ("3", "4"):
        assert 1e3 * adj.sigma0 * sigma[name] == pytest.approx([9.01, 6.37], abs=5e-3)
    assert adj.r == pytest.approx([0.143, 0.286, 0.286, 0.143, 0.143], abs=5e-4)


def test_benning_residuals() -> None:
    """Source: Krumm, Geodetic Network Adjustment Examples, rev. 3.5 (2020), ex. 3.1.1, pp. 48–50 — verified: residuals of the same network to 0.005 mm (printed as read − adjusted)."""  # noqa: E501
    adj, _, _ = solved(BENNING)
    assert 1e2 * adj.v == pytest.approx([0.260, -0.368, -0.368, 0.260, 0.260], abs=5e-4)


def test_one_spare_reading_makes_every_tau_one() -> None:
    """Source: Pope, NOAA TR NOS 65 NGS 1 (1976): with f = 1 every |τ| is 1 — from memory."""
    adj, _, _ = solved(BENNING)
    assert np.abs(adj.tau) == pytest.approx(np.ones(5), abs=1e-9)


STRANG = {"1": (170.71, 270.71), "2": (100.0, 100.0), "3": (241.42, 100.0)}


def test_strang_borre_fixed() -> None:
    """Source: Strang & Borre, Linear Algebra, Geodesy, and GPS (1997), ch. 12 — verified: P to 0.1 mm, σ̂ to 0.01 mm, redundancy to 0.01."""  # noqa: E501
    lines = [("1", "P", 100.01), ("2", "P", 100.02), ("3", "P", 100.03)]
    adj, xy, sigma = solved(given(lines, 0.01, STRANG))
    assert xy["P"] == pytest.approx([170.7029, 170.7234], abs=5e-5)
    assert 1e3 * adj.sigma0 * sigma["P"] == pytest.approx([33.03, 23.35], abs=5e-3)
    assert adj.r == pytest.approx([0.5, 0.25, 0.25], abs=5e-3)


def test_strang_borre_free() -> None:
    """Source: Strang & Borre, Linear Algebra, Geodesy, and GPS (1997), ex. 12.4, p. 411, inner constraints — verified to 0.1 mm."""  # noqa: E501
    lines = [("1", "P", 100.01), ("2", "P", 100.02), ("3", "P", 100.03)]
    lines += [("1", "2", 184.785), ("2", "3", 141.44), ("1", "3", 184.805)]
    net = build_network(replace(given(lines, 0.01, {}), known={}))
    start = {**STRANG, "P": (170.71, 170.71)}
    adj = adjust(net, np.array([start[n] for n in net.names]))
    published = {
        "P": (170.7123, 170.7185),
        "1": (170.7032, 270.7213),
        "2": (99.9912, 99.9971),
        "3": (241.4333, 99.9830),
    }
    for name, at in published.items():
        assert adj.xy[net.index[name]] == pytest.approx(at, abs=5.1e-5), name
    assert adj.f == 1


GHILANI_KNOWN = {"Badger": (2410000.0, 390000.0), "Bucky": (2411820.0, 386881.222)}
GHILANI_SKETCH = {**GHILANI_KNOWN, "Wisconsin": (2415700.0, 391000.0), "Campus": (2416800.0, 387600.0)}


def ghilani(first: float) -> SurveyInput:
    lines = [
        ("Badger", "Wisconsin", first),
        ("Badger", "Campus", 7297.588),
        ("Wisconsin", "Campus", 3616.434),
        ("Wisconsin", "Bucky", 5742.878),
        ("Campus", "Bucky", 5123.760),
    ]
    return given(lines, 0.01, GHILANI_KNOWN, GHILANI_SKETCH)


def test_ghilani_trilateration() -> None:
    """Source: Ghilani, Adjustment Computations, 5th ed. (2010), ex. 14.5, p. 251 (feet) — verified to 0.0001 ft as the book prints it, one reading of it carrying a slip."""  # noqa: E501
    adj, xy, _ = solved(ghilani(5870.302))
    assert xy["Wisconsin"] == pytest.approx([2415776.9044, 391043.2945], abs=1e-4)
    assert xy["Campus"] == pytest.approx([2416892.6955, 387603.2551], abs=1e-4)
    assert not adj.test.pass_


def test_ghilani_with_the_slip_put_right() -> None:
    """Source: Ghilani, Adjustment Computations, 5th ed. (2010), ex. 14.5, p. 251 — verified: with 5870.640 ft in place of 5870.302 the readings fit a thousand times better."""  # noqa: E501
    as_printed, _, _ = solved(ghilani(5870.302))
    put_right, _, _ = solved(ghilani(5870.640))
    assert put_right.vtpv < 1e-3 * as_printed.vtpv


def test_published_networks_pass_through_the_whole_survey() -> None:
    """Source: Benning (2011), ex. 8-2, p. 256 — verified: the survey a user runs gives the same figures."""
    found = survey(BENNING)
    assert found.at("4") == pytest.approx([999.9930, 0.0174], abs=5e-5)
    assert found.points[0].fixed
    assert found.points[0].sx_m == 0.0
    assert [t.redundancy for t in found.tapes] == pytest.approx([0.143, 0.286, 0.286, 0.143, 0.143], abs=5e-4)
