"""Shapes of the plan in the cover's own frame: x to the right across the pool, y along the tracks from the housing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from stringline.drawing.canvas import Point
from stringline.geometry import Array
from stringline.job.model import Pool
from stringline.layout.clearance import COVER, HOUSING, LEFT_TRACK, RIGHT_TRACK
from stringline.layout.result import Layout
from stringline.sheets.pictures.plan_obstacles import Thing
from stringline.survey.result import Survey
from stringline.system.model import System


@dataclass(frozen=True, slots=True)
class Shapes:
    """Everything the plan shows, as outlines and lines in metres."""

    water: tuple[Point, ...]
    water_points: tuple[tuple[str, Point], ...]
    corner_radii: tuple[tuple[Point, float], ...]  # corner, radius
    obstacles: tuple[Thing, ...]
    half_gauge: float
    track_half: float  # track centreline to the outside of its channel, as drawn
    into_housing: float
    near: float  # station of the nearest water
    far: float  # station of the farthest water
    travel: float
    channel: float
    water_left: float
    water_right: float
    housing: tuple[Point, ...]
    lid: tuple[Point, ...]

    @property
    def housing_half(self) -> float:
        """Half of the housing's inside length."""
        return self.housing[1][0]

    @property
    def centre(self) -> Point:
        """Middle of the water."""
        return (self.water_left + self.water_right) / 2, (self.near + self.far) / 2

    def part(self, name: str) -> tuple[Point, ...] | None:
        """Outline of a part that obstacles are held against, by the code of its name; None for an unknown one."""
        if name == HOUSING:
            return self.housing
        g = self.half_gauge
        if name == COVER:
            return (-g, 0.0), (g, 0.0), (g, self.channel), (-g, self.channel)
        side = {LEFT_TRACK: -1, RIGHT_TRACK: 1}.get(name)
        if side is None:
            return None
        u, w = side * g, self.track_half
        return (u - w, 0.0), (u + w, 0.0), (u + w, self.channel), (u - w, self.channel)

    def track(self, side: int) -> tuple[Point, ...]:
        """Outline of one track's channel, −1 left or 1 right, with the length it runs into the housing."""
        u, w = side * self.half_gauge, self.track_half
        return (u - w, -self.into_housing), (u + w, -self.into_housing), (u + w, self.channel), (u - w, self.channel)


def shapes(layout: Layout, survey: Survey, pool: Pool, system: System) -> Shapes:
    """Lay everything out. An obstacle point that the survey did not reach is left out of its outline."""
    frame = layout.frame
    half = layout.gauge.value / 2
    deep = system.housing.inside_depth_m
    long = half + system.housing.inside_beyond_track_m
    over = system.housing.lid_overlap_m
    water = points(frame.from_survey(layout.water))
    near = layout.setback.value
    us = [p[0] for p in water]
    known = survey.index

    def at(name: str) -> Point:
        return points(frame.from_survey(survey.at(name)).reshape(1, 2))[0]

    things = (Thing(o.name, o.kind, tuple(at(n) for n in o.points if n in known)) for o in pool.obstacles)
    return Shapes(
        water=water,
        water_points=tuple((c.point, at(c.point)) for c in pool.water if c.point in known),
        corner_radii=tuple((at(c.point), c.radius_m) for c in pool.water if c.point in known and c.radius_m > 0),
        obstacles=tuple(t for t in things if t.points),
        half_gauge=half,
        track_half=system.track.centre_to_channel_wall_m,
        into_housing=system.track.into_housing_m,
        near=near,
        far=near + layout.water_length.value,
        travel=layout.travel.value,
        channel=layout.channel.value,
        water_left=min(us),
        water_right=max(us),
        housing=((-long, -deep), (long, -deep), (long, 0.0), (-long, 0.0)),
        lid=((-long, -deep - over), (long, -deep - over), (long, over), (-long, over)),
    )


def points(xy: Array) -> tuple[Point, ...]:
    """Rows of an array of shape (n, 2) as plain points."""
    return tuple((float(x), float(y)) for x, y in np.asarray(xy).reshape(-1, 2))
