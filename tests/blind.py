"""Crooked covers to be diagnosed blind: made by the second machine, read with tape noise, scored against the truth.

One or two causes, friction and brakes off by a random fifth, a tight spot anywhere and noticed as a catch, leads read
to σ 1/8 in at six stations both ways, currents to 3 % of full load. Where there are two causes the second makes at most
three fifths of the first one's lead, so that there is a main one. No number of the diagnosis is used but the list of
what can go wrong and how large it may believably be.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from crooked import crooked
from stringline.finding import finding
from stringline.job.readings import Run, RunReading
from stringline.lead.causes import BY_KEY, FAMILIES, Family, fields_of
from stringline.lead.diagnosis import diagnose
from stringline.lead.observations import read_observations
from stringline.lead.result import Diagnosis
from stringline.lengths import Unit
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.forces import current_a
from stringline.mechanics.machine import Machine
from stringline.system.model import Motor

Array = npt.NDArray[np.float64]
STATIONS = 110
EIGHTH = 0.0254 / 8
LEAST_LEAD_M = 0.025  # a crooked cover: an inch or more


@dataclass(frozen=True)
class Truth:
    """What is wrong with one cover: (cause, side, amount, station), the main one first."""

    causes: tuple[tuple[str, str, float, float | None], ...]


@dataclass(frozen=True)
class Cover:
    """One crooked cover and what a crew would have written down about it."""

    truth: Truth
    run: Run


def _draw(rng: np.random.Generator, machine: Machine, n: int) -> list[list[tuple[Family, str, float, float | None]]]:
    """Causes with amounts up to the believable most, one or two a cover."""
    chance = np.array([f.chance for f in FAMILIES])
    out = []
    for _ in range(n):
        many = 1 + int(rng.random() < 0.5)
        picked = rng.choice(len(FAMILIES), size=many, replace=False, p=chance / chance.sum())
        causes = []
        for k in picked:
            f = FAMILIES[k]
            side = f.sides[rng.integers(len(f.sides))]
            at = float(rng.uniform(0.1, 0.9) * machine.closed_m) if f.key == "tight-spot" else None
            causes.append((f, side, float(f.most * rng.uniform(0.05, 1.0)), at))
        out.append(causes)
    return out


def _deviations(covers: list[list[tuple[Family, str, float, float | None]]], scales: Array) -> Deviations:
    n = len(covers)
    values: dict[str, Array] = {"drag_scale": scales[0], "brake_scale": scales[1]}
    for i, causes in enumerate(covers):
        for f, side, amount, at in causes:
            for name, sign in fields_of(f.key, side):
                values.setdefault(name, np.zeros(n))[i] += sign * amount
            if at is not None:
                values.setdefault("pinch_at_m", np.zeros(n))[i] = at
                values.setdefault("pinch_drive", np.ones(n))[i] = 1.0 if side == "drive" else 0.0
    return Deviations(**values)


def thinned(cover: Cover, rng: np.random.Generator) -> Cover:
    """The same cover with a poor sheet: two or three stations, often one direction only, mostly no current."""
    keep = sorted(rng.choice(len(cover.run.leads), size=int(rng.integers(2, 4)), replace=False))
    way, amps = rng.random(), rng.random() < 0.3
    rows = []
    for k in keep:
        r = cover.run.leads[k]
        rows.append(
            RunReading.of(
                r.station_m,
                None if way < 0.25 else r.closing_m,
                None if way > 0.6 else r.opening_m,
                r.current_a if amps else None,
            )
        )
    return Cover(cover.truth, Run(tuple(rows), cover.run.seen))


def covers(machine: Machine, motor: Motor, n: int, seed: int, readings: int = 6) -> list[Cover]:
    """n crooked covers; draws that do not come out crooked, or that no motor would move, are drawn again."""
    rng = np.random.default_rng(seed)
    made: list[Cover] = []
    while len(made) < n:
        made += _batch(machine, motor, 2 * n, rng, readings)
    return made[:n]


def _batch(machine: Machine, motor: Motor, n: int, rng: np.random.Generator, readings: int) -> list[Cover]:
    drawn = _draw(rng, machine, n)
    scales = 1.0 + 0.2 * np.clip(rng.standard_normal((2, n)), -2.5, 2.5)
    single = [[c] for causes in drawn for c in causes]
    owner = [i for i, causes in enumerate(drawn) for _ in causes]
    from stringline.mechanics.travel import lead_run

    alone = lead_run(machine, _deviations(single, scales[:, owner]), STATIONS, slack=False)
    effect = np.maximum(np.abs(alone.closing_m).max(axis=0), np.abs(alone.opening_m).max(axis=0))
    ordered = []
    fair = []
    for i, causes in enumerate(drawn):
        mine = sorted(
            zip(effect[[k for k, o in enumerate(owner) if o == i]], range(len(causes)), strict=True), reverse=True
        )
        ordered.append([causes[k] for _, k in mine])
        both = causes[mine[0][1]][0].key == "both-drag"
        fair.append(not both and mine[0][0] > LEAST_LEAD_M and (len(mine) == 1 or mine[1][0] < 0.6 * mine[0][0]))
    keep = [i for i in range(n) if fair[i]]
    ordered, scales = [ordered[i] for i in keep], scales[:, keep]
    truth = crooked(machine, _deviations(ordered, scales), STATIONS)
    out = []
    for i, causes in enumerate(ordered):
        if max(np.abs(truth.closing_m[:, i]).max(), np.abs(truth.opening_m[:, i]).max()) > 0.15:
            continue
        out.append(
            _read(
                machine,
                motor,
                truth.station_m,
                (truth.closing_m[:, i], -truth.opening_m[:, i], truth.torque_nm[:, i]),
                causes,
                rng,
                readings,
            )
        )
    return out


def _read(
    machine: Machine,
    motor: Motor,
    s: Array,
    curves: tuple[Array, Array, Array],
    causes: list[tuple[Family, str, float, float | None]],
    rng: np.random.Generator,
    readings: int,
) -> Cover:
    """Tape the leads at even stations and where it catches."""
    at = list(np.linspace(0.06, 0.97, readings) * machine.closed_m)
    seen = []
    for f, _, _, where in causes:
        if f.key == "tight-spot" and where is not None:
            noticed = float(np.clip(where + rng.normal(0.0, 0.1), 0.1, machine.closed_m - 0.1))
            at.append(noticed)
            seen.append(f"catches at {noticed:.2f} m")
    from scipy.interpolate import PchipInterpolator

    smooth = [PchipInterpolator(s, c) for c in curves]
    rows = []
    for station in sorted(at):
        shut, back, torque = (float(c(station)) for c in smooth)
        amps = float(current_a(motor, torque)) + 0.03 * motor.full_load_a * rng.standard_normal()
        rows.append(
            RunReading.of(station, shut + EIGHTH * rng.standard_normal(), back + EIGHTH * rng.standard_normal(), amps)
        )
    return Cover(
        Truth(tuple((f.key, side, amount, where) for f, side, amount, where in causes)), Run(tuple(rows), tuple(seen))
    )


@dataclass(frozen=True)
class Score:
    """Outcome of one cover."""

    right: bool  # the main cause stands first
    sure: bool
    covered: bool | None  # the amount within 2σ, where the main cause stands first
    probability: float  # given to the cause that stands first: that it is there
    probability_main: float  # that it is the main one
    told: bool  # where not sure: the main cause is first or among the rivals
    first: tuple[str, str]
    truth: Truth


def score(cover: Cover, got: Diagnosis) -> Score:
    key, side, amount, _ = cover.truth.causes[0]
    first = got.first
    if first is None:
        return Score(False, got.sure, None, 0.0, 0.0, False, ("none", ""), cover.truth)
    right = (first.key, first.side) == (key, side)
    sigma = first.amount.sigma or 0.0
    covered = abs(first.amount.value - amount) <= 2 * sigma if right else None
    named = {first.title, *got.rivals}
    title = finding(BY_KEY[key].title, side=side)
    return Score(
        right, got.sure, covered, first.probability, first.main, title in named, (first.key, first.side), cover.truth
    )


def blind(machine: Machine, motor: Motor, made: list[Cover]) -> list[Score]:
    """Diagnose covers blind."""
    return [score(c, diagnose(machine, motor, c.run, seen=read_observations(c.run.seen, Unit.M))) for c in made]
