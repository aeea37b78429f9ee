"""Made-to-measure parts: cover, leading edge, drum. What is needed now against what was ordered."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.cutting.across import drum_figure, leading_edge_figure
from stringline.cutting.basis import AS_BUILT, Given, channel, gauges
from stringline.finding import Code, finding, nested
from stringline.judging import Limit, Verdict, judge
from stringline.layout import asked
from stringline.ordering.result import SAME_M, Does, Line
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term


@dataclass(frozen=True, slots=True)
class _Says:
    """What is said where a part takes something up (needed longer, needed shorter), is too long, or too short.

    Each is given ``by_m``, the amount; ``half``, half of it; ``needed_m`` and ``ordered_m``.
    """

    take_up: tuple[str, str]
    too_long: tuple[Does, str]
    too_short: tuple[Does, str]


def compare(given: Given, designed: dict[str, Figure], ordered: dict[str, Figure]) -> tuple[Line, ...]:
    """Cover width and length, leading edge, drum.

    Needed less ordered is held against what the part takes up, ± 2σ of the as-built reading: inside, it is taken up;
    outside, it is cut or ordered again; where the limit lies within the uncertainty, measured again. What is too long
    for certain or not can be cut all the same. A difference under half a sixteenth is none.
    """
    return (
        _width(given, designed["cover_width"], ordered["cover_width"]),
        _length(given, designed["cover_length"], ordered["cover_length"]),
        _edge(given, designed["leading_edge"], ordered["leading_edge"]),
        _drum(given, designed["drum"], ordered["drum"]),
    )


def change_of(item: Code, needed: Figure, ordered: Figure) -> Figure:
    """Needed less ordered, with the σ of what is needed; + is longer, or more.

    >>> needed = Figure.single("ordering.length-built", 12.50, Origin.MEASURED, sigma=0.001)
    >>> ordered = Figure.single("ordering.length-built", 12.45, Origin.CHOSEN)
    >>> change = change_of("ordering.item-length", needed, ordered)
    >>> round(change.value, 3), change.sigma
    (0.05, 0.001)
    """
    terms = [needed.term("ordering.needed-now"), Term("ordering.was-ordered", -ordered.value, Origin.CHOSEN)]
    return Figure.sum(finding("ordering.change", item=nested(item)), terms, kind=needed.kind, sigma=needed.sigma)


def _judged(key: str, item: Code, figures: tuple[Figure, Figure, Figure | None], room_m: float, says: _Says) -> Line:
    designed, ordered, needed = figures
    if needed is None:
        return Line(key, item, designed, ordered, None, None, Does.NOT_MEASURED, "ordering.measure-after")
    change = change_of(item, needed, ordered)
    d = float(change.value)
    verdict = judge(d, change.sigma, Limit(-room_m, room_m))
    # What is too long can be cut whatever its ends take up: there is nothing to be unsure of.
    cut = d < 0.0 and verdict is not Verdict.PASS and says.too_long[0] is Does.TRIM
    if verdict is Verdict.CANNOT_TELL and not cut:
        does, said = Does.MEASURE, "ordering.too-near"
    elif verdict is not Verdict.PASS:
        does, said = says.too_short if d > 0 else says.too_long
    elif abs(d) <= SAME_M:
        does, said = Does.FITS, "ordering.fits"
    else:
        does, said = Does.TAKE_UP, says.take_up[0 if d > 0 else 1]
    values = {"by_m": abs(d), "half": _half(abs(d)), "room_m": float(room_m)}
    told = finding(said, **values, needed_m=float(needed.value), ordered_m=float(ordered.value))
    return Line(key, item, designed, ordered, needed, change, does, told)


def _half(by_m: float) -> Code:
    # Half of a sixteenth would read as nought on a rule, and "set it 0 further in" sends nobody anywhere.
    if by_m / 2 >= SAME_M:
        return finding("ordering.amount", by_m=by_m / 2)
    return finding("ordering.half-of", by_m=by_m)


def _width(given: Given, designed: Figure, ordered: Figure) -> Line:
    hems = 2 * given.system.fabric.hem_each_side_m
    stations = gauges(given)
    needed = None
    if stations:
        at, gauge = max(stations, key=lambda g: abs(g[1].value + hems - ordered.value))
        needed = asked.cover_width(given.system, gauge.term(finding("ordering.gauge-at", station_m=float(at))))
    says = _Says(
        ("ordering.width-wider", "ordering.width-narrower"),
        (Does.REORDER, "ordering.width-too-wide"),
        (Does.REORDER, "ordering.width-too-narrow"),
    )
    room_m = takes_up(given.system).cover_width_m
    return _judged("cover-width", "ordering.item-width", (designed, ordered, needed), room_m, says)


def _length(given: Given, designed: Figure, ordered: Figure) -> Line:
    built = [t for t in (channel(given, s) for s in ("left", "right")) if t.basis == AS_BUILT]
    needed = None
    if built:
        shorter = min(built, key=lambda t: t.figure.value)
        needed = Figure.sum(
            "ordering.length-built",
            [
                Term("ordering.length-designed", designed.value, Origin.DERIVED),
                shorter.term("ordering.channel-shorter"),
                Term("ordering.channel-laid-out", -given.layout.channel.value, Origin.DERIVED),
            ],
            sigma=shorter.figure.sigma,
        )
    says = _Says(
        ("ordering.length-longer", "ordering.length-shorter"),
        (Does.TRIM, "ordering.length-too-long"),
        (Does.REORDER, "ordering.length-too-short"),
    )
    room_m = takes_up(given.system).cover_length_m
    return _judged("cover-length", "ordering.item-length", (designed, ordered, needed), room_m, says)


def _edge(given: Given, designed: Figure, ordered: Figure) -> Line:
    figure, basis, _ = leading_edge_figure(given)
    needed = figure if basis == AS_BUILT else None
    says = _Says(
        ("ordering.edge-longer", "ordering.edge-shorter"),
        (Does.TRIM, "ordering.edge-too-long"),
        (Does.REORDER, "ordering.edge-too-short"),
    )
    room_m = takes_up(given.system).leading_edge_m
    return _judged("leading-edge", "ordering.item-edge", (designed, ordered, needed), room_m, says)


def _drum(given: Given, designed: Figure, ordered: Figure) -> Line:
    figure, basis = drum_figure(given)
    needed = figure if basis == AS_BUILT else None
    says = _Says(
        ("ordering.drum-longer", "ordering.drum-shorter"),
        (Does.TRIM, "ordering.drum-too-long"),
        (Does.REORDER, "ordering.drum-too-short"),
    )
    room_m = takes_up(given.system).drum_m
    return _judged("drum", "ordering.item-drum", (designed, ordered, needed), room_m, says)
