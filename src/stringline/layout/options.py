"""Every end a housing can stand at, side by side: what each would cost in drum, track and cover, and why it lost.

The cover's area is gauge × travel; its σ² = (gauge·σ_travel)² + (travel·σ_gauge)², as if the two were independent:
what their errors have in common, as both come from one survey, is left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from stringline.finding import Code, Finding, finding
from stringline.job.model import Cover, Pool
from stringline.layout.asked import cover_length, cover_width, drum_length, track_run
from stringline.layout.blocked import blocked
from stringline.layout.ends import End
from stringline.layout.figures import draw_up, longer, wider
from stringline.layout.place import Site, best_at, better, in_the_way, site_of
from stringline.layout.result import Layout
from stringline.layout.search import Found
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.worked import Figure, Kind

_SAME_M = 0.01  # two rectangles at one end that differ by less are one option
_LIKE_M = 0.0005  # two that differ by less are the same size


@dataclass(frozen=True)
class Option:
    """One place for the cover. ``layout`` and the figures are None where obstacles leave no place at that end.

    ``by`` is what was made least, "area" or "width"; ``why`` says why it was taken or why not.
    """

    end: Code
    by: str
    chosen: bool
    why: Code
    layout: Layout | None = None
    area: Figure | None = None  # between the tracks, housing face to far stop
    drum: Figure | None = None
    track: Figure | None = None  # each side
    cover_width: Figure | None = None
    cover_length: Figure | None = None
    beyond: tuple[Code, ...] = ()  # what the catalogue has no parts for, though the cover fits there


def options(survey: Survey, pool: Pool, cover: Cover, system: System) -> tuple[Option, ...]:
    """Lay the cover out from every end, by least area and by least width, and set the results side by side.

    What the job asks for comes first, then what fits, least first, then what does not. Raises
    :class:`stringline.faults.Faults` where an input cannot be used, but not where an end is blocked.
    """
    asked = site_of(survey, pool, cover, system)
    found: list[tuple[str, End, Site, Found | None]] = []
    for by in dict.fromkeys((cover.minimise, "area", "width")):
        site = site_of(survey, pool, replace(cover, housing=None, minimise=by), system)
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
            why = finding("layout.option-blocked", why=blocked(site.around, end, site.goal).wrong)
            made.append(Option(end.label, by, False, why))
            continue
        instead = in_the_way(site, end, best)
        layout = draw_up(survey, pool, cover, system, site.outline, site.size, end, best, instead)
        why = _why(is_chosen, by, end, best, taken, chosen_value, asked, cover)
        made.append(_priced(Option(end.label, by, is_chosen, why, layout), system))
    return tuple(sorted(made, key=_rank))


def _rank(option: Option) -> tuple[bool, bool, float]:
    """Taken, then least area, then what does not fit; equal areas stay in the order of their ends round the water."""
    area = option.area
    return (not option.chosen, area is None, 0.0 if area is None else round(area.value, 6))


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
        "layout.cover-area",
        g.value * t.value,
        "layout.cover-area-rule",
        [g.term("layout.of-gauge"), t.term("layout.of-travel")],
        kind=Kind.AREA,
        sigma=sigma,
    )
    return replace(
        option,
        area=area,
        drum=drum_length(g.term("layout.of-gauge"), system.drum),
        track=track_run("layout.track", layout.channel.term("layout.of-channel"), system.track),
        cover_width=cover_width(system, g.term("layout.of-gauge")),
        cover_length=cover_length(system, t.term("layout.of-travel")),
        beyond=_beyond(layout, system),
    )


def _beyond(layout: Layout, system: System) -> tuple[Code, ...]:
    limits = system.limits
    wide, long = layout.gauge.value > limits.max_width_m, layout.travel.value > limits.max_length_m
    return (*(("layout.too-wide",) if wide else ()), *(("layout.too-long",) if long else ()))


def _why(
    is_chosen: bool,
    by: str,
    end: End,
    best: Found,
    taken: End | None,
    chosen: Found | None,
    asked: Site,
    cover: Cover,
) -> Finding:
    if is_chosen:
        if cover.housing is not None:
            return finding("layout.taken-as-asked", end=end.label)
        return finding("layout.taken-least", by=by)
    if chosen is None or taken is None:
        return finding("layout.fits-elsewhere")
    told = _against(best, chosen, taken)
    if cover.housing is not None and not _asked(end, asked):
        return finding("layout.other-end", against=told)
    if by != cover.minimise:
        return finding("layout.other-goal", by=cover.minimise, against=told)
    if best.value <= chosen.value * (1.0 + 1e-9):
        return finding("layout.as-good", end=taken.label)
    return finding("layout.lost", against=told)


def _against(one: Found, other: Found, taken: End) -> Finding:
    """What a rectangle is against the one taken: bigger or smaller, by what it takes each way."""
    if abs(one.width_m - other.width_m) < _LIKE_M and abs(one.length_m - other.length_m) < _LIKE_M:
        return finding("layout.same-size", end=taken.label)
    more = one.width_m * one.length_m - other.width_m * other.length_m
    return finding(
        "layout.against",
        cover=finding("layout.more-cover" if more >= 0.0 else "layout.less-cover", by_m2=abs(more)),
        across=wider(one.width_m - other.width_m),
        along=longer(one.length_m - other.length_m),
        end=taken.label,
    )
