"""Two lists in CSV, pieces and sticks, to a cutting plan; and the plan as JSON or as text."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import Any

from stringline.faults import Fault, Faults
from stringline.lengths import LengthError, Unit, format_length, parse
from stringline.nesting.stock import Stick, StockPiece, StockPlan, StockShortError, cut_stock

MOST_PIECES = 100_000


@dataclass(frozen=True, slots=True)
class CsvPlan:
    """A plan with what its whole numbers mean: ``per_m`` of them to the metre, and the unit it is written in."""

    plan: StockPlan
    per_m: int
    unit: Unit


@dataclass(frozen=True, slots=True)
class _Row:
    name: str
    length: Fraction
    count: int | None
    line: int


def stock_from_csv(
    pieces: str,
    sticks: str,
    kerf: str = "0",
    unit: Unit = Unit.MM,
    seconds: float = 30.0,
    progress: Callable[[str], None] | None = None,
) -> CsvPlan:
    """Cut the listed pieces from the listed sticks.

    Columns ``name,length,count`` in any order under a heading line; other columns are left alone, as are empty lines
    and lines that begin with #. An empty count is 1 for a piece and no end for a stick. Lengths are text with a unit,
    or bare numbers in ``unit``. Raises Faults with every fault of both lists and of the kerf, or for too little time.
    """
    faults: list[Fault] = []
    wanted = _read("pieces", pieces, unit, faults)
    stock = _read("sticks", sticks, unit, faults)
    width = length_of(kerf, unit, "kerf", None, faults)
    longest = max((s.length for s in stock if s.count != 0), default=None)
    if longest is not None:
        faults += [
            Fault(
                "out-of-range",
                "pieces.length",
                f"'{p.name}' is longer than every stick ({format_length(longest, unit)})",
                "list a longer stick, or make the piece up from two",
                p.line,
            )
            for p in wanted
            if p.length > longest and p.count != 0
        ]
    if stock and longest is None and any(p.count != 0 for p in wanted):
        right = "list some, or leave a count empty for no end"
        faults.append(Fault("out-of-range", "sticks.count", "no stick is left: every count is 0", right))
    if sum(p.count or 0 for p in wanted) > MOST_PIECES:
        faults.append(
            Fault("out-of-range", "pieces.count", f"more than {MOST_PIECES} pieces are listed", "cut them in batches")
        )
    if not seconds > 0.0:
        faults.append(Fault("out-of-range", "seconds", "there is no time to look in", "write a number above 0"))
    if faults or width is None:
        raise Faults("cutting lists", faults)
    per_m = lcm(*(r.length.denominator for r in (*wanted, *stock)), width.denominator)
    try:
        plan = cut_stock(
            [StockPiece(r.name, int(r.length * per_m), r.count or 0) for r in wanted],
            [Stick(r.name, int(r.length * per_m), r.count) for r in stock],
            int(width * per_m),
            seconds=seconds,
            progress=progress,
        )
    except StockShortError:
        have = sum((r.length * (r.count or 0) for r in stock), Fraction(0))
        need = sum((r.length * (r.count or 0) for r in wanted), Fraction(0))
        wrong = f"they do not suffice: {format_length(have, unit)} in all, for {format_length(need, unit)} of pieces"
        fault = Fault("out-of-range", "sticks.count", wrong, "list more of them, or leave a count empty for no end")
        raise Faults("cutting lists", [fault]) from None
    except TimeoutError:
        fault = Fault("out-of-range", "seconds", "no plan was found in the time allowed", "allow more seconds")
        raise Faults("cutting lists", [fault]) from None
    return CsvPlan(plan, per_m, unit)


def stock_json(result: CsvPlan) -> dict[str, Any]:
    """The plan as JSON-able data; every length in metres."""
    plan, per_m = result.plan, result.per_m
    return {
        "sticks_used": plan.sticks_used,
        "bound": plan.bound,
        "proven": plan.proven,
        "material_m": plan.material / per_m,
        "material_bound_m": plan.material_bound / per_m,
        "waste_m": plan.waste / per_m,
        "patterns": [
            {
                "stick": p.stick,
                "length_m": p.length / per_m,
                "times": p.times,
                "pieces": [{"name": name, "length_m": size / per_m, "count": n} for name, size, n in p.pieces],
                "left_m": p.left / per_m,
            }
            for p in plan.patterns
        ],
    }


def stock_text(result: CsvPlan) -> str:
    """The plan as a page of text: the verdict, why, then each pattern."""
    plan = result.plan

    def say(n: int) -> str:
        return format_length(Fraction(n, result.per_m), result.unit)

    sticks = f"{plan.sticks_used} stick{'' if plan.sticks_used == 1 else 's'}, {say(plan.material)} of material"
    if plan.proven:
        lines = [f"{sticks}: proven, no plan wastes less."]
    else:
        lines = [
            f"{sticks}: the best plan found, not proven.",
            f"No plan takes less than {say(plan.material_bound)}, or with so little material fewer than {plan.bound} "
            f"stick{'' if plan.bound == 1 else 's'}.",
        ]
    share = plan.waste / plan.material if plan.material else 0.0
    lines += [f"Waste, offcuts and kerf: {say(plan.waste)} ({100 * share:.1f} %).", ""]
    for p in plan.patterns:
        parts = " + ".join(f"{n} × {name} {say(size)}" for name, size, n in p.pieces)
        lines.append(f"{p.times:>4} × {p.stick} {say(p.length)}: {parts}; left {say(p.left)}")
    return "\n".join(lines)


def _read(what: str, text: str, unit: Unit, faults: list[Fault]) -> list[_Row]:
    lines = text.removeprefix("\ufeff").splitlines()
    first = next((i for i, line in enumerate(lines) if not is_blank(line)), None)
    if first is None:
        faults.append(
            Fault("empty", what, "the list is empty", "write a heading line, name,length,count, and a line each")
        )
        return []
    mark = max(",;\t", key=lines[first].count)
    heading = [h.strip().casefold() for h in cells(lines[first], mark)]
    needed = ("name", "length")
    lacking = [c for c in needed if c not in heading]
    if lacking:
        wrong = f"the heading has no column '{lacking[0]}'" if len(lacking) == 1 else "the heading line is missing"
        faults.append(Fault("missing", what, wrong, "begin with the line name,length,count", first + 1))
        return []
    rows = []
    bad = 0
    for i, line in enumerate(lines[first + 1 :], first + 2):
        if is_blank(line):
            continue
        found = cells(line, mark)
        if len(found) > len(heading):
            bad += 1
            wrong = f"the line has {len(found)} cells under {len(heading)} headings"
            faults.append(Fault("item-count", what, wrong, "put a text that holds a comma in quotes", i))
            continue
        row = _row(what, dict(zip(heading, found, strict=False)), unit, i, faults)
        bad += row is None
        if row is not None:
            rows.append(row)
    if not rows and not bad:
        faults.append(Fault("empty", what, "nothing is listed under the heading", "write a line for each", first + 1))
    return rows


def _row(what: str, row: dict[str, str], unit: Unit, line: int, faults: list[Fault]) -> _Row | None:
    before = len(faults)
    name = row.get("name", "").strip()
    if not name:
        faults.append(Fault("empty", f"{what}.name", "the name is empty", "give every line a name", line))
    length = length_of(row.get("length", ""), unit, f"{what}.length", line, faults)
    if length is not None and length == 0:
        faults.append(Fault("zero-length", f"{what}.length", "the length is nothing", "write a length above 0", line))
    text = row.get("count", "").strip()
    count: int | None = 1 if what == "pieces" else None
    if text:
        if text.isascii() and text.isdigit() and len(text) < 10:
            count = int(text)
        else:
            right = "write a whole number, 0 or more" + (", or nothing for no end" if what == "sticks" else "")
            faults.append(Fault("wrong-type", f"{what}.count", f"'{text}' is not a count", right, line))
    return _Row(name, length, count, line) if len(faults) == before and length is not None else None


def length_of(text: str, unit: Unit, where: str, line: int | None, faults: list[Fault]) -> Fraction | None:
    """The length in metres, exactly; None with a fault added where it cannot be read."""
    try:
        found = parse(text.strip(), unit)
    except LengthError as why:
        faults.append(Fault("bad-length", where, why.wrong, why.right, line))
        return None
    return Fraction(found.m) if found.exact_m is None else found.exact_m


def cells(line: str, mark: str) -> list[str]:
    """The cells of a line. One in quotes keeps its marks; an inch mark in one that does not begin with it stays."""
    return next(csv.reader(io.StringIO(line), delimiter=mark)) if '"' in line else line.split(mark)


def is_blank(line: str) -> bool:
    """Whether a line holds nothing, or a remark."""
    return not line.strip(" ,;\t") or line.lstrip().startswith("#")
