"""What a job holds once it has been read: only what was measured or chosen, nothing derived."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stringline.job.model_later import Control, Drain, Ordering, Power, Rack, Tasks
from stringline.judging import Stage
from stringline.lengths import Length, Unit


@dataclass(frozen=True, slots=True)
class Tape:
    """One reading of a tape between two named points.

    ``struck`` is the reason why a person set the reading aside (it stays in the file and on the survey sheet, but
    takes no part); None for a reading in use. ``by``, ``at`` and ``device`` are free text.
    """

    a: str
    b: str
    length: Length
    sigma_m: float | None = None
    line: int | None = None
    struck: str | None = None
    by: str | None = None
    at: str | None = None
    device: str | None = None


@dataclass(frozen=True, slots=True)
class Offset:
    """A point found by station along a stringline from ``a`` towards ``b`` and offset square to it, + to the left.

    ``station`` is None for a right-angle offset alone: how far off the line, wherever along it.
    """

    a: str
    b: str
    station: Length | None
    offset: Length
    point: str
    sigma_m: float | None = None
    line: int | None = None


@dataclass(frozen=True, slots=True)
class Level:
    """A rod reading at a point: larger is lower. ``setup`` names where the instrument stood (None: the only place)."""

    point: str
    rod: Length
    sigma_m: float | None = None
    line: int | None = None
    setup: str | None = None


@dataclass(frozen=True, slots=True)
class HousingFloor:
    """Levelled points of the housing's floor and of its drain; ``run_m`` is how far a point lies from the drain, where
    that was measured (None: from the survey)."""

    points: tuple[tuple[str, float | None], ...]
    drain: str
    line: int | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """The drain and every point of the floor."""
        return (self.drain, *(name for name, _ in self.points))


@dataclass(frozen=True, slots=True)
class Coordinate:
    """One observed coordinate of a point (a total station's, a laser's or a drawing's); ``axis`` is x or y."""

    point: str
    axis: str
    value_m: float
    sigma_m: float
    line: int | None = None


@dataclass(frozen=True, slots=True)
class TapeConditions:
    """How the tape was held, for those who want their readings corrected; what is None is not corrected for.

    Temperature needs ``celsius``; pull needs ``pull_n``, ``area_m2`` and ``modulus_pa``; sag, for tapes that hang free
    from end to end, ``hanging``, ``pull_n`` and ``weight_n_per_m``. Defaults are a steel tape's, standard at 20 °C and
    50 N.
    """

    celsius: float | None = None
    standard_celsius: float = 20.0
    per_kelvin: float = 11.5e-6
    pull_n: float | None = None
    standard_pull_n: float = 50.0
    area_m2: float | None = None
    modulus_pa: float = 200e9
    hanging: bool = False
    weight_n_per_m: float | None = None


@dataclass(frozen=True, slots=True)
class SurveyInput:
    """Readings and what they hang on. ``sigma_m`` overrides ``tape_class``; ``known`` and ``sketch`` are metres.

    ``coordinates`` were observed in a frame of their own, and came from ``coordinate_file`` where that is named;
    ``conditions`` asks for corrections, None for none. ``tape_length_m`` is how far the tape reaches, for planning what
    to tape, and ``blocked`` the pairs of points that no tape can be pulled between; ``sketch_bare`` says that the
    sketch had numbers without a unit.
    """

    tapes: tuple[Tape, ...]
    tape_class: str = "II"
    sigma_m: float | None = None
    baseline: tuple[str, str] | None = None
    behind: tuple[str, ...] = ()
    known: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    sketch: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    offsets: tuple[Offset, ...] = ()
    levels: tuple[Level, ...] = ()
    coordinates: tuple[Coordinate, ...] = ()
    conditions: TapeConditions | None = None
    coordinate_file: str | None = None
    tape_length_m: float | None = None
    blocked: tuple[tuple[str, str], ...] = ()
    sketch_bare: bool = False
    floor: HousingFloor | None = None


@dataclass(frozen=True, slots=True)
class Corner:
    """A vertex of the water's edge; ``radius_m`` rounds that corner (0: sharp).

    In the file ``{ arc = "6\\"" }`` stands between two names and rounds the corner at the name before it.
    ``through`` says that the edge bows: one arc from the point before, through this one, to the point after.
    """

    point: str
    radius_m: float = 0.0
    through: bool = False


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something the cover's parts must not run into. ``kind``: wall, rail, rock, step or deck-edge."""

    name: str
    points: tuple[str, ...]
    kind: str
    line: int | None = None


@dataclass(frozen=True, slots=True)
class Pool:
    """The water's edge in order, and what stands around it."""

    water: tuple[Corner, ...]
    curve: bool = False
    obstacles: tuple[Obstacle, ...] = ()


@dataclass(frozen=True, slots=True)
class Cover:
    """Choices about the cover. ``housing`` is the edge between two water points it lies along, or None for any end."""

    mount: str  # under-coping | flush | on-deck
    housing: tuple[str, str] | None
    drive_side: str  # left | right, standing at the housing, looking over the water
    side_margin_m: float
    end_margin_m: float
    minimise: str = "area"  # area | width
    choices: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """Measured after the pour. Stations run from the housing. Every value optional; () or None where not measured.

    ``gauge`` holds (station m, distance between tracks m); ``channel_left``/``right`` the length of each channel from
    the housing face to its far end; ``diagonals`` housing-left to far-right, then housing-right to far-left;
    ``offsets_left``/``right`` (station m, offset m) of each channel from its own stringline, + to the right.
    """

    gauge: tuple[tuple[float, float], ...] = ()
    channel_left_m: float | None = None
    channel_right_m: float | None = None
    diagonals_m: tuple[float, float] | None = None
    offsets_left: tuple[tuple[float, float], ...] = ()
    offsets_right: tuple[tuple[float, float], ...] = ()
    housing_inside_m: float | None = None
    fascia_clear_m: float | None = None
    lid_opening_m: float | None = None
    sigma_m: float | None = None
    line: int | None = None


@dataclass(frozen=True, slots=True)
class RunReading:
    """Leads at one station, + with the drive side ahead in the direction of travel; None where not taken.

    So closing, + is the drive side farther from the housing; opening, nearer to it. ``current_a``, in amperes, is the
    motor's while closing.
    """

    station_m: float
    closing_m: float | None = None
    opening_m: float | None = None
    current_a: float | None = None
    line: int | None = None


@dataclass(frozen=True, slots=True)
class EarlierRun:
    """A run before the present one, and the action taken after it: a cause, the side it lay on, and how much was put
    right.

    ``amount`` is in the SI unit of the cause's own kind (metres for rope, cover and hems; turns for reel stacking).
    """

    leads: tuple[RunReading, ...]
    cause: str
    side: str  # drive | idle | both
    amount: float
    seen: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Run:
    """What was seen and measured while the cover ran; earlier runs in their order, oldest first."""

    leads: tuple[RunReading, ...] = ()
    seen: tuple[str, ...] = ()
    earlier: tuple[EarlierRun, ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """One job: what was measured and what was chosen; a section that is not in the file is None."""

    name: str
    unit: Unit
    stage: Stage
    system: str
    survey: SurveyInput
    invented: bool = False
    pool: Pool | None = None
    cover: Cover | None = None
    as_built: AsBuilt | None = None
    run: Run | None = None
    order: Ordering | None = None
    rack: Rack | None = None
    power: Power | None = None
    drain: Drain | None = None
    control: Control | None = None
    tasks: Tasks | None = None

    @property
    def waits_for_pour(self) -> bool:
        """Whether the order is to be made from what was built, as the job says."""
        return self.order is not None and self.order.after_pour

    @property
    def offcuts(self) -> tuple[Length, ...]:
        """Offcuts of track on the firm's rack."""
        return () if self.rack is None else self.rack.offcuts
