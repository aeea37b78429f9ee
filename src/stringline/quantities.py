"""Values as a person reads them: every kind in the job's unit, with its σ."""

from __future__ import annotations

import math

from stringline.judging import Limit, Verdict
from stringline.lengths import Unit, format_length
from stringline.worked import Figure, Kind

SYMBOL = {
    Verdict.PASS: "ok",
    Verdict.WATCH: "watch",
    Verdict.FAIL: "FAIL",
    Verdict.CANNOT_TELL: "can't tell",
    Verdict.NOT_MEASURED: "not measured",
}

_METRIC = {
    Kind.AREA: ("m²", 2),
    Kind.VOLUME: ("m³", 2),
    Kind.FORCE: ("N", 0),
    Kind.TORQUE: ("N·m", 1),
    Kind.STIFFNESS: ("N/m", 0),
    Kind.MASS: ("kg", 1),
    Kind.TIME: ("s", 0),
    Kind.SPEED: ("m/s", 3),
    Kind.POWER: ("W", 0),
    Kind.CURRENT: ("A", 1),
    Kind.VOLTAGE: ("V", 0),
    Kind.TURNS: ("turns", 1),
}
_IMPERIAL = {
    Kind.AREA: ("sq ft", 1, 0.3048**2),
    Kind.VOLUME: ("cu ft", 1, 0.3048**3),
    Kind.FORCE: ("lbf", 0, 4.4482216152605),
    Kind.TORQUE: ("lbf·ft", 1, 4.4482216152605 * 0.3048),
    Kind.STIFFNESS: ("lbf/ft", 0, 4.4482216152605 / 0.3048),
    Kind.MASS: ("lb", 0, 0.45359237),
    Kind.SPEED: ("ft/min", 0, 0.3048 / 60),
}


def is_imperial(unit: Unit) -> bool:
    """Whether results read in feet and pounds."""
    return unit in (Unit.FT_IN, Unit.FT)


def quantity(value: float, kind: Kind, unit: Unit) -> str:
    """Write a value of any kind in the unit system of the job."""
    if kind is Kind.LENGTH:
        return format_length(value, unit)
    if kind is Kind.COUNT:
        return f"{value:.0f}"
    if kind is Kind.RATIO:
        return f"{value:.3g}" if abs(value) < 100 else f"{value:.1f}"
    if kind is Kind.PROBABILITY:
        return f"{100 * value:.1f} %"
    if kind is Kind.ANGLE:
        return f"{math.degrees(value):.2f}°"
    if is_imperial(unit) and kind in _IMPERIAL:
        name, places, factor = _IMPERIAL[kind]
        return f"{value / factor:.{places}f} {name}"
    name, places = _METRIC[kind]
    return f"{value:.{places}f} {name}"


def spread(sigma_m: float | None, unit: Unit, *, times: float = 2.0) -> str:
    """Write ± times·σ of a length finely enough that it never reads as nought: '' where σ is not known."""
    if sigma_m is None:
        return ""
    value = times * sigma_m
    if is_imperial(unit):
        sixteenths = value / 0.0254 * 16
        return f"± {value / 0.0254:.2f}″" if sixteenths < 1 else f"± {format_length(value, unit)}"
    return f"± {value * 1000:.1f} mm"


def figure_text(figure: Figure, unit: Unit) -> str:
    """Write value and, for a length with a σ, its two-σ spread."""
    text = quantity(figure.value, figure.kind, unit)
    if figure.kind is Kind.LENGTH and figure.sigma is not None:
        text += f" {spread(figure.sigma, unit)}"
    return text


def limit_text(limit: Limit, kind: Kind, unit: Unit) -> str:
    """Write a limit in words: 'at most', 'at least', 'within ±' or a range."""
    low, high = limit.low, limit.high
    if low is not None and high is not None:
        if math.isclose(low, -high):
            return f"within ± {quantity(high, kind, unit)}"
        return f"{quantity(low, kind, unit)} to {quantity(high, kind, unit)}"
    if high is not None:
        return f"at most {quantity(high, kind, unit)}"
    if low is not None:
        return f"at least {quantity(low, kind, unit)}"
    return "no limit"
