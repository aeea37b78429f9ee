"""The water's edge from a DXF drawing: closed polylines, lines and arcs that close, circles, smooth closed curves.

What is read is a drawing, not a measurement: it says where somebody drew the pool. Arcs are kept as arcs.
"""

from __future__ import annotations

import io
import math
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

from stringline.faults import Fault, Faults
from stringline.finding import Finding, finding
from stringline.lengths import FOOT, FOOT_M, INCH

UNITS_M = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": INCH, "ft": FOOT}
"""Units that a drawing may be stated to be in, in metres."""

_INSUNITS = {1: INCH, 2: FOOT, 4: 0.001, 5: 0.01, 6: 1.0, 10: float(3 * FOOT_M), 14: 0.1, 21: 1200 / 3937}  # $INSUNITS
_WHERE = Finding("job.the-drawing")
_JOIN_M = 0.001  # ends that lie no farther apart meet
_FLAT_M = 0.0005  # an arc that bows by less is drawn as a straight edge
_CURVE_STEP_M = 0.4  # between points taken from a smooth curve
_FEWEST, _MOST = 16, 80  # points taken from one

_Vertex = tuple[float, float, float]  # x, y, m, and the bulge (tan of a quarter of the sweep) of the edge after it


@dataclass(frozen=True)
class DrawnOutline:
    """One closed outline, metres in the drawing's own frame.

    ``vertices`` are x, y and the bulge of the edge that follows (0: straight; + bows to the right of the walk, as in
    DXF). ``smooth`` says that they were taken from a smooth curve, which runs through all of them.
    """

    layer: str
    vertices: tuple[_Vertex, ...]
    smooth: bool
    unit_m: float
    passed_over: tuple[str, ...]  # kinds of things on the layer that can be no edge


def read_outline(data: bytes, document: str, *, layer: str | None = None, unit: str | None = None) -> DrawnOutline:
    """Read the one closed outline on ``layer``, or in the whole drawing where no layer is named.

    ``unit`` is one of :data:`UNITS_M` and overrides what the drawing says of itself. Raises ``Faults`` where the file
    is no DXF, has no known unit, or holds no closed outline or several.
    """
    drawing = _load(data, document)
    scale = UNITS_M[unit] if unit is not None else _INSUNITS.get(int(drawing.header.get("$INSUNITS", 0)), 0.0)
    if scale == 0.0:
        right = finding("job.state-unit", units=tuple(UNITS_M))
        raise Faults(document, [Fault("dxf-unit", _WHERE, "job.drawing-no-unit", right)])
    loops: dict[str, list[DrawnOutline]] = {}
    for name, things in _by_layer(drawing, layer).items():
        found = _loops(things, name, scale)
        if found:
            loops[name] = found
    if not loops:
        where = Finding("job.in-drawing") if layer is None else finding("job.on-layer", layer=layer)
        names = tuple(sorted({e.dxf.layer for e in drawing.modelspace()})) or Finding("job.no-layer")
        wrong = finding("job.no-outline", where=where, layers=names)
        raise Faults(document, [Fault("dxf-outline", _WHERE, wrong, "job.close-outline")])
    every = [loop for found in loops.values() for loop in found]
    if len(every) > 1:
        told = [finding("job.outlines-on", count=len(found), layer=name) for name, found in loops.items()]
        wrong = finding("job.several-outlines", count=len(every), told=told)
        raise Faults(document, [Fault("dxf-several", _WHERE, wrong, "job.own-layer")])
    return every[0]


def _load(data: bytes, document: str) -> Any:
    from ezdxf import DXFError, recover  # type: ignore[attr-defined]

    try:
        drawing, _ = recover.read(io.BytesIO(data))
    except (DXFError, OSError, ValueError, KeyError, IndexError) as why:
        wrong = finding("job.no-drawing", why=str(why))
        raise Faults(document, [Fault("dxf-unreadable", _WHERE, wrong, "job.save-as-dxf")]) from None
    return drawing


def _by_layer(drawing: Any, layer: str | None) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = defaultdict(list)
    for thing in drawing.modelspace():
        if layer is None or thing.dxf.layer.casefold() == layer.casefold():
            found[thing.dxf.layer].append(thing)
    return found


def _loops(things: list[Any], layer: str, scale: float) -> list[DrawnOutline]:
    """Every closed outline on one layer."""
    closed: list[tuple[list[_Vertex], bool]] = []
    open_runs: list[list[_Vertex]] = []
    passed: dict[str, None] = {}
    for thing in things:
        run, ends_meet, smooth = _run_of(thing, scale)
        if not run:
            passed[thing.dxftype()] = None
            continue
        run = [(x * scale, y * scale, bulge) for x, y, bulge in run]
        if ends_meet or (len(run) > 2 and math.dist(run[0][:2], run[-1][:2]) <= _JOIN_M):
            closed.append((run if ends_meet else run[:-1], smooth))
        else:
            open_runs.append(run)
    closed += [(run, False) for run in _chained(open_runs)]
    made = [(_without_doubles(run), smooth) for run, smooth in closed]
    return [
        DrawnOutline(layer, tuple(run), smooth, scale, tuple(passed))
        for run, smooth in made
        if len(run) >= 3 or any(abs(v[2]) > 0.0 for v in run)
    ]


def _run_of(thing: Any, scale: float) -> tuple[list[_Vertex], bool, bool]:
    """Vertices of one thing in drawing units, whether it closes by itself, and whether it is a smooth curve."""
    kind = thing.dxftype()
    if kind == "LWPOLYLINE":
        flip = -1.0 if thing.dxf.extrusion.z < 0 else 1.0
        return [(flip * x, y, flip * b) for x, y, b in thing.get_points("xyb")], bool(thing.closed), False
    if kind == "POLYLINE" and (thing.is_2d_polyline or thing.is_3d_polyline):
        flip = -1.0 if thing.dxf.extrusion.z < 0 else 1.0
        at = [(v.dxf.location, v.dxf.bulge if thing.is_2d_polyline else 0.0) for v in thing.vertices]
        return [(flip * p.x, p.y, flip * b) for p, b in at], bool(thing.is_closed), False
    if kind == "LINE":
        a, b = thing.dxf.start, thing.dxf.end
        return [(a.x, a.y, 0.0), (b.x, b.y, 0.0)], False, False
    if kind == "ARC":
        a, b = thing.start_point, thing.end_point
        sweep = math.radians((thing.dxf.end_angle - thing.dxf.start_angle) % 360.0)
        bulge = math.tan(sweep / 4) * (-1.0 if thing.dxf.extrusion.z < 0 else 1.0)
        return [(a.x, a.y, bulge), (b.x, b.y, 0.0)], False, False
    if kind == "CIRCLE":
        c = thing.ocs().to_wcs(thing.dxf.center)
        r, quarter = thing.dxf.radius, math.tan(math.pi / 8)
        return [(c.x + r * u, c.y + r * v, quarter) for u, v in ((1, 0), (0, 1), (-1, 0), (0, -1))], True, False
    if kind in ("SPLINE", "ELLIPSE"):
        return _sampled(thing, scale)
    return [], False, False


def _sampled(thing: Any, scale: float) -> tuple[list[_Vertex], bool, bool]:
    """Points at even steps along a smooth closed curve; an open one is no outline by itself."""
    import numpy as np

    fine = np.array([(p.x, p.y) for p in thing.flattening(_FLAT_M / scale, segments=16)])
    if len(fine) < 8 or np.hypot(*(fine[0] - fine[-1])) > _JOIN_M / scale:
        return [], False, False
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(fine, axis=0).T))])
    n = int(np.clip(round(along[-1] * scale / _CURVE_STEP_M), _FEWEST, _MOST))
    at = np.linspace(0.0, along[-1], n, endpoint=False)
    points = np.column_stack([np.interp(at, along, fine[:, 0]), np.interp(at, along, fine[:, 1])])
    return [(float(x), float(y), 0.0) for x, y in points], True, True


def _chained(runs: list[list[_Vertex]]) -> list[list[_Vertex]]:
    """Closed outlines made of open runs whose ends meet."""
    left = list(runs)
    found: list[list[_Vertex]] = []
    while left:
        chain = left.pop()
        while math.dist(chain[0][:2], chain[-1][:2]) > _JOIN_M or len(chain) < 3:
            end = chain[-1][:2]
            following = next(
                ((k, turned) for k, run in enumerate(left) for turned in (False, True) if _starts_at(run, end, turned)),
                None,
            )
            if following is None:
                break
            k, turned = following
            run = left.pop(k)
            chain = chain[:-1] + (_turned(run) if turned else run)
        else:
            found.append(chain[:-1])
    return found


def _starts_at(run: list[_Vertex], place: tuple[float, ...], turned: bool) -> bool:
    return math.dist(run[-1 if turned else 0][:2], place) <= _JOIN_M


def _turned(run: list[_Vertex]) -> list[_Vertex]:
    """The same run walked the other way: each bulge belongs to the edge after its vertex."""
    bulges = [-v[2] for v in run[-2::-1]] + [0.0]
    return [(x, y, b) for (x, y, _), b in zip(reversed(run), bulges, strict=True)]


def _without_doubles(run: list[_Vertex]) -> list[_Vertex]:
    """Leave out edges of no length; draw arcs that hardly bow as straight edges."""
    kept: list[_Vertex] = []
    for k, v in enumerate(run):
        following = run[(k + 1) % len(run)]
        chord = math.dist(v[:2], following[:2])
        if chord <= _JOIN_M:
            continue
        kept.append(v if abs(v[2]) * chord / 2 > _FLAT_M else (v[0], v[1], 0.0))
    return kept
