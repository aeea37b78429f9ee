"""What one waits for at the desk: a long job read, a set of drawings recorded, a book with its files written, all warm.

Each is held against its target, in seconds on the processor; reading also against the standard library's parser, which
finds the same values and neither checks nor locates them.
"""

from __future__ import annotations

import datetime
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable
from pathlib import Path

from stringline.book.write import write_book
from stringline.job.read import read_job
from stringline.lengths import Unit
from stringline.sheets.pictures.draw_plan import plan_drawing
from stringline.sheets.pictures.draw_strip import strip_drawing
from stringline.sheets.pictures.draw_survey import survey_drawing
from stringline.sheets.voice import Voice

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))
import drawn
from book_makers import full

TAPES, STRIPS, ROUNDS = 500, 6, 7
DAY = datetime.date(2026, 5, 4)


def least(run: Callable[[], object]) -> float:
    """Shortest of several runs after a first one, seconds on the processor."""
    run()
    best = float("inf")
    for _ in range(ROUNDS):
        begun = time.process_time()
        run()
        best = min(best, time.process_time() - begun)
    return best


def long_job() -> str:
    """A job of five hundred tapes, one a line."""
    rows = "".join(f'  ["P{i}", "Q{i % 7}", "{i % 90}\' {i % 12} {1 + 2 * (i % 8)}/16\\""],\n' for i in range(TAPES))
    return f'[job]\nunit = "ft-in"\n[survey]\nbaseline = ["P1", "P2"]\ntapes = [\n{rows}]\n'


def drawings() -> None:
    """A plan, a survey and the strips of six pieces."""
    layout, survey, water, fit = drawn.plan_parts()
    taped, edge = drawn.survey(12, 2)
    piece = drawn.track()
    plan_drawing(layout, survey, water, drawn.system(), Voice(Unit.FT_IN), fit=fit)
    survey_drawing(taped, Voice(Unit.FT_IN), water=edge)
    for _ in range(STRIPS):
        strip_drawing(piece, Voice(Unit.FT_IN))


def main() -> None:
    """Print a row each."""
    text = long_job()
    reading, parsing = least(lambda: read_job(text, "big")), least(lambda: tomllib.loads(text))
    print(f"{TAPES} tapes read                {1e3 * reading:5.0f} ms   (target 30 ms)")
    print(f"  tomllib alone               {1e3 * parsing:5.0f} ms, ratio {reading / parsing:.1f}")
    print(f"plan, survey and {STRIPS} strips     {1e3 * least(drawings):5.0f} ms   (target 300 ms)")
    with tempfile.TemporaryDirectory() as folder:
        book = least(lambda: write_book(full(), Path(folder), today=DAY))
    print(f"book and its files            {1e3 * book:5.0f} ms   (target 1,000 ms)")


if __name__ == "__main__":
    main()
