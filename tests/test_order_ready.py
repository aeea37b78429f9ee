"""Order advice: the probabilities against simulation, from tape readings through building; choices and costs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from built_pools import BINS, LINES, NAMES, ordered_and_built, surveyed, true_points
from makers import FOOT, make_job, make_layout, make_system
from spoken import said
from stringline.finding import code_of, finding
from stringline.geometry import Array
from stringline.job.model import Corner, Job, Pool, SurveyInput
from stringline.job.model_later import Ordering
from stringline.job.readings import Tape
from stringline.lengths import Unit, parse
from stringline.ordering.advice import advise
from stringline.ordering.fit_probability import Scatter, fit_probability, waited
from stringline.ordering.result import FitProbability
from stringline.survey.result import Survey
from stringline.survey.run import survey
from stringline.system.takes_up import TakesUp

PLAIN = Scatter(0.002, 0.002, 0.005, 0.003, 0.008, 0.004, 0.008, 0.0015, 0.0015)


def simulate(s: Scatter, r: TakesUp, n: int, seed: int) -> tuple[float, ...]:
    """Shares that fit, by drawing everything."""
    rng = np.random.default_rng(seed)
    run = rng.normal(0, s.survey_gauge_m, n) + rng.normal(0, s.built_gauge_m, n)
    places = run + rng.normal(0, s.form_m, (3, n))
    width = (np.abs(places - rng.normal(0, s.cover_width_m, n)) <= r.cover_width_m).all(axis=0)
    edge = np.abs(places.min(axis=0) - rng.normal(0, s.edge_m, n)) <= r.leading_edge_m
    drum = np.abs(places[0] - rng.normal(0, s.drum_m, n)) <= r.drum_m
    long = rng.normal(0, s.survey_length_m, n) + rng.normal(0, s.built_length_m, n) - rng.normal(0, s.cover_length_m, n)
    length = np.abs(long) <= r.cover_length_m
    return tuple(float(np.mean(x)) for x in (width, edge, drum, length, width & edge & drum & length))


@pytest.mark.parametrize(
    "room", [TakesUp(0.019, 0.02, 0.015, 0.02), TakesUp(0.008, 0.009, 0.006, 0.01), TakesUp(0.03, 0.012, 0.05, 0.05)]
)
def test_probabilities_agree_with_drawing_everything(room: TakesUp) -> None:
    n = 200_000
    found = fit_probability(PLAIN, room)
    expected = simulate(PLAIN, room, n, 8)
    ours = (found.cover_width, found.leading_edge, found.drum, found.cover_length, found.all)
    for p, q in zip(ours, expected, strict=True):
        assert abs(p - q) < 4.0 * np.sqrt(q * (1 - q) / n) + 3e-4


def test_what_cannot_stray_fits_for_certain_and_less_room_is_less_likely() -> None:
    still = Scatter(0, 0, 0, 0, 0, 0, 0, 0, 0)
    assert fit_probability(still, TakesUp(0.01, 0.01, 0.01, 0.01)) == FitProbability(1.0, 1.0, 1.0, 1.0, 1.0)
    wide, tight = (fit_probability(PLAIN, TakesUp(w, w, w, w)).all for w in (0.02, 0.01))
    assert tight < wide
    assert fit_probability(waited(PLAIN, 0.0015), TakesUp(0.01, 0.01, 0.01, 0.01)).all > tight


def test_orders_fit_as_often_as_they_are_said_to() -> None:
    """20,000 pools taped, laid out and built: in every bin the share that fits lies in its 95 % binomial band."""
    p, ok = ordered_and_built(seed=2026, pools=200)
    assert len(p) == 20_000
    for low, high in BINS:
        inside = (p > low) & (p <= high)
        assert inside.sum() >= 400, (low, high)
        mean = float(p[inside].mean())
        band = 1.96 * np.sqrt(mean * (1 - mean) / inside.sum())
        share = float(ok[inside].mean())
        assert abs(share - mean) <= band, f"{low}–{high}: said {mean:.4f}, seen {share:.4f} ± {band:.4f}"


def job_of(xy: Array, order: Ordering | None = None) -> tuple[Job, Survey]:
    found, _ = surveyed(xy)
    job = replace(
        make_job(),
        unit=Unit.M,
        pool=Pool(tuple(Corner(k) for k in NAMES[2:])),
        order=order,
    )
    return job, found


def test_the_choice_follows_the_chances_and_the_costs() -> None:
    xy = true_points(np.random.default_rng(1))
    job, found = job_of(xy)
    layout = make_layout()
    easy = advise(job, make_system(), found, layout)
    assert easy.take == "now"
    assert code_of(easy.why) == "ordering.sure-now"
    system = make_system()
    strict = replace(system, fabric=replace(system.fabric, width_take_up_m=0.011))
    hard = advise(job, strict, found, layout)
    assert hard.take == "wait"
    assert code_of(hard.why) == "ordering.wait-helps"
    assert said(hard.why).endswith("The cover's width is the tightest.")
    assert hard.choice("wait").fit.all > hard.choice("now").fit.all
    cheap, _ = job_of(xy, Ordering(wrong_order_cost=1000, day_cost=500, days_to_wait=14))
    assert advise(cheap, strict, found, layout).take in ("now", "reading")
    dear, _ = job_of(xy, Ordering(wrong_order_cost=100_000, day_cost=50, days_to_wait=14))
    assert advise(dear, strict, found, layout).take == "wait"


def test_one_more_reading_helps_where_the_survey_is_what_is_weak() -> None:
    xy = true_points(np.random.default_rng(4))
    job, found = job_of(xy)
    layout = make_layout()
    loose = replace(layout, gauge=replace(layout.gauge, sigma=0.012), travel=replace(layout.travel, sigma=0.012))
    system = make_system()
    strict = replace(system, fabric=replace(system.fabric, width_take_up_m=0.025))
    weighed = advise(job, strict, found, loose)
    assert weighed.choice("reading").fit.all > weighed.choice("now").fit.all + 0.01
    assert code_of(weighed.choice("reading").title) == "ordering.reading"


def test_a_contradicted_reading_comes_before_any_order() -> None:
    xy = true_points(np.random.default_rng(4))
    job, _ = job_of(xy)
    tapes = [Tape(NAMES[i], NAMES[j], parse(f"{np.hypot(*(xy[j] - xy[i])):.6f} m", Unit.M)) for i, j in LINES]
    tapes[-1] = replace(tapes[-1], length=parse(f"{tapes[-1].length.m + FOOT:.6f} m", Unit.M))
    found = survey(SurveyInput(tuple(tapes), baseline=("A", "B")))
    assert found.suspects
    assert advise(job, make_system(), found, make_layout()).why == finding("ordering.contradicted", frm="2", to="4")
