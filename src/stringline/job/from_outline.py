"""A job file begun from a drawn outline: its points as observed coordinates with a σ, its arcs as bows."""

from __future__ import annotations

import math

from stringline.job.dxf_outline import DrawnOutline
from stringline.job.template import job_template, quoted
from stringline.lengths import FOOT, Unit

DRAWN_SIGMA = "10 mm"
"""How far a point may stand from where it is drawn, one σ, where nobody says (practice)."""

_FAR_M = 1000.0


def job_from_outline(outline: DrawnOutline, name: str, unit: Unit | str, drawing: str, sigma: str = DRAWN_SIGMA) -> str:
    """The text of a job file whose water's edge is the drawn outline. ``sigma`` is a length as a person writes it.

    An outline far from its drawing's origin, as in a map's grid, is shifted by whole metres, and the file says so.
    """
    unit = Unit(unit)
    points: list[tuple[str, float, float]] = []
    water: list[str] = []
    n = len(outline.vertices)
    sx, sy = (_far(min(v[axis] for v in outline.vertices)) for axis in (0, 1))
    vertices = [(x - sx, y - sy, bulge) for x, y, bulge in outline.vertices]
    for k, (x, y, bulge) in enumerate(vertices):
        points.append((str(k + 1), x, y))
        water.append(f'"{k + 1}"')
        if bulge != 0.0:
            after = vertices[(k + 1) % n]
            points.append((f"{k + 1}m", *_middle(x, y, after[0], after[1], bulge)))
            water.append(f'{{ through = "{k + 1}m" }}')
    moved = f" x less {sx:.0f} m, y less {sy:.0f} m." if sx or sy else ""
    rows = "\n".join(f'  ["{p}", "{_text(x, unit)}", "{_text(y, unit)}"],' for p, x, y in points)
    template = job_template(name, unit)
    head = template[: template.index("[survey]")]
    tail = template[template.index("# [cover]") :]
    over = f" Left out: {', '.join(outline.passed_over).lower()}." if outline.passed_over else ""
    return f"""\
{head}# Begun from {_plain(drawing)}, layer {_plain(outline.layer)}, 1 drawing unit = {outline.unit_m:g} m.{moved}{over}
# Points stand where they were drawn, not where a tape found them. Tape a few lines between them: until then nothing
# says that the pool was built as drawn.

[survey]
tape_class = "II"               # marked on the tape: I | II | III; or one sigma for all: sigma = "3 mm"
coordinate_sigma = {quoted(sigma)}      # how far a point may stand from where it is drawn (one σ): yours to say
coordinates = [                 # point, x, y
{rows}
]
tapes = [
  # ["{points[0][0]}", "{points[min(2, len(points) - 1)][0]}", "what the tape said"],
]

[pool]
water = [{", ".join(water)}]
curve = {"true" if outline.smooth else "false"}
obstacles = []                  # {{ name = "wall", points = ["w1", "w2"], kind = "wall" }}; rail, rock, step, deck-edge

{tail}"""


def _middle(x: float, y: float, p: float, q: float, bulge: float) -> tuple[float, float]:
    """The middle of an arc from (x, y) to (p, q): half the chord times the bulge off it, to the right for +."""
    return (x + p) / 2 + bulge * (q - y) / 2, (y + q) / 2 - bulge * (p - x) / 2


def _far(m: float) -> float:
    """What to take off a coordinate that begins more than a kilometre from the origin."""
    return math.floor(m) if abs(m) > _FAR_M else 0.0


def _text(m: float, unit: Unit) -> str:
    if unit in (Unit.FT_IN, Unit.FT):
        return f"{m / FOOT + 0.0:.4f} ft"
    return f"{m * 1000 + 0.0:.1f} mm" if unit is Unit.MM else f"{m + 0.0:.4f} m"


def _plain(text: str) -> str:
    """Text for a remark: on one line, nothing that could not be printed."""
    return "".join(c if c.isprintable() else " " for c in text)
