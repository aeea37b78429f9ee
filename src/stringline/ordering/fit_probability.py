"""May it be ordered yet? How likely what is built stays inside what the ordered parts can take up.

The tracks follow the pool as it stands, so what the survey got wrong comes back when they are built, together with the
builders' own scatter; the parts are made to the survey's figures, with their makers' scatter. Everything is one σ and
normal. At three places along the run (near, middle, far)

    gauge there − gauge ordered = survey error + builders' error of the whole run + error of that place;

the cover's hems must take up every one of them, the leading edge's adjustable ends the smallest, the drum the near one;
the cover's length must take up the error of the travel. The joint probability is one over all of these at once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from stringline.geometry import Array
from stringline.system.model import System
from stringline.system.takes_up import TakesUp
from stringline.worked import Figure, Kind, Origin, Term

PLACES = 3
POINTS = 16384


@dataclass(frozen=True, slots=True)
class Scatter:
    """σ of everything that keeps what is built from what was ordered, metres."""

    survey_gauge: float
    survey_length: float
    built_gauge: float
    form: float
    built_length: float
    cover_width: float
    cover_length: float
    edge: float
    drum: float


@dataclass(frozen=True, slots=True)
class Chance:
    """Probabilities that each part fits, and that all do."""

    cover_width: float
    leading_edge: float
    drum: float
    cover_length: float
    all: float

    def figures(self, scatter: Scatter, room: TakesUp) -> tuple[Figure, ...]:
        """The probabilities as figures with what they are made of."""
        gauge = [
            _derived("σ of the gauge, from the survey", scatter.survey_gauge),
            _practice("σ of the gauge, as builders build", scatter.built_gauge),
            _practice("σ from place to place", scatter.form),
        ]
        length = [
            _derived("σ of the travel, from the survey", scatter.survey_length),
            _practice("σ of the channel, as builders build", scatter.built_length),
            _practice("σ of the cover's length, as made", scatter.cover_length),
            Term("can take up, ±", room.cover_length_m, Origin.CATALOGUE, "catalogue", kind=Kind.LENGTH),
        ]

        def one(label: str, value: float, made: float, takes: float) -> Figure:
            terms = [*gauge, _practice("σ as made", made)]
            terms.append(Term("can take up, ±", takes, Origin.CATALOGUE, "catalogue", kind=Kind.LENGTH))
            return _chance(label, value, terms)

        return (
            one("Cover's width fits", self.cover_width, scatter.cover_width, room.cover_width_m),
            one("Leading edge fits", self.leading_edge, scatter.edge, room.leading_edge_m),
            one("Drum fits", self.drum, scatter.drum, room.drum_m),
            _chance("Cover's length fits", self.cover_length, length),
            _chance("All ordered parts fit", self.all, [*gauge, *length[:3]]),
        )


def _derived(label: str, value: float) -> Term:
    return Term(label, value, Origin.DERIVED, kind=Kind.LENGTH)


def _practice(label: str, value: float) -> Term:
    return Term(label, value, Origin.PRACTICE, "tolerances", kind=Kind.LENGTH)


def _chance(label: str, value: float, terms: list[Term]) -> Figure:
    rule = "share of builds, with all scatter normal, in which the difference stays inside what can be taken up"
    return Figure.by_rule(label, value, rule, terms, kind=Kind.PROBABILITY, source="readiness")


def scatter_of(system: System, survey_gauge_m: float, survey_length_m: float) -> Scatter:
    """The catalogue's tolerances with the survey's σ."""
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


def waited(scatter: Scatter, tape: float) -> Scatter:
    """What is left when the order waits until after the pour: the makers' scatter and that of the as-built readings.

    The gauge is then measured at every place, so neither the survey's nor the builders' error of the whole run counts.
    """
    return replace(scatter, survey_gauge=0.0, built_gauge=0.0, form=tape, survey_length=0.0, built_length=tape)


def chance(scatter: Scatter, room: TakesUp) -> Chance:
    """Probability that everything fits, part by part and together.

    Given the run's own error and the makers' errors the places are independent, so the inner probability is a product
    of normal ones; the outer expectation is taken over an evenly spread sequence of points.
    """
    from scipy.special import ndtr

    run = float(np.hypot(scatter.survey_gauge, scatter.built_gauge))
    length = float(np.sqrt(scatter.survey_length**2 + scatter.built_length**2 + scatter.cover_length**2))
    fits_length = _inside(0.0, length, -room.cover_length_m, room.cover_length_m)
    sigmas = (run, scatter.cover_width, scatter.edge, scatter.drum)
    c, w, e, d = (s * z for s, z in zip(sigmas, _normal(4), strict=True))

    def mass(low: Array, high: Array) -> Array:
        if scatter.form == 0.0:
            return ((low <= 0.0) & (high >= 0.0)).astype(float)
        return np.maximum(0.0, ndtr(high / scatter.form) - ndtr(low / scatter.form))

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
    return Chance(
        float(np.mean(mass(*wide) ** PLACES)),
        float(np.mean(smallest_in(-far, far, -far, far))),
        float(np.mean(mass(*near))),
        fits_length,
        float(np.mean(together)) * fits_length,
    )


def _inside(mean: float, sigma: float, low: float, high: float) -> float:
    from scipy.special import ndtr

    if sigma == 0.0:
        return float(low <= mean <= high)
    return float(ndtr((high - mean) / sigma) - ndtr((low - mean) / sigma))


@cache
def _normal(dimensions: int) -> Array:
    """Standard normal points over an evenly spread sequence, shape (dimensions, POINTS); the same for every order."""
    from scipy.special import ndtri

    return np.asarray(ndtri(_even(dimensions)))


def _even(dimensions: int) -> Array:
    """Points evenly spread in the unit cube, shape (dimensions, POINTS): multiples of irrational steps, modulo one."""
    root = 2.0
    for _ in range(40):  # the root of x^(n+1) = x + 1
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1)
    return np.mod(0.5 + np.outer(steps, np.arange(1, POINTS + 1)), 1.0)
