"""Readings: everything that somebody measured, each as it was written, with who, when and on what.

A reading is never changed and never taken out. ``struck`` is the reason why a person set one aside: it stays in the
file and is listed where its kind is listed, and takes no part.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from stringline.finding import Code, Finding, finding
from stringline.lengths import Length, metres


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """What any reading may carry: a short id, unique in its job; who took it, when, with what; and why it was struck.

    All are text as somebody wrote it; None where nobody did.
    """

    id: str | None = None
    by: str | None = None
    at: str | None = None
    device: str | None = None
    struck: str | None = None


MARKS = ("id", "by", "at", "device", "struck")
"""The names of what any reading may carry, in the order in which they are written."""

_Any = TypeVar("_Any", bound=Marked)


def in_use(readings: Iterable[_Any]) -> tuple[_Any, ...]:
    """Those that nobody set aside.

    >>> from stringline.lengths import Unit, parse
    >>> rods = [Level("1", parse("3.2 m", Unit.M), struck="rod slipped"), Level("1", parse("3.1 m", Unit.M))]
    >>> [rod.rod.text for rod in in_use(rods)]
    ['3.1 m']
    """
    return tuple(r for r in readings if r.struck is None)


def set_aside(readings: Iterable[_Any]) -> tuple[_Any, ...]:
    """Those that somebody set aside."""
    return tuple(r for r in readings if r.struck is not None)


@dataclass(frozen=True, slots=True)
class Tape(Marked):
    """One reading of a tape between two named points; its own σ where somebody gave one."""

    a: str
    b: str
    length: Length
    sigma_m: float | None = None
    line: int | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Offset(Marked):
    """A point found by station along a stringline from ``a`` towards ``b`` and offset square to it, + to the left.

    ``station`` is None for a right-angle offset alone: how far off the line, wherever along it.
    """

    a: str
    b: str
    station: Length | None
    offset: Length
    point: str
    sigma_m: float | None = None
    line: int | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Level(Marked):
    """A rod reading at a point: larger is lower. ``setup`` names where the instrument stood (None: the only place)."""

    point: str
    rod: Length
    sigma_m: float | None = None
    line: int | None = field(default=None, compare=False)
    setup: str | None = None


@dataclass(frozen=True, slots=True)
class Coordinate(Marked):
    """Where a total station, a laser or a drawing put a point, and the σ of each of x and y."""

    point: str
    x: Length
    y: Length
    sigma_m: float
    line: int | None = field(default=None, compare=False)


BUILT_AT = ("gauge", "offsets.left", "offsets.right")
"""What is measured at stations after the pour."""
BUILT_ONCE = (
    "channel.left",
    "channel.right",
    "diagonals.0",
    "diagonals.1",
    "housing.inside",
    "fascia.clear",
    "lid.opening",
)
"""What is one length each after the pour: a diagonal ``0`` runs from the housing's left, ``1`` from its right."""

Pairs = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Built(Marked):
    """One reading taken after the pour; ``what`` is one of :data:`BUILT_AT`, with a station, or :data:`BUILT_ONCE`."""

    what: str
    value: Length
    station: Length | None = None
    line: int | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """``[as_built]``: readings taken after the pour, stations from the housing; their σ where somebody gave one.

    The properties are what the readings in use say, in metres: () or None where nothing was measured. What was measured
    more than once is the mean of its readings; at stations, each reading stands for itself.
    """

    readings: tuple[Built, ...] = ()  # always in the order of their kinds
    sigma_m: float | None = None
    line: int | None = field(default=None, compare=False)

    def __post_init__(self) -> None:
        kinds = (*BUILT_AT, *BUILT_ONCE)
        object.__setattr__(self, "readings", tuple(sorted(self.readings, key=lambda r: kinds.index(r.what))))

    @classmethod
    def of(
        cls,
        *,
        gauge: Iterable[tuple[float, float]] = (),
        channel_left_m: float | None = None,
        channel_right_m: float | None = None,
        diagonals_m: tuple[float, float] | None = None,
        offsets_left: Iterable[tuple[float, float]] = (),
        offsets_right: Iterable[tuple[float, float]] = (),
        housing_inside_m: float | None = None,
        fascia_clear_m: float | None = None,
        lid_opening_m: float | None = None,
        sigma_m: float | None = None,
    ) -> AsBuilt:
        """As-built readings from numbers in metres."""
        along = zip(BUILT_AT, (gauge, offsets_left, offsets_right), strict=True)
        single = (channel_left_m, channel_right_m, *(diagonals_m or (None, None)))
        once = zip(BUILT_ONCE, (*single, housing_inside_m, fascia_clear_m, lid_opening_m), strict=True)
        readings = [Built(what, metres(v), metres(s)) for what, pairs in along for s, v in pairs]
        readings += [Built(what, metres(v)) for what, v in once if v is not None]
        return cls(tuple(readings), sigma_m)

    def but(self, **changes: Any) -> AsBuilt:
        """The same with some values, named as in :meth:`of`, put in the place of what was read."""
        kept = {name: getattr(self, name) for name in _VALUES}
        return AsBuilt.of(**{**kept, **changes})

    def along(self, what: str) -> Pairs:
        """Station and value of each reading in use, by station."""
        found = (r for r in in_use(self.readings) if r.what == what)
        return tuple(sorted((r.station.m, r.value.m) for r in found if r.station is not None))

    def once(self, what: str) -> float | None:
        """The mean of the readings in use; None where there is none."""
        found = [r.value.m for r in in_use(self.readings) if r.what == what]
        return sum(found) / len(found) if found else None

    @property
    def gauge(self) -> Pairs:
        """Station and distance between the tracks."""
        return self.along("gauge")

    @property
    def offsets_left(self) -> Pairs:
        """Station and offset of the left track from its own stringline, + to the right."""
        return self.along("offsets.left")

    @property
    def offsets_right(self) -> Pairs:
        """Station and offset of the right track from its own stringline, + to the right."""
        return self.along("offsets.right")

    @property
    def channel_left_m(self) -> float | None:
        """Length of the left channel, from the housing's face to its far end."""
        return self.once("channel.left")

    @property
    def channel_right_m(self) -> float | None:
        """Length of the right channel, from the housing's face to its far end."""
        return self.once("channel.right")

    @property
    def diagonals_m(self) -> tuple[float, float] | None:
        """Housing left to far right, then housing right to far left; None unless both were measured."""
        one, two = self.once("diagonals.0"), self.once("diagonals.1")
        return None if one is None or two is None else (one, two)

    @property
    def housing_inside_m(self) -> float | None:
        """Inside length of the housing."""
        return self.once("housing.inside")

    @property
    def fascia_clear_m(self) -> float | None:
        """Clear distance between the fascia's end pieces."""
        return self.once("fascia.clear")

    @property
    def lid_opening_m(self) -> float | None:
        """Opening that the lid closes."""
        return self.once("lid.opening")


_VALUES = (
    "gauge",
    "channel_left_m",
    "channel_right_m",
    "diagonals_m",
    "offsets_left",
    "offsets_right",
    "housing_inside_m",
    "fascia_clear_m",
    "lid_opening_m",
    "sigma_m",
)


@dataclass(frozen=True, slots=True)
class RunReading(Marked):
    """Leads at one station, + with the drive side ahead in the direction of travel; None where not taken.

    So closing, + is the drive side farther from the housing; opening, nearer to it. ``current_a``, in amperes, is the
    motor's while closing.
    """

    station: Length
    closing: Length | None = None
    opening: Length | None = None
    current_a: float | None = None
    line: int | None = field(default=None, compare=False)

    @classmethod
    def of(
        cls,
        station_m: float,
        closing_m: float | None = None,
        opening_m: float | None = None,
        current_a: float | None = None,
    ) -> RunReading:
        """A reading from numbers in metres and amperes."""
        closing, opening = (None if m is None else metres(m) for m in (closing_m, opening_m))
        return cls(metres(station_m), closing, opening, current_a)

    @property
    def station_m(self) -> float:
        """Where the leading edge stood, from the housing."""
        return self.station.m

    @property
    def closing_m(self) -> float | None:
        """The lead while closing."""
        return None if self.closing is None else self.closing.m

    @property
    def opening_m(self) -> float | None:
        """The lead while opening."""
        return None if self.opening is None else self.opening.m


@dataclass(frozen=True, slots=True)
class EarlierRun:
    """A run before the present one, and the action taken after it: a cause, the side it lay on, and how much was put
    right.

    ``amount`` is in the SI unit of the cause's own kind (metres for rope, cover and hems; turns for reel stacking).
    """

    readings: tuple[RunReading, ...]
    cause: str
    side: str  # drive | idle | both
    amount: float
    seen: tuple[str, ...] = ()

    @property
    def leads(self) -> tuple[RunReading, ...]:
        """The readings in use."""
        return in_use(self.readings)


@dataclass(frozen=True, slots=True)
class Run:
    """``[run]``: what was seen and measured while the cover ran; earlier runs in their order, oldest first."""

    readings: tuple[RunReading, ...] = ()
    seen: tuple[str, ...] = ()
    earlier: tuple[EarlierRun, ...] = ()

    @property
    def every(self) -> tuple[RunReading, ...]:
        """All readings, those of earlier runs too and those set aside."""
        return (*self.readings, *(r for before in self.earlier for r in before.readings))

    @property
    def leads(self) -> tuple[RunReading, ...]:
        """The readings in use."""
        return in_use(self.readings)


def aside(readings: Iterable[Marked]) -> tuple[Code, ...]:
    """Each reading that somebody set aside, and why, for the notes of what its kind is listed with.

    >>> from stringline.lengths import Unit, parse
    >>> rods = [Level("1", parse("3.2 m", Unit.M), struck="rod slipped"), Level("1", parse("3.1 m", Unit.M))]
    >>> [str(note) for note in aside(rods)]
    ['job.aside(what=job.read-level(point=1, rod=3.2 m), reason=rod slipped)']
    """
    return tuple(finding("job.aside", what=said(r), reason=r.struck) for r in readings if r.struck is not None)


def said(reading: Marked) -> Finding:
    """A reading as a finding: what was read, where, as it was written."""
    match reading:
        case Tape():
            return finding("job.read-tape", a=reading.a, b=reading.b, length=reading.length.text)
        case Offset():
            line = {"a": reading.a, "b": reading.b, "offset": reading.offset.text, "point": reading.point}
            if reading.station is None:
                return finding("job.read-offset-alone", **line)
            return finding("job.read-offset", station=reading.station.text, **line)
        case Level():
            return finding("job.read-level", point=reading.point, rod=reading.rod.text)
        case Coordinate():
            return finding("job.read-coordinate", point=reading.point, x=reading.x.text, y=reading.y.text)
        case Built():
            if reading.station is None:
                return finding("job.read-built", what=reading.what, value=reading.value.text)
            return finding(
                "job.read-built-at", what=reading.what, station=reading.station.text, value=reading.value.text
            )
        case RunReading():
            leads = (("closing", reading.closing), ("opening", reading.opening))
            told = [finding(f"job.lead-{way}", lead=lead.text) for way, lead in leads if lead is not None]
            if reading.current_a is not None:
                told.append(finding("job.lead-current", current_a=reading.current_a))
            return finding("job.read-run", station=reading.station.text, read=told)
    raise TypeError(f"{type(reading).__name__} is no kind of reading")
