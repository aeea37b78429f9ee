"""Order readiness: the probabilities against simulation, from tape readings through building; choices and costs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from makers import FOOT, make_job, make_layout, make_system
from stringline.cutting.readiness import Chance, Room, Scatter, chance, room_of, scatter_of, waited
from stringline.cutting.ready import readiness
from stringline.geometry import Array
from stringline.job.model import Corner, Cover, Job, Pool, SurveyInput, Tape
from stringline.layout.place import lay_out
from stringline.lengths import Unit, parse
from stringline.survey.result import Survey
from stringline.survey.run import survey
from stringline.system.model import System

PLAIN = Scatter(0.002, 0.002, 0.005, 0.003, 0.008, 0.004, 0.008, 0.0015, 0.0015)


def simulate(s: Scatter, r: Room, n: int, seed: int) -> tuple[float, ...]:
    """Shares that fit, by drawing everything."""
    rng = np.random.default_rng(seed)
    run = rng.normal(0, s.survey_gauge, n) + rng.normal(0, s.built_gauge, n)
    places = run + rng.normal(0, s.form, (3, n))
    width = (np.abs(places - rng.normal(0, s.cover_width, n)) <= r.width).all(axis=0)
    edge = np.abs(places.min(axis=0) - rng.normal(0, s.edge, n)) <= r.edge
    drum = np.abs(places[0] - rng.normal(0, s.drum, n)) <= r.drum
    long = rng.normal(0, s.survey_length, n) + rng.normal(0, s.built_length, n) - rng.normal(0, s.cover_length, n)
    length = np.abs(long) <= r.length
    return tuple(float(np.mean(x)) for x in (width, edge, drum, length, width & edge & drum & length))


@pytest.mark.parametrize(
    "room", [Room(0.019, 0.02, 0.015, 0.02), Room(0.008, 0.009, 0.006, 0.01), Room(0.03, 0.012, 0.05, 0.05)]
)
def test_probabilities_agree_with_drawing_everything(room: Room) -> None:
    n = 200_000
    found = chance(PLAIN, room)
    expected = simulate(PLAIN, room, n, 8)
    ours = (found.cover_width, found.leading_edge, found.drum, found.cover_length, found.all)
    for p, q in zip(ours, expected, strict=True):
        assert abs(p - q) < 4.0 * np.sqrt(q * (1 - q) / n) + 3e-4


def test_what_cannot_stray_fits_for_certain_and_less_room_is_less_likely() -> None:
    still = Scatter(0, 0, 0, 0, 0, 0, 0, 0, 0)
    assert chance(still, Room(0.01, 0.01, 0.01, 0.01)) == Chance(1.0, 1.0, 1.0, 1.0, 1.0)
    wide, tight = (chance(PLAIN, Room(w, w, w, w)).all for w in (0.02, 0.01))
    assert tight < wide
    assert chance(waited(PLAIN, 0.0015), Room(0.01, 0.01, 0.01, 0.01)).all > tight


NAMES = ("A", "B", "1", "2", "3", "4")
LINES = [(0, 1), *((a, k) for a in (0, 1) for k in range(2, 6)), (2, 3), (3, 4), (4, 5), (5, 2), (2, 4), (3, 5)]


def true_points(rng: np.random.Generator) -> Array:
    """A baseline and a pool that is a rectangle to within its builder's centimetres; housing along 1–2."""
    across, along = rng.uniform(4.0, 6.0), rng.uniform(8.0, 12.0)
    corners = np.array([[1.0, 1.5], [1.0 + across, 1.5], [1.0 + across, 1.5 + along], [1.0, 1.5 + along]])
    corners += rng.normal(0.0, 0.02, (4, 2))
    return np.vstack([[0.0, 0.0], [across + 2.0, 0.0], corners])


def surveyed(xy: Array) -> tuple[Survey, Array]:
    """The survey of these points with readings that happen to be right, and the σ of each line."""
    tapes = [Tape(NAMES[i], NAMES[j], parse(f"{np.hypot(*(xy[j] - xy[i])):.6f} m", Unit.M)) for i, j in LINES]
    found = survey(SurveyInput(tuple(tapes), baseline=("A", "B")), Unit.M)
    return found, np.array([t.sigma_m for t in found.tapes])


def errors_of(xy: Array, sigma: Array, noise: Array) -> Array:
    """Coordinate errors (n, 6, 2) that weighted least squares makes of reading errors (n, lines); design of its own."""
    design = np.zeros((len(LINES), 12))
    for k, (i, j) in enumerate(LINES):
        step = (xy[j] - xy[i]) / np.hypot(*(xy[j] - xy[i]))
        design[k, 2 * i : 2 * i + 2], design[k, 2 * j : 2 * j + 2] = -step, step
    free = [2, *range(4, 12)]  # A is the origin and B on the x axis
    out = np.zeros((len(noise), 12))
    out[:, free] = np.linalg.lstsq(design[:, free] / sigma[:, None], (noise / sigma).T, rcond=None)[0].T
    return out.reshape(len(noise), 6, 2)


def extents(corners: Array) -> tuple[Array, Array]:
    """Width and length (n,) of the smallest rectangle round four corners (n, 4, 2), trying each edge's direction."""
    best = np.full(len(corners), np.inf)
    width, length = np.zeros(len(corners)), np.zeros(len(corners))
    for k in range(4):
        along = corners[:, (k + 1) % 4] - corners[:, k]
        along /= np.hypot(along[:, 0], along[:, 1])[:, None]
        u = np.einsum("nij,nj->ni", corners, along)
        v = np.einsum("nij,nj->ni", corners, np.stack([-along[:, 1], along[:, 0]], axis=1))
        a, b = np.ptp(u, axis=1), np.ptp(v, axis=1)
        if k % 2:
            a, b = b, a
        better = a * b < best
        best, width, length = np.where(better, a * b, best), np.where(better, a, width), np.where(better, b, length)
    return width, length


def strict_system(rng: np.random.Generator) -> System:
    """A catalogue whose parts take up little, so that orders fail often enough to be counted."""
    system = make_system()
    take = rng.uniform(0.012, 0.034)
    return replace(
        system,
        fabric=replace(system.fabric, width_take_up_m=take, length_take_up_m=take * rng.uniform(1.0, 2.0)),
        leading_edge=replace(system.leading_edge, adjust_m=take * rng.uniform(0.4, 0.8)),
        tolerances=replace(system.tolerances, drum_play_m=take * rng.uniform(0.9, 1.3)),
    )


def test_orders_fit_as_often_as_they_are_said_to() -> None:
    """20,000 pools taped, laid out and built: in every bin the share that fits lies in its 95 % binomial band."""
    rng = np.random.default_rng(2026)
    said, fits = [], []
    for _ in range(200):
        xy, system, n = true_points(rng), strict_system(rng), 100
        found, sigma = surveyed(xy)
        cover = Cover("under-coping", ("1", "2"), "left", 0.08, 0.3)
        pool = Pool(tuple(Corner(k) for k in NAMES[2:]))
        layout = lay_out(found, pool, cover, system, Unit.M)
        assert layout.gauge.sigma is not None
        assert layout.travel.sigma is not None
        scatter = scatter_of(system, layout.gauge.sigma, layout.travel.sigma)
        said += [chance(scatter, room_of(system)).all] * n
        measured = xy[2:] + errors_of(xy, sigma, rng.normal(0, 1, (n, len(LINES))) * sigma)[:, 2:]
        true_width, true_length = extents(xy[None, 2:])
        width, length = extents(measured)
        t, room = system.tolerances, room_of(system)
        run = true_width - width + rng.normal(0, t.gauge_built_m, n)
        places = run + rng.normal(0, t.gauge_form_m, (3, n))
        good = (np.abs(places - rng.normal(0, t.cover_width_made_m, n)) <= room.width).all(axis=0)
        good &= np.abs(places.min(axis=0) - rng.normal(0, t.edge_made_m, n)) <= room.edge
        good &= np.abs(places[0] - rng.normal(0, t.drum_made_m, n)) <= room.drum
        long = true_length - length + rng.normal(0, t.length_built_m, n) - rng.normal(0, t.cover_length_made_m, n)
        fits += list(good & (np.abs(long) <= room.length))
    p, ok = np.array(said), np.array(fits)
    assert len(p) == 20_000
    for low, high in ((0.0, 0.7), (0.7, 0.85), (0.85, 0.95), (0.95, 0.985), (0.985, 0.995), (0.995, 1.0)):
        inside = (p > low) & (p <= high)
        assert inside.sum() >= 400, (low, high)
        mean = float(p[inside].mean())
        band = 1.96 * np.sqrt(mean * (1 - mean) / inside.sum())
        share = float(ok[inside].mean())
        assert abs(share - mean) <= band, f"{low}–{high}: said {mean:.4f}, seen {share:.4f} ± {band:.4f}"


def job_of(xy: Array, **order: float) -> tuple[Job, Survey]:
    found, _ = surveyed(xy)
    job = replace(
        make_job(), unit=Unit.M, pool=Pool(tuple(Corner(k) for k in NAMES[2:])), other={"order": order} if order else {}
    )
    return job, found


def test_the_choice_follows_the_chances_and_the_costs() -> None:
    xy = true_points(np.random.default_rng(1))
    job, found = job_of(xy)
    layout = make_layout()
    easy = readiness(job, make_system(), found, layout)
    assert easy.take == "now"
    assert easy.why.startswith("Order now")
    system = make_system()
    strict = replace(system, fabric=replace(system.fabric, width_take_up_m=0.011))
    hard = readiness(job, strict, found, layout)
    assert hard.take == "wait"
    assert "cover's width" in hard.why
    assert hard.choice("wait").chance.all > hard.choice("now").chance.all
    cheap, _ = job_of(xy, wrong_order_cost=1000, day_cost=500, days_to_wait=14)
    assert readiness(cheap, strict, found, layout).take in ("now", "reading")
    dear, _ = job_of(xy, wrong_order_cost=100_000, day_cost=50, days_to_wait=14)
    assert readiness(dear, strict, found, layout).take == "wait"


def test_one_more_reading_helps_where_the_survey_is_what_is_weak() -> None:
    xy = true_points(np.random.default_rng(4))
    job, found = job_of(xy)
    layout = make_layout()
    loose = replace(layout, gauge=replace(layout.gauge, sigma=0.012), travel=replace(layout.travel, sigma=0.012))
    system = make_system()
    strict = replace(system, fabric=replace(system.fabric, width_take_up_m=0.025))
    weighed = readiness(job, strict, found, loose)
    assert weighed.choice("reading").chance.all > weighed.choice("now").chance.all + 0.01
    assert "–" in weighed.choice("reading").title


def test_a_contradicted_reading_comes_before_any_order() -> None:
    xy = true_points(np.random.default_rng(4))
    job, _ = job_of(xy)
    tapes = [Tape(NAMES[i], NAMES[j], parse(f"{np.hypot(*(xy[j] - xy[i])):.6f} m", Unit.M)) for i, j in LINES]
    tapes[-1] = replace(tapes[-1], length=parse(f"{tapes[-1].length.m + FOOT:.6f} m", Unit.M))
    found = survey(SurveyInput(tuple(tapes), baseline=("A", "B")), Unit.M)
    assert found.suspects
    assert readiness(job, make_system(), found, make_layout()).why.startswith("Not yet: tape 2–4 again")


def test_costs_that_are_no_numbers_are_noted() -> None:
    xy = true_points(np.random.default_rng(4))
    job, found = job_of(xy)
    odd = replace(job, other={"order": {"wrong_order_cost": "a lot", "day_cost": -3}})
    assert len(readiness(odd, make_system(), found, make_layout()).notes) == 2
