"""From a job's survey section to an adjusted survey."""

from __future__ import annotations

import math

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import Code, finding
from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape, aside, in_use
from stringline.survey.adjust.frame import in_baseline_frame, to_baseline
from stringline.survey.adjust.least_squares import Adjustment, SingularError, adjust, error_ellipses
from stringline.survey.adjust.network import Datum, Network, Row
from stringline.survey.adjust.observe import predict
from stringline.survey.approximate.mirror import settle_mirrors
from stringline.survey.approximate.rigidity import check_rigidity, line_of, loose_at, rows_of
from stringline.survey.approximate.start import Start, find_start, held_points
from stringline.survey.build import build_network
from stringline.survey.design.next_tape import advise
from stringline.survey.levels.falls import Levels, levels_of
from stringline.survey.result import Ellipse, OtherReading, PointResult, Struck, Survey, TapeResult
from stringline.survey.slips.search import find_suspects

WEAK_RATIO, WEAK_M = 12.0, 0.02
"""An ellipse this many times longer than wide, and this long, is remarked on: lines cross at under about 10°."""


def survey(spec: SurveyInput, *, target_m: float | None = None, searched: bool = True) -> Survey:
    """Adjust a survey: every reading takes part, none is corrected.

    ``target_m`` is the largest error ellipse axis that the job asks for. ``searched`` is False where only the points
    are wanted: then no slip is looked for and no tape advised. Raises ``Faults`` where names make no
    network, where the readings leave points loose, or where a part could be its own mirror image.

    >>> from stringline.demo import demo_job_text
    >>> from stringline.job.read import read_job
    >>> found = survey(read_job(demo_job_text(), "demo").survey)
    >>> [(s.frm, s.to) for s in found.suspects], found.global_test.pass_
    ([('2', '4')], False)
    """
    net = build_network(spec)
    check_rigidity(net)
    start = find_start(net)
    start, mirror_notes = settle_mirrors(net, start)
    adjustment = adjusted(net, start)
    seen = in_baseline_frame(adjustment)
    suspects, slip_notes = find_suspects(adjustment, net) if searched else ((), ())
    set_aside = aside((*spec.offsets, *spec.coordinates, *spec.levels))
    notes = (*mirror_notes, *_remarks(seen), *slip_notes, *set_aside)
    levels = _levelled(spec, seen)
    return Survey(
        points=_points(seen),
        tapes=_tapes(adjustment),
        freedom=adjustment.f,
        sigma0=adjustment.sigma0,
        global_test=adjustment.test,
        cov=seen.Q,
        suspects=suspects,
        next_tapes=advise(adjustment, net, target_m) if searched else (),
        struck=tuple(Struck(t.a, t.b, t.length, t.struck or "", t.line) for t in net.struck),
        notes=tuple(dict.fromkeys((*notes, *(levels.notes if levels is not None else ())))),
        levels=levels,
        others=_others(adjustment),
    )


def _levelled(spec: SurveyInput, adj: Adjustment) -> Levels | None:
    """What the rod readings say, at the adjusted places; None without any. Raises ``Faults`` for loose set-ups."""
    rods = in_use(spec.levels)
    if not rods:
        return None
    at = {name: (float(x), float(y)) for name, (x, y) in zip(adj.network.names, adj.xy, strict=True)}
    return levels_of(rods, at, apart=() if spec.floor is None else spec.floor.names)


def adjusted(net: Network, start: Start) -> Adjustment:
    """Adjust all readings from a start; raises ``Faults`` where the shape that they ask for cannot stand.

    That happens where a point lies on the line of all that holds it, and where readings contradict each other so
    grossly that the best fit lies flat.
    """
    try:
        found = adjust(net, start.xy)
    except SingularError as error:
        flat, loose = error.xy, loose_at(net, error.xy)
    else:
        flat, loose = found.xy, sideways(found)
        if not loose:
            return found
    misfit = _flat_triangles(net)
    if misfit:
        raise Faults("survey", misfit)
    if start.outlying.any():
        gross = [int(k) for k in np.flatnonzero(start.outlying)]
        raise Faults("survey", [_gross_fault(net, start, k) for k in gross])
    raise Faults("survey", [_in_line_fault(net, flat, i) for i in loose or range(net.n)])


def sideways(adj: Adjustment) -> tuple[int, ...]:
    """Points that no reading holds sideways, though their lines are enough in number.

    A point on the line of all that holds it can move by e and lengthen its tapes by no more than e²/2L. Where that is
    more than σ for the e that a linear adjustment claims, the claim is empty.
    """
    net, out = adj.network, []
    ellipses = adj.ellipses
    if net.datum is Datum.COORDINATES:  # how roughly the frame itself is known does not matter here
        far = int(np.argmax(np.hypot(*(adj.xy - adj.xy[0]).T)))
        ellipses = error_ellipses(to_baseline(adj.xy, adj.Q, 0, far)[1])
    for i in range(net.n):
        rows = [k for k, _ in net.neighbours[i] if adj.used[k]]
        major = float(ellipses[i, 0])
        if rows and major**2 > 2.0 * min(float(net.value[k]) for k in rows) * max(float(net.sigma[k]) for k in rows):
            out.append(i)
    return tuple(out)


def _in_line_fault(net: Network, xy: Array, i: int) -> Fault:
    name = net.names[i]
    ends = sorted({j for _, j in net.neighbours[i]})
    off = [j for j in range(net.n) if j != i and j not in ends]
    d = xy[off] - xy[i]
    along = xy[ends[-1]] - xy[i]
    across = np.abs(d[:, 0] * along[1] - d[:, 1] * along[0]) / np.maximum(np.hypot(d[:, 0], d[:, 1]), 1e-9)
    right: Code = "survey.tape-from-off"
    if off:
        best = net.names[off[int(np.argmax(across))]]
        right = finding("survey.tape-line", lines=(finding("survey.line", a=best, b=name),))
    wrong = finding("survey.in-line", point=name, held_by=tuple(net.names[j] for j in ends))
    return Fault("in-line", "survey.tapes", wrong, right, line_of(net, rows_of(net, [i])))


def _gross_fault(net: Network, start: Start, row: int) -> Fault:
    expected = float(predict(net, start.xy)[row])
    reading = net.reading[row]
    if isinstance(reading, Tape):
        wrong = finding("survey.gross", reading=net.label(row), read=reading.length.text, expected_m=expected)
    else:
        value = float(net.value[row])
        wrong = finding("survey.gross-value", reading=net.label(row), read_m=value, expected_m=expected)
    return Fault("gross", "survey.tapes", wrong, "survey.tape-gross-again", reading.line)


def _flat_triangles(net: Network) -> list[Fault]:
    """Triangles whose longest side is longer than the other two together by more than 5 σ."""
    lines = {frozenset((int(net.at[k, 0]), int(net.at[k, 1]))): k for k in range(net.tapes)}
    out: list[Fault] = []
    for ends, long in lines.items():
        i, j = sorted(ends)
        for m in range(net.n):
            one, two = lines.get(frozenset((i, m))), lines.get(frozenset((j, m)))
            if one is None or two is None or m in ends:
                continue
            gap = float(net.value[long] - net.value[one] - net.value[two])
            if gap > 5.0 * float(np.sqrt((net.sigma[[long, one, two]] ** 2).sum())):
                sides = tuple(net.label(k) for k in (one, two))
                wrong = finding("survey.triangle", sides=sides, gap_m=gap, long=net.label(long))
                at = line_of(net, np.array([long, one, two]))
                out.append(Fault("triangle", "survey.tapes", wrong, "survey.tape-all-three", at))
    return out


def _points(adj: Adjustment) -> tuple[PointResult, ...]:
    net = adj.network
    s = np.sqrt(np.maximum(np.diag(adj.Q), 0.0)).reshape(-1, 2)
    held = held_points(net)
    return tuple(
        PointResult(
            name,
            float(adj.xy[i, 0]),
            float(adj.xy[i, 1]),
            float(s[i, 0]),
            float(s[i, 1]),
            Ellipse(*(float(e) for e in adj.ellipses[i])),
            bool(held[i]),
        )
        for i, name in enumerate(net.names)
    )


def _tapes(adj: Adjustment) -> tuple[TapeResult, ...]:
    net = adj.network
    out: list[TapeResult] = []
    for k in range(net.tapes):
        reading = net.reading[k]
        assert isinstance(reading, Tape)
        out.append(
            TapeResult(
                frm=reading.a,
                to=reading.b,
                read_m=float(net.value[k]),
                adjusted_m=float(adj.computed[k]),
                residual_m=float(adj.v[k]),
                sigma_m=float(net.sigma[k]),
                redundancy=float(adj.r[k]),
                w=_number(adj.w[k]),
                tau=_number(adj.tau[k]),
                smallest_slip_m=_number(adj.mdb[k]),
                text=reading.length.text,
                line=reading.line,
                correction_m=float(net.value[k]) - reading.length.m,
            )
        )
    return tuple(out)


def _others(adj: Adjustment) -> tuple[OtherReading, ...]:
    net = adj.network
    kinds = {Row.STATION: "station", Row.OFFSET: "offset", Row.X: "x", Row.Y: "y"}
    return tuple(
        OtherReading(
            kind=kinds[Row(int(net.kind[k]))],
            points=tuple(net.names[int(i)] for i in net.at[k] if i >= 0),
            read_m=float(net.value[k]),
            adjusted_m=float(adj.computed[k]),
            residual_m=float(adj.v[k]),
            sigma_m=float(net.sigma[k]),
            redundancy=float(adj.r[k]),
            w=_number(adj.w[k]),
            smallest_slip_m=_number(adj.mdb[k]),
            line=net.reading[k].line,
        )
        for k in range(net.tapes, net.m)
    )


def _number(x: float) -> float | None:
    return float(x) if math.isfinite(x) else None


def _remarks(adj: Adjustment) -> tuple[Code, ...]:
    """What was corrected, points held one way only, and an adjustment that did not settle."""
    net = adj.network
    out: list[Code] = []
    if not adj.converged:
        out.append("survey.not-settled")
    added = np.array([net.value[k] - r.length.m for k, r in enumerate(net.reading) if isinstance(r, Tape)])
    if added.any():
        out.append(finding("survey.corrected", low_m=float(added.min()), high_m=float(added.max())))
    for i, name in enumerate(net.names):
        major, minor, angle = (float(x) for x in adj.ellipses[i])
        if major > WEAK_M and major > WEAK_RATIO * minor:
            held_by = tuple(net.names[j] for j in sorted({j for _, j in net.neighbours[i]}))
            code = "survey.weak" if held_by else "survey.weak-readings"
            out.append(finding(code, point=name, major_m=major, angle_deg=math.degrees(angle), held_by=held_by))
    return tuple(out)
