"""What each action was expected to do, against what the next run measured.

The earlier run is diagnosed from its own readings alone, the action's amount is taken away, and the machine is run out
at the later readings: mean and σ over the sets of causes, with the spread of their amounts and of a reading in it.
"""

from __future__ import annotations

import numpy as np

from stringline.finding import Refused
from stringline.job.readings import EarlierRun, Run, RunReading
from stringline.lead.causes import action, fields_of
from stringline.lead.hypotheses import Field, scaled, weigh
from stringline.lead.result import Lesson
from stringline.lead.trial import NAMES, OPENING, Sheet, Trial, sheet


def lessons_of(field: Field, run: Run, sigma_m: float) -> tuple[Lesson, ...]:
    """One lesson an earlier run: its own diagnosis, its action taken off, run out at the next run's readings."""
    out = []
    later = [*(e.leads for e in run.earlier[1:]), run.leads]
    for before, readings in zip(run.earlier, later, strict=False):
        got = _lesson(field, before, readings, sigma_m)
        if got is not None:
            out.append(got)
    return tuple(out)


def _lesson(field: Field, before: EarlierRun, after: tuple[RunReading, ...], sigma_m: float) -> Lesson | None:
    """Predict the later readings from the earlier ones alone, and compare."""
    old = field.sheet
    try:
        first = sheet(old.machine, old.motor, (Trial(before.leads),), sigma_m, float(old.sigma.max()))
        later = sheet(old.machine, old.motor, (Trial(after, _taken(before)),), sigma_m, float(old.sigma.max()))
    except Refused:
        return None
    own = scaled(first, field.causes)
    chance = np.log([v.chance / (1.0 - v.chance) for v in own.causes])
    w = weigh(own, chance)
    top = w.weight > 0.01 * w.weight.max()
    c = w.sets.shape[1]
    dev = own.deviations(w.sets[top], np.maximum(w.mode[top, :c], 0.0), w.mode[top, c:])
    leads = later.what <= OPENING
    each = later.expected(dev)[leads]
    weight = w.weight[top] / w.weight[top].sum()
    mean = each @ weight
    own_var = _reading_variance(own, w.sets[top], w.mode[top], w.cov[top], later)[leads] @ weight
    sd = np.sqrt(np.square(each - mean[:, None]) @ weight + own_var + sigma_m**2)
    z = (later.value[leads] - mean) / sd
    rms = float(np.sqrt(np.mean(np.square(z)))) if z.size else 0.0
    return Lesson(
        action(before.cause, before.side, before.amount),
        later.stations[later.row[leads]],
        tuple(NAMES[k] for k in later.what[leads]),
        mean,
        later.value[leads],
        sd,
        "lead.did-what-was-expected" if rms < 1.5 else "lead.did-not-do",
    )


def _taken(before: EarlierRun) -> dict[str, float]:
    """Departures that the action took away."""
    return {name: sign * before.amount for name, sign in fields_of(before.cause, before.side)}


def _reading_variance(field: Field, sets: np.ndarray, mode: np.ndarray, cov: np.ndarray, later: Sheet) -> np.ndarray:
    """Variance of each later reading under each set, (r, n), from the spread of the set's amounts."""
    n, params = mode.shape
    c = sets.shape[1]
    p = mode.copy()
    p[:, :c] = np.maximum(p[:, :c], 0.0)
    stack = np.repeat(p[None], params + 1, axis=0)
    for i in range(params):
        stack[i + 1, :, i] += 0.02
    flat = stack.reshape(-1, params)
    out = later.expected(field.deviations(np.tile(sets, (params + 1, 1)), flat[:, :c], flat[:, c:]))
    out = out.reshape(-1, params + 1, n)
    slope = (out[:, 1:] - out[:, :1]) / 0.02
    return np.asarray(np.maximum(np.einsum("rpn,npq,rqn->rn", slope, cov, slope), 0.0))
