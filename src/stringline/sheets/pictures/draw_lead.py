"""Lead against station both ways with its limit, and torque and speed over the travel."""

from __future__ import annotations

from collections.abc import Sequence

from stringline.drawing.canvas import Drawing
from stringline.drawing.charts import Band, Curve, Marks, Panel, array, draw_panels
from stringline.job.readings import RunReading
from stringline.lead.result import LeadAfter, LeadPrediction
from stringline.lengths import FOOT, INCH, Unit
from stringline.mechanics.run_state import RunState
from stringline.mechanics.travel import LeadRun
from stringline.sheets.pictures import layers
from stringline.sheets.quantities import small

_FT_LB = 1.3558179483314004


def lead_drawing(
    unit: Unit,
    limit_m: float,
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
        panel = _lead_panel(way, unit, limit_m, prediction, readings, explained, after, sigma_m)
        if panel is not None:
            panels.append(panel)
    if not panels:
        raise ValueError("a drawing of leads needs a prediction, a reading or an explanation")
    board = draw_panels(panels, f"station from the housing, {_station_unit(unit)}", size_mm, across=across)
    shown = [
        words
        for given, words in (
            (prediction is not None, "the lead expected with its 95 % band"),
            (bool(readings), f"{_count(readings)} readings"),
            (explained is not None, "the explanation found"),
            (after is not None, "the lead expected after the first action"),
        )
        if given
    ]
    alt = f"Lead of the leading edge against station, {' and '.join(p.title.lower() for p in panels)}: "
    alt += f"{', '.join(shown)}; limit {small(limit_m, unit)} either way."
    return board.finish("lead", "Lead", alt, width_mm=size_mm[0])


def run_drawing(
    closing: RunState,
    opening: RunState,
    unit: Unit,
    *,
    rated_torque_nm: float | None = None,
    size_mm: tuple[float, float] = (170.0, 130.0),
) -> Drawing:
    """Torque at the shaft that is turned and the leading edge's speed over the travel, both ways."""
    feet = unit in (Unit.FT_IN, Unit.FT)
    torque, torque_unit = (_FT_LB, "lbf·ft") if feet else (1.0, "N·m")
    speed, speed_unit = (FOOT / 60, "ft/min") if feet else (1 / 60, "m/min")
    both = ((closing, layers.CURVE, "closing"), (opening, layers.CURVE_OTHER, "opening"))
    x = {s.direction: s.station_m / _station_size(unit) for s, _, _ in both}
    rating = () if rated_torque_nm is None else ((rated_torque_nm / torque, "motor's rated torque"),)
    panels = (
        Panel(
            "Torque at the shaft turned: reels closing, drum opening",
            torque_unit,
            [Curve(layer, x[s.direction], s.torque_nm / torque, name) for s, layer, name in both],
            levels=rating,
            from_zero=True,
        ),
        Panel(
            "Speed of the leading edge",
            speed_unit,
            [Curve(layer, x[s.direction], s.speed_m_s / speed, name) for s, layer, name in both],
            from_zero=True,
        ),
    )
    board = draw_panels(panels, f"station from the housing, {_station_unit(unit)}", size_mm)
    shut, open_ = closing.torque_nm.max() / torque, opening.torque_nm.max() / torque
    alt = (
        f"Torque and speed over the travel: at most {shut:.0f} {torque_unit} closing and {open_:.0f} opening; "
        f"closing takes {closing.run_time_s:.0f} s, opening {opening.run_time_s:.0f} s."
    )
    return board.finish("run", "Torque and speed", alt, width_mm=size_mm[0])


def _lead_panel(
    way: str,
    unit: Unit,
    limit_m: float,
    prediction: LeadPrediction | None,
    readings: Sequence[RunReading],
    explained: LeadRun | None,
    after: LeadAfter | None,
    sigma_m: float,
) -> Panel | None:
    far, size = _station_size(unit), INCH if unit in (Unit.FT_IN, Unit.FT) else 0.001
    is_closing = way == "closing"
    curves, bands, marks = [], [], []
    if prediction is not None:
        x = prediction.station_m / far
        band = (prediction.closing_band_m if is_closing else prediction.opening_band_m) / size
        mean = (prediction.closing_mean_m if is_closing else prediction.opening_mean_m) / size
        bands.append(Band(x, band[0], band[1], "95 in 100 runs expected here"))
        curves.append(Curve(layers.CURVE_THIN, x, mean, "expected"))
    if explained is not None:
        y = explained.closing_m if is_closing else explained.opening_m
        curves.append(Curve(layers.CURVE, explained.station_m / far, y / size, "explained by the causes found"))
    if after is not None:
        y = after.closing_m if is_closing else after.opening_m
        curves.append(Curve(layers.CURVE_OTHER, after.station_m / far, y / size, "expected after the first action"))
    read = [(r.station_m, r.closing_m if is_closing else r.opening_m) for r in readings]
    kept = [(s, v) for s, v in read if v is not None]
    if kept:
        at, values = array([s / far for s, _ in kept]), array([v / size for _, v in kept])
        marks.append(Marks(at, values, sigma_m / size, "read"))
    if not (curves or marks):
        return None
    limit = limit_m / size
    levels = ((limit, f"limit {small(limit_m, unit)}"), (-limit, f"limit {small(-limit_m, unit)}"))
    words = f"{'in' if size == INCH else 'mm'}; + is the drive side ahead"
    return Panel(way.capitalize(), words, curves, marks, bands, levels)


def _count(readings: Sequence[RunReading]) -> int:
    return sum((r.closing_m is not None) + (r.opening_m is not None) for r in readings)


def _station_size(unit: Unit) -> float:
    return FOOT if unit in (Unit.FT_IN, Unit.FT) else 1.0


def _station_unit(unit: Unit) -> str:
    return "ft" if unit in (Unit.FT_IN, Unit.FT) else "m"
