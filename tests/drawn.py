"""Invented layouts, surveys and pieces for the tests of drawings, made without the engineering rooms."""

from __future__ import annotations

import math

import numpy as np

from stringline.cutting.result import Mark, Piece, Segment
from stringline.finding import finding
from stringline.form.result import Fit, GaugeAt
from stringline.geometry import Frame
from stringline.job.model import Corner, Obstacle, Pool
from stringline.layout.clearance import cover_parts, parts_for, pieces_of, worst
from stringline.layout.result import Clearance, Layout
from stringline.lengths import Length, Unit, format_length
from stringline.survey.result import (
    Ellipse,
    GlobalTest,
    NextTape,
    PointResult,
    Struck,
    Survey,
    Suspect,
    TapeResult,
)
from stringline.system import model as catalogue
from stringline.worked import Figure, Kind, Origin

IN = 0.0254


def system() -> catalogue.System:
    """An invented catalogue."""
    return catalogue.System(
        "invented",
        "Invented",
        True,
        catalogue.Track(
            "track", 2, (6.096, 3.048), 1 * IN, 2 * IN, 0.6, 0.003, 0.6, 0.25 * IN, 0.15, 0.05, 0.6, 1.75 * IN
        ),
        catalogue.Wedge(0.3, 1.5 * IN),
        catalogue.Filler((2.44,), 0.003),
        catalogue.Rope(0.008, 2.7, 2.4, 3.0, 1.0, 12000, 90000, 5, 0.6),
        catalogue.Reel(0.05, 0.12, 0.06, 0.005),
        catalogue.LeadingEdge(0.05, 0.03, 0.75 * IN, 11 / 64 * IN, 0.4, 2.5, 0.2, 0.05),
        catalogue.Drum(0.0762, 0.004, 0.2, 69e9, 26e9, 2700, 20),
        catalogue.Fabric(0.0006, 1.1, 0.0022, 0.6, 0.05, 0.05, 0.6, 0.15, 0.15, 0.1, 2e5),
        catalogue.Housing(0.46, 0.46, 0.30, 0.03, 0.6, 0.003, 0.3, 2.4, 0.01),
        catalogue.Motor(560, 250, 0.9, 0.6, 8, 120),
        catalogue.Friction(0.2, 0.12, 0.2, 0.4, 0.95, 0.2, 20, 30),
        catalogue.Limits(0.006, 0.006, 0.006, 0.012, 0.012, 0.05, 6.5, 14.0, 0.05, 1 / 300, 0.005, 0.05),
        catalogue.Hardware(4, 2, 1),
    )


def _f(label: str, value: float, kind: Kind = Kind.LENGTH) -> Figure:
    return Figure.single(label, value, Origin.MEASURED, kind=kind)


def plan_parts(
    width: float = 5.4864,
    length: float = 10.9728,
    *,
    radius: float = 0.1524,
    heading: float = 1.9,
    side: float = 0.0762,
    end: float = 0.3,
    drive: str = "left",
    obstacles: bool = True,
    stations: int = 4,
    gauge_noise: float = 0.002,
    setback: float = 0.35,
) -> tuple[Layout, Survey, Pool, Fit]:
    """A rectangular pool, its survey, layout and fit."""
    g = width + 2 * side
    frame = Frame((12.0, 3.0), heading)
    far = setback + length
    corners = [(-width / 2, setback), (width / 2, setback), (width / 2, far), (-width / 2, far)]
    outline: list[tuple[float, float]] = []
    for k, (u, s) in enumerate(corners):
        cu, cs = u - math.copysign(radius, u), s + (radius if k < 2 else -radius)
        start = math.pi + k * math.pi / 2
        outline += [
            (cu + radius * math.cos(start + t), cs + radius * math.sin(start + t))
            for t in np.linspace(0, math.pi / 2, 9)
        ]
    pegs = {"1": corners[0], "2": corners[1], "3": corners[2], "4": corners[3]}
    things: list[Obstacle] = []
    if obstacles:
        pegs |= {
            "w1": (-g / 2 - 0.9, far + 0.9),
            "w2": (g / 2 + 0.9, far + 0.9),
            "s1": (g / 2 + 0.4, 1.0),
            "s2": (g / 2 + 1.2, 1.0),
            "s3": (g / 2 + 1.0, 2.2),
            "r1": (-g / 2 - 0.45, far * 0.55),
            "r2": (-g / 2 - 0.45, far * 0.66),
        }
        things = [
            Obstacle("garden wall", ("w1", "w2"), "wall"),
            Obstacle("hand rail", ("r1", "r2"), "rail"),
            Obstacle("boulder", ("s1", "s2", "s3"), "rock"),
        ]
    names = list(pegs)
    xy = frame.to_survey(np.array([pegs[n] for n in names]))
    points = tuple(
        PointResult(n, float(x), float(y), 0.002, 0.002, Ellipse(0.003, 0.002, 0.4))
        for n, (x, y) in zip(names, xy, strict=True)
    )
    survey = Survey(points, (), 1, 1.0, GlobalTest(1, 0, 5, True), np.eye(2 * len(points)) * 4e-6)
    layout = Layout(
        frame,
        ("1", "2"),
        frame.to_survey(np.array(outline)),
        drive,
        _f("gauge", g),
        _f("water width", width),
        _f("water length", length),
        _f("side margin", side),
        _f("end margin", end),
        _f("setback", setback),
        _f("travel", far + end),
        _f("channel", far + end + 0.2),
        tuple(
            Clearance(
                o.name,
                part.name,
                _f("clearance", worst(part, pieces_of(o.kind, np.array([pegs[p] for p in o.points])))),
            )
            for o in things
            for part in parts_for(o.kind, cover_parts(g, far + end + 0.2, 1.75 * IN, 0.30, 0.46))
        ),
    )
    rng = np.random.default_rng(7)
    gauge = tuple(
        GaugeAt(s, _f("gauge", g + e), _f("deviation", e))
        for s, e in zip(np.linspace(0.4, far, stations), rng.normal(0, gauge_noise, stations), strict=True)
    )
    fit = Fit("as-built", None, None, None, None, None, gauge)
    pool = Pool(tuple(Corner(n, radius) for n in "1234"), False, tuple(things))
    return layout, survey, pool, fit


def survey(
    points: int = 8,
    braces: int = 2,
    *,
    seed: int = 1,
    unit: Unit = Unit.FT_IN,
    suspects: int = 1,
    size: tuple[float, float] = (11.0, 5.5),
) -> tuple[Survey, tuple[str, ...]]:
    """A survey round a pool of ``size`` with its baseline in front, and the names of the water's points."""
    rng = np.random.default_rng(seed)
    pegs: dict[str, tuple[float, float]] = {"A": (0.0, 0.0), "B": (size[0] * 0.8, 0.0)}
    for k in range(points):
        t = math.tau * (k + rng.uniform(-0.2, 0.2)) / points - 2.4
        c, s = math.cos(t), math.sin(t)
        r = 1 / max(abs(c), abs(s))
        pegs[str(k + 1)] = (size[0] / 2 * (1 + c * r) - 0.8, 1.2 + size[1] / 2 * (1 + s * r))
    names = list(pegs)
    pairs = {("A", "B")} | {(b, n) for n in names[2:] for b in "AB"}
    most = points * (points - 1) // 2
    while len(pairs) < 1 + 2 * points + min(braces * points // 2, most - 1):
        a, b = rng.choice(len(names) - 2, 2, replace=False) + 2
        pairs.add((names[min(a, b)], names[max(a, b)]))
    order = sorted(pairs)
    tapes = []
    for k, (a, b) in enumerate(order):
        true = math.dist(pegs[a], pegs[b])
        v = float(rng.normal(0, 0.002))
        read = true - v + (0.1524 if k < suspects else 0.0)
        w = 8.0 if k < suspects else v / 0.002
        text = format_length(read, unit)
        tapes.append(TapeResult(a, b, read, true, true - read, 0.002, 0.4, w, None, 0.02, text, k + 3))
    found = tuple(
        Suspect(t.frm, t.to, t.read_m, t.adjusted_m, 0.004, finding("survey.inches-many", n=6), 40.0, t.line)
        for t in tapes[:suspects]
    )
    loose = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :] if (a, b) not in pairs]
    nxt = tuple(NextTape(a, b, math.dist(pegs[a], pegs[b]), "braces the weakest line", 1.0) for a, b in loose[-3:])
    struck: tuple[Struck, ...] = ()
    if loose:
        a, b = loose[0]
        d = math.dist(pegs[a], pegs[b])
        struck = (Struck(a, b, Length(d, format_length(d, unit), "m"), "tape caught on a rail", 9),)
    results = tuple(
        PointResult(
            n, x, y, 0.002, 0.003, Ellipse(rng.uniform(0.003, 0.005), rng.uniform(0.001, 0.003), rng.uniform(-1.5, 1.5))
        )
        if n != "A"
        else PointResult(n, x, y, 0, 0, Ellipse(0, 0, 0), True)
        for n, (x, y) in pegs.items()
    )
    cov = np.eye(2 * len(results)) * 4e-6
    made = Survey(results, tuple(tapes), 5, 1.0, GlobalTest(5, 1, 12, True), cov, found, nxt, struck)
    return made, tuple(names[2:])


def track(length: float = 11.6, *, stick: float = 3.048, pins: float = 0.6, last: float | None = None) -> Piece:
    """A run of track from the housing: its last piece, then whole sticks to the pulley."""
    whole = int(length // stick)
    first = length - whole * stick
    if last is not None:
        first = last
        length = first + whole * stick
    segments, at = [], 0.0
    if first > 0.01:
        segments.append(Segment(0.0, first, False, stick, "last piece"))
        at = first
    for k in range(whole):
        segments.append(Segment(at, stick, True, stick, f"whole stick {k + 1}"))
        at += stick
    marks = [Mark(0.0, "cut-end", "cut here"), Mark(length, "factory-end", "pulley end")]
    marks += [Mark(s.start_m, "joint", "joint") for s in segments[1:]]
    marks += [Mark(0.2 + k * pins, "pin", "pin") for k in range(int((length - 0.3) / pins) + 1)]
    return Piece(
        "track-left",
        "T-L",
        "Track, left",
        "left",
        1,
        _f("cut", length),
        "survey",
        "track",
        (),
        (),
        tuple(segments),
        tuple(marks),
    )
