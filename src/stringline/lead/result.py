"""What the lead room gives back: the lead to expect, and what a crooked cover's readings say."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stringline.finding import Code, Finding
from stringline.geometry import Array
from stringline.worked import Figure

if TYPE_CHECKING:
    from stringline.mechanics.travel import LeadRun


@dataclass(frozen=True, slots=True)
class Share:
    """One tolerance's part in the scatter of the lead where it scatters most."""

    field: str
    label: Code
    share: float
    advice: Code


@dataclass(frozen=True, slots=True)
class CardRow:
    """One line of the run-in card: what to expect at a station, 95 in 100 runs; leads + with the drive side ahead."""

    station_m: float
    closing_low_m: float
    closing_high_m: float
    opening_low_m: float
    opening_high_m: float
    closing_current_a: float
    opening_current_a: float


@dataclass(frozen=True)
class LeadPrediction:
    """Lead to expect before the cover has run, both ways; + with the drive side ahead in the direction of travel."""

    station_m: Array  # (k,)
    nominal: LeadRun  # everything as drawn
    closing_mean_m: Array  # (k,)
    closing_band_m: Array  # (2, k)
    opening_mean_m: Array
    opening_band_m: Array
    limit_m: float
    worst: Figure  # highest lead that 95 in 100 runs stay below
    p_over: Figure
    p_bind: Figure
    shares: tuple[Share, ...]  # largest first; of the lead where it scatters most
    shares_at_m: float
    shares_direction: str  # closing | opening
    effort: Share | None  # the tolerance worth spending effort on
    card: tuple[CardRow, ...]
    samples: int
    notes: tuple[Code, ...] = ()


@dataclass(frozen=True, slots=True)
class CauseFound:
    """One cause with its probability, how much of it, and what to do about it."""

    key: str  # a key of stringline.lead.causes
    side: str  # "drive" | "idle" | "both": where the fault lies
    title: Finding
    probability: float  # that it is there at all
    main: float  # that it is the one that makes most of the lead
    amount: Figure
    action: Finding
    why: Finding
    effect_m: float  # highest |lead| that it makes by itself
    station_m: float | None = None  # of a tight spot


@dataclass(frozen=True)
class LeadAfter:
    """Lead to expect once the first action is done."""

    station_m: Array  # (k,)
    closing_m: Array
    opening_m: Array
    sigma_m: Array  # (k,)
    worst: Figure


@dataclass(frozen=True, slots=True)
class NextReading:
    """The reading that would best tell the likely causes apart."""

    what: str  # closing | opening | current
    station_m: float
    text: Finding
    bits: float  # information expected from it, of the doubt there is
    doubt_bits: float


@dataclass(frozen=True, slots=True)
class Doubtful:
    """A single lead that is likelier false than not, and is to be taken again."""

    what: str  # closing | opening
    station_m: float
    lead_m: float  # as it was read
    chance: float  # that it is false
    text: Finding


@dataclass(frozen=True)
class Lesson:
    """What an action was expected to do, against what the next run measured; one row a reading."""

    action: Finding
    station_m: Array
    direction: tuple[str, ...]
    predicted_m: Array
    measured_m: Array
    sigma_m: Array
    verdict: Code


@dataclass(frozen=True)
class Diagnosis:
    """What the readings say.

    ``sure`` is False where another first cause is nearly as likely; ``verdict`` then says so.
    """

    verdict: Code
    sure: bool
    causes: tuple[CauseFound, ...]  # likeliest first
    rivals: tuple[Finding, ...]  # titles that cannot be told from the first
    after: LeadAfter | None
    next_reading: NextReading | None
    fits: bool  # whether the best explanation meets the readings within their σ
    misfit: Figure  # root mean square of (reading − explanation)/σ
    explained: LeadRun  # the best explanation over the whole travel
    lessons: tuple[Lesson, ...] = ()
    readings: int = 0
    other: float = 0.0  # chance of a cause that is on no list
    doubtful: tuple[Doubtful, ...] = ()
    notes: tuple[Code, ...] = ()

    @property
    def first(self) -> CauseFound | None:
        """The likeliest cause."""
        return self.causes[0] if self.causes else None
