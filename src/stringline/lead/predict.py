"""The lead to expect before the cover has run, and the card to compare it on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from stringline.finding import Code, finding, nested
from stringline.job.readings import Run, aside
from stringline.layout.result import Layout
from stringline.lead.result import CardRow, LeadPrediction, Share
from stringline.lead.tolerances import Bounds, Spread, Tolerance, halved, spread, usual
from stringline.mechanics import run_state
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.forces import Drag
from stringline.mechanics.machine import Machine, machine_of
from stringline.mechanics.travel import lead_run
from stringline.system.model import System
from stringline.worked import Figure, Kind, Origin, Term

SEED = 20_251
CARD_STATIONS = 7


def predict_lead(
    system: System,
    layout: Layout,
    *,
    rng: np.random.Generator | None = None,
    samples: int = 4096,
    stations: int = 60,
    tolerances: Sequence[Tolerance] | None = None,
    known: Deviations | None = None,
    run: Run | None = None,
) -> LeadPrediction:
    """Scatter of the lead over the travel, the risk of a crooked or binding run, and the tolerance to spend effort on.

    The probabilities are those of the tolerances: they say what parts made so would do, not what these parts do.

    ``rng`` defaults to a fixed seed, so that one job always prints one page. ``known`` shifts every sample by
    departures that are already measured. Closing currents in ``run`` at three stations or more replace the catalogue's
    friction. Raises Refused as :func:`stringline.mechanics.machine.machine_of` does.
    """
    machine, measured = _machine(system, layout, run)
    rng = np.random.default_rng(SEED) if rng is None else rng
    tols = tuple(usual(machine) if tolerances is None else tolerances)
    bounds = _bounds(system)
    got = spread(machine, tols, bounds, rng=rng, samples=samples, stations=stations, around=known)
    shares = sorted(
        (Share(t.field, t.label, float(s), t.advice) for t, s in zip(tols, got.shares, strict=True)),
        key=lambda s: -s.share,
    )
    effort = shares[0] if shares and shares[0].share > 0.0 else None
    worst = Figure.by_rule(
        "lead.worst",
        got.worst_95_m,
        finding("lead.worst-rule", samples=got.samples),
        [Term("lead.runs-drawn", float(got.samples), Origin.DERIVED, kind=Kind.COUNT)],
        source="lead",
    )
    return LeadPrediction(
        station_m=got.station_m,
        nominal=lead_run(machine, known or Deviations(), stations),
        closing_mean_m=got.closing_mean_m,
        closing_band_m=got.closing_band_m,
        opening_mean_m=got.opening_mean_m,
        opening_band_m=got.opening_band_m,
        limit_m=system.limits.lead_m,
        worst=worst,
        p_over=_probability("lead.over-the-limit", got.over, got.samples),
        p_bind=_probability("lead.binds", got.bind, got.samples),
        shares=tuple(shares),
        effort=effort,
        card=_card(machine, system, got),
        shares_at_m=got.at_m,
        shares_direction=got.direction,
        samples=got.samples,
        notes=(*_notes(measured), *aside(() if run is None else run.readings)),
    )


def if_tightened(
    system: System,
    layout: Layout,
    found: LeadPrediction,
    *,
    rng: np.random.Generator | None = None,
    stations: int = 60,
    tolerances: Sequence[Tolerance] | None = None,
    known: Deviations | None = None,
    run: Run | None = None,
) -> Figure | None:
    """That the lead passes the limit once the tolerance worth effort is kept twice as tightly; None where none is.

    The arguments are those that ``found`` was predicted with. It costs as much again as the prediction, so it stands
    alone for those who show it.
    """
    effort = found.effort
    if effort is None:
        return None
    machine, _ = _machine(system, layout, run)
    tight = halved(tuple(usual(machine) if tolerances is None else tolerances), effort.field)
    rng = np.random.default_rng(SEED) if rng is None else rng
    less = spread(machine, tight, _bounds(system), rng=rng, samples=found.samples, stations=stations, around=known)
    label = finding("lead.over-if-tightened", tolerance=nested(effort.label))
    return _probability(label, less.over, less.samples)


def _machine(system: System, layout: Layout, run: Run | None) -> tuple[Machine, run_state.Calibration | None]:
    """The machine, with the friction that its logged currents speak of where they say it."""
    machine = machine_of(system, layout)
    measured = _calibrated(machine, system, run)
    if measured is None:
        return machine, None
    return replace(machine, drag=Drag(max(0.0, measured.end_n), max(0.0, measured.per_m_n))), measured


def _bounds(system: System) -> Bounds:
    return Bounds(system.limits.lead_m, system.leading_edge.max_swing_rad, system.motor.rated_torque_nm)


def _calibrated(machine: Machine, system: System, run: Run | None) -> run_state.Calibration | None:
    """Friction from the run's closing currents; None where fewer than three were logged."""
    logged = [] if run is None else [(r.station_m, r.current_a) for r in run.leads if r.current_a is not None]
    if len({s for s, _ in logged}) < 3:
        return None
    s, amps = np.array(logged, dtype=float).T
    return run_state.drag_from_currents(machine, system.motor, s, amps)


def _notes(measured: run_state.Calibration | None) -> tuple[Code, ...]:
    """What the reader should know about these figures."""
    said: list[Code] = ["lead.tolerances-are-practice", "mechanics.nobody-in-the-water"]
    if measured is not None:
        friction = finding(
            "lead.friction-from-currents",
            end_n=measured.end_n,
            end_sigma_n=measured.end_sigma_n,
            per_n_m=measured.per_m_n,
            per_sigma_n_m=measured.per_m_sigma_n,
        )
        said.insert(0, friction)
    return tuple(said)


def _probability(label: Code, hits: int, of: int) -> Figure:
    """Share of samples with its sampling σ; a count of none still leaves 3 in ``of`` possible."""
    p = hits / of
    sigma = math.sqrt(p * (1.0 - p) / of) if 0 < hits < of else 3.0 / of
    return Figure.by_rule(
        label,
        p,
        "lead.probability-rule",
        [
            Term("lead.runs-with-it", float(hits), Origin.DERIVED, kind=Kind.COUNT),
            Term("lead.runs-drawn", float(of), Origin.DERIVED, kind=Kind.COUNT),
        ],
        kind=Kind.PROBABILITY,
        sigma=sigma,
    )


def _card(machine: Machine, system: System, got: Spread) -> tuple[CardRow, ...]:
    """A few even stations with what to expect there."""
    k = got.station_m.size
    pick = np.unique(np.linspace(1, k - 2, CARD_STATIONS).round().astype(int))
    shut = run_state.closing(machine, system.motor, k)
    back = run_state.opening(machine, system.motor, k)
    return tuple(
        CardRow(
            float(got.station_m[i]),
            float(got.closing_band_m[0, i]),
            float(got.closing_band_m[1, i]),
            float(got.opening_band_m[0, i]),
            float(got.opening_band_m[1, i]),
            float(shut.current_a[i]),
            float(back.current_a[i]),
        )
        for i in pick
    )
