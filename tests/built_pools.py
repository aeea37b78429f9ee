"""Pools of known shape: taped with noise, ordered for, built with scatter; what fits and what was promised."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from makers import make_system
from stringline.geometry import Array
from stringline.job.model import Corner, Cover, Pool, SurveyInput
from stringline.job.readings import Tape
from stringline.layout.place import lay_out
from stringline.lengths import Unit, parse
from stringline.ordering.fit_probability import fit_probability, scatter_of
from stringline.survey.result import Survey
from stringline.survey.run import survey
from stringline.system.model import System
from stringline.system.takes_up import takes_up

BINS = ((0.0, 0.7), (0.7, 0.85), (0.85, 0.95), (0.95, 0.985), (0.985, 0.995), (0.995, 1.0))

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
    found = survey(SurveyInput(tuple(tapes), baseline=("A", "B")))
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


def ordered_and_built(seed: int, pools: int, each: int = 100) -> tuple[Array, Array]:
    """Promised probability that all parts fit, and whether they did, for ``pools`` pools built ``each`` times.

    Every time the pool is taped anew, ordered from those readings, and built with the catalogue's tolerances; the
    widths come from a route of their own (:func:`extents`), not from the layout.
    """
    rng = np.random.default_rng(seed)
    said, fits = [], []
    for _ in range(pools):
        xy, system, n = true_points(rng), strict_system(rng), each
        found, sigma = surveyed(xy)
        cover = Cover("under-coping", ("1", "2"), "left", 0.08, 0.3)
        pool = Pool(tuple(Corner(k) for k in NAMES[2:]))
        layout = lay_out(found, pool, cover, system)
        assert layout.gauge.sigma is not None
        assert layout.travel.sigma is not None
        scatter = scatter_of(system, layout.gauge.sigma, layout.travel.sigma)
        said += [fit_probability(scatter, takes_up(system)).all] * n
        measured = xy[2:] + errors_of(xy, sigma, rng.normal(0, 1, (n, len(LINES))) * sigma)[:, 2:]
        true_width, true_length = extents(xy[None, 2:])
        width, length = extents(measured)
        t, room = system.tolerances, takes_up(system)
        run = true_width - width + rng.normal(0, t.gauge_built_m, n)
        places = run + rng.normal(0, t.gauge_form_m, (3, n))
        good = (np.abs(places - rng.normal(0, t.cover_width_made_m, n)) <= room.cover_width_m).all(axis=0)
        good &= np.abs(places.min(axis=0) - rng.normal(0, t.edge_made_m, n)) <= room.leading_edge_m
        good &= np.abs(places[0] - rng.normal(0, t.drum_made_m, n)) <= room.drum_m
        long = true_length - length + rng.normal(0, t.length_built_m, n) - rng.normal(0, t.cover_length_made_m, n)
        fits += list(good & (np.abs(long) <= room.cover_length_m))
    return np.array(said), np.array(fits)
