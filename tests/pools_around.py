"""Invented pools with things standing around them, and a slow, independent way to lay a cover over them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from stringline.geometry import Array
from stringline.job.model import Corner, Obstacle, Pool
from stringline.layout.ground import Size
from stringline.layout.outline import Outline, outline_of
from stringline.survey.result import Survey
from surveyed import surveyed

GRID_RAD = math.radians(0.01)


@dataclass(frozen=True)
class Place:
    """One generated pool: its survey, its outline, what stands around it, and the cover's size."""

    survey: Survey
    pool: Pool
    outline: Outline
    size: Size
    middle: float  # of the allowed headings

    @property
    def obstacles(self) -> list[tuple[str, str, Array]]:
        at = self.survey.index
        return [(o.name, o.kind, self.survey.xy[[at[p] for p in o.points]]) for o in self.pool.obstacles]


def place(seed: int, obstacles: int | None = None) -> Place:
    """A pool of 4 to 9 points, some corners rounded or bowed, with 0 to 6 obstacles close to it."""
    rng = np.random.default_rng(seed)
    while True:
        made = _try(rng, obstacles)
        if made is not None:
            return made


def _try(rng: np.random.Generator, obstacles: int | None) -> Place | None:
    n = int(rng.integers(4, 10))
    angle = np.sort((np.arange(n) + rng.uniform(-0.35, 0.35, n)) * math.tau / n)
    radius = rng.uniform(0.75, 1.15, n)
    xy = np.stack([6.0 * radius * np.cos(angle), 3.0 * radius * np.sin(angle)], axis=-1)
    if rng.random() < 0.4:
        xy = np.array([[-6, -3], [6, -3], [6, 3], [-6, 3]]) + rng.normal(0, 0.02, (4, 2))
        n = 4
    turn = rng.uniform(0, math.tau)
    xy = xy @ np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    points = {f"p{i}": (float(x), float(y)) for i, (x, y) in enumerate(xy)}
    through = [n > 4 and rng.random() < 0.15 for _ in range(n)]
    through = [t and not through[i - 1] and not (i == n - 1 and through[0]) for i, t in enumerate(through)]
    rounded = rng.random() < 0.5
    corners = []
    for i in range(n):
        beside = through[i] or through[i - 1] or through[(i + 1) % n]
        corners.append(Corner(f"p{i}", 0.0 if beside or not rounded else float(rng.uniform(0, 0.8)), through[i]))
    around, placed = _obstacles(rng, xy, int(rng.integers(0, 7)) if obstacles is None else obstacles)
    survey = surveyed(points | placed)
    pool = Pool(tuple(corners), False, around)
    try:
        outline = outline_of(pool, survey)
    except ValueError:
        return None
    if not shapely.Polygon(outline.polygon).is_valid:
        return None
    side, end = rng.uniform(0.05, 0.3), rng.uniform(0.1, 0.6)
    size = Size(side, end, end, 0.08, 0.04, rng.uniform(0.1, 0.4), rng.uniform(0.3, 0.6), 0.025)
    return Place(survey, pool, outline, size, float(rng.uniform(0, math.tau)))


def _obstacles(
    rng: np.random.Generator, xy: Array, count: int
) -> tuple[tuple[Obstacle, ...], dict[str, tuple[float, float]]]:
    hull = shapely.Polygon(xy).convex_hull
    found: list[Obstacle] = []
    points: dict[str, tuple[float, float]] = {}
    for k in range(count):
        kind = str(rng.choice(["wall", "rail", "rock", "step", "deck-edge"]))
        ring = hull.buffer(rng.uniform(0.05, 3.0)).exterior
        base = np.array(ring.interpolate(rng.uniform(0, ring.length)).coords[0])
        size = {"rail": 0.0, "rock": 0.5, "step": 0.8}.get(kind, 2.5)
        shape = [base]
        if kind == "rail" and rng.random() < 0.5:
            size = 0.7
        if size:
            direction = rng.uniform(0, math.tau)
            along = np.array([math.cos(direction), math.sin(direction)]) * rng.uniform(0.2, size)
            shape.append(base + along)
            if kind in ("rock", "step"):
                shape.append(base + along / 2 + rng.uniform(0.1, 0.5) * np.array([-along[1], along[0]]))
        if kind in ("rock", "step") and len(shape) == 3 and rng.random() < 0.5:
            shape.append(base + 0.4 * (shape[2] - base) + 0.05)
        names = tuple(f"o{k}{c}" for c in "abcd"[: len(shape)])
        area = shapely.Polygon(shape) if len(shape) > 2 else shapely.LineString([*shape, shape[-1]])
        if not area.is_valid or (len(shape) > 2 and area.area < 1e-4):
            continue
        points |= {name: (float(p[0]), float(p[1])) for name, p in zip(names, shape, strict=True)}
        found.append(Obstacle(f"obstacle {k}", names, kind))
    return tuple(found), points


def sides(there: Place, headings: Array) -> tuple[Array, Array, Array, Array]:
    """Reach of the drawn water to the right, left, ahead and behind at each heading, by plain projection."""
    p = np.array(shapely.MultiPoint(there.outline.polygon).convex_hull.exterior.coords)
    ahead = np.stack([np.cos(headings), np.sin(headings)])
    right = np.stack([np.sin(headings), -np.cos(headings)])
    u, s = p @ right, p @ ahead
    return u.max(axis=0), -u.min(axis=0), s.max(axis=0), -s.min(axis=0)


def blocked(there: Place, headings: Array, slack: float = 0.0) -> Array:
    """Whether anything is in the way at each heading, by laying polygons over each other with Shapely.

    ``slack`` shrinks every part of the cover on all sides, metres.
    """
    z = there.size
    right, left, front, back = sides(there, headings)
    u1, u0 = right + z.side, -left - z.side
    s0 = -back - z.setback
    hit = np.zeros(len(headings), dtype=bool)
    for _, kind, points in there.obstacles:
        s1 = front - z.short if kind == "wall" else front + z.end + z.past_stop
        boxes = [
            (u0 - z.housing_beyond, u1 + z.housing_beyond, s0 - z.housing_deep, s0),
            (u0 - z.track_half, u0 + z.track_half, s0, s1),
            (u1 - z.track_half, u1 + z.track_half, s0, s1),
        ]
        if kind != "step":
            boxes.append((u0, u1, s0, s1))
        if len(points) == 1:
            thing = shapely.Point(points[0])
        elif kind in ("rock", "step") and len(points) > 2:
            thing = shapely.Polygon(points)
        else:
            thing = shapely.LineString(points)
        shapely.prepare(thing)
        for box in boxes:
            open_ = np.flatnonzero(~hit)
            four = (box[0][open_], box[1][open_], box[2][open_], box[3][open_])
            hit[open_] = shapely.intersects(_quads(headings[open_], four, slack), thing)
    return hit


def _quads(headings: Array, box: tuple[Array, Array, Array, Array], slack: float) -> Array:
    u0, u1, s0, s1 = box[0] + slack, box[1] - slack, box[2] + slack, box[3] - slack
    us = np.stack([np.stack([u0, u1, u1, u0], axis=-1), np.stack([s0, s0, s1, s1], axis=-1)], axis=-1)
    c, s = np.cos(headings)[:, None], np.sin(headings)[:, None]
    x = us[..., 0] * s + us[..., 1] * c
    y = -us[..., 0] * c + us[..., 1] * s
    rings = np.stack([x, y], axis=-1)
    return np.asarray(shapely.polygons(np.concatenate([rings, rings[:, :1]], axis=1)))
