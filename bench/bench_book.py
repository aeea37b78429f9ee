"""Readings to finished book in a cold process, against a cold process that only imports what any such program needs."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from stringline.demo import demo_job_text

RUNS = 5
PEER = "import numpy, scipy.optimize, ezdxf, typst, segno"


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(demo_job_text(), encoding="utf-8")
        book = [sys.executable, "-m", "stringline", "book", str(job), "--out", str(Path(folder) / "out")]
        peer = [sys.executable, "-c", PEER]
        pairs = [(_seconds(book), _seconds(peer)) for _ in range(RUNS + 1)][1:]
    ours = statistics.median(a for a, _ in pairs)
    theirs = statistics.median(b for _, b in pairs)
    ratio = statistics.median(a / b for a, b in pairs)
    print(f"readings to book, cold     {ours:.2f} s   (target under 2 s)")
    print(f"bare imports, cold         {theirs:.2f} s   {PEER}")
    print(f"ratio                      {ratio:.2f}")


def _seconds(command: list[str]) -> float:
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    begun = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=env)
    took = time.perf_counter() - begun
    if done.returncode not in (0, 1):
        raise RuntimeError(done.stderr)
    return took


if __name__ == "__main__":
    main()
