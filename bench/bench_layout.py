"""Layout of a cover among six obstacles against trying every heading at 0.01°.

Brute forces over the same 90° of headings: with Shapely one heading at a time, as a user would write it (timed on every
50th heading and extrapolated); with Shapely's array functions; in plain NumPy, two boxes against each piece by
separating axes; and with this program's own separations, which the search evaluates. All start from the same outline,
none may beat the search, and all times are the least of several on the processor.

The bound: whatever a search leaves out, it needs the hull, the pieces and their edges, and one look at the headings at
which the rectangle changes what it touches. Brute force at 0.01° knows the heading to 0.005°; the search knows it to
1e-11 rad, where brute force would need a thousand million headings.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import affinity

from stringline.geometry import Array
from stringline.job.model import Corner, Pool
from stringline.layout.clearance import pieces_of
from stringline.layout.ground import Size, Surroundings
from stringline.layout.outline import Outline, outline_of
from stringline.layout.search import Goal, critical_headings, smallest
from stringline.survey.result import Ellipse, GlobalTest, PointResult, Survey

POOLS, OBSTACLES, EVERY = 12, 6, 50
STEP_RAD = math.radians(0.01)
SIZE = Size(0.15, 0.3, 0.3, 0.08, 0.04, 0.25, 0.45, 0.025)
GOAL = Goal(2 * SIZE.side, SIZE.setback + SIZE.end)


@dataclass(frozen=True)
class Yard:
    """One invented pool with rails, rocks and deck edges around it."""

    outline: Outline
    obstacles: list[tuple[str, str, Array]]
    low: float


def yard(seed: int) -> Yard:
    """A pool of six to nine corners, half of them rounded, with six obstacles 0.7 to 3 m from it."""
    rng = np.random.default_rng(seed)
    n = int(rng.integers(6, 10))
    angle = (np.arange(n) + rng.uniform(-0.3, 0.3, n)) * math.tau / n
    radius = rng.uniform(0.85, 1.1, n)
    xy = np.stack([6.0 * radius * np.cos(angle), 3.0 * radius * np.sin(angle)], axis=-1)
    points = tuple(PointResult(f"p{i}", float(x), float(y), 0, 0, Ellipse(0, 0, 0)) for i, (x, y) in enumerate(xy))
    survey = Survey(points, (), 0, 0.0, GlobalTest(0, 0, 0, True), np.zeros((2 * n, 2 * n)))
    corners = tuple(Corner(p.name, 0.3 * float(i % 2)) for i, p in enumerate(points))
    outline = outline_of(Pool(corners), survey)
    hull = shapely.Polygon(xy).convex_hull
    things: list[tuple[str, str, Array]] = []
    for k in range(OBSTACLES):
        ring = hull.buffer(rng.uniform(0.7, 3.0)).exterior
        at = np.array(ring.interpolate(rng.uniform(0, ring.length)).coords[0])
        turn = rng.uniform(0, math.tau)
        along = 0.6 * np.array([math.cos(turn), math.sin(turn)])
        kind = ("rail", "rock", "deck-edge")[k % 3]
        shape = {"rail": [at], "rock": [at, at + along, at + along / 2 + 0.5 * np.array([-along[1], along[0]])]}
        things.append((f"{kind} {k}", kind, np.array(shape.get(kind, [at, at + 2 * along]))))
    return Yard(outline, things, float(rng.uniform(0, math.tau)))


def things_of(there: Yard) -> list[shapely.Geometry]:
    """The obstacles as Shapely sees them."""
    made = {1: lambda p: shapely.Point(p[0]), 2: shapely.LineString, 3: shapely.Polygon}
    found = [made[len(p)](p) for _, _, p in there.obstacles]
    for thing in found:
        shapely.prepare(thing)
    return found


def one_by_one(there: Yard, headings: Array) -> float:
    """Least area, one heading at a time: turn everything, take bounds, lay boxes."""
    water, things = shapely.Polygon(there.outline.polygon), things_of(there)
    best = math.inf
    for h in headings.tolist():
        turn = math.pi / 2 - h  # so that the cover runs up the page
        x0, y0, x1, y1 = affinity.rotate(water, turn, origin=(0, 0), use_radians=True).bounds
        area = (x1 - x0 + GOAL.across_m) * (y1 - y0 + GOAL.along_m)
        if area >= best:
            continue
        z = SIZE
        left, right, near, far = x0 - z.side, x1 + z.side, y0 - z.setback, y1 + z.end + z.past_stop
        housing = shapely.box(left - z.housing_beyond, near - z.housing_deep, right + z.housing_beyond, near)
        cover = shapely.box(left - z.track_half, near, right + z.track_half, far)
        turned = [affinity.rotate(t, turn, origin=(0, 0), use_radians=True) for t in things]
        if not any(housing.intersects(t) or cover.intersects(t) for t in turned):
            best = area
    return best


def with_arrays(there: Yard, headings: Array) -> float:
    """Least area with Shapely's array functions: all boxes made and tried at once."""
    points = np.array(shapely.MultiPoint(there.outline.polygon).convex_hull.exterior.coords)
    c, s = np.cos(headings), np.sin(headings)
    u, t = points @ np.stack([s, -c]), points @ np.stack([c, s])
    z = SIZE
    left, right = u.min(axis=0) - z.side, u.max(axis=0) + z.side
    near, far = t.min(axis=0) - z.setback, t.max(axis=0) + z.end + z.past_stop
    area = (right - left) * (far - near - z.past_stop)
    hit = np.zeros(len(headings), dtype=bool)
    for u0, u1, s0, s1 in (
        (left - z.housing_beyond, right + z.housing_beyond, near - z.housing_deep, near),
        (left - z.track_half, right + z.track_half, near, far),
    ):
        uu, ss = np.stack([u0, u1, u1, u0, u0], axis=-1), np.stack([s0, s0, s1, s1, s0], axis=-1)
        rings = np.stack([uu * s[:, None] + ss * c[:, None], -uu * c[:, None] + ss * s[:, None]], axis=-1)
        boxes = shapely.polygons(rings)
        for thing in things_of(there):
            hit |= shapely.intersects(boxes, thing)
    return float(np.min(area[~hit], initial=math.inf))


def plain_numpy(there: Yard, headings: Array) -> float:
    """Least area with nothing but NumPy: housing and cover as two boxes, each piece parted from them or not."""
    points = np.array(shapely.MultiPoint(there.outline.polygon).convex_hull.exterior.coords)
    c, s = np.cos(headings), np.sin(headings)
    across, ahead = points[:, :1] * s - points[:, 1:] * c, points[:, :1] * c + points[:, 1:] * s
    z = SIZE
    left, right = across.min(axis=0) - z.side, across.max(axis=0) + z.side
    near, far = ahead.min(axis=0) - z.setback, ahead.max(axis=0) + z.end + z.past_stop
    area = (right - left) * (far - near - z.past_stop)
    housing = (left - z.housing_beyond, right + z.housing_beyond, near - z.housing_deep, near)
    cover = (left - z.track_half, right + z.track_half, near, far)
    boxes = [((u0 + u1) / 2, (u1 - u0) / 2, (s0 + s1) / 2, (s1 - s0) / 2) for u0, u1, s0, s1 in (housing, cover)]
    hit = np.zeros(len(headings), dtype=bool)
    for _, kind, shape in there.obstacles:
        for piece in pieces_of(kind, shape):
            u, t = [x * s - y * c for x, y in piece], [x * c + y * s for x, y in piece]
            u0, u1 = np.minimum(np.minimum(u[0], u[1]), u[2]), np.maximum(np.maximum(u[0], u[1]), u[2])
            s0, s1 = np.minimum(np.minimum(t[0], t[1]), t[2]), np.maximum(np.maximum(t[0], t[1]), t[2])
            edges = []
            for run in np.roll(piece, -1, axis=0) - piece:
                if (length := math.hypot(*run)) > 1e-12:
                    x, y = -run[1] / length, run[0] / length
                    reach = piece @ [x, y]
                    edges.append((x * s - y * c, x * c + y * s, reach.min(), reach.max()))
            for mu, hu, ms, hs in boxes:
                meets = (u0 <= mu + hu) & (u1 >= mu - hu) & (s0 <= ms + hs) & (s1 >= ms - hs)
                for nu, ns, low, high in edges:
                    middle, half = mu * nu + ms * ns, hu * np.abs(nu) + hs * np.abs(ns)
                    meets &= (middle - half <= high) & (middle + half >= low)
                hit |= meets
    return float(np.min(area[~hit], initial=math.inf))


def own_arrays(there: Yard, headings: Array) -> float:
    """Least area with this program's own support function and separations at every heading."""
    hull = there.outline.hull
    around = Surroundings.of(hull, SIZE, there.obstacles)
    area = GOAL.value(*GOAL.sides(hull, headings))
    clear = around.apart(headings).min(axis=(1, 2))
    return float(np.min(area[clear >= 0.0], initial=math.inf))


def search(there: Yard) -> float:
    """Least area by the search, from the outline on: hull, pieces and all."""
    hull = replace(there.outline).hull  # a new outline, which keeps no hull yet
    around = Surroundings.of(hull, SIZE, there.obstacles)
    found = smallest(hull, there.low, there.low + math.pi / 2, GOAL, around.ground())
    return math.inf if found is None else found.value


def least_work(there: Yard) -> float:
    """What no search can do without; the answer means nothing."""
    hull = replace(there.outline).hull
    around = Surroundings.of(hull, SIZE, there.obstacles)
    return float(around.apart(critical_headings(hull, there.low, there.low + math.pi / 2)).min())


def timed(run: Callable[[], float], times: int) -> tuple[float, float]:
    """The answer, and the shortest of several runs in seconds on the processor."""
    best, answer = math.inf, 0.0
    for _ in range(times):
        begin = time.process_time()
        answer = run()
        best = min(best, time.process_time() - begin)
    return answer, best


def main() -> None:
    """Print the times, the ratios, the bound, and how often a brute force came out below the search."""
    brute: dict[str, Callable[[Yard, Array], float]] = {
        "one by one": one_by_one,
        "Shapely arrays": with_arrays,
        "plain NumPy": plain_numpy,
        "own arrays": own_arrays,
    }
    spent = dict.fromkeys(("search", "least work", *brute), 0.0)
    placed = beaten = 0
    for seed in range(POOLS):
        there = yard(seed)
        grid = there.low + STEP_RAD * np.arange(9001, dtype=float)
        ours, seconds = timed(lambda there=there: search(there), 15)  # type: ignore[misc]
        spent["search"] += seconds
        placed += math.isfinite(ours)
        spent["least work"] += timed(lambda there=there: least_work(there), 15)[1]  # type: ignore[misc]
        for name, run in brute.items():
            every, times = (EVERY, 1) if name == "one by one" else (1, 3)
            tried = grid[::every]
            answer, seconds = timed(lambda run=run, there=there, tried=tried: run(there, tried), times)  # type: ignore[misc]
            spent[name] += seconds * every
            # the drawn water lies up to 0.1 mm inside its arcs
            beaten += answer < ours * (1 - (1e-9 if name == "own arrays" else 1e-4))
    each = {k: v / POOLS for k, v in spent.items()}
    print(f"layout, {POOLS} pools with {OBSTACLES} obstacles, {placed} of them with a place for the cover")
    print(f"  search: {each['search'] * 1e3:.2f} ms a pool")
    for name in brute:
        note = f", extrapolated from every {EVERY}th heading" if name == "one by one" else ""
        ratio, bound = each[name] / each["search"], each[name] / each["least work"]
        print(
            f"  brute force at 0.01°, {name}: {each[name] * 1e3:.0f} ms{note}, ratio {ratio:.0f}"
            f" (wanted 50; no search above {bound:.0f})"
        )
    least = each["least work"]
    print(f"  the least that any search does: {least * 1e3:.2f} ms, {least / each['search']:.0%} of this one")
    print(f"  brute forces that found less: {beaten} (must be 0)")
    if beaten:
        raise SystemExit("the search was beaten")


if __name__ == "__main__":
    main()
