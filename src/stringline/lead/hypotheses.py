"""Every small set of causes, fitted to the readings and weighed by its evidence.

A set's amounts a are found by damped Gauss–Newton steps on the full machine, many sets at once: the least of
Σ((reading − expected(a))/σ)² + Σa². At the best amounts the machine is linear enough that the evidence is a Gaussian's,
cut off where an amount would be negative (source ``sparse-causes``):

ln E = −½·(least) − ½·ln det(AᵀA) + k·ln 2 + ln P(all k amounts ≥ 0) + Σ ln(odds of each cause),

A the rows of readings and priors. Amounts are in units of a scale that stands for a large but believable fault, with a
half-normal prior, which is where k·ln 2 comes from. Friction, brakes and the exact station of a tight spot are unknowns
of every set. The weights are of the sets tried, among the causes listed: a fault that is on no list is in none of them.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stringline.geometry import Array
from stringline.lead.causes import Cause
from stringline.lead.orthant import orthant
from stringline.lead.trial import BAD_M, CURRENT, Sheet
from stringline.mechanics.deviations import Deviations
from stringline.mechanics.regression import Solved, solve_stack

GRID = np.array([0.12, 0.25, 0.45, 0.75, 1.15, 1.7, 2.4])
NUISANCES = 3  # friction, brakes, place of a tight spot
SCATTER = 0.2  # σ of friction and brakes over the catalogue's
SPOT_M = 0.25  # σ of a tight spot's place about its station
WANTED_LEAD_M = 0.06  # an amount of one makes about this lead, where the believable most makes more
_STEP = 0.01

Ints = NDArray[np.intp]


@dataclass(frozen=True)
class Field:
    """The causes in question and the size of an amount of one, for one sheet of readings."""

    sheet: Sheet
    causes: tuple[Cause, ...]
    scale: Array  # (v,)

    def deviations(self, sets: Ints, amounts: Array, nuisance: Array) -> Deviations:
        """Departures for n sets; ``sets`` (n, c) of cause numbers, −1 for none, ``amounts`` (n, c), ``nuisance`` (n,
        3).
        """
        n = sets.shape[0]
        values: dict[str, Array] = {
            "drag_scale": np.maximum(0.1, 1.0 + SCATTER * nuisance[:, 0]),
            "brake_scale": np.maximum(0.1, 1.0 + SCATTER * nuisance[:, 1]),
        }
        for v in np.unique(sets[sets >= 0]):
            cause = self.causes[v]
            much = np.where(sets == v, amounts, 0.0).sum(axis=1) * self.scale[v]
            for name, sign in cause.fields:
                values[name] = values.get(name, np.zeros(n)) + sign * much
            if cause.at_m is not None:
                has = (sets == v).any(axis=1)
                where = cause.at_m + SPOT_M * nuisance[:, 2]
                values["pinch_at_m"] = np.where(has, where, values.get("pinch_at_m", np.zeros(n)))
                drive = 1.0 if cause.side == "drive" else 0.0
                values["pinch_drive"] = np.where(has, drive, values.get("pinch_drive", np.ones(n)))
        return Deviations(**values)


@dataclass(frozen=True)
class Weighed:
    """Fitted sets, likeliest first.

    ``cov`` is the Gaussian's at the best amounts, in scaled units, causes then nuisances.
    """

    sets: Ints  # (n, c)
    mode: Array  # (n, c + 3)
    cov: Array  # (n, c + 3, c + 3)
    weight: Array  # (n,), sums to one
    misfit: Array  # (n,) Σ((reading − expected)/σ)²
    expected: Array  # (r, n)
    if_bad: Array  # (n, r) logarithm of what each set's evidence gains if that one reading is false
    log_total: float  # logarithm of the evidence of all sets together


def scaled(sheet: Sheet, causes: Sequence[Cause]) -> Field:
    """Size the amounts: the believable most, or less where that alone makes more than :data:`WANTED_LEAD_M` of lead."""
    most = np.array([v.family.most for v in causes])
    # A tight spot that the motor at its rating cannot pull past stops the cover, it makes no lead.
    spot = np.array([v.at_m is not None for v in causes])
    most = np.where(spot, np.minimum(most, strongest_n(sheet) / 2.0), most)
    field = Field(sheet, tuple(causes), most)
    sets = np.arange(len(causes))[:, None]
    runs = sheet.runs(field.deviations(sets, np.ones((len(causes), 1)), np.zeros((len(causes), NUISANCES))))
    effect = np.maximum(np.abs(runs[0].closing_m).max(axis=0), np.abs(runs[0].opening_m).max(axis=0))
    return Field(sheet, tuple(causes), most * np.minimum(1.0, WANTED_LEAD_M / np.maximum(effect, 1e-9)))


def weigh(field: Field, log_chance: Array, *, keep: int = 70, rounds: int = 5) -> Weighed:
    """Fit and weigh: no cause, every single one, the best pairs and, where no pair fits, the best triples.

    ``log_chance`` (v,) is the logarithm of each cause's odds before any reading, ``keep`` how many pairs are fitted,
    ``rounds`` of Gauss–Newton. Pairs are picked on a grid of amounts as if their leads added up; that is only the
    choice of what to fit.
    """
    v = len(field.causes)
    response, base = _responses(field)
    y, white = field.sheet.value, field.sheet.whiten
    pairs = np.array([p for p in itertools.combinations(range(v), 2) if _may_join(field.causes, p)], dtype=np.intp)
    cost, start = _pair_costs(response, base, y, white, pairs)
    best = np.argsort(cost - 2.0 * log_chance[pairs].sum(axis=1))[:keep]
    apart = np.tensordot(field.sheet.whiten, base + response - y[:, None, None], axes=1)
    single_cost = np.square(apart).sum(axis=0) + GRID**2
    first = GRID[single_cost.argmin(axis=1)]
    sets = np.full((1 + v + best.size, 2), -1, dtype=np.intp)
    amounts = np.zeros((sets.shape[0], 2))
    sets[1 : 1 + v, 0], amounts[1 : 1 + v, 0] = np.arange(v), first
    sets[1 + v :], amounts[1 + v :] = pairs[best], start[best]
    got = _fit(field, sets, amounts, log_chance, rounds)
    free = y.size - 2
    if free > 0 and got.misfit.min() > free + 3.0 * np.sqrt(2.0 * free):
        got = _with_triples(field, got, log_chance, rounds)
    return got


def strongest_n(sheet: Sheet) -> float:
    """Pull at one slider of the motor's rated torque on one rope, on the reel's larger radius."""
    m = sheet.machine
    radius = float(m.reel_radius_m(m.closed_m))
    return sheet.motor.rated_torque_nm / radius * m.pulley_efficiency / m.guide / m.jam_closing


def _with_triples(field: Field, got: Weighed, log_chance: Array, rounds: int) -> Weighed:
    """Add every third cause to the three best pairs."""
    rows = [i for i in range(got.sets.shape[0]) if (got.sets[i] >= 0).all()][:3]
    sets, amounts = [], []
    for i in rows:
        for w in range(len(field.causes)):
            trio = (*got.sets[i], w)
            if w not in got.sets[i] and _may_join(field.causes, trio):
                for a in (0.3, 1.0):
                    sets.append(trio)
                    amounts.append((*got.mode[i, :2], a))
    if not sets:
        return got
    three = np.concatenate([np.pad(got.sets, ((0, 0), (0, 1)), constant_values=-1), np.array(sets, dtype=np.intp)])
    start = np.concatenate([np.pad(got.mode[:, :2], ((0, 0), (0, 1))), np.array(amounts)])
    fitted = _fit(field, three, start, log_chance, rounds)
    return _without_doubles(fitted)


def _without_doubles(w: Weighed) -> Weighed:
    """Keep the better of two fits of one set."""
    seen: set[tuple[int, ...]] = set()
    rows = []
    for i in range(w.sets.shape[0]):
        key = tuple(sorted(int(x) for x in w.sets[i] if x >= 0))
        if key not in seen:
            seen.add(key)
            rows.append(i)
    weight = w.weight[rows]
    return replace(
        w,
        sets=w.sets[rows],
        mode=w.mode[rows],
        cov=w.cov[rows],
        weight=weight / weight.sum(),
        misfit=w.misfit[rows],
        expected=w.expected[:, rows],
        if_bad=w.if_bad[rows],
        log_total=w.log_total + float(np.log(weight.sum())),
    )


def _may_join(causes: tuple[Cause, ...], chosen: Sequence[int]) -> bool:
    """Whether causes may stand together: not one family twice."""
    names = [causes[i].family.key for i in chosen]
    return len(set(names)) == len(names)


def _responses(field: Field) -> tuple[Array, Array]:
    """Change of every reading for each single cause over the grid, (r, v, g), and the readings with no cause, (r, 1,
    1).
    """
    v, g = len(field.causes), GRID.size
    sets = np.concatenate([[-1], np.repeat(np.arange(v), g)])[:, None]
    amounts = np.concatenate([[0.0], np.tile(GRID, v)])[:, None]
    out = field.sheet.expected(field.deviations(sets, amounts, np.zeros((sets.shape[0], NUISANCES))))
    base = out[:, :1]
    return (out[:, 1:] - base).reshape(-1, v, g), base[:, :, None]


def _pair_costs(response: Array, base: Array, y: Array, white: Array, pairs: Ints) -> tuple[Array, Array]:
    """Least cost of each pair over the grid, responses added up, and where it lies."""
    r, v, g = response.shape
    a = white @ response.reshape(r, v * g)
    gap = white @ (y - base[:, 0, 0])
    # ‖gap − a − b‖² from one matrix of products: every pair of grid points at once.
    products = a.T @ a
    lone = np.einsum("ri,ri->i", a, a) - 2.0 * (gap @ a) + np.tile(GRID**2, v)
    blocks = products.reshape(v, g, v, g)[pairs[:, 0], :, pairs[:, 1], :]
    lone = lone.reshape(v, g)
    total = lone[pairs[:, 0]][:, :, None] + lone[pairs[:, 1]][:, None, :] + 2.0 * blocks
    flat = total.reshape(len(pairs), -1)
    at = flat.argmin(axis=1)
    return flat[np.arange(len(pairs)), at] + gap @ gap, np.stack([GRID[at // g], GRID[at % g]], axis=1)


def _fit(field: Field, sets: Ints, amounts: Array, log_chance: Array, rounds: int) -> Weighed:
    """Damped Gauss–Newton on all sets at once, then the evidence of each."""
    n, c = sets.shape
    y, white = field.sheet.value, field.sheet.whiten
    used = np.concatenate([sets >= 0, np.ones((n, NUISANCES), dtype=bool)], axis=1)
    used[:, -1] = _has_spot(field, sets)
    p = np.concatenate([amounts, np.zeros((n, NUISANCES))], axis=1)
    f, jac = linear(field, sets, p, used)
    cost = _cost(f, p, y, white)
    damp = np.full(n, 1e-3)
    for _ in range(rounds):
        step = _solved(f, jac, p, (y, white), damp).estimate
        trial = p + np.where(used, step, 0.0)
        trial[:, :c] = np.maximum(trial[:, :c], 0.0)
        trial[:, c:] = np.clip(trial[:, c:], -3.0, 3.0)
        new_f, new_jac = linear(field, sets, trial, used)
        new_cost = _cost(new_f, trial, y, white)
        better = new_cost < cost
        p[better], cost[better] = trial[better], new_cost[better]
        f[:, better], jac[:, better] = new_f[:, better], new_jac[:, better]
        damp = np.where(better, damp * 0.2, damp * 20.0 + 0.1)
    return _weighed(field, sets, p, (f, jac), log_chance)


def _weighed(field: Field, sets: Ints, p: Array, at: tuple[Array, Array], log_chance: Array) -> Weighed:
    """Evidence of each set at its best amounts, and the order that it makes."""
    c = sets.shape[1]
    y, white = field.sheet.value, field.sheet.whiten
    f, jac = at
    solved = _solved(f, jac, p, (y, white), np.zeros(p.shape[0]))
    cov = solved.root @ solved.root.transpose(0, 2, 1)
    centre = p + solved.estimate
    # The cost at the Gaussian's own centre: what is left of the residuals there, priors among them.
    a, b = _rows(f, jac, p, (y, white), np.zeros(p.shape[0]))
    left = b - np.einsum("nrp,np->nr", a, solved.estimate)
    log_ev = -0.5 * np.square(left).sum(axis=1) - 0.5 * solved.log_det
    count = (sets >= 0).sum(axis=1)
    for k in range(1, c + 1):
        rows = np.flatnonzero(count == k)
        if rows.size:
            part = orthant(centre[rows, :k], cov[rows, :k, :k])
            log_ev[rows] += k * np.log(2.0) + np.log(np.maximum(part, 1e-300))
    log_ev += np.where(sets >= 0, log_chance[sets], 0.0).sum(axis=1)
    order = np.argsort(-log_ev)
    weight = np.asarray(np.exp(log_ev - log_ev.max()), dtype=np.float64)
    apart = white @ (y[:, None] - f)
    misfit = np.square(apart).sum(axis=0)
    total = float(np.log(weight.sum()) + log_ev.max() + np.log(np.diag(white)).sum())
    return Weighed(
        sets[order],
        centre[order],
        cov[order],
        (weight / weight.sum())[order],
        misfit[order],
        f[:, order],
        _if_bad(field, jac, cov, apart)[order],
        total,
    )


def _if_bad(field: Field, jac: Array, cov: Array, apart: Array) -> Array:
    """Gain of each set's log evidence, (n, r), where one reading's variance is τ² more.

    It is ½·u²τ²/(1 + τ²q) − ½·ln(1 + τ²q), with u = C⁻¹·(reading − expected) and q the diagonal of C⁻¹ −
    C⁻¹·J·Σ·Jᵀ·C⁻¹, both at the set's best amounts (the determinant lemma and Sherman–Morrison). A current is no lead:
    its gain is −∞.
    """
    white = field.sheet.whiten
    inverse = white.T @ white
    u = (white.T @ apart).T
    weighed = np.tensordot(inverse, jac, axes=1)  # (r, n, p)
    q = np.diag(inverse) - np.einsum("rnp,npq,rnq->nr", weighed, cov, weighed)
    more = BAD_M**2 * np.maximum(q, 0.0)
    gain = 0.5 * np.square(u) * BAD_M**2 / (1.0 + more) - 0.5 * np.log1p(more)
    return np.where(field.sheet.what == CURRENT, -np.inf, gain)


def _has_spot(field: Field, sets: Ints) -> NDArray[np.bool_]:
    """Whether each set holds a tight spot."""
    spot = np.array([v.at_m is not None for v in field.causes] + [False])
    return np.asarray(spot[sets].any(axis=1))


def linear(field: Field, sets: Ints, p: Array, used: NDArray[np.bool_]) -> tuple[Array, Array]:
    """Readings (r, n) and their slopes (r, n, params) by forward differences, all in one march."""
    n, params = p.shape
    c = sets.shape[1]
    stack = np.repeat(p[None], params + 1, axis=0)
    for i in range(params):
        stack[i + 1, :, i] += _STEP
    pick = np.concatenate([np.ones((1, n), dtype=bool), used.T])  # rows that matter
    flat = stack[pick]
    which = np.broadcast_to(sets, (params + 1, n, c))[pick]
    out = field.sheet.expected(field.deviations(which, flat[:, :c], flat[:, c:]))
    full = np.zeros((out.shape[0], params + 1, n))
    full[:, pick] = out
    f = full[:, 0]
    jac = np.where(used.T[None], (full[:, 1:] - f[:, None]) / _STEP, 0.0)
    return f, np.ascontiguousarray(jac.transpose(0, 2, 1))


def _cost(f: Array, p: Array, y: Array, white: Array) -> Array:
    """Twice the negative logarithm of likelihood × prior, without constants."""
    return np.asarray(np.square(white @ (y[:, None] - f)).sum(axis=0) + np.square(p).sum(axis=1))


def _solved(f: Array, jac: Array, p: Array, read: tuple[Array, Array], damp: Array) -> Solved:
    """Gauss–Newton step of every set: readings, priors and damping as rows of one least-squares problem."""
    return solve_stack(*_rows(f, jac, p, read, damp))


def _rows(f: Array, jac: Array, p: Array, read: tuple[Array, Array], damp: Array) -> tuple[Array, Array]:
    """Rows (n, r + 2·params, params) and right-hand sides of the step: A·step ≈ b."""
    y, white = read
    n, params = p.shape
    eye = np.broadcast_to(np.eye(params), (n, params, params))
    a = np.tensordot(white, jac, axes=1).transpose(1, 0, 2)
    rows = np.concatenate([a, eye, np.sqrt(damp)[:, None, None] * eye], axis=1)
    b = np.concatenate([(white @ (y[:, None] - f)).T, -p, np.zeros((n, params))], axis=1)
    return rows, b
