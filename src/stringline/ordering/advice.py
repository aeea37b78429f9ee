"""Order now, take one more reading, or wait until after the pour: what each is likely to lead to, and to cost."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stringline.finding import Code, finding, nested
from stringline.geometry import Array
from stringline.job.model import Job
from stringline.job.model_later import Ordering
from stringline.layout.result import Layout
from stringline.ordering.fit_probability import Scatter, figures_of, fit_probability, scatter_of, waited
from stringline.ordering.result import Advice, Choice, FitProbability
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.system.takes_up import TakesUp, takes_up
from stringline.worked import Figure, Kind, Origin, Term

_Indices = NDArray[np.intp]
_NO_ROOM_M = 1e-4  # a part that takes up nothing weighs as if it took up this
_SHORTEST_M = 0.3  # practice: no closer are two points taped to learn anything of a pool
_USUAL_SIGMA_M = 0.003  # practice: of a tape in a survey that was given as coordinates, without one reading
_HELPS = 0.005  # practice: waiting that raises the probability by less is not worth the wait
SURE = 0.99  # practice: an order this likely to fit is placed


def advise(job: Job, system: System, survey: Survey, layout: Layout) -> Advice:
    """Weigh ordering now against one more reading and against waiting.

    With the costs that ``[order]`` may hold, the choice of least cost to expect is taken; without, the first that is
    :data:`SURE` to fit, and waiting where it helps. A contradicted reading comes before all of them, for the
    probabilities hold only if every reading does.
    """
    costs = job.order or Ordering()
    room = takes_up(system)
    now = scatter_of(system, layout.gauge.sigma or 0.0, layout.travel.sigma or 0.0)
    choices = [_choice("now", "ordering.now", now, room, costs, 0.0)]
    reading = best_reading(job, survey, layout, now, room)
    if reading is not None:
        (a, b), better = reading
        taken = _choice("reading", finding("ordering.reading", frm=a, to=b), better, room, costs, 0.0)
        if taken.fit.all > choices[0].fit.all:
            choices.append(taken)
    days = costs.days_to_wait or 0.0
    after = waited(now, system.tolerances.as_built_tape_m)
    choices.append(_choice("wait", "ordering.wait", after, room, costs, days))
    take, why = _verdict(choices, costs)
    if survey.suspects:
        worst = survey.suspects[0]
        take, why = "reading", finding("ordering.contradicted", frm=worst.frm, to=worst.to)
    return Advice(tuple(choices), take, why)


def expected_cost(title: Code, all_fit: float, costs: Ordering, days: float) -> Figure | None:
    """Cost to expect of one way to go on, in whatever the firm counts in; None where the job states too little.

        (1 - P(all fit)) * wrong_order_cost + days * day_cost

    >>> costs = Ordering(wrong_order_cost=9000.0, day_cost=400.0)
    >>> cost = expected_cost("ordering.wait", 0.98, costs, 10.0)
    >>> None if cost is None else round(cost.value)
    4180
    """
    if costs.wrong_order_cost is None or (days != 0.0 and costs.day_cost is None):
        return None
    terms = [
        Term("ordering.wrong-order-times-cost", (1.0 - all_fit) * costs.wrong_order_cost, Origin.DERIVED),
        Term("ordering.days-times-cost", days * (costs.day_cost or 0.0), Origin.CHOSEN),
    ]
    return Figure.sum(finding("ordering.cost", choice=nested(title)), terms, kind=Kind.RATIO)


def _choice(key: str, title: Code, scatter: Scatter, room: TakesUp, costs: Ordering, days: float) -> Choice:
    fit = fit_probability(scatter, room)
    return Choice(key, title, fit, figures_of(fit, scatter, room), expected_cost(title, fit.all, costs, days))


def _verdict(choices: list[Choice], costs: Ordering) -> tuple[str, Code]:
    by = {c.key: c for c in choices}
    now = by["now"].fit.all
    priced = [(c.cost.value, -c.fit.all, c) for c in choices if c.cost is not None]
    if len(priced) == len(choices) and costs.wrong_order_cost is not None:
        cost, _, best = min(priced, key=lambda p: p[:2])
        return best.key, finding("ordering.least-cost", choice=nested(best.title), cost=cost, fit_share=best.fit.all)
    if now >= SURE:
        return "now", finding("ordering.sure-now", now_share=now)
    reading = by.get("reading")
    if reading is not None and reading.fit.all >= SURE:
        title, then = nested(reading.title), reading.fit.all
        return "reading", finding("ordering.reading-raises", choice=title, now_share=now, then_share=then)
    wait = by["wait"].fit.all
    helps = wait > now + _HELPS
    code = "ordering.wait-helps" if helps else "ordering.wait-no-help"
    tightest = nested(_tightest(by["now"].fit))
    return "wait" if helps else "now", finding(code, now_share=now, wait_share=wait, tightest=tightest)


def _tightest(fit: FitProbability) -> Code:
    parts = {
        "ordering.tight-width": fit.cover_width,
        "ordering.tight-edge": fit.leading_edge,
        "ordering.tight-drum": fit.drum,
        "ordering.tight-length": fit.cover_length,
    }
    return min(parts, key=lambda k: parts[k])


def best_reading(
    job: Job, survey: Survey, layout: Layout, now: Scatter, room: TakesUp
) -> tuple[tuple[str, str], Scatter] | None:
    """The one distance between two known points that would sharpen gauge and travel most; None where there is none.

    Gauge and travel follow the outermost water points in the layout's frame. A distance with design row a and σ s,
    read again or anew, sharpens a quantity of row g through the survey's covariance C as any least-squares reading does
    (Kalman's update for one observation):

        var' = g C gᵀ - (g C aᵀ)² / (s² + a C aᵀ).

    Gives the two names, and the scatter once it is taped. Distances under 0.3 m are not offered.
    """
    rows = _rows(job, survey, layout)
    if rows is None or len(survey.points) < 2:
        return None
    i, j = np.triu_indices(len(survey.points), 1)
    gap = survey.xy[j] - survey.xy[i]
    keep = np.hypot(gap[:, 0], gap[:, 1]) > _SHORTEST_M
    if not keep.any() or not (np.einsum("ij,jk,ik->i", rows, survey.cov, rows) > 0).all():
        return None
    i, j = i[keep], j[keep]
    share = _sharpened(survey, rows, i, j)
    wide, long = max(room.cover_width_m, _NO_ROOM_M), max(room.cover_length_m, _NO_ROOM_M)
    hope = now.survey_gauge_m * share[:, 0] / wide + now.survey_length_m * share[:, 1] / long
    best = int(np.argmin(hope))
    better = replace(
        now,
        survey_gauge_m=now.survey_gauge_m * float(share[best, 0]),
        survey_length_m=now.survey_length_m * float(share[best, 1]),
    )
    return (survey.points[i[best]].name, survey.points[j[best]].name), better


def _sharpened(survey: Survey, rows: Array, i: _Indices, j: _Indices) -> Array:
    """Share of its σ that each quantity keeps once the distance i-j is taped, shape (distances, quantities)."""
    gap = survey.xy[j] - survey.xy[i]
    size = np.hypot(gap[:, 0], gap[:, 1])
    a = np.zeros((len(i), survey.cov.shape[0]))
    at = np.arange(len(i))
    for k in range(2):
        a[at, 2 * i + k] = -gap[:, k] / size
        a[at, 2 * j + k] = gap[:, k] / size
    ca = a @ survey.cov
    before = np.array([row @ survey.cov @ row for row in rows])
    spread = _tape_sigma(survey, size) ** 2 + np.einsum("ij,ij->i", ca, a)
    after = before[None, :] - (ca @ rows.T) ** 2 / spread[:, None]
    share: Array = np.sqrt(np.clip(after / before, 0.0, 1.0))
    fixed = np.array([p.fixed for p in survey.points])
    share[fixed[i] & fixed[j]] = 1.0
    return share


def _rows(job: Job, survey: Survey, layout: Layout) -> Array | None:
    """How gauge and travel move with the survey's coordinates (x, y, x, y, …): the outermost water points, across and
    along the cover; shape (2, coordinates). None without a pool or with fewer than two of its points surveyed."""
    if job.pool is None:
        return None
    names = [c.point for c in job.pool.water if c.point in survey.index]
    if len(names) < 2:
        return None
    us = layout.frame.from_survey(np.array([survey.at(n) for n in names]))
    along = np.array([np.cos(layout.frame.heading_rad), np.sin(layout.frame.heading_rad)])
    across = np.array([along[1], -along[0]])
    rows = np.zeros((2, survey.cov.shape[0]))
    for k, axis in enumerate((across, along)):
        for sign, which in ((1.0, int(np.argmax(us[:, k]))), (-1.0, int(np.argmin(us[:, k])))):
            first = 2 * survey.index[names[which]]
            rows[k, first : first + 2] += sign * axis
    return rows


def _tape_sigma(survey: Survey, size: Array) -> Array:
    """σ of a reading of each size: that of the reading nearest to it in length."""
    if not survey.tapes:
        return np.full(len(size), _USUAL_SIGMA_M)
    lengths = np.array([t.read_m for t in survey.tapes])
    sigmas = np.array([t.sigma_m for t in survey.tapes])
    nearest: Array = sigmas[np.argmin(np.abs(lengths[None, :] - size[:, None]), axis=1)]
    return nearest
