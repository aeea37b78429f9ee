"""Order now, take one more reading, or wait until after the pour: what each is likely to lead to, and to cost."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from stringline.geometry import Array
from stringline.job.model import Job
from stringline.job.model_later import Ordering
from stringline.layout.result import Layout
from stringline.ordering.fit_probability import Chance, Scatter, chance, scatter_of, waited
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.system.takes_up import TakesUp, takes_up
from stringline.worked import Figure, Kind, Origin, Term

_NO_ROOM_M = 1e-4  # a part that takes up nothing weighs as if it took up this
SURE = 0.99  # practice: an order this likely to fit is placed


@dataclass(frozen=True, slots=True)
class Costs:
    """What the firm entered; None where it did not. Money in whatever the firm counts in."""

    wrong_order: float | None = None
    day: float | None = None
    days_to_wait: float | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to go on: the probability that everything fits, and the cost to expect where costs are known."""

    key: str  # now | reading | wait
    title: str
    chance: Chance
    figures: tuple[Figure, ...]
    cost: Figure | None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Readiness:
    """Choices, the one to take (its key), and why, verdict first."""

    choices: tuple[Choice, ...]
    take: str
    why: str

    def choice(self, key: str) -> Choice:
        """The choice with that key; KeyError where there is none."""
        for c in self.choices:
            if c.key == key:
                return c
        raise KeyError(key)


def readiness(job: Job, system: System, survey: Survey, layout: Layout) -> Readiness:
    """Weigh ordering now against one more reading and against waiting.

    ``[order]`` in the job may say ``wrong_order_cost``, ``day_cost`` and ``days_to_wait``.
    """
    costs = costs_of(job)
    room = takes_up(system)
    now = scatter_of(system, layout.gauge.sigma or 0.0, layout.travel.sigma or 0.0)
    choices = [_choice("now", "Order now", now, room, costs, 0.0)]
    reading = best_reading(job, survey, layout, now, room)
    if reading is not None:
        (a, b), better = reading
        title = f"Take one more reading, {a}–{b}, then order"
        choices.append(_choice("reading", title, better, room, costs, 0.0))
    days = costs.days_to_wait or 0.0
    after = waited(now, system.tolerances.as_built_tape_m)
    choices.append(_choice("wait", "Wait until after the pour, measure, then order", after, room, costs, days))
    take, why = _verdict(choices, costs)
    if survey.suspects:
        worst = survey.suspects[0]
        take = "reading"
        why = (
            f"Not yet: tape {worst.frm}–{worst.to} again. The others contradict it, and the probabilities below "
            "assume that every reading holds."
        )
    return Readiness(tuple(choices), take, why)


def _choice(key: str, title: str, scatter: Scatter, room: TakesUp, costs: Costs, days: float) -> Choice:
    found = chance(scatter, room)
    cost = None
    if costs.wrong_order is not None and (days == 0.0 or costs.day is not None):
        lost = days * (costs.day or 0.0)
        terms = [
            Term("chance of a wrong order times what one costs", (1.0 - found.all) * costs.wrong_order, Origin.DERIVED),
            Term("days lost times what a day costs", lost, Origin.CHOSEN),
        ]
        cost = Figure.sum(f"Cost to expect: {title.lower()}", terms, kind=Kind.RATIO)
    return Choice(key, title, found, found.figures(scatter, room), cost)


def _verdict(choices: list[Choice], costs: Costs) -> tuple[str, str]:
    by = {c.key: c for c in choices}
    now = by["now"].chance.all
    if all(c.cost is not None for c in choices) and costs.wrong_order is not None:
        best = min(choices, key=lambda c: (c.cost.value if c.cost is not None else 0.0, -c.chance.all))
        cost = best.cost.value if best.cost is not None else 0.0
        return best.key, (
            f"{best.title}: the least cost to expect, {cost:.0f}, with {_percent(best.chance.all)} that all parts fit."
        )
    if now >= SURE:
        return "now", f"Order now: {_percent(now)} that all parts fit."
    reading = by.get("reading")
    if reading is not None and reading.chance.all >= SURE:
        return "reading", f"{reading.title}: it raises {_percent(now)} to {_percent(reading.chance.all)}."
    wait = by["wait"].chance.all
    if wait > now + 0.005:
        return "wait", (
            f"Wait: only {_percent(now)} that all parts fit if ordered now, {_percent(wait)} after the pour. "
            f"{_weakest(by['now'].chance)} is the tightest."
        )
    return "now", (
        f"Waiting would not help: {_percent(now)} now, {_percent(wait)} after the pour. "
        f"{_weakest(by['now'].chance)} is the tightest: choose parts that take up more."
    )


def _weakest(found: Chance) -> str:
    parts = {
        "The cover's width": found.cover_width,
        "The leading edge": found.leading_edge,
        "The drum": found.drum,
        "The cover's length": found.cover_length,
    }
    return min(parts, key=lambda k: parts[k])


def _percent(p: float) -> str:
    """A probability as a person would say it, never rounded up to certainty."""
    if p > 0.9995:
        return "over 99.9 %"
    return f"{100 * p:.1f} %" if p > 0.95 else f"{100 * p:.0f} %"


def best_reading(
    job: Job, survey: Survey, layout: Layout, now: Scatter, room: TakesUp
) -> tuple[tuple[str, str], Scatter] | None:
    """The one distance between two known points that would raise the chance most; None where none does.

    Gauge and travel follow the outermost water points in the layout's frame; a distance read again or anew sharpens
    them through the survey's covariance as any least-squares reading does.
    """
    rows = _rows(job, survey, layout)
    if rows is None or len(survey.points) < 2:
        return None
    cov = survey.cov
    before = np.array([row @ cov @ row for row in rows])
    if not (before > 0).all():
        return None
    xy = survey.xy
    i, j = np.triu_indices(len(xy), 1)
    gap = xy[j] - xy[i]
    size = np.hypot(gap[:, 0], gap[:, 1])
    keep = size > 0.3
    if not keep.any():
        return None
    i, j, gap, size = i[keep], j[keep], gap[keep], size[keep]
    a = np.zeros((len(i), cov.shape[0]))
    at = np.arange(len(i))
    for k in range(2):
        a[at, 2 * i + k] = -gap[:, k] / size
        a[at, 2 * j + k] = gap[:, k] / size
    ca = a @ cov
    spread = _tape_sigma(survey, size) ** 2 + np.einsum("ij,ij->i", ca, a)
    after = before[None, :] - (ca @ rows.T) ** 2 / spread[:, None]
    share = np.sqrt(np.clip(after / before, 0.0, 1.0))
    fixed = np.array([p.fixed for p in survey.points])
    share[fixed[i] & fixed[j]] = 1.0
    wide, long = max(room.cover_width_m, _NO_ROOM_M), max(room.cover_length_m, _NO_ROOM_M)
    hope = now.survey_gauge * share[:, 0] / wide + now.survey_length * share[:, 1] / long
    best = int(np.argmin(hope))
    better = replace(
        now,
        survey_gauge=now.survey_gauge * float(share[best, 0]),
        survey_length=now.survey_length * float(share[best, 1]),
    )
    if chance(better, room).all <= chance(now, room).all:
        return None
    return (survey.points[i[best]].name, survey.points[j[best]].name), better


def _rows(job: Job, survey: Survey, layout: Layout) -> Array | None:
    """How gauge and travel move with the survey's coordinates: the outermost water points, across and along."""
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
        return np.full(len(size), 0.003)
    lengths = np.array([t.read_m for t in survey.tapes])
    sigmas = np.array([t.sigma_m for t in survey.tapes])
    nearest: Array = sigmas[np.argmin(np.abs(lengths[None, :] - size[:, None]), axis=1)]
    return nearest


def costs_of(job: Job) -> Costs:
    """What the firm entered in ``[order]``."""
    entered = job.order or Ordering()
    return Costs(entered.wrong_order_cost, entered.day_cost, entered.days_to_wait)
