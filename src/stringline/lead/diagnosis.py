"""From leads at a few stations to causes, amounts, what to do about them, and the reading to take next.

Every small set of the causes listed is weighed (:mod:`stringline.lead.hypotheses`). A cause's *probability* is the
weight of the sets that hold it; the *main* one of a set makes most lead by itself there. The answer is sure where one
cause is the main one in :data:`SURE` of the weight.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stringline.finding import Code, Finding, Refused, finding, in_turn
from stringline.geometry import Array
from stringline.job.model import Job
from stringline.job.readings import Run, aside
from stringline.layout.result import Layout
from stringline.lead.causes import Cause, action, every_cause, fields_of
from stringline.lead.discriminating import most_discriminating
from stringline.lead.doubts import Doubts, weigh_with_doubts
from stringline.lead.hypotheses import Field, Weighed, scaled
from stringline.lead.lessons import lessons_of
from stringline.lead.observations import KNOWN, NONE_MADE, Observations, read_observations
from stringline.lead.orthant import truncated_moments
from stringline.lead.result import CauseFound, Diagnosis, Doubtful, LeadAfter, NextReading
from stringline.lead.spots import spots
from stringline.lead.tolerances import usual
from stringline.lead.trial import CURRENT, NAMES, Sheet, Trial, sheet
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.machine import Machine, machine_of
from stringline.mechanics.travel import LeadRun, lead_run
from stringline.system.model import Motor, System, Tolerances
from stringline.worked import Figure, Kind, Origin, Term

SIGMA_LEAD_M = Tolerances().lead_tape_m
MODEL_SIGMA_M = 0.001
"""σ of a lead by what the machine leaves out, m (practice)."""

SURE = 0.8
"""Weight of being the main cause from which a diagnosis is called sure."""

SOUND = 0.9
"""Part of their tolerances by which the parts of a sound machine scatter (practice)."""

_SHOWN = 5
_STEP = 0.02


@dataclass(frozen=True)
class _Case:
    """Everything that the answer is put together from."""

    field: Field
    weighed: Weighed  # weights and the chance of a cause on no list add up to one
    doubts: Doubts
    main: NDArray[np.intp]  # (n,) place in its set of the cause that makes most lead, −1 for no cause
    effect: Array  # (n, c) highest |lead| that each cause of a set makes by itself


def diagnose_job(job: Job, system: System, layout: Layout) -> Diagnosis:
    """Diagnose what ``job.run`` holds. Raises Refused as :func:`diagnose` does."""
    if job.run is None:
        raise Refused("lead.needs-a-lead")
    lines = [*job.run.seen, *(line for before in job.run.earlier for line in before.seen)]
    return diagnose(
        machine_of(system, layout),
        system.motor,
        job.run,
        seen=read_observations(lines, job.unit, layout.drive_side),
        lead_sigma_m=system.tolerances.lead_tape_m,
        limit_m=system.limits.lead_m,
    )


def diagnose(
    machine: Machine,
    motor: Motor,
    run: Run,
    *,
    seen: Observations = NONE_MADE,
    lead_sigma_m: float = SIGMA_LEAD_M,
    current_sigma_a: float | None = None,
    limit_m: float | None = None,
) -> Diagnosis:
    """Say what makes this cover run crooked, how sure that is, and what to do and measure next.

    ``run.leads`` are + with the drive side ahead in the direction of travel: closing, farther from the housing;
    opening, nearer to it. ``lead_sigma_m`` is the σ of one reading. Earlier runs in ``run.earlier``, each with the
    action taken after it, are weighed together with this one. ``seen`` is what an eye saw during any of them. Raises
    Refused without a single lead, or for a station outside the travel.
    """
    trials = _trials(run)
    sigma_a = 0.03 * motor.full_load_a if current_sigma_a is None else current_sigma_a
    sigma_m = math.hypot(lead_sigma_m, MODEL_SIGMA_M)
    page = sheet(machine, motor, trials, sigma_m, sigma_a).scattering(usual(machine), SOUND)
    causes = tuple(
        c for c in every_cause(spots(page, seen)) if c.family.key != "both-drag" or (page.what == CURRENT).any()
    )
    field = scaled(page, causes)
    doubts = weigh_with_doubts(field, _log_chance(causes, seen))
    weighed = doubts.weighed
    main, effect = _main(field, weighed)
    case = _Case(field, weighed, doubts, main, effect)
    found = _causes(case)
    best = _best_deviations(case)
    explained = lead_run(machine, best)
    z = math.sqrt(float(weighed.misfit[0]) / page.count)
    fits = float(weighed.misfit[0]) < page.count + 3.0 * math.sqrt(2.0 * page.count)
    sure, rivals, verdict = _verdict(case, found, fits, limit_m, explained)
    more = None if sure else _next(case, (sigma_m, sigma_a))
    if more is not None:
        verdict = in_turn(verdict, more.text)
    return Diagnosis(
        verdict=verdict,
        sure=sure,
        causes=found,
        rivals=rivals,
        after=_after(case, found),
        next_reading=more,
        fits=fits,
        misfit=Figure.by_rule(
            "lead.misfit",
            z,
            "lead.misfit-rule",
            [Term("lead.readings", float(page.count), Origin.MEASURED, kind=Kind.COUNT)],
            kind=Kind.RATIO,
            source="sparse-causes",
        ),
        explained=explained,
        lessons=lessons_of(case.field, run, sigma_m),
        readings=page.count,
        other=doubts.other,
        doubtful=_doubtful(case),
        notes=(*(d.text for d in _doubtful(case)), *_notes(page, seen), *aside(run.readings)),
    )


def _trials(run: Run) -> tuple[Trial, ...]:
    """Earlier runs first; each later one with all that had been taken away before it."""
    taken: dict[str, float] = {}
    trials = []
    for before in run.earlier:
        trials.append(Trial(before.leads, dict(taken)))
        for name, sign in fields_of(before.cause, before.side):
            taken[name] = taken.get(name, 0.0) + sign * before.amount
    return (*trials, Trial(run.leads, dict(taken)))


def _log_chance(causes: Sequence[Cause], seen: Observations) -> Array:
    """Logarithm of each cause's odds before a lead is looked at."""
    out = np.empty(len(causes))
    for i, v in enumerate(causes):
        odds = v.chance / (1.0 - v.chance)
        odds *= seen.odds.get(v.family.key, 1.0) * seen.side_odds.get(v.name, 1.0)
        if v.at_m is not None and seen.catches_m:
            odds *= 5.0 if min(abs(v.at_m - c) for c in seen.catches_m) < 0.4 else 0.2
        out[i] = math.log(odds)
    return out


def _main(field: Field, w: Weighed) -> tuple[NDArray[np.intp], Array]:
    """Which cause of each set makes the most lead by itself."""
    n, c = w.sets.shape
    amounts = np.maximum(w.mode[:, :c], 0.0)
    alone = np.full((n * c, c), -1, dtype=np.intp)
    alone[:, 0] = w.sets.reshape(-1)
    much = np.zeros((n * c, c))
    much[:, 0] = amounts.reshape(-1)
    nuisance = np.repeat(w.mode[:, c:], c, axis=0)
    run = field.sheet.runs(field.deviations(alone, much, nuisance))[0]
    effect = np.maximum(np.abs(run.closing_m).max(axis=0), np.abs(run.opening_m).max(axis=0)).reshape(n, c)
    effect = np.where(w.sets >= 0, effect, -1.0)
    main = effect.argmax(axis=1)
    return np.where((w.sets >= 0).any(axis=1), main, -1), np.maximum(effect, 0.0)


def _names(case: _Case) -> list[tuple[str, str] | None]:
    """What a person would call the main cause of each set; None for no cause."""
    out: list[tuple[str, str] | None] = []
    for row, place in zip(case.weighed.sets, case.main, strict=True):
        out.append(None if place < 0 else case.field.causes[row[place]].name)
    return out


def _causes(case: _Case) -> tuple[CauseFound, ...]:
    """Causes by the chance that they are the main one, then by the chance that they are there at all."""
    w, field = case.weighed, case.field
    names = _names(case)
    chance: dict[tuple[str, str], float] = {}
    lead_of: dict[tuple[str, str], float] = {}
    held: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for i in range(w.sets.shape[0]):
        for j, v in enumerate(w.sets[i]):
            if v >= 0:
                name = field.causes[v].name
                chance[name] = chance.get(name, 0.0) + float(w.weight[i])
                held.setdefault(name, []).append((i, j))
        if (main := names[i]) is not None:
            lead_of[main] = lead_of.get(main, 0.0) + float(w.weight[i])
    order = sorted(chance, key=lambda n: (-lead_of.get(n, 0.0), -chance[n]))
    return tuple(_cause(case, n, (chance[n], lead_of.get(n, 0.0)), held[n]) for n in order[:_SHOWN] if chance[n] > 0.01)


def _cause(case: _Case, name: tuple[str, str], chance: tuple[float, float], rows: list[tuple[int, int]]) -> CauseFound:
    """One cause with its amount: the mixture over every set that holds it."""
    w, field = case.weighed, case.field
    i = np.array([r for r, _ in rows])
    j = np.array([c for _, c in rows])
    v = w.sets[i, j]
    weight = w.weight[i] / w.weight[i].sum()
    mean, sd = truncated_moments(w.mode[i, j], np.sqrt(w.cov[i, j, j]))
    mean, sd = mean * field.scale[v], sd * field.scale[v]
    amount = float(weight @ mean)
    sigma = math.sqrt(float(weight @ (sd**2 + np.square(mean - amount))))
    family = field.causes[v[0]].family
    at = None
    if field.causes[v[0]].at_m is not None:
        places = np.array([field.causes[k].at_m for k in v], dtype=float)
        at = float(places[weight.argmax()])
    title, effect_m = field.causes[v[0]].title, float(weight @ case.effect[i, j])
    figure = Figure.by_rule(
        finding("lead.amount-of-cause", cause=title),
        amount,
        "lead.amount-of-cause-rule",
        [Term("lead.sets-weighed", float(i.size), Origin.DERIVED, kind=Kind.COUNT)],
        kind=family.kind,
        sigma=sigma,
        source="sparse-causes",
    )
    return CauseFound(
        key=name[0],
        side=name[1],
        title=title,
        probability=min(1.0, chance[0]),
        main=min(1.0, chance[1]),
        amount=figure,
        action=action(name[0], name[1], amount, at),
        why=finding("lead.makes-lead", lead_m=effect_m),
        effect_m=effect_m,
        station_m=at,
    )


def _best_deviations(case: _Case, without: int | None = None) -> Deviations:
    """Departures of the likeliest set as single numbers, less one of its causes where asked."""
    w = case.weighed
    c = w.sets.shape[1]
    amounts = np.maximum(w.mode[:1, :c], 0.0).copy()
    if without is not None:
        amounts[0, without] = 0.0
    dev = case.field.deviations(w.sets[:1], amounts, w.mode[:1, c:])
    values = {n: getattr(dev, n) for n in dev.__dataclass_fields__}
    return Deviations(**{n: float(np.asarray(v).reshape(-1)[0]) for n, v in values.items()})


def _verdict(
    case: _Case, found: tuple[CauseFound, ...], fits: bool, limit_m: float | None, explained: LeadRun
) -> tuple[bool, tuple[Finding, ...], Code]:
    """Whether one cause stands out, the titles that rival it, and the sentence to begin with."""
    names = _names(case)
    main: dict[tuple[str, str] | None, float] = {}
    for name, weight in zip(names, case.weighed.weight, strict=True):
        main[name] = main.get(name, 0.0) + float(weight)
    order = sorted(main, key=lambda n: -main[n])
    first = order[0]
    if case.doubts.other > main[first]:
        return False, (), finding("lead.something-else", share=case.doubts.other)
    if first is None:
        worst = max(float(np.abs(explained.closing_m).max()), float(np.abs(explained.opening_m).max()))
        inside = limit_m is None or worst <= limit_m
        good = inside and fits
        return main[None] >= SURE and good, (), finding("lead.nothing-wrong" if good else "lead.no-known-cause")
    titles: dict[tuple[str, str] | None, Finding] = {c.name: c.title for c in case.field.causes}
    titles[None] = finding("lead.only-scatter")
    sure = main[first] >= SURE and fits
    if not fits:
        return False, (), finding("lead.nothing-fits", cause=titles[first])
    rivals = tuple(titles[n] for n in order[1:4] if main[n] >= 0.08)
    if sure:
        head = next(c for c in found if (c.key, c.side) == first)
        return True, (), finding("lead.sure", cause=head.title, main_share=main[first], action=head.action)
    if not rivals:
        return False, (), finding("lead.likeliest", cause=titles[first], main_share=main[first])
    others = [finding("lead.rival", cause=title) for title in rivals]
    return False, rivals, finding("lead.cannot-tell", cause=titles[first], rivals=others)


def _doubtful(case: _Case) -> tuple[Doubtful, ...]:
    """Single leads that are likelier false than not."""
    page = case.field.sheet
    out = []
    for j, chance in case.doubts.bad:
        if chance > 0.5:
            way, at, value = NAMES[page.what[j]], float(page.stations[page.row[j]]), float(page.value[j])
            text = finding(_AGAIN[way], station_m=at, lead_m=value)
            out.append(Doubtful(way, at, value, chance, text))
    return tuple(out)


_AGAIN = {"closing": "lead.closing-again", "opening": "lead.opening-again"}


def _next(case: _Case, sigma: tuple[float, float]) -> NextReading | None:
    """The reading that would tell the likely causes apart best."""
    names = _names(case)
    numbers = {n: i for i, n in enumerate(dict.fromkeys(names))}
    label = np.array([numbers[n] for n in names], dtype=np.intp)
    got = most_discriminating(case.field, case.weighed, label, sigma)
    if got is None:
        return None
    text = finding(_MEASURE[NAMES[got.what]], station_m=got.station_m)
    return NextReading(NAMES[got.what], got.station_m, text, got.bits, got.doubt_bits)


_MEASURE = {
    "closing": "lead.measure-closing",
    "opening": "lead.measure-opening",
    "current": "lead.measure-current",
}


def _after(case: _Case, found: tuple[CauseFound, ...]) -> LeadAfter | None:
    """Lead at the readings' stations once the first cause is put right by its amount, in the likeliest set it leads."""
    w, field, page = case.weighed, case.field, case.field.sheet
    names = _names(case)
    if not found or (found[0].key, found[0].side) not in names:
        return None
    i = names.index((found[0].key, found[0].side))
    c, params = w.sets.shape[1], w.mode.shape[1]
    p = w.mode[i : i + 1].copy()
    p[:, :c] = np.maximum(p[:, :c], 0.0)
    # What is taken away is fixed; what was there is not, and its σ is what remains.
    taken = found[0].amount.value
    stack = np.repeat(p, params + 1, axis=0)
    stack[1:] += _STEP * np.eye(params)
    dev = field.deviations(np.repeat(w.sets[i : i + 1], params + 1, axis=0), stack[:, :c], stack[:, c:])
    last = dict(page.trials[-1].adjusted)
    for name, sign in fields_of(found[0].key, found[0].side):
        last[name] = last.get(name, 0.0) + sign * taken
    out = replace(page, trials=(Trial((), last),)).runs(dev)[0]
    at = np.unique(page.row)
    both = np.stack([out.closing_m[at], out.opening_m[at]])
    slope = (both[:, :, 1:] - both[:, :, :1]) / _STEP
    sigma = np.sqrt(np.maximum(np.einsum("wkp,pq,wkq->wk", slope, w.cov[i], slope).max(axis=0), 0.0))
    worst = max(float(np.abs(out.closing_m[:, 0]).max()), float(np.abs(out.opening_m[:, 0]).max()))
    return LeadAfter(
        page.stations[at],
        both[0, :, 0],
        both[1, :, 0],
        sigma,
        Figure.by_rule(
            "lead.worst-after",
            worst,
            "lead.worst-after-rule",
            [Term("lead.put-right", taken, Origin.DERIVED, kind=found[0].amount.kind)],
            sigma=float(sigma.max()),
            source="lead",
        ),
    )


def _notes(page: Sheet, seen: Observations) -> tuple[Code, ...]:
    """What the reader should know about this answer."""
    said: list[Code] = [finding("lead.not-understood", line=line) for line in seen.unread]
    if seen.unread:
        said.append(finding("lead.is-understood", phrases=KNOWN))
    if not (page.what == CURRENT).any():
        said.append("lead.no-currents")
    if page.count < 5:
        said.append("lead.few-readings")
    return (*said, "lead.power-off", "mechanics.nobody-in-the-water")
