"""Hand-made plans for the book's tests: every section filled, nothing computed by the rooms below."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

from stringline.cutting.result import CutList, Mark, PartLine, Parts, Piece, Segment
from stringline.finding import finding
from stringline.form.result import Fit, GaugeAt
from stringline.geometry import Frame
from stringline.job.model import Corner, Cover, Job, Pool, SurveyInput
from stringline.job.readings import Run, RunReading
from stringline.judging import Check, Limit, Stage, Verdict
from stringline.layout.result import Layout
from stringline.lengths import FOOT_M, Unit, format_length, parse
from stringline.ordering.result import Order, OrderLine
from stringline.plan import Needs, Plan
from stringline.plan.checks.codes import check
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
from stringline.system import model as hw
from stringline.worked import Figure, Kind, Origin, Term

FT = float(FOOT_M)
IN = FT / 12
POINTS = {"A": (0.0, 0.0), "B": (24.0, 0.0), "1": (3.0, 6.0), "2": (21.0, 6.1), "3": (21.1, 42.0), "4": (2.9, 42.1)}


def survey(n_tapes: int = 12, names: dict[str, str] | None = None) -> Survey:
    """A survey of six points with a suspect line, repeated readings as far as ``n_tapes`` asks."""
    called = names or {}
    keys = list(POINTS)
    points = tuple(
        PointResult(
            called.get(k, k),
            POINTS[k][0] * FT,
            POINTS[k][1] * FT,
            *((0.0, 0.0) if i < 2 else (0.0018, 0.0024)),
            Ellipse(0.0, 0.0, 0.0) if i < 2 else Ellipse(0.0026, 0.0016, 0.5 - 0.2 * i),
            fixed=i == 0,
        )
        for i, k in enumerate(keys)
    )
    pairs = [(a, b) for i, a in enumerate(keys) for b in keys[i + 1 :]]
    tapes = []
    for n in range(n_tapes):
        a, b = pairs[n % len(pairs)]
        d = math.dist(POINTS[a], POINTS[b]) * FT
        v = 0.0021 * math.sin(3.7 * n + 1)
        r = 0.15 + 0.5 * ((n * 7) % 10) / 10
        bad = n == 4
        read = d - v + (0.152 if bad else 0.0)
        tapes.append(
            TapeResult(
                called.get(a, a),
                called.get(b, b),
                read,
                read + (-0.09 if bad else v),
                -0.09 if bad else v,
                0.0025,
                r,
                -23.1 if bad else v / (0.0025 * math.sqrt(r)),
                0.4,
                None if n == 7 else 4.13 * 0.0025 / math.sqrt(r),
                format_length(read, Unit.FT_IN),
                line=20 + n,
            )
        )
    suspects: tuple[Suspect, ...] = ()
    if n_tapes > 4:
        t = tapes[4]
        suspects = (
            Suspect(
                t.frm,
                t.to,
                t.read_m,
                t.read_m - 0.1519,
                0.0031,
                finding("survey.inches-many", n=6),
                412.0,
                24,
                t.read_m - 6 * IN,
            ),
        )
    return Survey(
        points,
        tuple(tapes),
        9,
        1.02,
        GlobalTest(541.2 if suspects else 9.4, 2.7, 19.0, not suspects),
        np.eye(12) * 4e-6,
        suspects,
        (
            NextTape(
                called.get("1", "1"), called.get("4", "4"), 36.1 * FT, "the weakest reading's r from 0.15 to 0.41", 1.0
            ),
            NextTape(
                called.get("2", "2"),
                called.get("4", "4"),
                40.3 * FT,
                "point 4 known to 0.07 in instead of 0.10 in",
                0.6,
            ),
        ),
        (
            Struck(
                called.get("B", "B"), called.get("3", "3"), parse("43' 2\"", Unit.FT_IN), "tape caught on the rail", 31
            ),
        ),
        ("Line 2–4 is checked by nothing: a slip there would not show.",),
    )


def system() -> hw.System:
    """An invented catalogue."""
    return hw.System(
        "invented-18", "Invented hardware 18", True,
        hw.Track(
            "twin", 2, (24 * FT, 20 * FT, 12 * FT), IN, 0.75 * IN, 2 * FT, IN / 8, 2 * FT, IN / 4, IN, 2 * IN, FT, IN
        ),
        hw.Wedge(3 * FT, 1.5 * IN),
        hw.Filler((12 * FT,), IN / 4),
        hw.Rope(0.006, 9 * FT, 8 * FT, 10 * FT, 2.0, 9000.0, 60000.0, 5.0, 0.6),
        hw.Reel(0.05, 0.12, 0.04, 0.006),
        hw.LeadingEdge(2 * IN, 1.5 * IN, 0.75 * IN, 11 / 64 * IN, 10 * IN, 2.0, 0.2, 0.02),
        hw.Drum(0.075, 0.004, 3 * IN, 69e9, 26e9, 2700.0, 2.0),
        hw.Fabric(0.0006, 1.1, 0.003, 0.6, 3 * IN, IN, 3 * FT, 4 * IN, 6 * IN, 4 * IN, 40000.0),
        hw.Housing(18 * IN, 16 * IN, 6 * IN, IN, 4 * FT, IN / 4, 20 * IN, 12 * FT, 0.01),
        hw.Motor(560.0, 150.0, 0.6, 0.7, 8.2, 115.0),
        hw.Friction(0.3, 0.2, 0.2, 1.57, 0.93, 0.2, 20.0, 15.0),
        hw.Limits(IN / 4, IN / 4, IN / 4, IN / 2, IN / 2, 2 * IN, 20 * FT, 50 * FT, 2 * IN, 1 / 300, 0.006, 0.05),
        hw.Hardware(4, 2, 1),
    )  # fmt: skip


def layout() -> Layout:
    """A cover over the made-up pool, housing along 1–2."""
    d = Origin.DERIVED
    width = Figure.single("Water, across", 18.2 * FT, d, sigma=0.0022)
    side = Figure.single("Side margin", 3 * IN, Origin.CHOSEN)
    gauge = Figure.sum(
        "Gauge between the tracks", [width.term("water, across"), side.term("side margin, left and right", times=2)]
    )
    water = np.array([POINTS[k] for k in ("1", "2", "3", "4")]) * FT
    return Layout(
        Frame((12.0 * FT, 4.5 * FT), math.pi / 2), ("1", "2"), water, "left", gauge, width,
        Figure.single("Water, along", 36.1 * FT, d, sigma=0.0025),
        side,
        Figure.single("End margin", FT, Origin.CHOSEN),
        Figure.single("Setback of the housing", 1.5 * FT, Origin.CHOSEN),
        Figure.single("Travel of the leading edge", 38.6 * FT, d, sigma=0.0025),
        Figure.single("Track channel", 38.8 * FT, d, sigma=0.0025),
        notes=("Housing along 1–2; the other end would cost 4 in of travel.",),
    )  # fmt: skip


def fit() -> Fit:
    """Form as built."""
    m = Origin.MEASURED
    gauge = layout().gauge.value
    rows = tuple(
        GaugeAt(
            s * FT,
            Figure.single("gauge", gauge + e * IN, m, sigma=0.001),
            Figure.single("deviation", e * IN, m, sigma=0.0014),
        )
        for s, e in ((0, 0.0), (8, 0.06), (16, 0.12), (24, 0.31), (32, 0.1), (38.8, -0.05))
    )
    one = Figure.single("Straightness, left", 0.11 * IN, m, sigma=0.0012)
    return Fit("as-built", one, one, one, one, one, rows)


def pieces(count: int = 6) -> tuple[Piece, ...]:
    """Tracks, wedges, rope and what else it takes to reach ``count``."""

    def run(side: str, extra: float) -> Piece:
        figure = Figure.sum(
            f"Track, {side}",
            [
                Term("channel, housing face to far end", 38.8 * FT + extra, Origin.MEASURED, None, 0.0015),
                Term("past the channel into the housing", IN, Origin.PRACTICE, "trade"),
                Term("pulley spacer, two-channel track", -0.75 * IN, Origin.CATALOGUE, "catalogue"),
            ],
        )
        last = figure.value - 24 * FT
        return Piece(
            f"track-{side}",
            f"T-{side[0].upper()}",
            f"Track, {side}",
            side,
            1,
            figure,
            "as-built",
            "two-channel track: one 24 ft stick and a last piece",
            (
                "Lay a 24 ft stick and a 20 ft stick joint to joint, factory ends together.",
                f"Mark the last piece {format_length(last, Unit.FT_IN)} from its factory end; square it all round.",
                "Cut at the housing end only; the factory end stays at the joint. File off the burr.",
                "Chalk the mark on the far end and push the run home against the pulley.",
            ),
            ("Clamp the piece, eyes and ears covered, both hands clear of the blade.",),
            (Segment(0.0, last, False, 20 * FT, "last piece"), Segment(last, 24 * FT, True, 24 * FT, "24 ft stick")),
            (
                Mark(0.0, "cut-end", "cut"),
                *(Mark(FT + k * 4 * FT, "pin", f"pin {k + 1}") for k in range(9)),
                Mark(last, "joint", "joint"),
                Mark(figure.value, "factory-end", "factory end"),
            ),
        )

    base = [run("left", 0.0), run("right", 0.3 * IN)]
    rope = Figure.by_rule(
        "Rope",
        96.4,
        "twice the travel, plus housing face to reel, plus turns that stay on the reel",
        [
            Term("travel", 38.6 * FT, Origin.DERIVED, None, 0.0025),
            Term("housing face to reel with its turns", 2.0, Origin.CATALOGUE, "catalogue"),
        ],
    )
    base.append(
        Piece(
            "rope",
            "R",
            "Rope",
            "both",
            2,
            rope,
            "survey",
            "6 mm rope",
            ("Measure on the ground, cut with a hot knife.",),
            (),
            when="fit-out",
        )
    )
    base.append(
        Piece(
            "leading-edge",
            "LE",
            "Leading edge",
            "none",
            1,
            Figure.sum(
                "Leading edge",
                [
                    Term("gauge", layout().gauge.value, Origin.MEASURED, None, 0.001),
                    Term("reach of two ends", -4 * IN, Origin.CATALOGUE, "catalogue"),
                ],
            ),
            "as-built",
            "leading edge tube",
            ("Cut square.", "Drill the pilot through the leading edge alone."),
        )
    )
    n = 0
    while len(base) < count:
        n += 1
        f = Figure.single(f"Wedge run {n}", (3 + 0.1 * n) * FT, Origin.CHOSEN)
        base.append(
            Piece(f"wedge-{n}", f"W{n}", f"Wedge run {n}", "left", 1 + n % 3, f, "as-built", "wedge", ("Cut square.",))
        )
    return tuple(base[:count])


def checks() -> tuple[Check, ...]:
    """One check of each verdict, and one of a later stage."""

    def length(label: str, inches: float, sigma: float) -> Figure:
        return Figure.single(label, inches * IN, Origin.DERIVED, sigma=sigma * IN)

    return (
        check(
            "fit-gauge",
            Verdict.FAIL,
            figure=length("Gauge deviation", 0.31, 0.02),
            limit=Limit(-IN / 4, IN / 4, "catalogue"),
        ),
        check(
            "fit-square",
            Verdict.CANNOT_TELL,
            figure=length("Run-out", 0.47, 0.06),
            limit=Limit(0.0, IN / 2, "catalogue"),
        ),
        check("order-length", Verdict.NOT_MEASURED, limit=Limit(-IN, IN, "catalogue")),
        check(
            "fit-straight-left",
            Verdict.WATCH,
            figure=length("Straightness, left", 0.21, 0.02),
            limit=Limit(0.0, IN / 4, "catalogue"),
        ),
        check(
            "layout-overlap",
            Verdict.PASS,
            figure=length("Overlap", 3.0, 0.08),
            limit=Limit(2 * IN, None, "catalogue"),
        ),
        check("lead-measured", Verdict.NOT_MEASURED, stage=Stage.RUN_IN, limit=Limit(-2 * IN, 2 * IN, "catalogue")),
    )


def job(name: str = "Tern Cottage", unit: Unit = Unit.FT_IN, stage: Stage = Stage.FIT_OUT) -> Job:
    """The made-up job."""
    return Job(
        name,
        unit,
        stage,
        "invented-18",
        SurveyInput((), baseline=("A", "B")),
        True,
        Pool(tuple(Corner(k) for k in ("1", "2", "3", "4"))),
        Cover("under-coping", ("1", "2"), "left", 3 * IN, FT),
    )


_NONE: dict[str, Any] = dict.fromkeys(("taping", "levelled", "remedy", "advice", "placed", "difference"))


def full(
    *,
    name: str = "Tern Cottage",
    unit: Unit = Unit.FT_IN,
    stage: Stage = Stage.FIT_OUT,
    n_pieces: int = 6,
    n_tapes: int = 12,
    **changes: Any,
) -> Plan:
    """A plan with every section present; ``changes`` replace fields."""
    lay = layout()
    lines = (
        OrderLine(
            "cover",
            "Cover, one piece",
            "cover maker",
            1,
            (lay.gauge, lay.travel),
            "Hems left open at the leading edge.",
        ),
        OrderLine("track-24", "Two-channel track, 24 ft", "track and hardware", 2, ()),
        OrderLine("lid", "Lid panels", "housing and lid", 5, (Figure.single("Lid, total", 20 * FT, Origin.DERIVED),)),
    )
    parts = Parts(
        tuple(
            PartLine(
                k,
                k.capitalize(),
                Figure.by_rule(k, v, "one each 2 ft of track", [Term("track", v, Origin.DERIVED)], kind=Kind.COUNT),
            )
            for k, v in (("pins", 20.0), ("screws", 46.0), ("splices", 2.0))
        )
    )
    made = Plan(
        job(name, unit, stage),
        system(),
        survey=survey(n_tapes),
        layout=lay,
        fit=fit(),
        cut=CutList(pieces(n_pieces)),
        cuts=CutList(pieces(n_pieces)),
        order=Order("the survey adjusted on 2026-05-04, layout revision A", lines),
        parts=parts,
        mechanics=Needs("mechanics", ()),
        lead=Needs("lead", ()),
        diagnosis=Needs("diagnosis", ()),
        checks=checks(),
        assumptions=("Tapes were pulled level.", "Temperature near 68 °F."),
        **_NONE,
    )
    return made.changed(**changes)


def bare(name: str = "Tern Cottage") -> Plan:
    """A plan of a survey alone; every other section says what it needs."""
    wants: dict[str, Any] = {
        k: Needs(k, (f"what {k} needs",))
        for k in ("layout", "fit", "cuts", "order", "parts", "mechanics", "lead", "diagnosis")
    }
    return Plan(
        replace(job(name, stage=Stage.SURVEY), pool=None, cover=None),
        None,
        survey=survey(4),
        cut=wants["cuts"],
        checks=(),
        assumptions=(),
        **wants,
        **_NONE,
    )


def with_run(plan: Plan) -> Plan:
    """The same plan with leads taken."""
    leads = tuple(
        RunReading.of(k * 4 * FT, 0.3 * IN * k, None if k == 3 else -0.1 * IN * k, 4.0 + k) for k in range(1, 6)
    )
    return plan.changed(job=replace(plan.job, run=Run(leads, ("catch at 24'",))))
