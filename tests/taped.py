"""Generated networks of tapes with their truth, exact to the last bit (nothing is rounded to a ruler)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from stringline.geometry import Array
from stringline.job.model import SurveyInput
from stringline.job.readings import Tape
from stringline.lengths import Length
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.tape import tape_sigma
from stringline.survey.build import build_network


def tape(a: str, b: str, m: float, sigma_m: float | None = None, line: int | None = None) -> Tape:
    return Tape(a, b, Length(m, f"{m:.4f} m", "m"), sigma_m, line)


def taped(
    xy: Mapping[str, tuple[float, float]], lines: Iterable[tuple[str, str]], *, first_line: int = 10
) -> tuple[Tape, ...]:
    """True distances between named points, one tape a line of the file."""
    return tuple(
        tape(a, b, float(np.hypot(xy[a][0] - xy[b][0], xy[a][1] - xy[b][1])), line=first_line + k)
        for k, (a, b) in enumerate(lines)
    )


@dataclass(frozen=True)
class Made:
    """A generated survey: its readings, and the truth ``xy`` (n, 2) in the order of ``names``."""

    spec: SurveyInput
    names: tuple[str, ...]
    xy: Array
    lines: tuple[tuple[int, int], ...]

    def network(self) -> Network:
        return build_network(self.spec)

    def true_for(self, net: Network) -> Array:
        return self.xy[[self.names.index(n) for n in net.names]]


def make(
    rng: np.random.Generator,
    points: int,
    ties: int,
    extra: int = 0,
    slip: float = 0.0,
    noise: float = 1.0,
) -> Made:
    """A pool of ``points`` round a baseline, each tied to ``ties`` others, often to A and B, and ``extra`` lines more.

    ``slip`` (m) is added to one reading drawn at random.
    """
    w, h = rng.uniform(4.0, 8.0), rng.uniform(7.0, 14.0)
    around = np.sort(rng.uniform(0.0, 2.0 * np.pi, points))
    r = rng.uniform(0.7, 1.1, points)
    pool = np.stack([0.5 * w * (1.0 + r * np.cos(around)), 1.5 + 0.5 * h * (1.0 + r * np.sin(around))], axis=1)
    pool[:, 1] = np.maximum(pool[:, 1], 0.5)
    xy = np.vstack([[0.0, 0.0], [w + rng.uniform(0.0, 3.0), 0.0], pool])
    n = len(xy)
    lines = {(0, 1)}
    for k in range(2, n):
        picked = [0, 1][:ties] if rng.random() < 0.7 else []
        others = [int(c) for c in rng.permutation(k) if c not in picked]
        lines.update((c, k) for c in (picked + others)[: min(ties, k)])
    rest = [(i, j) for i in range(n) for j in range(i + 1, n) if (i, j) not in lines]
    lines.update(rest[int(k)] for k in rng.permutation(len(rest))[:extra])
    names = ("A", "B", *(str(i + 1) for i in range(points)))
    order = sorted(lines)
    bad = int(rng.integers(len(order)))
    tapes = []
    for k, (i, j) in enumerate(order):
        d = float(np.hypot(*(xy[i] - xy[j])))
        off = slip if k == bad and d + slip > 0.05 else (abs(slip) if k == bad else 0.0)
        tapes.append(tape(names[i], names[j], d + off + noise * tape_sigma(d) * float(rng.standard_normal())))
    return Made(SurveyInput(tuple(tapes), baseline=("A", "B")), names, xy, tuple(order))
