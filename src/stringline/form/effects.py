"""What a gauge other than the one laid out does to parts that were ordered for it.

The deviation of the gauge is held, with its σ and a guard of 2σ, against what each part takes up
(:mod:`stringline.system.takes_up`): cover and leading edge at the station that is farthest out, the drum at the first.
"""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code, finding
from stringline.form.result import Fit, GaugeAt
from stringline.judging import Limit, Verdict, judge
from stringline.system.model import System
from stringline.system.takes_up import takes_up
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class Effect:
    """One ordered part: what it must take up, what it can, whether that is safe, and what to do with it."""

    part: Code
    figure: Figure
    limit: Limit
    verdict: Verdict
    says: Code


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
        _effect("form.part.cover", worst, room.cover_width_m, "form.cover-will-do", "form.cover-will-not-do"),
        _effect("form.part.leading-edge", worst, room.leading_edge_m, "form.edge-will-do", "form.edge-will-not-do"),
        _drum(first, room.drum_m),
    )


def _effect(part: str, at: GaugeAt, room: float, will_do: str, will_not_do: str) -> Effect:
    limit = Limit(-room, room, "catalogue")
    verdict = judge(at.deviation.value, at.deviation.sigma, limit)
    says: Code = finding("form.cannot-tell", part=finding(part))
    if verdict is Verdict.PASS:
        says = will_do
    elif verdict is Verdict.FAIL:
        says = will_not_do
    return Effect(part, at.deviation, limit, verdict, says)


def _drum(first: GaugeAt, room: float) -> Effect:
    """The drum lies at the housing; how far its length may be off is the catalogue's."""
    limit = Limit(-room, room, "catalogue")
    verdict = judge(first.deviation.value, first.deviation.sigma, limit)
    says = "form.drum-will-do" if verdict is Verdict.PASS else "form.drum-too-tight"
    return Effect("form.part.drum", first.deviation, limit, verdict, says)
