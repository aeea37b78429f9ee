"""The reliability diagram of order probabilities, from docs/readiness.json that bench/bench_readiness.py writes."""

from __future__ import annotations

from typing import Any

from docs_calibration import Diagram, recorded

_UPPER = Diagram(low=0.6)  # nothing worth ordering promises less


def svg(data: dict[str, Any]) -> str:
    """Chance promised across, share that fitted up; bars are the 95 % band that chance alone allows."""
    marks = []
    for b in data["bins"]:
        at = b["promised"]
        marks.append(_UPPER.bar(at, at - b["band"], min(1.0, at + b["band"])))
        marks.append(f'<circle cx="{_UPPER.x(at)}" cy="{_UPPER.y(b["fitted"])}" r="4" fill="#000"/>')
    return _UPPER.svg(
        "Reliability of order probabilities",
        (0.6, 0.7, 0.8, 0.9, 1.0),
        marks,
        ("promised chance that all parts fit",),
        "share that fitted",
    )


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
    return recorded("readiness")
