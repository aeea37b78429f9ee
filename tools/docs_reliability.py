"""The reliability diagram of the diagnosis, drawn from docs/reliability.json, which bench/bench_diagnosis.py writes."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

DOCS = Path(__file__).resolve().parent.parent / "docs"
SIZE, EDGE, PLOT = 420.0, 56.0, 320.0


def svg(data: dict[str, Any]) -> str:
    """Chance promised across, share that came true up; filled marks full sheets, open ones poor; bars are ± 2 σ."""
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE:g} {SIZE:g}" role="img" '
        'font-family="sans-serif" font-size="12" fill="#000">',
        "<title>Reliability of the diagnosis</title>",
        f'<rect width="{SIZE:g}" height="{SIZE:g}" fill="#fff"/>',
        f'<rect x="{EDGE:g}" y="{EDGE - 30:g}" width="{PLOT:g}" height="{PLOT:g}" fill="none" stroke="#000"/>',
        f'<line x1="{_x(0)}" y1="{_y(0)}" x2="{_x(1)}" y2="{_y(1)}" stroke="#000" stroke-dasharray="6 4"/>',
    ]
    for tick in (0.0, 0.25, 0.5, 0.75, 1.0):
        parts.append(f'<text x="{_x(tick)}" y="{EDGE - 30 + PLOT + 18:g}" text-anchor="middle">{tick:g}</text>')
        parts.append(f'<text x="{EDGE - 8:g}" y="{_y(tick, 4)}" text-anchor="end">{tick:g}</text>')
    parts += _marks(data["poor"]["points"], "#fff") + _marks(data["full"]["points"], "#000")
    middle = EDGE + PLOT / 2
    parts += [
        f'<text x="{middle:g}" y="{SIZE - 34:g}" text-anchor="middle">promised chance of the first cause</text>',
        f'<text x="{middle:g}" y="{SIZE - 14:g}" text-anchor="middle">● full sheets   ○ poor sheets</text>',
        f'<text x="16" y="{EDGE - 30 + PLOT / 2:g}" text-anchor="middle" '
        f'transform="rotate(-90 16 {EDGE - 30 + PLOT / 2:g})">how often it was</text>',
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def markdown(data: dict[str, Any]) -> str:
    """The page that states the figures."""
    out = [
        "# How far the diagnosis can be trusted\n",
        "Crooked covers are made by a second machine and diagnosed blind: one or two causes of the list, readings to",
        "σ 1/8 in, friction and brakes off by a random fifth. The second machine follows rope and hem as material,",
        "without a closed form or a linearisation. It shares the machine's numbers, the reel's layers and the list of",
        "causes with the diagnosis, so this measures the reasoning, not whether the list holds every fault that a real",
        "cover can have. A full sheet is six stations both ways with the motor's current, a poor one two or three",
        "readings.\n",
        "| | full sheets | poor sheets |",
        "|---|---|---|",
    ]
    rows = (
        ("covers", "covers", "{:d}"),
        ("the true main cause stands first", "right_first", "{:.1%}"),
        ("promised on average", "promised", "{:.1%}"),
        ("its amount lies within 2 σ", "amount_within_two_sigma", "{:.1%}"),
        ("says that it is sure", "sure", "{:.1%}"),
        ("right when sure", "right_when_sure", "{:.1%}"),
        ("names the true cause when not sure", "named_when_not_sure", "{:.1%}"),
    )
    for label, key, form in rows:
        cells = ["–" if data[kind][key] is None else form.format(data[kind][key]) for kind in ("full", "poor")]
        out.append(f"| {label} | {cells[0]} | {cells[1]} |")
    out.append("\n![Chance promised against how often it came true](reliability.svg)\n")
    out.append("On the dashed line a promise is kept exactly; above it the diagnosis is more careful than it need be.")
    return "\n".join(out) + "\n"


def load() -> dict[str, Any]:
    """The recorded result."""
    data: dict[str, Any] = json.loads((DOCS / "reliability.json").read_text(encoding="utf-8"))
    return data


def _x(share: float) -> str:
    return f"{EDGE + PLOT * share:.1f}"


def _y(share: float, shift: float = 0.0) -> str:
    return f"{EDGE - 30 + PLOT * (1 - share) + shift:.1f}"


def _marks(points: Sequence[dict[str, Any]], fill: str) -> list[str]:
    parts = []
    for p in points:
        low, high = max(0.0, p["came_true"] - 2 * p["sigma"]), min(1.0, p["came_true"] + 2 * p["sigma"])
        parts.append(
            f'<line x1="{_x(p["promised"])}" y1="{_y(low)}" x2="{_x(p["promised"])}" y2="{_y(high)}" stroke="#000"/>'
        )
        parts.append(
            f'<circle cx="{_x(p["promised"])}" cy="{_y(p["came_true"])}" r="4.5" fill="{fill}" stroke="#000"/>'
        )
    return parts
