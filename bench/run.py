"""Run every benchmark of this folder, or those named: `python bench/run.py adjust book`.

Each prints ratios against a general-purpose peer measured in the same run; absolute times are there to be read, never
tested.
"""

from __future__ import annotations

import importlib
import sys
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main(wanted: list[str]) -> int:
    names = sorted(p.stem.removeprefix("bench_") for p in HERE.glob("bench_*.py"))
    unknown = [w for w in wanted if w not in names]
    if unknown:
        print(f"no benchmark called {', '.join(unknown)}; there are: {', '.join(names)}", file=sys.stderr)
        return 2
    sys.path.insert(0, str(HERE))
    for name in wanted or names:
        print(f"\n== {name}", flush=True)
        begun = time.perf_counter()
        importlib.import_module(f"bench_{name}").main()
        print(f"   ({time.perf_counter() - begun:.1f} s in all)", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
