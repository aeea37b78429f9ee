"""The least correction of as-built tracks, by hand and against every smaller one."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from makers import INCH, make_system
from stringline.finding import Finding, finding
from stringline.form.correction import Correction, remedy
from stringline.form.tracks import fit_from_as_built
from stringline.job.model import Cover
from stringline.job.readings import AsBuilt
from stringline.judging import Verdict
from stringline.layout.place import lay_out
from surveyed import pool_of, surveyed

BOX = {"1": (0.0, 0.0), "2": (0.0, 12.0), "3": (6.0, 12.0), "4": (6.0, 0.0)}
SYSTEM = make_system()
LAYOUT = lay_out(
    surveyed(BOX),
    pool_of("1", "2", "3", "4"),
    Cover("under-coping", ("1", "4"), "left", 3 * INCH, 12 * INCH),
    SYSTEM,
)
G = LAYOUT.gauge.value
STATIONS = (0.0, 3.0, 6.0, 9.0, 12.0)


def _built(deviations: tuple[float, ...], left: tuple[float, ...] = (), sigma: float = 0.0002) -> AsBuilt:
    return AsBuilt.of(
        gauge=tuple((s, G + d) for s, d in zip(STATIONS, deviations, strict=True)),
        offsets_left=tuple(zip(STATIONS, left or (0.05,) * 5, strict=True)),
        sigma_m=sigma,
    )


def _in_order(way: Correction) -> bool:
    limits = SYSTEM.limits
    worst = max(abs(g.gauge.value - way.gauge.value) for g in way.after.gauge)
    straight = [f.value for f in (way.after.straight_left, way.after.straight_right) if f is not None]
    parallel = way.after.parallel
    assert parallel is not None
    return (
        worst <= limits.gauge_m + 1e-9
        and max(straight) <= limits.straightness_m + 1e-9
        and parallel.value <= limits.parallelism_m + 1e-9
    )


def test_tracks_in_order_need_nothing() -> None:
    found = remedy(_built((0.0, 0.001, 0.0, -0.001, 0.0)), LAYOUT, SYSTEM)
    assert found.out == ()
    assert found.ways == ()
    assert {e.part for e in found.as_is} == {"form.part.cover", "form.part.leading-edge", "form.part.drum"}
    assert {e.verdict for e in found.as_is} == {Verdict.PASS}


def test_one_wide_place_is_moved_there_and_nowhere_else() -> None:
    """The right track stands out 12 mm at the middle: 12 mm less the guarded limits, at that station alone."""
    found = remedy(_built((0.0, 0.0, 0.012, 0.0, 0.0)), LAYOUT, SYSTEM)
    assert set(found.out) == {"form.out.parallel", "form.out.gauge"}
    way = found.ways[0]
    assert [(m.side, m.station_m) for m in way.moves] == [("right", 6.0)]
    # gauge: limit 6 mm less twice 0.2 mm; parallelism: 6 mm less twice √3·0.2 mm
    want = max(0.012 - 0.0056, 0.012 - (0.006 - 2 * math.sqrt(3) * 0.0002))
    assert -way.moves[0].figure.value == pytest.approx(want, abs=1e-7)
    assert way.moves[0].means == finding("form.means.shim")
    assert _in_order(way)
    assert {e.verdict for e in way.effects} == {Verdict.PASS}


def test_an_even_change_of_gauge_is_left_to_the_parts() -> None:
    """20 mm wide all along: the parts take 14 mm of it up and the rest is within the limit, so less is moved."""
    found = remedy(_built((0.020,) * 5), LAYOUT, SYSTEM)
    assert found.out == ("form.out.gauge",)
    least, full = found.ways
    assert (least.title, full.title) == ("form.least-even-gauge", "form.back-to-layout")
    assert least.total_m == pytest.approx(0.0, abs=1e-6)
    assert least.moves == ()
    assert 0.014 <= least.gauge.value - G <= 0.0321
    assert full.total_m == pytest.approx(5 * (0.020 - 0.0056), rel=1e-4)
    assert {m.means for m in full.moves} == {finding("form.means.re-set")}


def test_a_gauge_beyond_the_parts_says_so() -> None:
    found = remedy(_built((0.060,) * 5), LAYOUT, SYSTEM)
    by_part = {e.part: e for e in found.as_is}
    assert by_part["form.part.cover"].verdict is Verdict.FAIL
    assert by_part["form.part.cover"].says == "form.cover-will-not-do"
    edge = by_part["form.part.leading-edge"]
    assert edge.verdict is Verdict.PASS or edge.figure.value > 0.05
    assert len(found.ways) >= 1


@pytest.mark.parametrize("seed", range(10))
def test_nothing_smaller_will_do(seed: int) -> None:
    """Random tracks: the correction keeps every limit, and shrinking all of it by 10 % keeps them no longer."""
    rng = np.random.default_rng(seed)
    built = _built(tuple(rng.normal(0, 0.008, 5)), tuple(rng.normal(0, 0.005, 5)))
    found = remedy(built, LAYOUT, SYSTEM)
    assert found.out
    for way in found.ways:
        assert _in_order(way)
        moves = {(m.side, m.station_m): m.figure.value for m in way.moves}
        assert moves or way.total_m == 0.0
    strict = next(w for w in found.ways if w.title == "form.back-to-layout" or w.total_m > 0.0)
    shrunk = {(m.side, m.station_m): 0.90 * m.figure.value for m in strict.moves}
    gauge = tuple((s, g + shrunk.get(("right", s), 0.0) - shrunk.get(("left", s), 0.0)) for s, g in sorted(built.gauge))
    left = tuple((s, o + shrunk.get(("left", s), 0.0)) for s, o in sorted(built.offsets_left))
    fit = fit_from_as_built(built.but(gauge=gauge, offsets_left=left), LAYOUT)
    assert fit.parallel is not None
    assert fit.straight_left is not None
    off = strict.gauge.value - G
    guarded = 0.0056
    worst = max(abs(g.deviation.value - off) for g in fit.gauge)
    zone = 0.006 - 2 * math.sqrt(3) * 0.0002
    assert worst > guarded - 1e-7 or fit.parallel.value > zone - 1e-7


def test_too_few_gauges_and_too_coarse_readings_are_said() -> None:
    single = AsBuilt.of(gauge=((0.0, G + 0.02),), sigma_m=0.0005)
    found = remedy(single, LAYOUT, SYSTEM)
    assert found.ways == ()
    assert "form.three-stations" in found.notes


def test_a_crooked_housing_is_named_with_its_end() -> None:
    built = _built((0.0,) * 5).but(channel_left_m=12.6, channel_right_m=12.6, diagonals_m=(14.06, 14.03), sigma_m=0.001)
    found = remedy(built, LAYOUT, SYSTEM)
    (note,) = [n for n in found.notes if isinstance(n, Finding)]
    assert (note.code, note.get("side")) == ("form.not-square", "right")


def test_what_wedges_shims_and_the_drum_can_do_is_the_catalogue_s() -> None:
    bent = _built((0.0, 0.0, 0.012, 0.0, 0.0))
    usual = remedy(bent, LAYOUT, SYSTEM).ways[0].moves
    assert {m.means for m in usual} == {
        finding("form.means.wedge" if abs(m.figure.value) <= 0.003 else "form.means.shim") for m in usual
    }
    thick = replace(SYSTEM, wedge=replace(SYSTEM.wedge, shift_m=0.020, shim_m=0.030))
    assert {m.means for m in remedy(bent, LAYOUT, thick).ways[0].moves} == {finding("form.means.wedge")}
    loose = replace(SYSTEM, tolerances=replace(SYSTEM.tolerances, drum_play_m=0.045))
    wide = _built((0.040,) * 5)
    verdicts = [remedy(wide, LAYOUT, s).as_is[-1].verdict for s in (SYSTEM, loose)]
    assert verdicts == [Verdict.FAIL, Verdict.PASS]


def test_readings_without_a_sigma_have_the_catalogue_s() -> None:
    loose = replace(SYSTEM, tolerances=replace(SYSTEM.tolerances, as_built_tape_m=0.004))
    worst = remedy(replace(_built((0.0,) * 5), sigma_m=None), LAYOUT, loose).as_is[0].figure
    assert worst.sigma == 0.004
