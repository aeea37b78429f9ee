"""The frame that every calibration diagram shares: what was promised across, what came true up, the diagonal dashed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

DOCS = Path(__file__).resolve().parent.parent / "docs"
SIZE, EDGE, PLOT = 420.0, 56.0, 320.0
TOP = EDGE - 30


@dataclass(frozen=True)
class Diagram:
    """A square diagram whose axes both run from ``low`` to 1."""

    low: float = 0.0

    def x(self, share: float) -> str:
        """Across, as SVG text."""
        return f"{EDGE + PLOT * self._part(share):.1f}"

    def y(self, share: float, shift: float = 0.0) -> str:
        """Up, as SVG text, moved down by ``shift``."""
        return f"{TOP + PLOT * (1.0 - self._part(share)) + shift:.1f}"

    def bar(self, at: float, low: float, high: float) -> str:
        """An upright bar."""
        return f'<line x1="{self.x(at)}" y1="{self.y(low)}" x2="{self.x(at)}" y2="{self.y(high)}" stroke="#000"/>'

    def svg(self, title: str, ticks: Sequence[float], marks: Sequence[str], feet: Sequence[str], up: str) -> str:
        """The whole picture: ``marks`` inside the frame, lines of text ``feet`` under it, ``up`` beside it."""
        across, middle = EDGE + PLOT / 2, TOP + PLOT / 2
        parts = [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIZE:g} {SIZE:g}" role="img" '
            'font-family="sans-serif" font-size="12" fill="#000">',
            f"<title>{title}</title>",
            f'<rect width="{SIZE:g}" height="{SIZE:g}" fill="#fff"/>',
            f'<rect x="{EDGE:g}" y="{TOP:g}" width="{PLOT:g}" height="{PLOT:g}" fill="none" stroke="#000"/>',
            f'<line x1="{self.x(self.low)}" y1="{self.y(self.low)}" x2="{self.x(1)}" y2="{self.y(1)}" stroke="#000" '
            'stroke-dasharray="6 4"/>',
        ]
        for tick in ticks:
            parts.append(f'<text x="{self.x(tick)}" y="{TOP + PLOT + 18:g}" text-anchor="middle">{tick:g}</text>')
            parts.append(f'<text x="{EDGE - 8:g}" y="{self.y(tick, 4)}" text-anchor="end">{tick:g}</text>')
        parts += marks
        lowest = SIZE - 24 + 10 * (len(feet) - 1)
        for n, foot in enumerate(feet):
            at = lowest - 20 * (len(feet) - 1 - n)
            parts.append(f'<text x="{across:g}" y="{at:g}" text-anchor="middle">{foot}</text>')
        turned = f'transform="rotate(-90 16 {middle:g})"'
        parts += [f'<text x="16" y="{middle:g}" text-anchor="middle" {turned}>{up}</text>', "</svg>"]
        return "\n".join(parts) + "\n"

    def _part(self, share: float) -> float:
        return (share - self.low) / (1.0 - self.low)


def recorded(name: str) -> dict[str, Any]:
    """A recorded result, docs/``name``.json."""
    data: dict[str, Any] = json.loads((DOCS / f"{name}.json").read_text(encoding="utf-8"))
    return data
