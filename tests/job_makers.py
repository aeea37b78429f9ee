"""Any job: strategies for whole jobs with everything in them that a job file can say."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from stringline.job.model import (
    Corner,
    Cover,
    HousingFloor,
    Job,
    Obstacle,
    Pool,
    SurveyInput,
    TapeConditions,
)
from stringline.job.model_later import (
    FIGURES,
    Control,
    Drain,
    Ordering,
    PlacedOrder,
    Power,
    Rack,
    Task,
    Tasks,
)
from stringline.job.read import CHOICES, MINIMISE, MOUNTS
from stringline.job.read_built import LENGTH_CAUSES, NUMBER_CAUSES, RUN_SIDES
from stringline.job.read_later import CONDUCTORS, METALS, PHASES
from stringline.job.read_pool import KINDS
from stringline.job.read_survey import TAPE_CLASSES
from stringline.job.readings import (
    BUILT_AT,
    BUILT_ONCE,
    AsBuilt,
    Built,
    Coordinate,
    EarlierRun,
    Level,
    Offset,
    Run,
    RunReading,
    Tape,
)
from stringline.judging import Stage
from stringline.lengths import Length, Unit, parse

NAMES = st.text(
    alphabet=st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=12
).filter(lambda s: s == s.strip() and s.isprintable())
WORDS = st.text(alphabet=st.characters(codec="utf-8"), min_size=1, max_size=20).filter(str.strip)
PLAIN = st.text(alphabet="abcdefgh ,;'\"-19", min_size=1, max_size=10).filter(lambda s: s == s.strip())
"""Text that may stand in a cell of a list."""
METRES = st.one_of(st.just(0.0), st.floats(1e-6, 9000.0))
SIGMAS = st.floats(1e-5, 1.0)
DAYS = st.dates().map(lambda d: d.isoformat())


def lengths(unit: Unit, *, signed: bool = False, positive: bool = True) -> st.SearchStrategy[Length]:
    """Lengths in any spelling that the unit lets stand."""
    least = 1 if positive else 0
    spelt = [
        st.builds("{}' {} {}/16\"".format, st.integers(0, 90), st.integers(0, 11), st.integers(1, 15)),
        st.builds("{} ft".format, st.integers(1, 90)),
        st.builds("{} mm".format, st.integers(least, 40_000)),
        st.builds("{},{:02d} m".format, st.integers(1, 40), st.integers(0, 99)),
    ]
    if unit is not Unit.FT_IN:
        spelt.append(st.builds("{}.{}".format, st.integers(1, 90), st.integers(0, 99)))
    texts = st.one_of(spelt)
    if signed:
        texts = st.one_of(texts, texts.map("-{}".format))
    return texts.map(lambda text: parse(text, unit, signed=signed))


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.one_of(st.none(), strategy)


def several(strategy: st.SearchStrategy[Any], most: int = 3) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(strategy, max_size=most).map(tuple)


@st.composite
def jobs(draw: st.DrawFn, *, unit: Unit | None = None, beside: bool = False) -> Job:
    """A job with points, readings and choices that hang together; with ``beside`` its coordinates are in a list."""
    unit = unit or draw(st.sampled_from(Unit))
    points = draw(st.lists(NAMES, min_size=4, max_size=6, unique=True))
    ids = iter(f"k{n}" for n in range(1000))

    def marks(words: st.SearchStrategy[str] = WORDS) -> dict[str, Any]:
        if not draw(st.booleans()):
            return {}
        said = draw(st.fixed_dictionaries({}, optional=dict.fromkeys(("by", "at", "device"), words)))
        return {**said, **({"id": next(ids)} if draw(st.booleans()) else {})}

    def struck(carried: dict[str, Any]) -> dict[str, Any]:
        return {**carried, **({"struck": draw(WORDS)} if draw(st.integers(0, 4)) == 0 else {})}

    long, signed, zero = lengths(unit), lengths(unit, signed=True), lengths(unit, positive=False)
    a, b, *rest = points
    tapes = [Tape(a, b, draw(long), draw(maybe(SIGMAS)), **marks())]
    tapes += [Tape(draw(st.sampled_from([a, b])), p, draw(long), draw(maybe(SIGMAS)), **marks()) for p in rest]
    tapes += [Tape(a, p, draw(long), **struck(marks())) for p in draw(st.lists(st.sampled_from(rest), max_size=2))]
    offsets = [
        Offset(a, b, draw(maybe(signed)), draw(signed), p, draw(maybe(SIGMAS)), **struck(marks()))
        for p in draw(st.lists(st.sampled_from(rest), max_size=2))
    ]
    levels = [
        Level(p, draw(zero), draw(maybe(SIGMAS)), setup=draw(maybe(WORDS)), **marks())
        for p in draw(st.lists(st.sampled_from(points), max_size=3))
    ]
    floor = None
    has_floor: bool = draw(st.booleans())
    if levels and has_floor:
        levelled = list(dict.fromkeys(level.point for level in levels))
        runs = [(p, draw(maybe(st.floats(0.001, 50.0)))) for p in levelled[1:]]
        floor = HousingFloor(tuple(runs), levelled[0]) if runs else None
    cell = PLAIN if beside else WORDS
    coordinates = [
        Coordinate(p, draw(signed), draw(signed), draw(SIGMAS), **marks(cell))
        for p in draw(st.lists(PLAIN if beside else st.sampled_from(points), min_size=int(beside), max_size=3))
    ]
    sketch_bare = draw(st.booleans())
    places = st.one_of(METRES, METRES.map(lambda m: -m))
    sketch = draw(st.dictionaries(st.sampled_from(points), st.tuples(places, places), max_size=3))
    known = draw(st.booleans())
    survey = SurveyInput(
        tapes=tuple(tapes),
        tape_class=draw(st.sampled_from(TAPE_CLASSES)),
        sigma_m=draw(maybe(SIGMAS)),
        baseline=None if known else (a, b),
        behind=tuple(draw(st.lists(st.sampled_from(rest), unique=True))),
        known={p: draw(st.tuples(places, places)) for p in (a, b)} if known else {},
        sketch=sketch,
        offsets=tuple(offsets),
        levels=tuple(levels),
        coordinates=tuple(coordinates),
        conditions=draw(maybe(st.builds(TapeConditions, st.floats(-60, 80), pull_n=st.floats(0, 1000)))),
        coordinate_file="points.csv" if beside and coordinates else None,
        tape_length_m=draw(maybe(st.floats(1.0, 100.0))),
        blocked=draw(several(st.just((a, rest[0])), 1)),
        sketch_bare=sketch_bare and bool(sketch),
        floor=floor,
    )
    pool, cover = draw(maybe(pools(points))), draw(maybe(covers(points)))
    built = [
        Built(what, draw(long if what == "gauge" else signed), draw(zero), **struck(marks()))
        for what in draw(several(st.sampled_from(BUILT_AT)))
    ]
    once = draw(several(st.sampled_from(BUILT_ONCE), 5))
    built += [Built(what, draw(long), **struck(marks())) for what in once]

    def leads() -> tuple[RunReading, ...]:
        amps = maybe(st.floats(0.0, 1000.0))
        rows = draw(several(st.tuples(zero, maybe(signed), maybe(signed), amps)))
        return tuple(RunReading(*row, **struck(marks())) for row in rows)

    def earlier() -> EarlierRun:
        cause = draw(st.sampled_from((*LENGTH_CAUSES, *NUMBER_CAUSES)))
        amount = draw(st.one_of(METRES, METRES.map(lambda m: -m)))
        return EarlierRun(leads(), cause, draw(st.sampled_from(RUN_SIDES)), amount, draw(several(WORDS, 2)))

    placed = st.builds(PlacedOrder, st.dictionaries(st.sampled_from(FIGURES), long), maybe(DAYS), maybe(WORDS))
    costs = [maybe(st.floats(0.0, 1e12)), maybe(st.floats(0.0, 1e12)), maybe(st.floats(0.0, 3650.0))]
    order = st.builds(Ordering, *costs, st.booleans(), maybe(placed), several(placed, 2))
    return Job(
        name=draw(WORDS),
        unit=unit,
        stage=draw(st.sampled_from(Stage)),
        system=draw(st.one_of(st.just(""), WORDS)),
        survey=survey,
        invented=draw(st.booleans()),
        pool=pool,
        cover=cover,
        as_built=draw(maybe(st.builds(AsBuilt, st.just(tuple(built)), maybe(SIGMAS)))),
        run=Run(leads(), draw(several(WORDS, 2)), tuple(earlier() for _ in range(draw(st.integers(0, 2))))),
        order=draw(maybe(order)),
        rack=draw(maybe(st.builds(Rack, several(long)))),
        power=draw(maybe(powers())),
        drain=draw(maybe(drains())),
        control=draw(maybe(st.builds(Control, maybe(st.sampled_from(points)), maybe(st.floats(0.1, 3.0))))),
        tasks=draw(maybe(tasks())),
    )


@st.composite
def pools(draw: st.DrawFn, points: list[str]) -> Pool:
    if draw(st.booleans()):
        return Pool(tuple(Corner(p) for p in points), curve=True)
    corners = [Corner(p, draw(st.one_of(st.just(0.0), st.floats(1e-6, 1e-3)))) for p in points]
    if draw(st.booleans()):
        corners[1] = Corner(points[1], through=True)
    obstacles = draw(st.lists(NAMES, unique=True, max_size=2))
    kinds = st.sampled_from(KINDS)
    return Pool(tuple(corners), False, tuple(Obstacle(n, tuple(points[:2]), draw(kinds)) for n in obstacles))


@st.composite
def covers(draw: st.DrawFn, points: list[str]) -> Cover:
    edge = draw(st.sampled_from([None, (points[0], points[-1]), (points[-1], points[0])]))
    sides = st.sampled_from(("left", "right"))
    choices = draw(st.dictionaries(st.sampled_from(CHOICES), METRES))
    mount, minimise = draw(st.sampled_from(MOUNTS)), draw(st.sampled_from(MINIMISE))
    return Cover(mount, edge, draw(sides), draw(METRES), draw(METRES), minimise, choices)


def powers() -> st.SearchStrategy[Power]:
    return st.builds(
        Power,
        maybe(st.floats(12.0, 600.0)),
        maybe(st.sampled_from(PHASES)),
        maybe(st.floats(1.0, 400.0)),
        maybe(st.floats(0.1, 9000.0)),
        maybe(st.sampled_from(CONDUCTORS)),
        maybe(st.sampled_from(METALS)),
        maybe(METRES),
    )


def drains() -> st.SearchStrategy[Drain]:
    share = maybe(st.floats(0.0, 1.0))
    return st.builds(
        Drain,
        maybe(st.floats(0.001, 1.0)),
        maybe(st.floats(0.0, 1e5)),
        share,
        maybe(st.floats(0.001, 1.0)),
        share,
        maybe(st.floats(0.005, 0.1)),
        maybe(st.floats(0.0, 1000.0)),
    )


@st.composite
def tasks(draw: st.DrawFn) -> Tasks:
    names = draw(st.lists(NAMES, unique=True, max_size=4))
    made = []
    for k, name in enumerate(names):
        after = tuple(draw(st.lists(st.sampled_from(names[:k]), unique=True))) if k else ()
        days = draw(st.floats(0.0, 3650.0))
        made.append(Task(name, days, after, draw(maybe(DAYS)), draw(maybe(DAYS)), draw(maybe(WORDS))))
    return Tasks(tuple(made))
