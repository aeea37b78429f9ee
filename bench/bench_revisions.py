"""An earlier revision against the present code in one run: survey and plan, warm, and `survey` in a cold process.

Each tree answers in a process of its own and the two take turns, so that a busy machine is as hard on one as on the
other. Warm rows run the whole verb (file to JSON) in a process that has run it before; one reading of the demo differs
from call to call, so that nothing kept from the call before can answer. Beside the clock stands the time on the
processor, which a busy machine lengthens less. The revision stands in the variable OLD.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from stringline.demo import demo_job_text

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tools"))
from compare_json import ROOT, unpack

OLD = os.environ.get("OLD", "49d7cbd")
READING, VARIANTS = "39' 10\\\"", 8
WORKER = """
import contextlib, io, sys, time
from stringline.cli import main
for line in sys.stdin:
    out = io.StringIO()
    begun, worked = time.perf_counter(), time.process_time()
    with contextlib.redirect_stdout(out):
        code = main([*line.rstrip().split("@"), "--json"])
    took = time.perf_counter() - begun, time.process_time() - worked
    print(*(took if code in (0, 1) and out.getvalue() else "failed"), flush=True)
"""


@dataclass(frozen=True)
class Row:
    """What is run so often, and what is wanted of the present code."""

    verb: str
    times: int
    wanted: str
    cold: bool = False


ROWS = (
    Row("survey", 48, "p95 at most 50 ms"),
    Row("plan", 24, "p50 at most 200 ms"),
    Row("survey", 9, "p50 at most 700 ms", cold=True),
)
Taken = dict[str, list[tuple[float, float]]]
"""Seconds by the clock and on the processor of each run, by tree."""


def main() -> None:
    """Print a row each: both trees' middle and 95 % times, and the ratio of the middle ones."""
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder)
        jobs = _variants(here)
        old = here / "old"
        old.mkdir()
        try:
            unpack(OLD, old)
        except (SystemExit, FileNotFoundError):
            print(f"no revision {OLD} at hand (no git, or not in this copy): only the present code is measured")
            trees = {"now": ROOT}
        else:
            trees = {OLD: old, "now": ROOT}
        for row in ROWS:
            took = _cold(trees, jobs, row) if row.cold else _warm(trees, jobs, row)
            _tell(row, took)


def _variants(folder: Path) -> list[Path]:
    """The demo job with one reading a little different in each."""
    text = demo_job_text()
    if text.count(READING) != 1:
        raise SystemExit(f"the demo no longer has one reading {READING}")
    paths = []
    for k in range(VARIANTS):
        paths.append(folder / f"job-{k}.toml")
        paths[-1].write_text(text.replace(READING, f"39' 10 {2 * k + 1}/64\\\""), encoding="utf-8")
    return paths


def _warm(trees: dict[str, Path], jobs: list[Path], row: Row) -> Taken:
    """Seconds of each call, trees taking turns; the first two calls of each are not counted."""
    workers = {name: _worker(tree) for name, tree in trees.items()}
    took: Taken = {name: [] for name in trees}
    try:
        for k in range(row.times + 2):
            for name, worker in workers.items():
                assert worker.stdin is not None
                assert worker.stdout is not None
                worker.stdin.write(f"{row.verb}@{jobs[k % len(jobs)]}\n")
                worker.stdin.flush()
                clock, processor = map(float, worker.stdout.readline().split())
                took[name] += [(clock, processor)] if k >= 2 else []
    finally:
        for worker in workers.values():
            worker.kill()
            worker.communicate()
    return took


def _cold(trees: dict[str, Path], jobs: list[Path], row: Row) -> Taken:
    """Seconds of whole processes, trees taking turns; the first of each, which writes its bytecode, is not counted."""
    took: Taken = {name: [] for name in trees}
    for k in range(row.times + 1):
        for name, tree in trees.items():
            command = [sys.executable, "-m", "stringline", row.verb, str(jobs[k % len(jobs)])]
            begun, worked = time.perf_counter(), _children()
            done = subprocess.run(command, capture_output=True, check=False, env=_env(tree))
            seconds = time.perf_counter() - begun, _children() - worked
            if done.returncode not in (0, 1) or done.stderr:
                raise SystemExit(done.stderr.decode())
            took[name] += [seconds] if k else []
    return took


def _worker(tree: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", WORKER],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=_env(tree),
    )


def _env(tree: Path) -> dict[str, str]:
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    return {**env, "PYTHONPATH": str(tree / "src")}


def _children() -> float:
    """Seconds on the processor of all processes that were started here and have ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _tell(row: Row, took: Taken) -> None:
    what = f"{row.verb}, {'cold process' if row.cold else 'warm, file to JSON'}"
    for name, runs in took.items():
        parts = []
        for label, seconds in zip(("clock", "processor"), zip(*runs, strict=True), strict=True):
            p50, p95 = statistics.median(seconds), statistics.quantiles(seconds, n=20, method="inclusive")[-1]
            parts.append(f"{label} p50 {1e3 * p50:5.0f} p95 {1e3 * p95:5.0f} ms")
        print(f"{what:26} {name:8} {'   '.join(parts)}   ({len(runs)} runs)")
    if len(took) == 2:
        old, now = ([statistics.median(s) for s in zip(*runs, strict=True)] for runs in took.values())
        ratios = f"{old[0] / now[0]:.1f} by the clock, {old[1] / now[1]:.1f} on the processor"
        print(f"{'':26} ratio    {ratios}   (wanted now: {row.wanted})")
    else:
        print(f"{'':26} (wanted: {row.wanted})")


if __name__ == "__main__":
    main()
