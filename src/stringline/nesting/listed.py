"""Plain stock for two lists, pieces and sticks, whose lengths are exact: what stands in the way, and the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from stringline.faults import Fault, Faults
from stringline.finding import finding
from stringline.nesting.stock import Stick, StockPiece, StockPlan, cut_stock
from stringline.nesting.stock_model import OutOfTimeError, Progress, StockShortError

MOST_PIECES = 100_000


@dataclass(frozen=True, slots=True)
class Listed:
    """A line of a list: so many pieces or sticks of one length (m, exactly). ``count`` None where there is no end."""

    name: str
    length_m: Fraction
    count: int | None
    line: int | None = None


@dataclass(frozen=True, slots=True)
class ListedPlan:
    """A plan with what its whole numbers mean: ``per_m`` of them to the metre."""

    plan: StockPlan
    per_m: int


def in_the_way(pieces: Sequence[Listed], sticks: Sequence[Listed]) -> list[Fault]:
    """Why no plan can be made of two lists that can each be read; [] where nothing stands in the way."""
    faults: list[Fault] = []
    longest = max((s.length_m for s in sticks if s.count != 0), default=None)
    if longest is not None:
        faults += [
            Fault(
                "out-of-range",
                "pieces.length",
                finding("nesting.longer-than-sticks", name=p.name, longest_m=float(longest)),
                "nesting.list-longer",
                p.line,
            )
            for p in pieces
            if p.length_m > longest and p.count != 0
        ]
    if sticks and longest is None and any(p.count != 0 for p in pieces):
        faults.append(Fault("out-of-range", "sticks.count", "nesting.no-stick-left", "nesting.list-some"))
    if sum(p.count or 0 for p in pieces) > MOST_PIECES:
        wrong = finding("nesting.too-many-pieces", most=MOST_PIECES)
        faults.append(Fault("out-of-range", "pieces.count", wrong, "nesting.cut-in-batches"))
    return faults


def cut_listed(
    pieces: Sequence[Listed],
    sticks: Sequence[Listed],
    kerf_m: Fraction = Fraction(0),
    *,
    seconds: float = 30.0,
    progress: Progress | None = None,
) -> ListedPlan:
    """Cut the listed pieces from the listed sticks, in whole multiples of the coarsest grain that holds every length.

    Raises Faults where the lists allow no plan, where the sticks do not suffice, or where no plan was found in time.

    >>> third = Fraction(1, 3)
    >>> found = cut_listed([Listed("a", third, 6)], [Listed("s", Fraction(1), None)])
    >>> found.plan.sticks_used, found.plan.proven, found.plan.waste
    (2, True, 0)
    """
    faults = in_the_way(pieces, sticks)
    if faults:
        raise Faults("cutting-lists", faults)
    per_m = lcm(*(r.length_m.denominator for r in (*pieces, *sticks)), kerf_m.denominator)
    try:
        plan = cut_stock(
            [StockPiece(r.name, int(r.length_m * per_m), r.count or 0) for r in pieces],
            [Stick(r.name, int(r.length_m * per_m), r.count) for r in sticks],
            int(kerf_m * per_m),
            seconds=seconds,
            progress=progress,
        )
    except StockShortError:
        have, need = (float(sum(r.length_m * (r.count or 0) for r in rows)) for rows in (sticks, pieces))
        wrong = finding("nesting.do-not-suffice", have_m=have, need_m=need)
        raise Faults("cutting-lists", [Fault("out-of-range", "sticks.count", wrong, "nesting.list-more")]) from None
    except OutOfTimeError as late:
        raise Faults("cutting-lists", [Fault("out-of-range", "seconds", late.why, "nesting.allow-more")]) from None
    return ListedPlan(plan, per_m)
