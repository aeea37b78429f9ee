"""A figure held against a limit, with its uncertainty taken seriously."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from stringline.finding import Code
from stringline.limits import GUARD
from stringline.sources import require
from stringline.worked import Figure


class Stage(StrEnum):
    """The stages of a job, in their order."""

    SURVEY = "survey"
    LAYOUT = "layout"
    ORDER = "order"
    ROUGH_IN = "rough-in"
    FIT_OUT = "fit-out"
    RUN_IN = "run-in"
    HANDOVER = "handover"
    SERVICE = "service"

    @property
    def rank(self) -> int:
        """Position in the order of work, from 0."""
        return list(Stage).index(self)


class Verdict(StrEnum):
    """What a check says. CANNOT_TELL means that the uncertainty straddles the limit."""

    PASS = "pass"
    WATCH = "watch"
    FAIL = "fail"
    CANNOT_TELL = "cannot tell"
    NOT_MEASURED = "not measured"


@dataclass(frozen=True, slots=True)
class Limit:
    """A closed interval in the figure's SI unit; an absent end is open."""

    low: float | None = None
    high: float | None = None
    source: str | None = None

    def __post_init__(self) -> None:
        if self.source is not None:
            require(self.source)


@dataclass(frozen=True, slots=True)
class Check:
    """A figure against a limit, what to do, and the stage that it holds.

    ``stage`` is the stage whose work must not go on past this check; ``holds`` says whether it stops that stage at all.
    """

    code: str
    verdict: Verdict
    stage: Stage
    figure: Figure | None
    limit: Limit | None
    action: Code
    holds: bool = True

    @property
    def title(self) -> Code:
        """What it asks, as it reads when it passes."""
        return f"check.{self.code}.title"

    @property
    def consequence(self) -> Code:
        """What follows if it is ignored."""
        return f"check.{self.code}.consequence"

    @property
    def stops(self) -> bool:
        """Whether the stage waits for this check: anything that holds and is neither pass nor watch."""
        return self.holds and self.verdict not in (Verdict.PASS, Verdict.WATCH)


def judge(value: float, sigma: float | None, limit: Limit, *, guard: float = GUARD) -> Verdict:
    """Compare with a guard band: pass only if value ± guard·σ is inside, fail only if wholly outside.

    A value whose σ is None is taken as exact. JCGM 106:2012 calls this guarded acceptance.
    """
    if not math.isfinite(value):
        raise ValueError("a check needs a finite value")
    u = guard * (sigma or 0.0)
    low = -math.inf if limit.low is None else limit.low
    high = math.inf if limit.high is None else limit.high
    if low <= value - u and value + u <= high:
        return Verdict.PASS
    if value + u < low or value - u > high:
        return Verdict.FAIL
    return Verdict.CANNOT_TELL if u > 0 else Verdict.FAIL
