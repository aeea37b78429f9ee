"""What a gauge other than the one laid out does to parts that were ordered for it."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.form.result import Fit, GaugeAt
from stringline.judging import Limit, Verdict, judge
from stringline.system.model import System
from stringline.system.takes_up import takes_up
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class Effect:
    """One ordered part: what it must take up, what it can, whether that is safe, and what to do with it."""

    part: str
    figure: Figure
    limit: Limit
    verdict: Verdict
    says: str


def effects_of(fit: Fit, system: System) -> tuple[Effect, ...]:
    """Effects of the gauges in ``fit`` on cover, leading edge and drum; () where no gauge was measured.

    The cover and the leading edge must follow every station; the drum lies at the housing.
    """
    if not fit.gauge:
        return ()
    wide = max(fit.gauge, key=lambda g: g.deviation.value)
    tight = min(fit.gauge, key=lambda g: g.deviation.value)
    first = fit.gauge[0]
    worst = max((wide, tight), key=lambda g: abs(g.deviation.value))
    room = takes_up(system)
    return (
        _effect("cover", worst, room.cover_width_m, "its hems take up", "order another cover, or move the tracks"),
        _effect(
            "leading edge",
            worst,
            room.leading_edge_m,
            "its adjustable ends take up",
            "cut the tube anew if the gauge is smaller, order a longer one if it is larger, or move the tracks",
        ),
        _drum(first, room.drum_m),
    )


def _effect(part: str, at: GaugeAt, room: float, takes: str, otherwise: str) -> Effect:
    limit = Limit(-room, room, "catalogue")
    verdict = judge(at.deviation.value, at.deviation.sigma, limit)
    says = {
        Verdict.PASS: f"The {part} as ordered will do: {takes} what the gauge differs.",
        Verdict.FAIL: f"The {part} as ordered will not do: {otherwise}.",
    }.get(
        verdict, f"Whether the {part} as ordered will do cannot be told from these readings: measure the gauge again."
    )
    return Effect(part, at.deviation, limit, verdict, says)


def _drum(first: GaugeAt, room: float) -> Effect:
    """The drum lies at the housing; how far its length may be off is the catalogue's."""
    limit = Limit(-room, room, "catalogue")
    verdict = judge(first.deviation.value, first.deviation.sigma, limit)
    if verdict is Verdict.PASS:
        says = "The drum as ordered will do: centre it between the tracks at the housing."
    else:
        says = "The drum as ordered leaves too little room at its ends: measure the gauge there again before it is cut."
    return Effect("drum", first.deviation, limit, verdict, says)
