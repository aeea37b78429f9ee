"""How far the diagnosis can be trusted on covers that its own machine did not make (tests/opponent.py).

``python bench/study_diagnosis.py`` (``make study``) diagnoses every kind of cover blind and writes the figures into
docs/reliability.json under ``opponent``; a number behind it is how many covers of each kind, ``--dry`` writes nothing.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from makers import make_layout
from opponent import Cover, Numbers, covers, spoilt, thinned
from opposed import figures, judge, numbers_of
from stringline.mechanics.machine import machine_of
from stringline.system.read import load_system

ROOT = Path(__file__).resolve().parent.parent
COVERS = 200
SEED = 7001


def kinds(numbers: Numbers, n: int) -> dict[str, list[Cover]]:
    """Every kind of cover by its name in the record."""
    rng = np.random.default_rng(SEED)
    as_drawn, worn, old = (covers(numbers, n, SEED + k, rough=r) for k, r in enumerate((0.0, 0.5, 1.0)))
    return {
        "listed_0": as_drawn,
        "listed_half": worn,
        "listed_1": old,
        "one_bad_reading": [spoilt(c, rng) for c in worn],
        "poor_sheets": [thinned(c, rng) for c in worn],
        "unlisted": covers(numbers, n, SEED + 3, rough=0.5, kind="unlisted"),
        "healthy": covers(numbers, n, SEED + 4, rough=0.5, kind="healthy"),
    }


def main(n: int = COVERS, write: bool = True) -> None:
    system = load_system("invented-18")
    machine = machine_of(system, make_layout())
    out: dict[str, Any] = {}
    for name, made in kinds(numbers_of(machine, system.motor), n).items():
        out[name] = figures([judge(machine, system.motor, c) for c in made])
        shown = {k: v if isinstance(v, int) or v is None else f"{v:.1%}" for k, v in out[name].items()}
        print(f"{name:16s} {shown}", flush=True)
    if write:
        path = ROOT / "docs" / "reliability.json"
        record = json.loads(path.read_text(encoding="utf-8"))
        record["opponent"] = out
        path.write_text(json.dumps(record, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    counts = [a for a in sys.argv[1:] if a.isdigit()]
    main(int(counts[0]) if counts else COVERS, "--dry" not in sys.argv)
