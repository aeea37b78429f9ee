"""Texts of invented jobs of every kind, seeded: to hold one tree of the code against another, whatever is in them."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

import numpy as np

from stringline.geometry import Array
from stringline.lengths import Unit, format_length

SHAPES = ("rectangle", "rounded", "L", "kidney", "bowed")
MOUNTS = ("under-coping", "flush", "on-deck")
STAGES = ("survey", "layout", "order", "rough-in", "fit-out", "run-in", "handover", "service")
KINDS = ("rail", "wall", "rock", "step", "deck-edge")
SYSTEMS = ("invented-18", "invented-metric")
UNITS = (Unit.FT_IN, Unit.M, Unit.MM, Unit.FT)
SEEN = ("baggy middle", "housing edge wet")
NOISE_M = 0.0015


def job_texts(count: int = 40, seed: int = 8) -> dict[str, str]:
    """Jobs by name: what each holds goes by its number, so that every kind turns up; the figures are drawn."""
    return {f"made-{k:02d}": _text(k, np.random.default_rng([seed, k])) for k in range(count)}


@dataclass
class _Yard:
    """A pool as it truly is, metres, the water's edge first: housing along 1–2, the pool ahead of it."""

    unit: Unit
    xy: dict[str, tuple[float, float]]
    water: list[str | dict[str, str]]
    size: tuple[float, float]  # across and along
    ring: list[str]
    obstacles: list[dict[str, object]] = field(default_factory=list)

    def say(self, m: float) -> str:
        """A length as the job would write it."""
        return format_length(m, self.unit)

    def far(self, a: str, b: str) -> float:
        return float(np.hypot(*np.subtract(self.xy[a], self.xy[b])))


def _text(k: int, rng: np.random.Generator) -> str:
    there = _yard(k, rng)
    stage = STAGES[k % len(STAGES)] if k % 3 else STAGES[k // 3 % len(STAGES)]
    rank = STAGES.index(stage)
    bare = k % 13 == 12  # sketched, not taped
    head = [
        "# Invented: no real pool.",
        "[job]",
        f'name = "Made {k} (invented)"',
        f'unit = "{there.unit}"',
        f'stage = "{"survey" if bare else stage}"',
        *([] if k % 11 == 10 else [f'system = "{SYSTEMS[k % 7 == 3]}"']),
        "invented = true",
    ]
    out = [*head, "", *(_sketched(there) if bare else _survey(k, there, rng))]
    out += ["", "[pool]", f"water = {_toml(there.water)}", f"curve = {str(SHAPES[k % 5] == 'kidney').lower()}"]
    out.append(f"obstacles = {_toml(there.obstacles)}")
    if k % 11 != 9:
        out += ["", *_cover(k, there)]
    if not bare and (rank >= 3 or k % 6 == 1):
        out += ["", *_as_built(k, there, rng)]
    if not bare and (rank >= 5 or k % 8 == 4):
        out += ["", *_run(k, there, rng)]
    if k // 4 % 3 == 1:
        out += ["", "[rack]", f"offcuts = {_toml([there.say(m) for m in rng.uniform(0.7, 3.5, 3)])}"]
    if k % 5 in (1, 3):
        out += ["", *_order(k, there, rng)]
    return "\n".join(out) + "\n"


def _yard(k: int, rng: np.random.Generator) -> _Yard:
    across, along = float(rng.uniform(4.0, 5.6)), float(rng.uniform(7.5, 11.5))
    unit, shape = UNITS[k % 4], SHAPES[k % 5]
    w, n = across, along
    arc = {"arc": format_length(0.15, unit)}
    if shape == "L":
        corners = [(0.0, 0.0), (w, 0.0), (w, n), (0.45 * w, n), (0.45 * w, 0.7 * n), (0.0, 0.7 * n)]
        water: list[str | dict[str, str]] = ["1", "2", "3", "4", arc, "5", "6"]
    elif shape == "kidney":
        turn = -2.4 + np.arange(12) * np.pi / 6
        r = 1.0 + 0.12 * np.cos(2 * turn) - 0.08 * np.sin(turn)
        xy = np.stack([w / 2 * (1 + r * np.cos(turn)), n / 2 * (1 + r * np.sin(turn))], axis=1)
        corners = [(float(x), float(y)) for x, y in xy]
        water = [str(i + 1) for i in range(12)]
    else:
        corners = [(0.0, 0.0), (w, 0.0), (w, n), (0.0, n)]
        water = ["1", "2", "3", "4"]
        if shape == "rounded":
            water = [x for p in "1234" for x in (p, arc)]
        if shape == "bowed":
            corners.append((0.5 * w, n + 0.4))
            water = ["1", "2", "3", {"through": "5"}, "4"]
    scattered: Array = np.array(corners) + rng.normal(0.0, 0.01, (len(corners), 2))
    turn_by = float(rng.uniform(-0.25, 0.25))
    c, s = np.cos(turn_by), np.sin(turn_by)
    placed = scattered @ np.array([[c, s], [-s, c]]) + [rng.uniform(1.0, 2.0), 3.0]
    xy_of = {"A": (0.0, 0.0), "B": (w + float(rng.uniform(2.0, 4.0)), 0.0)}
    xy_of |= {str(i + 1): (float(x), float(y)) for i, (x, y) in enumerate(placed)}
    ring = [x for x in water if isinstance(x, str)]
    there = _Yard(unit, xy_of, water, (across, along), ring)
    for j in range((0, 1, 3, 2)[k % 4] if k % 9 else 0):
        kind = KINDS[(k + j) % 5]
        out = float(rng.uniform(0.5, 2.2))
        base = np.array([w + out if j % 2 else -out, n * float(rng.uniform(0.2, 0.8))])
        shape_of = base + np.array([[0.0, 0.0], [0.1, 0.6], [0.5 if j % 2 else -0.5, 0.3]])
        names = [f"o{j}{letter}" for letter in "abc"][: {"rail": 1, "rock": 3, "step": 3}.get(kind, 2)]
        for name, p in zip(names, shape_of, strict=False):
            x, y = p @ np.array([[c, s], [-s, c]]) + placed[0]
            there.xy[name] = (float(x), float(y))
        there.obstacles.append({"name": f"{kind} {j}", "points": names, "kind": kind})
    return there


def _survey(k: int, there: _Yard, rng: np.random.Generator) -> list[str]:
    names = list(there.xy)
    by_coordinates = k % 10 == 7
    by_string = names[-1] if k % 7 == 5 and len(names) > 6 and not by_coordinates else None
    pairs = [("A", "B"), *((a, p) for p in names[2:] for a in ("A", "B") if p != by_string)]
    ring = there.ring
    pairs += list(zip(ring, [*ring[1:], ring[0]], strict=True)) if k % 6 != 5 else []
    pairs += [(ring[0], ring[2]), (ring[1], ring[3])] if k % 2 else []
    pairs = [p for p in pairs if by_string not in p]
    if by_coordinates:
        pairs = [(a, b) for a, b in pairs if {a, b}.isdisjoint("AB")]
    misread = int(rng.integers(1, len(pairs))) if k % 3 == 1 else -1
    rows: list[list[object]] = []
    for i, (a, b) in enumerate(pairs):
        true = there.far(a, b) + float(rng.normal(0.0, NOISE_M))
        wrong = float(rng.choice([0.3048, -0.3048, 0.1, 1.0])) if i == misread else 0.0
        rows.append([a, b, there.say(max(true + wrong, 0.2))])
    if k % 8 == 3:
        rows[1].append({"by": "crew", "device": "tape 1"})
        rows.append([*rows[2][:2], there.say(there.far("A", "B") * 0.5), {"struck": "the hook slipped"}])
    out = ["[survey]", f'tape_class = "{("II", "I", "III")[k % 3]}"']
    if by_coordinates:
        out.append(f"coordinates = {_toml([[n, *map(there.say, there.xy[n])] for n in names[2:]])}")
        out.append(f"coordinate_sigma = {_toml(there.say(0.005))}")
    else:
        out.append('baseline = ["A", "B"]')
        behind = [n for n in names[2:] if there.xy[n][1] < 0.0]
        out.append(f"behind = {_toml(behind)}")
    out += ["tapes = [", *(f"  {_toml(r)}," for r in rows), "]"]
    if by_string is not None:
        begin = np.array(there.xy[ring[0]])
        ahead = np.array(there.xy[ring[1]]) - begin
        e, to = ahead / np.hypot(*ahead), np.array(there.xy[by_string]) - begin
        row = [ring[0], ring[1], there.say(float(to @ e)), there.say(float(e[0] * to[1] - e[1] * to[0])), by_string]
        out.append(f"offsets = {_toml([row])}")
    if k // 3 % 4 == 1:
        rods = [[p, there.say(1.4 + float(rng.normal(0.0, 0.006)))] for p in ring[:4]]
        again = [ring[0], rods[0][1]]
        floor = [["f", there.say(2.0)], ["d", there.say(2.03)]]
        out.append(f"levels = {_toml([*rods, again, *floor])}")
        out.append(f"housing_floor = {_toml({'points': [['f', there.say(1.4)]], 'drain': 'd'})}")
    return out


def _sketched(there: _Yard) -> list[str]:
    spots = {n: [there.say(x), there.say(y)] for n, (x, y) in there.xy.items()}
    return ["[survey]", 'baseline = ["A", "B"]', f"sketch = {_toml(spots)}", "tapes = []"]


def _cover(k: int, there: _Yard) -> list[str]:
    out = ["[cover]", f'mount = "{MOUNTS[k % 3]}"', f'drive_side = "{("left", "right")[k // 2 % 2]}"']
    out.append('housing = "any"' if k % 5 == 3 or k % 12 == 6 else 'housing = ["1", "2"]')
    out.append(f"margins = {_toml({'side': there.say(0.08), 'end': there.say(0.3)})}")
    if k % 9 == 4:
        out.append('minimise = "width"')
    if k % 7 == 2:
        out.append(f"choices = {_toml({'rope_cut': there.say(2.7), 'setback': there.say(0.4)})}")
    return out


def _as_built(k: int, there: _Yard, rng: np.random.Generator) -> list[str]:
    gauge = there.size[0] + 2 * 0.08 + (0.0 if MOUNTS[k % 3] == "on-deck" else 0.07)
    along = there.size[1] + 0.6
    stations = np.linspace(0.0, along, 5)
    pairs = [[there.say(float(s)), there.say(gauge + float(rng.normal(0.0, 0.002)))] for s in stations]
    square = float(np.hypot(gauge, along))
    out = ["[as_built]", f"gauge = {_toml(pairs)}"]
    if k % 4 != 1:
        ends = [there.say(along + float(rng.normal(0.0, 0.003))) for _ in range(2)]
        out.append(f"channel = {_toml({'left': ends[0], 'right': ends[1]})}")
        out.append(f"diagonals = {_toml([there.say(square + float(rng.normal(0.0, 0.003))) for _ in range(2)])}")
    if k % 2 == 0:
        sides = {s: [[there.say(float(x)), there.say(float(rng.normal(0.0, 0.002)))] for x in stations] for s in "lr"}
        out.append(f"offsets = {{ left = {_toml(sides['l'])}, right = {_toml(sides['r'])} }}")
    if k % 3 != 2:
        out.append(f"housing = {_toml({'inside': there.say(gauge + 0.62)})}")
        out.append(f"fascia = {_toml({'clear': there.say(gauge + 0.2)})}")
        out.append(f"lid = {_toml({'opening': there.say(gauge + 0.62)})}")
    if k % 5 == 0:
        out.append(f"sigma = {_toml(there.say(0.002))}")
    return out


def _run(k: int, there: _Yard, rng: np.random.Generator) -> list[str]:
    out = ["[run]", f"leads = {_toml(_leads(k, there, rng, 1.0))}", f"seen = {_toml(list(SEEN[: k % 3]))}"]
    if k % 4 == 1:
        out += ["", "[[run.earlier]]", f"leads = {_toml(_leads(k, there, rng, 2.0))}", "seen = []"]
        out += ['cause = "rope-length"', 'side = "idle"', f"amount = {_toml(there.say(0.012))}"]
    return out


def _leads(k: int, there: _Yard, rng: np.random.Generator, scale: float) -> list[list[object]]:
    begin, slope = scale * float(rng.normal(0.0, 0.015)), scale * float(rng.normal(0.0, 0.02))
    rows: list[list[object]] = []
    for part in (0.2, 0.5, 0.85) if k % 2 else (0.1, 0.3, 0.5, 0.7, 0.9):
        closing = begin + slope * part + float(rng.normal(0.0, 0.002))
        opening = there.say(float(rng.normal(0.0, 0.006))) if k % 3 else ""
        rows.append([there.say(part * there.size[1]), there.say(closing), opening, round(3.0 + part, 1)])
    return rows


def _order(k: int, there: _Yard, rng: np.random.Generator) -> list[str]:
    out = ["[order]", "wrong_order_cost = 9000", "day_cost = 400", "days_to_wait = 10"]
    if k % 5 == 3:
        gauge = there.size[0] + 0.23
        off = rng.normal(0.0, 0.01, 3)
        made = {
            "cover_width": there.say(gauge + 0.05 + float(off[0])),
            "leading_edge": there.say(gauge - 0.1 + float(off[1])),
            "drum": there.say(gauge + 0.12 + float(off[2])),
        }
        out += ['date = "2026-05-04"', 'mark = "abc123"', f"figures = {_toml(made)}"]
    if k % 10 == 6:
        out.append("after_pour = true")
    return out


def _toml(value: object) -> str:
    """TOML of lists, tables in one line, texts and numbers."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(key)} = {_toml(v)}" for key, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_toml(v) for v in value) + "]"
    return json.dumps(value, ensure_ascii=False)
