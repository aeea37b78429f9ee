"""Lead against station both ways with its limit, and torque and speed over the travel."""

from __future__ import annotations

from collections.abc import Sequence

from stringline.drawing.canvas import Drawing
from stringline.drawing.charts import Band, Curve, Marks, Panel, array, draw_panels
from stringline.finding import Finding, finding
from stringline.job.readings import RunReading
from stringline.lead.result import LeadAfter, LeadPrediction
from stringline.lengths import FOOT, INCH
from stringline.mechanics.run_state import RunState
from stringline.mechanics.travel import LeadRun
from stringline.sheets.pictures import layers
from stringline.sheets.voice import Voice

_FT_LB = 1.3558179483314004


def lead_drawing(
    limit_m: float,
    voice: Voice,
    *,
    prediction: LeadPrediction | None = None,
    readings: Sequence[RunReading] = (),
    explained: LeadRun | None = None,
    after: LeadAfter | None = None,
    sigma_m: float = 0.0,
    size_mm: tuple[float, float] = (170.0, 150.0),
    across: bool = False,
) -> Drawing:
    """Leads closing and opening over the station: what was expected, read, explained, and what follows the action.

    ``sigma_m`` is one σ of a reading, drawn as a bar. ``across`` sets the two ways side by side.
    Raises ValueError where there is nothing to draw.
    """
    panels = []
    for way in ("closing", "opening"):
        panel = _lead_panel(way, voice, limit_m, prediction, readings, explained, after, sigma_m)
        if panel is not None:
            panels.append(panel)
    if not panels:
        raise ValueError("a drawing of leads needs a prediction, a reading or an explanation")
    board = draw_panels(panels, _stations(voice), size_mm, across=across)
    shown = [
        Finding(code) if n is None else finding(code, n=n)
        for given, code, n in (
            (prediction is not None, "lead.drawing.of-prediction", None),
            (bool(readings), "lead.drawing.of-readings", _count(readings)),
            (explained is not None, "lead.drawing.of-explanation", None),
            (after is not None, "lead.drawing.of-after", None),
        )
        if given
    ]
    ways = tuple(p.title.lower() for p in panels)
    alt = voice.say(finding("lead.drawing.alt", ways=ways, shown=tuple(shown), limit_m=limit_m))
    return board.finish("lead", voice.say("lead.drawing.title"), alt, width_mm=size_mm[0])


def run_drawing(
    closing: RunState,
    opening: RunState,
    voice: Voice,
    *,
    rated_torque_nm: float | None = None,
    size_mm: tuple[float, float] = (170.0, 130.0),
    across: bool = False,
) -> Drawing:
    """Torque at the shaft that is turned and the leading edge's speed over the travel, both ways.

    ``across`` sets the two side by side.
    """
    say = voice.say
    torque, torque_unit = (_FT_LB, "lbf·ft") if voice.unit.in_feet else (1.0, "N·m")
    speed, speed_unit = (FOOT / 60, "ft/min") if voice.unit.in_feet else (1 / 60, "m/min")
    both = tuple(
        (state, state.station_m / _station_size(voice), layer, say(f"lead.way.{state.direction}"))
        for state, layer in ((closing, layers.CURVE), (opening, layers.CURVE_OTHER))
    )
    rating = () if rated_torque_nm is None else ((rated_torque_nm / torque, say("mechanics.drawing.rated")),)
    panels = (
        Panel(
            say("mechanics.drawing.torque"),
            torque_unit,
            [Curve(layer, x, s.torque_nm / torque, name) for s, x, layer, name in both],
            levels=rating,
            from_zero=True,
        ),
        Panel(
            say("mechanics.drawing.speed"),
            speed_unit,
            [Curve(layer, x, s.speed_m_s / speed, name) for s, x, layer, name in both],
            from_zero=True,
        ),
    )
    board = draw_panels(panels, _stations(voice), size_mm, across=across)
    alt = finding(
        "mechanics.drawing.run-alt",
        closing_nm=float(closing.torque_nm.max()),
        opening_nm=float(opening.torque_nm.max()),
        closing_s=closing.run_time_s,
        opening_s=opening.run_time_s,
    )
    return board.finish("run", say("mechanics.drawing.run"), say(alt), width_mm=size_mm[0])


def _lead_panel(
    way: str,
    voice: Voice,
    limit_m: float,
    prediction: LeadPrediction | None,
    readings: Sequence[RunReading],
    explained: LeadRun | None,
    after: LeadAfter | None,
    sigma_m: float,
) -> Panel | None:
    say, far, size = voice.say, _station_size(voice), INCH if voice.unit.in_feet else 0.001
    is_closing = way == "closing"
    curves, bands, marks = [], [], []
    if prediction is not None:
        x = prediction.station_m / far
        band = (prediction.closing_band_m if is_closing else prediction.opening_band_m) / size
        mean = (prediction.closing_mean_m if is_closing else prediction.opening_mean_m) / size
        bands.append(Band(x, band[0], band[1], say("lead.drawing.band")))
        curves.append(Curve(layers.CURVE_THIN, x, mean, say("lead.drawing.expected")))
    if explained is not None:
        y = explained.closing_m if is_closing else explained.opening_m
        curves.append(Curve(layers.CURVE, explained.station_m / far, y / size, say("lead.drawing.explained")))
    if after is not None:
        y = after.closing_m if is_closing else after.opening_m
        curves.append(Curve(layers.CURVE_OTHER, after.station_m / far, y / size, say("lead.drawing.after")))
    read = [(r.station_m, r.closing_m if is_closing else r.opening_m) for r in readings]
    kept = [(s, v) for s, v in read if v is not None]
    if kept:
        at, values = array([s / far for s, _ in kept]), array([v / size for _, v in kept])
        marks.append(Marks(at, values, sigma_m / size, say("lead.drawing.read")))
    if not (curves or marks):
        return None
    levels = tuple((m / size, say(finding("lead.drawing.limit", limit_m=m))) for m in (limit_m, -limit_m))
    sense = say(finding("lead.drawing.sense", unit="in" if voice.unit.in_feet else "mm"))
    return Panel(voice.cap(f"lead.way.{way}"), sense, curves, marks, bands, levels)


def _count(readings: Sequence[RunReading]) -> int:
    return sum((r.closing_m is not None) + (r.opening_m is not None) for r in readings)


def _station_size(voice: Voice) -> float:
    return FOOT if voice.unit.in_feet else 1.0


def _stations(voice: Voice) -> str:
    return voice.say(finding("lead.drawing.station", unit="ft" if voice.unit.in_feet else "m"))
