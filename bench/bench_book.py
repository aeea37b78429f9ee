"""Readings to finished book in a cold process, against a cold process that only imports what any such program needs.

The bound beside it: a process that imports the same and then only sets the finished sheets. What the typesetter takes
for them cannot be gone below, whoever wrote them, so the ratio of 1.5 that was wanted stands under that bound. Below
follows where the time of one cold book goes. Processes take turns; processor time stands beside the clock, which on two
idle processors is shorter, for the typesetter works beside the interpreter.
"""

from __future__ import annotations

import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from stringline.demo import demo_job_text

RUNS = 5
PEER = "import numpy, scipy.optimize, ezdxf, typst, segno"
KEEP = """
import json, sys, stringline.book.write as write
from stringline.cli import main
def keep(data, *, today):
    json.dump([data, str(today)], open(sys.argv[2], "w"))
    return b""
write.pdf = keep
main(["book", sys.argv[1], "--out", sys.argv[2] + ".out"])
"""
SET = f"""
{PEER}
import datetime, json, sys
from stringline.book.pdf import pdf
data, day = json.load(open(sys.argv[1]))
pdf(data, today=datetime.date.fromisoformat(day))
"""
STEPS = """
import time, sys, datetime
from pathlib import Path
begun = time.process_time()
def step(what):
    global begun
    now = time.process_time()
    print(f"  {1e3 * (now - begun):6.0f} ms  {what}")
    begun = time.process_time()
import numpy
step("start of the interpreter, NumPy")
import stringline.book.write as write, stringline.plan.making, stringline.cli.jobs
step("the program's own modules")
from stringline.cli.inputs import plan_of
plan = plan_of(sys.argv[1])
plan.sections(); plan.checks; plan.ends; plan.sticks; plan.order_if_retaped
step("the plan")
import segno, typst
drawn = write.drawings(plan, write.PAPERS["letter"])
data = write.book_data(plan, paper="letter", revision="A", today=datetime.date(2026, 5, 4), drawn=drawn)
step("drawings, sheets, QR codes")
write.pdf(data, today=datetime.date(2026, 5, 4))
step("typesetting, which goes on beside the rest")
import ezdxf
step("import of ezdxf")
write._drawing_files(drawn, write._title(plan, "A", datetime.date(2026, 5, 4)))
step("SVG and DXF")
write._tables(plan, datetime.date(2026, 5, 4))
step("tables and workbook, with openpyxl")
"""


def main() -> None:
    """Print times, ratios, the bound and the steps."""
    with tempfile.TemporaryDirectory() as folder:
        job, data = Path(folder) / "job.toml", Path(folder) / "book.json"
        job.write_text(demo_job_text(), encoding="utf-8")
        _run([sys.executable, "-c", KEEP, str(job), str(data)])
        assert json.loads(data.read_text())[0]["sheets"]
        commands = {
            "readings to book": [
                sys.executable,
                "-m",
                "stringline",
                "book",
                str(job),
                "--out",
                str(Path(folder) / "out"),
            ],
            "bare imports": [sys.executable, "-c", PEER],
            "imports and typesetting": [sys.executable, "-c", SET, str(data)],
        }
        took: dict[str, list[tuple[float, float]]] = {name: [] for name in commands}
        for k in range(RUNS + 1):
            for name, command in commands.items():
                spent = _run(command)
                took[name] += [spent] if k else []
        middle = {name: [statistics.median(s) for s in zip(*runs, strict=True)] for name, runs in took.items()}
        base = middle["bare imports"]
        for name, (clock, processor) in middle.items():
            ratio = f"ratio {clock / base[0]:.2f} by the clock, {processor / base[1]:.2f} on the processor"
            print(f"{name:24} clock {clock:.2f} s  processor {processor:.2f} s   {ratio}")
        print(f"bare imports are: {PEER}")
        print("wanted: under 2 s and a ratio of 1.5; imports and typesetting alone are the bound")
        print("where the processor time of one cold book goes:")
        print(
            subprocess.run([sys.executable, "-c", STEPS, str(job)], capture_output=True, text=True, check=True).stdout
        )


def _run(command: list[str]) -> tuple[float, float]:
    """Seconds by the clock and on the processor of one process."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    begun, worked = time.perf_counter(), _children()
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=env)
    took = time.perf_counter() - begun, _children() - worked
    if done.returncode not in (0, 1) or done.stderr:
        raise RuntimeError(done.stderr)
    return took


def _children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


if __name__ == "__main__":
    main()
