"""May it be ordered yet? How likely what is built stays inside what the ordered parts can take up.

The tracks follow the pool as it stands, so what the survey got wrong comes back when they are built, together with the
builders' own scatter; the parts are made to the survey's figures, with their makers' scatter. Everything is one σ and
normal. At three places along the run (near, middle, far)

    gauge there - gauge ordered = survey error + builders' error of the whole run + error of that place;

the cover's hems must take up every one of them, the leading edge's adjustable ends the smallest, the drum the near one;
the cover's length must take up the error of the travel. The joint probability is one over all of these at once.

The σ of builders and makers are the catalogue's, practice where it is silent (source ``tolerances``). How well the
promise is kept is measured on simulated pools that share these σ: docs/readiness.md.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from stringline.finding import Code
from stringline.geometry import Array
from stringline.ordering.result import FitProbability
from stringline.probability import normal_below, normal_quantile
from stringline.system.model import System
from stringline.system.takes_up import TakesUp
from stringline.worked import Figure, Kind, Origin, Term

PLACES = 3  # near, middle, far
POINTS = 16384  # of the outer expectation: its error is then under 3e-4


@dataclass(frozen=True, slots=True)
class Scatter:
    """σ of everything that keeps what is built from what was ordered, metres."""

    survey_gauge_m: float
    survey_length_m: float
    built_gauge_m: float
    form_m: float  # from place to place along the run
    built_length_m: float
    cover_width_m: float
    cover_length_m: float
    edge_m: float
    drum_m: float


def figures_of(fit: FitProbability, scatter: Scatter, room: TakesUp) -> tuple[Figure, ...]:
    """The probabilities as figures with what they are made of: width, leading edge, drum, length, and all."""
    gauge = [
        Term("ordering.survey-gauge", scatter.survey_gauge_m, Origin.DERIVED, kind=Kind.LENGTH),
        _practice("ordering.built-gauge", scatter.built_gauge_m),
        _practice("ordering.place-to-place", scatter.form_m),
    ]
    length = [
        Term("ordering.survey-travel", scatter.survey_length_m, Origin.DERIVED, kind=Kind.LENGTH),
        _practice("ordering.built-channel", scatter.built_length_m),
        _practice("ordering.made-length", scatter.cover_length_m),
    ]

    def across(label: Code, value: float, made_m: float, room_m: float) -> Figure:
        return _probability(label, value, [*gauge, _practice("ordering.as-made", made_m), _takes_up(room_m)])

    return (
        across("ordering.width-fits", fit.cover_width, scatter.cover_width_m, room.cover_width_m),
        across("ordering.edge-fits", fit.leading_edge, scatter.edge_m, room.leading_edge_m),
        across("ordering.drum-fits", fit.drum, scatter.drum_m, room.drum_m),
        _probability("ordering.length-fits", fit.cover_length, [*length, _takes_up(room.cover_length_m)]),
        _probability("ordering.all-fit", fit.all, [*gauge, *length]),
    )


def _practice(label: Code, sigma_m: float) -> Term:
    return Term(label, sigma_m, Origin.PRACTICE, "tolerances", kind=Kind.LENGTH)


def _takes_up(room_m: float) -> Term:
    return Term("ordering.takes-up", room_m, Origin.CATALOGUE, "catalogue", kind=Kind.LENGTH)


def _probability(label: Code, value: float, terms: list[Term]) -> Figure:
    return Figure.by_rule(label, value, "ordering.rule-fit", terms, kind=Kind.PROBABILITY, source="readiness")


def scatter_of(system: System, survey_gauge_m: float, survey_length_m: float) -> Scatter:
    """The catalogue's tolerances with the survey's σ of gauge and travel."""
    t = system.tolerances
    return Scatter(
        survey_gauge_m,
        survey_length_m,
        t.gauge_built_m,
        t.gauge_form_m,
        t.length_built_m,
        t.cover_width_made_m,
        t.cover_length_made_m,
        t.edge_made_m,
        t.drum_made_m,
    )


def waited(scatter: Scatter, tape_m: float) -> Scatter:
    """What is left when the order waits until after the pour: the makers' scatter and that of the as-built readings.

    The gauge is then measured at every place, so neither the survey's nor the builders' error of the whole run counts.
    ``tape_m`` is the σ of such a reading.

    >>> waited(Scatter(0.002, 0.002, 0.005, 0.003, 0.008, 0.004, 0.008, 0.0015, 0.0015), 0.001).form_m
    0.001
    """
    no_longer = {"survey_gauge_m": 0.0, "built_gauge_m": 0.0, "survey_length_m": 0.0}
    return replace(scatter, **no_longer, form_m=tape_m, built_length_m=tape_m)


def fit_probability(scatter: Scatter, room: TakesUp) -> FitProbability:
    """Probability that everything fits, part by part and together.

    Given the run's own error c and the makers' errors w (cover), e (edge), d (drum) the places are independent, so the
    inner probability is a product of normal ones, with W, E, D the rooms of hems, adjustable ends and drum:

        all three places in [w - W - c, w + W - c], the smallest in [e - E - c, e + E - c], the near one in
        [d - D - c, d + D - c];

    the outer expectation over c, w, e, d is taken over an evenly spread sequence of points. The cover's length stands
    apart: P(|N(0, survey² + channel² + making²)| <= room). Any σ may be 0; nothing is certain but what cannot stray.

    >>> usual = Scatter(0.002, 0.002, 0.005, 0.003, 0.008, 0.004, 0.008, 0.0015, 0.0015)
    >>> wide, tight = TakesUp(0.019, 0.02, 0.015, 0.02), TakesUp(0.008, 0.009, 0.006, 0.01)
    >>> f"{fit_probability(usual, wide).all:.2f} {fit_probability(usual, tight).all:.2f}"
    '0.89 0.27'
    """
    run = float(np.hypot(scatter.survey_gauge_m, scatter.built_gauge_m))
    length = float(np.sqrt(scatter.survey_length_m**2 + scatter.built_length_m**2 + scatter.cover_length_m**2))
    fits_length = _inside(0.0, length, -room.cover_length_m, room.cover_length_m)
    sigmas = (run, scatter.cover_width_m, scatter.edge_m, scatter.drum_m)
    c, w, e, d = (s * z for s, z in zip(sigmas, _normal(4), strict=True))

    def mass(low: Array, high: Array) -> Array:
        if scatter.form_m == 0.0:
            return ((low <= 0.0) & (high >= 0.0)).astype(float)
        return np.maximum(0.0, normal_below(high / scatter.form_m) - normal_below(low / scatter.form_m))

    wide = (w - room.cover_width_m - c, w + room.cover_width_m - c)
    edge = (e - room.leading_edge_m - c, e + room.leading_edge_m - c)
    near = (d - room.drum_m - c, d + room.drum_m - c)
    far = np.full_like(c, 1e3)

    def all_above(low: Array, high: Array, first_low: Array, first_high: Array) -> Array:
        first = mass(np.maximum(low, first_low), np.minimum(high, first_high))
        return first * mass(low, high) ** (PLACES - 1)

    def smallest_in(low: Array, high: Array, first_low: Array, first_high: Array) -> Array:
        """All places between the limits, the smallest of them where the leading edge reaches."""
        at_least = all_above(np.maximum(low, edge[0]), high, first_low, first_high)
        beyond = all_above(np.maximum(low, edge[1]), high, first_low, first_high)
        return np.maximum(0.0, at_least - beyond)

    together = smallest_in(wide[0], wide[1], near[0], near[1])
    return FitProbability(
        float(np.mean(mass(*wide) ** PLACES)),
        float(np.mean(smallest_in(-far, far, -far, far))),
        float(np.mean(mass(*near))),
        fits_length,
        float(np.mean(together)) * fits_length,
    )


def _inside(mean: float, sigma: float, low: float, high: float) -> float:
    if sigma == 0.0:
        return float(low <= mean <= high)
    return float(normal_below((high - mean) / sigma) - normal_below((low - mean) / sigma))


@cache
def _normal(dimensions: int) -> Array:
    """Standard normal points over an evenly spread sequence, shape (dimensions, POINTS); the same for every order."""
    return np.asarray(normal_quantile(_even(dimensions)))


def _even(dimensions: int) -> Array:
    """Points evenly spread in the unit cube, shape (dimensions, POINTS): multiples of irrational steps, modulo one.

    The steps are powers of the root of x^(n+1) = x + 1 for n dimensions (from memory).
    """
    root = 2.0
    for _ in range(40):  # the root of x^(n+1) = x + 1
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1)
    return np.mod(0.5 + np.outer(steps, np.arange(1, POINTS + 1)), 1.0)
