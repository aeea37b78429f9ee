"""Lay the cover out: the smallest rectangle that covers the water from the chosen end, clear of what stands there.

How the lengths are defined, housing to far end, for every mount:

* *setback*: from the housing's face to the nearest water; the end margin, unless the job chooses one of its own.
* *travel*: how far the leading edge goes, from the housing's face to its stop beyond the far water: setback + water
  length + end margin. A wall beyond the far water stops it earlier.
* *channel*: from the housing's face to the channel's far end: travel + half a slider, which rides ahead of the leading
  edge, + the pulley spacer where the track has two channels.
* *gauge*: between the track centrelines: water width + twice the side margin, which for a track in a channel (under
  the coping or flush) ends at the channel's pool-side wall and for a track on the deck at the track's centreline, +
  twice the distance from that wall to the centreline where there is a channel.

``cover.choices`` may hold ``setback`` (housing's face to the nearest water, where it is not to be the end margin) and
``wall_gap`` (how much of the far water may stay uncovered in front of a wall that is not quite square to the tracks).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import Finding, finding
from stringline.geometry import Array
from stringline.job.model import Cover, Pool
from stringline.layout.blocked import blocked
from stringline.layout.clearance import obstacle_faults
from stringline.layout.ends import End, ends_of
from stringline.layout.figures import draw_up
from stringline.layout.ground import Size, Surroundings
from stringline.layout.outline import Outline, outline_of
from stringline.layout.result import Layout
from stringline.layout.search import Found, Goal, smallest
from stringline.survey.result import Survey
from stringline.system.model import System

MOUNTS = ("under-coping", "flush", "on-deck")


@dataclass(frozen=True)
class Site:
    """One pool made ready for the search: its outline, what the cover adds to it, what stands around it, the ends."""

    outline: Outline
    size: Size
    around: Surroundings
    ends: tuple[End, ...]
    goal: Goal


def lay_out(survey: Survey, pool: Pool, cover: Cover, system: System) -> Layout:
    """Find where the cover goes: least area (or width) over every heading that faces an allowed end.

    Of ends that do equally well, the first walking counter-clockwise round the water is taken. Raises
    :class:`stringline.faults.Faults` where an input cannot be used, and where obstacles leave no place: then it says
    which one is in the way of which part, and by how much at the heading that comes nearest to fitting.
    """
    site = site_of(survey, pool, cover, system)
    tried = [(end, best_at(site, end)) for end in site.ends]
    able = [(end, found) for end, found in tried if found is not None]
    if not able:
        raise Faults("layout", [blocked(site.around, end, site.goal) for end, _ in tried])
    end, found = better(able)
    return draw_up(survey, pool, cover, system, site.outline, site.size, end, found, in_the_way(site, end, found))


def in_the_way(site: Site, end: End, found: Found) -> tuple[tuple[str, ...], Found] | None:
    """What keeps the cover from the best rectangle it could have at that end, and that rectangle; None if nothing."""
    free = smallest(site.outline.hull, end.low, end.high, site.goal)
    if free is None or free.value >= found.value * (1.0 - 1e-6):
        return None
    apart = site.around.apart(np.array([free.heading_rad]))[0].min(axis=1)
    names = [name for i, name in enumerate(site.around.names) if (apart[site.around.owner == i] < 0.0).any()]
    return tuple(names), free


def better(able: list[tuple[End, Found]]) -> tuple[End, Found]:
    """The end with the least value; of equals (to 1e-9 of it) the narrowest, then the first.

    >>> found = Found(0.0, 6.0, 12.0, 72.0), Found(1.0, 4.5, 16.0, 72.0), Found(2.0, 5.0, 15.0, 75.0)
    >>> better([(None, f) for f in found])[1].width_m
    4.5
    """
    least = min(found.value for _, found in able) * (1.0 + 1e-9)
    equal = [(end, found) for end, found in able if found.value <= least]
    narrow = min(found.width_m for _, found in equal) + 1e-7
    return next((end, found) for end, found in equal if found.width_m <= narrow)


def best_at(site: Site, end: End) -> Found | None:
    """The best rectangle whose housing stands at that end; None where obstacles leave no place for one."""
    return smallest(site.outline.hull, end.low, end.high, site.goal, site.around.ground())


def site_of(survey: Survey, pool: Pool, cover: Cover, system: System) -> Site:
    """Make one pool ready for the search; raises :class:`stringline.faults.Faults` for what cannot be used."""
    faults = _cover_faults(cover)
    faults += obstacle_faults(pool.obstacles, survey)
    try:
        outline = outline_of(pool, survey)
    except Faults as more:
        faults += more.faults
    if faults:
        raise Faults("layout", faults)
    size = size_of(cover, system)
    obstacles: list[tuple[str, str, Array]] = [
        (o.name, o.kind, survey.xy[[survey.index[p] for p in o.points]]) for o in pool.obstacles
    ]
    around = Surroundings.of(outline.hull, size, obstacles)
    goal = Goal(2 * size.side, size.setback + size.end, cover.minimise)
    return Site(
        outline, size, around, ends_of(outline, cover.housing, cover.mount, system.limits.along_coping_rad), goal
    )


def size_of(cover: Cover, system: System) -> Size:
    """What the cover adds to the water on each side, from the choices and the catalogue."""
    track = system.track
    in_channel = cover.mount != "on-deck"
    spacer = track.pulley_spacer_m if track.channels == 2 else 0.0
    return Size(
        side=cover.side_margin_m + (track.centre_to_channel_wall_m if in_channel else 0.0),
        setback=float(cover.choices.get("setback", cover.end_margin_m)),
        end=cover.end_margin_m,
        past_stop=system.leading_edge.slider_length_m / 2 + spacer,
        track_half=track.centre_to_channel_wall_m,
        housing_beyond=system.housing.inside_beyond_track_m,
        housing_deep=system.housing.inside_depth_m,
        short=float(cover.choices.get("wall_gap", system.limits.wall_gap_m)),
    )


def _cover_faults(cover: Cover) -> list[Fault]:
    found = []

    def add(code: str, where: str, wrong: Finding, right: Finding) -> None:
        found.append(Fault(code, where, wrong, right))

    if cover.mount not in MOUNTS:
        wrong = finding("layout.mount-unknown", mount=cover.mount)
        add("cover-mount", "cover.mount", wrong, finding("layout.say-one-of", choices=MOUNTS))
    if cover.drive_side not in ("left", "right"):
        wrong = finding("layout.side-unknown", side=cover.drive_side)
        add("cover-drive-side", "cover.drive_side", wrong, finding("layout.say-left-or-right"))
    if cover.minimise not in ("area", "width"):
        wrong = finding("layout.goal-unknown", goal=cover.minimise)
        add("cover-minimise", "cover.minimise", wrong, finding("layout.say-area-or-width"))
    for key in ("setback", "wall_gap"):
        if float(cover.choices.get(key, 0.0)) < 0.0:
            wrong = finding("layout.choice-negative", choice=key)
            add("cover-choice", f"cover.choices.{key}", wrong, finding("layout.zero-or-more"))
    for key, value in (("side", cover.side_margin_m), ("end", cover.end_margin_m)):
        if value < 0.0:
            wrong = finding("layout.margin-negative", margin=key)
            add("cover-margin", f"cover.margins.{key}", wrong, finding("layout.zero-or-more"))
    return found
