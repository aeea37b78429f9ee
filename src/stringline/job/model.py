"""What a job holds once it has been read: only what was measured or chosen, nothing derived."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stringline.job.model_later import Control, Drain, Ordering, Power, Rack, Tasks
from stringline.job.readings import AsBuilt, Coordinate, Level, Marked, Offset, Run, Tape
from stringline.judging import Stage
from stringline.lengths import Length, Unit


@dataclass(frozen=True, slots=True)
class HousingFloor:
    """Levelled points of the housing's floor, each with its run to the drain where that was measured (None: from the
    survey), and the point at the drain."""

    points: tuple[tuple[str, float | None], ...]
    drain: str
    line: int | None = field(default=None, compare=False)

    @property
    def names(self) -> tuple[str, ...]:
        """The drain and every point of the floor."""
        return (self.drain, *(name for name, _ in self.points))


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

    @property
    def readings(self) -> tuple[Marked, ...]:
        """All readings of every kind, those set aside too."""
        return (*self.tapes, *self.offsets, *self.levels, *self.coordinates)


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
    line: int | None = field(default=None, compare=False)


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
    def readings(self) -> tuple[Marked, ...]:
        """All readings of every kind, those set aside too."""
        built = () if self.as_built is None else self.as_built.readings
        return (*self.survey.readings, *built, *(() if self.run is None else self.run.every))

    @property
    def waits_for_pour(self) -> bool:
        """Whether the order is to be made from what was built, as the job says."""
        return self.order is not None and self.order.after_pour

    @property
    def offcuts(self) -> tuple[Length, ...]:
        """Offcuts of track on the firm's rack."""
        return () if self.rack is None else self.rack.offcuts
