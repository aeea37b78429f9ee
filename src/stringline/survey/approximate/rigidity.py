"""What a set of readings can hold still, and what it cannot: refusals that name the points and the missing readings.

Whether readings hold every point is asked at random coordinates: a network that flexes there flexes wherever its
points lie, so the answer belongs to the list of lines alone (generic rigidity, source ``rigidity``). Whether it is also
held at the shape that was actually measured is asked again at the adjusted coordinates.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.geometry import Array
from stringline.survey.adjust.network import Datum, IntArray, Network, Row
from stringline.survey.adjust.observe import linearise

NULL = 1e-8  # singular values below this part of the largest are none
MOVES = 1e-5  # part of a unit motion that counts as moving


def check_rigidity(net: Network) -> None:
    """Raise ``Faults`` naming every loose point and the readings that would hold it.

    The rows at random coordinates must leave no motion but those of the frame: rank A = number of unknowns. For n
    points taped alone that takes at least 2n − 3 lines, well spread (Laman; source ``rigidity``).

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> lines = (Tape("A", "B", metres(5.0)), Tape("A", "1", metres(4.0)))
    >>> check_rigidity(build_network(SurveyInput(lines, baseline=("A", "B"))))
    Traceback (most recent call last):
    ...
    stringline.faults.Faults: survey
      survey.tapes: survey.hangs-on(point=1, reading=survey.line(a=A, b=1)); survey.tape-line(lines=(...
    """
    held = _with_frame(net)
    _check_orientation(net)
    null = _generic_null(held)
    if null.shape[1] == 0:
        return
    raise Faults("survey", [_loose_fault(net, group, missing) for group, missing in _groups(held, null)])


def loose_at(net: Network, xy: Array) -> tuple[int, ...]:
    """Points that the readings do not hold at these coordinates, though their lines would be enough elsewhere."""
    held = _with_frame(net)
    null = _null(held, xy, 1e-5)
    return tuple(int(i) for i in np.flatnonzero(_motion(null) > 0.05))


def missing_readings(net: Network, null: Array, xy: Array) -> list[tuple[int, int]]:
    """Tapes that take the freedom out of ``null`` (2n, k) one by one, the plainest first."""
    taped = {frozenset((int(i), int(j))) for i, j in net.at[: net.tapes, :2]}
    anchors = _anchors(net)
    motion = _motion(null)
    solid = motion < MOVES
    ties = np.bincount(net.at[: net.tapes, :2].reshape(-1), minlength=net.n)
    pairs = [
        (not (solid[j] or solid[i]), not (j in anchors or i in anchors), -int(ties[i] + ties[j]), i, j)
        for i in range(net.n)
        for j in range(i + 1, net.n)
        if frozenset((i, j)) not in taped and (not solid[i] or not solid[j])
    ]
    out: list[tuple[int, int]] = []
    for _, _, _, i, j in sorted(pairs):
        if null.shape[1] == 0:
            break
        d = xy[j] - xy[i]
        row = (d @ (null[2 * j : 2 * j + 2] - null[2 * i : 2 * i + 2])) / max(float(np.hypot(d[0], d[1])), 1e-12)
        if float(np.linalg.norm(row)) > 1e-3:
            out.append((i, j))
            _, _, vt = np.linalg.svd(row[None, :])
            null = null @ vt[1:].T
    return out


def _with_frame(net: Network) -> Network:
    """Hold a free network by its first line, so that only motions that change its shape are left."""
    if net.datum is not Datum.FREE:
        return net
    a, b = (int(x) for x in net.at[0, :2])
    fixed = net.fixed.copy()
    fixed[a] = True
    fixed[b, 1] = True
    return replace(net, fixed=fixed, baseline=(a, b), datum=Datum.BASELINE)


def _anchors(net: Network) -> set[int]:
    """Points that stand in the frame by themselves."""
    out = {int(i) for i in np.flatnonzero(net.fixed.all(axis=1))}
    out |= {int(net.at[k, 0]) for k in np.flatnonzero((net.kind == Row.X) | (net.kind == Row.Y))}
    return out if net.baseline is None else out | set(net.baseline)


def _check_orientation(net: Network) -> None:
    anchors = _anchors(net)
    if len(anchors) < 2 and net.datum is not Datum.FREE:
        wrong = finding("survey.one-known", point=net.names[min(anchors)])
        raise Faults("survey", [Fault("one-control", "survey.known", wrong, "survey.place-a-second")])


def _generic_null(net: Network) -> Array:
    """Motions (2n, k) that no reading feels at random coordinates; the smaller of two throws."""
    best: Array | None = None
    for seed in (1, 2):
        xy = _generic(net, seed)
        null = _null(net, xy, NULL)
        if best is None or null.shape[1] < best.shape[1]:
            best = null
    assert best is not None
    return best


def _generic(net: Network, seed: int) -> Array:
    xy = np.random.default_rng(seed).uniform(-1.0, 1.0, (net.n, 2))
    if net.baseline is not None and net.datum is Datum.BASELINE:
        xy[net.baseline[0]] = 0.0
        xy[net.baseline[1]] = (0.9, 0.0)
    return xy


def _null(net: Network, xy: Array, part: float) -> Array:
    _, design = linearise(net, xy)
    free = net.free
    if len(free) == 0:
        return np.zeros((2 * net.n, 0))
    _, s, vt = np.linalg.svd(design[:, free], full_matrices=True)
    rank = int(np.count_nonzero(s > part * max(float(s[0]), 1e-300)))
    null = np.zeros((2 * net.n, len(free) - rank))
    null[free] = vt[rank:].T
    return null


def _motion(null: Array) -> Array:
    """How far each point can move under unit motions, shape (n,)."""
    return np.asarray(np.sqrt((null.reshape(-1, 2, null.shape[1]) ** 2).sum(axis=(1, 2))))


def _groups(net: Network, null: Array) -> list[tuple[list[int], list[tuple[int, int]]]]:
    """Loose points that hang together, each with the tapes that would hold them."""
    loose = {int(i) for i in np.flatnonzero(_motion(null) > MOVES)}
    readings = missing_readings(net, null, _generic(net, 1))
    groups: list[list[int]] = []
    left = set(loose)
    while left:
        group, edge = set(), {min(left)}
        while edge:
            i = edge.pop()
            group.add(i)
            near = {j for _, j in net.neighbours[i]} | {b if a == i else a for a, b in readings if i in (a, b)}
            edge |= (near & loose) - group
        left -= group
        groups.append(sorted(group))
    return [(g, [r for r in readings if r[0] in g or r[1] in g]) for g in groups]


def _loose_fault(net: Network, group: list[int], missing: list[tuple[int, int]]) -> Fault:
    names = tuple(net.names[i] for i in group)
    rows = rows_of(net, group)
    held_by = tuple(dict.fromkeys(net.label(int(k)) for k in rows))
    if not held_by:
        wrong = finding("survey.not-reached", points=names)
    elif len(group) == 1 and len(held_by) == 1:
        wrong = finding("survey.hangs-on", point=names[0], reading=held_by[0])
    elif len(group) == 1:
        wrong = finding("survey.moves", point=names[0], readings=held_by)
    else:
        wrong = finding("survey.move-together", points=names)
    struck = tuple(finding("survey.line", a=t.a, b=t.b) for t in net.struck if {t.a, t.b} & set(names))
    if struck:
        wrong = finding("survey.and-struck", wrong=wrong, lines=struck, n=len(struck))
    lines = tuple(finding("survey.line", a=net.names[i], b=net.names[j]) for i, j in missing)
    return Fault("loose-point", "survey.tapes", wrong, finding("survey.tape-line", lines=lines), line_of(net, rows))


def rows_of(net: Network, points: list[int]) -> IntArray:
    """Rows that touch any of the points."""
    return np.flatnonzero(np.isin(net.at, points).any(axis=1))


def line_of(net: Network, rows: IntArray) -> int | None:
    """First line of the job file that one of the rows stands on."""
    lines = [line for k in rows if (line := net.reading[int(k)].line) is not None]
    return min(lines, default=None)
