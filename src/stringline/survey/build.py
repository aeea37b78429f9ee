"""From a job's survey section to rows of a network, with everything wrong in it reported at once."""

from __future__ import annotations

import math

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import Code, finding
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape, in_use
from stringline.survey.adjust.network import SQUARE_SIGMA_RAD, Datum, Network, Reading, Row
from stringline.survey.adjust.tape import CLASS_LIMIT_MM, correction_m, tape_sigma


def build_network(spec: SurveyInput) -> Network:
    """Turn what was measured into rows. Raises ``Faults`` where names or values make no network at all.

    Control (``known``) is held fixed; else observed coordinates carry the frame; else the baseline; else the network
    is free. Struck readings take no part. A tape's own σ beats the job's, which beats the tape class.

    >>> from stringline.lengths import metres
    >>> lines = (Tape("A", "B", metres(4.0)), Tape("A", "1", metres(3.0)), Tape("B", "1", metres(5.0)))
    >>> net = build_network(SurveyInput(lines, baseline=("A", "B"), sigma_m=0.003))
    >>> net.names, net.value.tolist(), net.sigma.tolist()
    (('A', 'B', '1'), [4.0, 3.0, 5.0], [0.003, 0.003, 0.003])
    """
    faults = _Collector()
    if spec.tape_class not in CLASS_LIMIT_MM:
        wrong = finding("survey.no-tape-class", name=spec.tape_class)
        right = finding("survey.use-classes", classes=tuple(CLASS_LIMIT_MM))
        faults.add("tape-class", "survey.tape_class", wrong, right)
    if spec.sigma_m is not None and not spec.sigma_m > 0.0:
        faults.add("sigma", "survey.sigma", "survey.sigma-of-all", "survey.write-sigma-of-all")
    used = [t for t in spec.tapes if t.struck is None]
    names = _names(spec, used)
    index = {name: i for i, name in enumerate(names)}
    rows = _Rows(index)
    _tape_rows(spec, used, rows, faults)
    _offset_rows(spec, rows, faults)
    for c in in_use(spec.coordinates):
        rows.add(Row.X, (c.point,), c.x.m, c.sigma_m, c)
        rows.add(Row.Y, (c.point,), c.y.m, c.sigma_m, c)
    datum = _datum(spec)
    _check_names(spec, index, rows, datum, faults)
    faults.raise_any()

    n = len(names)
    fixed = np.zeros((n, 2), dtype=bool)
    fixed_xy = np.full((n, 2), np.nan)
    side = np.zeros(n, dtype=np.int64)
    baseline = None
    if datum is Datum.KNOWN:
        for name, (x, y) in spec.known.items():
            fixed[index[name]] = True
            fixed_xy[index[name]] = (x, y)
    elif spec.baseline is not None:
        a, b = (index[name] for name in spec.baseline)
        baseline = (a, b)
        if datum is Datum.BASELINE:
            fixed[a] = True
            fixed[b, 1] = True
            fixed_xy[a] = 0.0
            fixed_xy[b, 1] = 0.0
        side[:] = 1
        side[[a, b]] = 0
        side[[index[name] for name in spec.behind]] = -1
    sketch = np.full((n, 2), np.nan)
    for name, xy in spec.sketch.items():
        sketch[index[name]] = xy
    return Network(
        names=tuple(names),
        kind=np.array(rows.kind, dtype=np.int64),
        at=np.array(rows.at, dtype=np.int64).reshape(-1, 3),
        value=np.array(rows.value, dtype=float),
        sigma=np.array(rows.sigma, dtype=float),
        reading=tuple(rows.reading),
        fixed=fixed,
        fixed_xy=fixed_xy,
        datum=datum,
        baseline=baseline,
        side=side,
        sketch=sketch,
        struck=tuple(t for t in spec.tapes if t.struck is not None),
        reach_m=spec.tape_length_m,
        blocked=tuple((index[a], index[b]) for a, b in spec.blocked if a in index and b in index),
    )


class _Collector:
    """Faults gathered for the survey section."""

    def __init__(self) -> None:
        self.found: list[Fault] = []

    def add(self, code: str, where: str, wrong: Code, right: Code, line: int | None = None) -> None:
        self.found.append(Fault(code, where, wrong, right, line))

    def raise_any(self) -> None:
        if self.found:
            raise Faults("survey", self.found)


class _Rows:
    """Rows under construction."""

    def __init__(self, index: dict[str, int]) -> None:
        self.index = index
        self.kind: list[int] = []
        self.at: list[tuple[int, int, int]] = []
        self.value: list[float] = []
        self.sigma: list[float] = []
        self.reading: list[Reading] = []

    def add(self, kind: Row, points: tuple[str, ...], value: float, sigma: float, reading: Reading) -> None:
        i = [self.index[p] for p in points] + [-1, -1]
        self.kind.append(int(kind))
        self.at.append((i[0], i[1], i[2]))
        self.value.append(value)
        self.sigma.append(sigma)
        self.reading.append(reading)


def _names(spec: SurveyInput, used: list[Tape]) -> list[str]:
    """Every point that something reaches: the baseline and control first, then in the order of the readings."""
    order: dict[str, None] = {}
    if spec.known:
        order.update(dict.fromkeys(spec.known))
    elif spec.baseline is not None:
        order.update(dict.fromkeys(spec.baseline))
    for t in used:
        order.update(dict.fromkeys((t.a, t.b)))
    for o in in_use(spec.offsets):
        order.update(dict.fromkeys((o.a, o.b, o.point)))
    order.update(dict.fromkeys(c.point for c in in_use(spec.coordinates)))
    order.update(dict.fromkeys(spec.behind))
    order.update(dict.fromkeys(spec.sketch))
    return list(order)


def _datum(spec: SurveyInput) -> Datum:
    if spec.known:
        return Datum.KNOWN
    if in_use(spec.coordinates):
        return Datum.COORDINATES
    return Datum.BASELINE if spec.baseline is not None else Datum.FREE


def _tape_rows(spec: SurveyInput, used: list[Tape], rows: _Rows, faults: _Collector) -> None:
    for k, t in enumerate(spec.tapes, 1):  # as a person counts them
        where = f"survey.tapes[{k}]"
        if t.struck is not None:
            continue
        if t.a == t.b:
            faults.add("same-point", where, finding("survey.to-itself", point=t.a), "survey.name-two", t.line)
        if not t.length.m > 0.0:
            wrong = finding("survey.reads", line=finding("survey.line", a=t.a, b=t.b), read=t.length.text)
            faults.add("not-positive", where, wrong, "survey.above-zero", t.line)
        if t.sigma_m is not None and not t.sigma_m > 0.0:
            faults.add("sigma", where, "survey.sigma-of-one", "survey.write-sigma-of-one", t.line)
    for t in used:
        value = t.length.m + correction_m(t.length.m, spec.conditions)
        rows.add(Row.DISTANCE, (t.a, t.b), value, _sigma(spec, t.length.m, t.sigma_m), t)


def _offset_rows(spec: SurveyInput, rows: _Rows, faults: _Collector) -> None:
    """Two equations an offset reading; how square it is held blurs the station in proportion to the offset."""
    for k, o in enumerate(spec.offsets, 1):
        if o.struck is not None:
            continue
        if len({o.a, o.b, o.point}) < 3:
            wrong = finding("survey.offset-from", point=o.point, a=o.a, b=o.b)
            faults.add("same-point", f"survey.offsets[{k}]", wrong, "survey.name-three", o.line)
            continue
        if o.station is not None:
            blur = 0.0 if o.sigma_m is not None else SQUARE_SIGMA_RAD * abs(o.offset.m)
            station = math.hypot(_sigma(spec, abs(o.station.m), o.sigma_m), blur)
            rows.add(Row.STATION, (o.a, o.b, o.point), o.station.m, station, o)
        rows.add(Row.OFFSET, (o.a, o.b, o.point), o.offset.m, _sigma(spec, abs(o.offset.m), o.sigma_m), o)


def _sigma(spec: SurveyInput, length_m: float, own: float | None) -> float:
    if own is not None:
        return own
    if spec.sigma_m is not None:
        return spec.sigma_m
    return tape_sigma(length_m, spec.tape_class if spec.tape_class in CLASS_LIMIT_MM else "II")


def _check_names(spec: SurveyInput, index: dict[str, int], rows: _Rows, datum: Datum, faults: _Collector) -> None:
    """Names that are spoken of but reached by no reading, and baselines that cannot carry a frame."""
    reached = {i for at in rows.at for i in at if i >= 0}
    struck = {name: t for t in spec.tapes if t.struck is not None for name in (t.a, t.b)}

    def unreached(name: str, where: str) -> None:
        tape = struck.get(name)
        if tape is None:
            faults.add("no-reading", where, finding("survey.not-reached", points=(name,)), "survey.tape-from-two")
        else:
            wrong = finding("survey.only-struck", point=name, a=tape.a, b=tape.b)
            faults.add("no-reading", where, wrong, "survey.take-struck-again", tape.line)

    if not rows.at:
        faults.add("no-reading", "survey.tapes", "survey.no-reading-at-all", "survey.write-distances")
        return
    if datum is not Datum.KNOWN and spec.baseline is not None:
        a, b = spec.baseline
        if a == b:
            faults.add("same-point", "survey.baseline", finding("survey.both-ends", point=a), "survey.name-two")
        for name in dict.fromkeys((a, b)):
            if index[name] not in reached:
                unreached(name, "survey.baseline")
        for name in spec.behind:
            if name in (a, b):
                wrong = finding("survey.baseline-end", point=name)
                faults.add("behind", "survey.behind", wrong, "survey.off-baseline-only")
    for name in spec.behind:
        if index[name] not in reached:
            unreached(name, "survey.behind")
    for name in spec.sketch:
        if index[name] not in reached and name not in spec.known and name not in spec.behind:
            unreached(name, "survey.sketch")
    # a struck tape may leave a point that nothing else speaks of; it must not vanish without a word
    for name in struck:
        if name not in index:
            unreached(name, "survey.tapes")
