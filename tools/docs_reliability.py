"""The reliability diagram of the diagnosis, drawn from docs/reliability.json, which bench/bench_diagnosis.py writes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from docs_calibration import Diagram, recorded

_SQUARE = Diagram()


def svg(data: dict[str, Any]) -> str:
    """Chance promised across, share that came true up; filled marks full sheets, open ones poor; bars are ± 2 σ."""
    return _SQUARE.svg(
        "Reliability of the diagnosis",
        (0.0, 0.25, 0.5, 0.75, 1.0),
        _marks(data["poor"]["points"], "#fff") + _marks(data["full"]["points"], "#000"),
        ("promised chance of the first cause", "● full sheets   ○ poor sheets"),
        "how often it was",
    )


def markdown(data: dict[str, Any]) -> str:
    """The page that states the figures."""
    out = [
        "# How far the diagnosis can be trusted\n",
        *_opponent(data["opponent"]),
        "## Covers of its own machine\n",
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


_KINDS = (
    ("unlisted", "worn, a cause that is on no list"),
    ("listed_0", "a cause of the list, machine as drawn"),
    ("listed_half", "the same, machine worn (½)"),
    ("listed_1", "the same, machine old (1)"),
    ("one_bad_reading", "worn, one lead read false"),
    ("poor_sheets", "worn, two or three stations"),
    ("healthy", "worn, nothing wrong"),
)
_FIGURES = ("right_first", "promised", "amount_within_two_sigma", "called_sure", "right_when_sure")
_NO_ANSWER = ("unlisted", "healthy")


def _opponent(data: dict[str, Any]) -> list[str]:
    """Covers that the diagnosis did not help to make stand first."""
    out = [
        "## Covers of another machine\n",
        "These are stepped through time by a simulator that shares no code with the program: sliders with mass that",
        "stick and slip, friction that scatters along the tracks, reels that stack unevenly, a sheet that resists",
        "shear, mistakes that a run's readings share. Nothing is drawn from the program but the machine's plain",
        "numbers and the names of the causes. A fault of the list makes an inch of lead or more by itself. *Sure*",
        "counts answers that are sure of a cause: where nothing on the list is wrong, each of them is false.\n",
        "| | covers | right first | promised | amount within 2 σ | sure | right when sure |",
        "|---|---|---|---|---|---|---|",
    ]
    for key, label in _KINDS:
        row = data[key]
        none = ("right_first", "amount_within_two_sigma", "right_when_sure") if key in _NO_ANSWER else ()
        cells = ["–" if k in none or row[k] is None else f"{row[k]:.1%}" for k in _FIGURES]
        out.append(f"| {label} | {row['covers']} | {' | '.join(cells)} |")
    fewest = min(data[key]["covers"] for key, _ in _KINDS)
    out += [
        f"\nA share of {fewest} covers is good to ± {100.0 / fewest**0.5:.0f} points at most (2 σ). Not yet right:",
        "on an old machine more is promised than comes true, amounts of a worn one lie within 2 σ too seldom, and a",
        "rope that slips or a false zero is still taken for a rope of the wrong length.",
    ]
    return [*out, ""]


def load() -> dict[str, Any]:
    """The recorded result."""
    return recorded("reliability")


def _marks(points: Sequence[dict[str, Any]], fill: str) -> list[str]:
    parts = []
    for p in points:
        x, came = p["promised"], p["came_true"]
        parts.append(_SQUARE.bar(x, max(0.0, came - 2 * p["sigma"]), min(1.0, came + 2 * p["sigma"])))
        parts.append(f'<circle cx="{_SQUARE.x(x)}" cy="{_SQUARE.y(came)}" r="4.5" fill="{fill}" stroke="#000"/>')
    return parts
