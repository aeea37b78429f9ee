"""Every end a housing can stand at, side by side: what each would cost in drum, track and cover, and why it lost."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from stringline.job.model import Cover, Pool
from stringline.layout.asked import cover_length, cover_width, drum_length, track_run
from stringline.layout.blocked import blocked
from stringline.layout.ends import End
from stringline.layout.figures import draw_up
from stringline.layout.place import Site, best_at, better, in_the_way, site_of
from stringline.layout.result import Layout
from stringline.layout.search import Found
from stringline.lengths import Unit, format_length
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.worked import Figure, Kind

_SAME_M = 0.01  # two rectangles at one end that differ by less are one option
_LIKE_M = 0.0005  # two that differ by less are the same size
_FOOT_M = 0.3048


@dataclass(frozen=True)
class Option:
    """One place for the cover. ``layout`` and the figures are None where obstacles leave no place at that end.

    ``by`` is what was made least, "area" or "width"; ``why`` says in plain words why it was taken or why not.
    """

    end: str
    by: str
    chosen: bool
    why: str
    layout: Layout | None = None
    area: Figure | None = None  # between the tracks, housing face to far stop
    drum: Figure | None = None
    track: Figure | None = None  # each side
    cover_width: Figure | None = None
    cover_length: Figure | None = None


def options(survey: Survey, pool: Pool, cover: Cover, system: System, unit: Unit) -> tuple[Option, ...]:
    """Lay the cover out from every end, by least area and by least width, and set the results side by side.

    What the job asks for comes first, then what fits, least first, then what does not. Raises
    :class:`stringline.faults.Faults` where an input cannot be used, but not where an end is blocked.
    """
    asked = site_of(survey, pool, cover, system, unit)
    found: list[tuple[str, End, Site, Found | None]] = []
    for by in dict.fromkeys((cover.minimise, "area", "width")):
        site = site_of(survey, pool, replace(cover, housing=None, minimise=by), system, unit)
        ends = list(site.ends)
        if by == cover.minimise and cover.housing is not None:
            same = {e.edge for e in asked.ends}
            ends = [*asked.ends, *(e for e in ends if e.edge not in same)]
        for end in ends:
            best = best_at(site, end)
            twin = next((f for b, e, _, f in found if e.label == end.label and _alike(f, best)), None)
            if by == cover.minimise or (best is not None and twin is None):
                found.append((by, end, site, best))
    able = [(e, f) for b, e, _, f in found if b == cover.minimise and f is not None and _asked(e, asked)]
    taken = better(able)[0] if able else None
    chosen_value = next((f for b, e, _, f in found if b == cover.minimise and e is taken), None)
    made = []
    for by, end, site, best in found:
        is_chosen = by == cover.minimise and end is taken
        if best is None:
            why = str(blocked(site.around, end, site.goal, unit).wrong)
            made.append(Option(end.label, by, False, f"{why[0].upper()}{why[1:]}."))
            continue
        layout = draw_up(
            survey, pool, cover, system, unit, site.outline, site.size, end, best, in_the_way(site, end, best)
        )
        why = _why(is_chosen, by, end, best, taken, chosen_value, asked, cover, unit)
        made.append(_priced(Option(end.label, by, is_chosen, why, layout), system))
    return tuple(sorted(made, key=lambda o: (not o.chosen, o.area is None, 0.0 if o.area is None else o.area.value)))


def _asked(end: End, asked: Site) -> bool:
    return any(end.label == e.label for e in asked.ends)


def _alike(one: Found | None, other: Found | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one.width_m - other.width_m) < _SAME_M and abs(one.length_m - other.length_m) < _SAME_M


def _priced(option: Option, system: System) -> Option:
    layout = option.layout
    assert layout is not None
    g, t = layout.gauge, layout.travel
    sigma = math.hypot(g.value * (t.sigma or 0.0), t.value * (g.sigma or 0.0))
    area = Figure.by_rule(
        "Cover between the tracks",
        g.value * t.value,
        "gauge × travel",
        [g.term("gauge"), t.term("travel")],
        kind=Kind.AREA,
        sigma=sigma,
    )
    return replace(
        option,
        area=area,
        drum=drum_length(g.term("gauge"), system.drum),
        track=track_run("Track, each side", layout.channel.term("channel"), system.track),
        cover_width=cover_width(system, g.term("gauge")),
        cover_length=cover_length(system, t.term("travel")),
    )


def _why(
    is_chosen: bool,
    by: str,
    end: End,
    best: Found,
    taken: End | None,
    chosen: Found | None,
    asked: Site,
    cover: Cover,
    unit: Unit,
) -> str:
    if is_chosen:
        if cover.housing is not None:
            return f"Taken: the job puts the housing at {end.label}."
        return f"Taken: least {by} of all ends that fit."
    if chosen is None or taken is None:
        return "Fits, but not at the end that the job asks for, where nothing does."
    told = _against(best, chosen, taken, unit)
    if cover.housing is not None and not _asked(end, asked):
        return f"Not asked for: the job puts the housing elsewhere. It {told}."
    if by != cover.minimise:
        return f"Not asked for: the job wants least {cover.minimise}. It {told}."
    if best.value <= chosen.value * (1.0 + 1e-9):
        return f"As good as {taken.label}, which comes first walking counter-clockwise round the water."
    return f"Lost: it {told}."


def _against(one: Found, other: Found, taken: End, unit: Unit) -> str:
    """What a rectangle is against the one taken: bigger or smaller, by what it takes each way."""
    if abs(one.width_m - other.width_m) < _LIKE_M and abs(one.length_m - other.length_m) < _LIKE_M:
        return f"is the same size as from {taken.label}"
    area = one.width_m * one.length_m - other.width_m * other.length_m
    imperial = unit in (Unit.FT, Unit.FT_IN)
    size = f"{abs(area) / _FOOT_M**2:.1f} sq ft" if imperial else f"{abs(area):.2f} m²"
    width, length = one.width_m - other.width_m, one.length_m - other.length_m
    return (
        f"takes {size} {'more' if area >= 0 else 'less'} cover, {format_length(abs(width), unit)} "
        f"{'wider' if width >= 0 else 'narrower'} and {format_length(abs(length), unit)} "
        f"{'longer' if length >= 0 else 'shorter'} than from {taken.label}"
    )
