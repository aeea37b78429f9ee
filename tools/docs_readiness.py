"""The reliability diagram of order probabilities, from docs/readiness.json that bench/bench_readiness.py writes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

DOCS = Path(__file__).resolve().parent.parent / "docs"
SIZE, EDGE, PLOT = 420.0, 56.0, 320.0
LOW = 0.6  # where both axes begin


def svg(data: dict[str, Any]) -> str:
    """Chance promised across, share that fitted up; bars are the 95 % band that chance alone allows."""
    top = EDGE - 30
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE:g} {SIZE:g}" role="img" '
        'font-family="sans-serif" font-size="12" fill="#000">',
        "<title>Reliability of order probabilities</title>",
        f'<rect width="{SIZE:g}" height="{SIZE:g}" fill="#fff"/>',
        f'<rect x="{EDGE:g}" y="{top:g}" width="{PLOT:g}" height="{PLOT:g}" fill="none" stroke="#000"/>',
        f'<line x1="{_x(LOW)}" y1="{_y(LOW)}" x2="{_x(1)}" y2="{_y(1)}" stroke="#000" stroke-dasharray="6 4"/>',
    ]
    for tick in (0.6, 0.7, 0.8, 0.9, 1.0):
        parts.append(f'<text x="{_x(tick)}" y="{top + PLOT + 18:g}" text-anchor="middle">{tick:g}</text>')
        parts.append(f'<text x="{EDGE - 8:g}" y="{_y(tick, 4)}" text-anchor="end">{tick:g}</text>')
    for b in data["bins"]:
        x, low, high = _x(b["promised"]), _y(b["promised"] - b["band"]), _y(min(1.0, b["promised"] + b["band"]))
        parts.append(f'<line x1="{x}" y1="{low}" x2="{x}" y2="{high}" stroke="#000"/>')
        parts.append(f'<circle cx="{x}" cy="{_y(b["fitted"])}" r="4" fill="#000"/>')
    middle, across = top + PLOT / 2, EDGE + PLOT / 2
    parts += [
        f'<text x="{across:g}" y="{SIZE - 24:g}" text-anchor="middle">promised chance that all parts fit</text>',
        f'<text x="16" y="{middle:g}" text-anchor="middle" '
        f'transform="rotate(-90 16 {middle:g})">share that fitted</text>',
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def markdown(data: dict[str, Any]) -> str:
    """The page that states the figures of the run."""
    total = data["pools"] * data["each"]
    out = [
        "# How far the order probabilities can be trusted\n",
        f"{total:,} pools are taped with noise, ordered for, and built with the catalogue's tolerances",
        f"({data['pools']:,} shapes, each {data['each']} times; seed {data['seed']}). The catalogues take up little,",
        "so that orders fail often enough to be counted. Widths and lengths of what was taped come by a route of",
        "their own, not from the layout. The builders' and makers' scatter is the catalogue's, and normal: this shows",
        "that the sum is right, not that a firm's tolerances are what its catalogue says.\n",
        "| promised | on average | fitted | 95 % band | pools |",
        "|---|---|---|---|---|",
    ]
    for b in data["bins"]:
        kept = "" if abs(b["fitted"] - b["promised"]) <= b["band"] else " (outside)"
        span = f"{100 * b['low']:g}–{100 * b['high']:g} %"
        out.append(f"| {span} | {b['promised']:.2%} | {b['fitted']:.2%}{kept} | ± {b['band']:.2%} | {b['count']:,} |")
    out.append("\n![Chance promised against the share that fitted](readiness.svg)\n")
    out.append("On the dashed line a promise is kept exactly. `python bench/bench_readiness.py --write` runs it again;")
    out.append("a run of 20,000 with another seed is among the tests (tests/test_order_ready.py).")
    return "\n".join(out) + "\n"


def load() -> dict[str, Any]:
    """The recorded result."""
    data: dict[str, Any] = json.loads((DOCS / "readiness.json").read_text(encoding="utf-8"))
    return data


def _x(share: float) -> str:
    return f"{EDGE + PLOT * (share - LOW) / (1.0 - LOW):.1f}"


def _y(share: float, shift: float = 0.0) -> str:
    return f"{EDGE - 30 + PLOT * (1.0 - (share - LOW) / (1.0 - LOW)) + shift:.1f}"
