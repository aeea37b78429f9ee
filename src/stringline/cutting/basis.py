"""Which reading a piece is cut from: as built where it was measured after the pour, otherwise the layout."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code, finding
from stringline.form.result import Fit
from stringline.job.model import Job
from stringline.layout.result import Layout
from stringline.system.model import System
from stringline.worked import Figure, Origin, Term

SURVEY = "survey"
AS_BUILT = "as-built"


@dataclass(frozen=True, slots=True)
class Given:
    """What pieces are cut from: the job, its catalogue, the layout, and the fit where there is one."""

    job: Job
    system: System
    layout: Layout
    fit: Fit | None = None

    @property
    def in_channel(self) -> bool:
        """Whether the tracks lie in channels; on the deck there are none, and so no wedges and no filler strip."""
        return self.job.cover is None or self.job.cover.mount != "on-deck"

    @property
    def after_pour(self) -> bool:
        """Whether the order waited for the pour, as the job says, and so is made from the as-built readings."""
        return self.job.as_built is not None and self.job.waits_for_pour


@dataclass(frozen=True, slots=True)
class Taken:
    """A figure to cut from, and whether it comes from the survey or from the as-built readings."""

    figure: Figure
    basis: str

    def term(self, label: Code, *, times: float = 1.0) -> Term:
        """Use it as a term under that label."""
        t = self.figure.term(times=times)
        return Term(label, t.value, t.origin, t.source, t.sigma)

    def terms(self) -> tuple[Term, ...]:
        """Its own working where it was added up here, else itself as one term."""
        figure = self.figure
        return figure.terms if figure.terms and figure.rule is None else (figure.term(),)


def channel(given: Given, side: str) -> Taken:
    """Length of the left or right channel, housing face to its far end: as built where that side was measured, else the
    layout's.
    """
    built = given.job.as_built
    value = None if built is None else (built.channel_left_m if side == "left" else built.channel_right_m)
    if built is None or value is None:
        return Taken(given.layout.channel, SURVEY)
    return _measured(finding("cutting.channel-as-built", side=side), value, given)


def smallest_gauge(given: Given) -> tuple[Taken, float | None]:
    """The smallest gauge along the run, with its station (None for the layout's): it governs the leading edge.

    The edge is one length for the whole travel: it must pass the narrowest place, and its adjustable ends and the hems
    take up the rest.
    """
    stations = gauges(given)
    if not stations:
        return Taken(given.layout.gauge, SURVEY), None
    station, figure = min(stations, key=lambda g: g[1].value)
    return Taken(figure, AS_BUILT), station


def gauge_at_housing(given: Given) -> tuple[Taken, float | None]:
    """The gauge nearest to the housing, with its station (None for the layout's): it governs what lies in the housing.

    Source ``gauge-at-housing``.
    """
    stations = gauges(given)
    if not stations:
        return Taken(given.layout.gauge, SURVEY), None
    station, figure = min(stations, key=lambda g: g[0])
    return Taken(figure, AS_BUILT), station


def gauges(given: Given) -> tuple[tuple[float, Figure], ...]:
    """As-built gauges with their stations; from the fit where it was made from as-built readings."""
    fit, built = given.fit, given.job.as_built
    if fit is not None and fit.basis == AS_BUILT and fit.gauge:
        return tuple((g.station_m, g.gauge) for g in fit.gauge)
    if built is None:
        return ()
    return tuple((s, _measured("cutting.gauge-as-built", g, given).figure) for s, g in built.gauge)


def housing_inside(given: Given) -> Taken:
    """Inside length of the housing: as measured, or gauge at the housing + 2 · what the catalogue has past a track."""
    built = given.job.as_built
    if built is not None and built.housing_inside_m is not None:
        return _measured("cutting.housing-as-built", built.housing_inside_m, given)
    gauge, _ = gauge_at_housing(given)
    beyond = given.system.housing.inside_beyond_track_m
    figure = Figure.sum(
        "cutting.housing-inside",
        [
            gauge.term("cutting.gauge-at-housing"),
            Term("cutting.past-left", beyond, Origin.CATALOGUE, "catalogue"),
            Term("cutting.past-right", beyond, Origin.CATALOGUE, "catalogue"),
        ],
        source="gauge-at-housing",
    )
    return Taken(figure, gauge.basis)


def lid_opening(given: Given) -> Taken:
    """Opening that the lid closes: measured, or the housing's inside length."""
    built = given.job.as_built
    if built is not None and built.lid_opening_m is not None:
        return _measured("cutting.lid-opening-as-built", built.lid_opening_m, given)
    return housing_inside(given)


def fascia_clear(given: Given) -> Taken:
    """Clear distance between the fascia's end pieces: as measured, or the housing's inside length less both of them.

    Source ``fascia-centre``.
    """
    built = given.job.as_built
    if built is not None and built.fascia_clear_m is not None:
        return _measured("cutting.fascia-clear-as-built", built.fascia_clear_m, given)
    inside = housing_inside(given)
    end = given.system.housing.fascia_end_m
    figure = Figure.sum(
        "cutting.fascia-clear",
        [
            *inside.terms(),
            Term("cutting.left-end-piece", -end, Origin.CATALOGUE, "catalogue"),
            Term("cutting.right-end-piece", -end, Origin.CATALOGUE, "catalogue"),
        ],
        sigma=inside.figure.sigma,
        source="fascia-centre",
    )
    return Taken(figure, inside.basis)


def _measured(label: Code, value: float, given: Given) -> Taken:
    """A reading taken after the pour, with the job's σ for those or else the catalogue's."""
    built = given.job.as_built
    sigma = None if built is None else built.sigma_m
    sigma = given.system.tolerances.as_built_tape_m if sigma is None else sigma
    return Taken(Figure.single(label, value, Origin.MEASURED, sigma=sigma), AS_BUILT)
