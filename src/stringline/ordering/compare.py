"""Made-to-measure parts: cover, leading edge, drum. What is needed now against what was ordered."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from stringline.cutting import basis as taken
from stringline.cutting.across import drum_figure, leading_edge_figure
from stringline.cutting.basis import Given
from stringline.finding import Code
from stringline.judging import Limit, Verdict, judge
from stringline.layout import asked
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term

SAME_M = 0.0008  # half a sixteenth: nobody sees it, and no card is re-issued for it


class Does(StrEnum):
    """What a difference asks for, from nothing to the worst."""

    FITS = "fits"
    TAKE_UP = "take up"
    TRIM = "trim"
    MEASURE = "measure again"
    NOT_MEASURED = "not measured"
    REORDER = "order again"


@dataclass(frozen=True, slots=True)
class Line:
    """One ordered thing. ``change`` is what is needed now less what was ordered; None where that is not known."""

    key: str
    item: Code
    designed: Figure | None
    ordered: Figure | None
    needed: Figure | None
    change: Figure | None
    does: Does
    says: str


@dataclass(frozen=True, slots=True)
class _Words:
    """What to say where a part takes something up (needed longer, needed shorter), is too long, or too short.

    {d} is the amount, {half} half of it, {n} what is needed, {o} what was ordered.
    """

    take_up: tuple[str, str]
    too_long: tuple[Does, str]
    too_short: tuple[Does, str]


def compare(given: Given, designed: dict[str, Figure], ordered: dict[str, Figure]) -> tuple[Line, ...]:
    """Cover width and length, leading edge, drum."""
    return (
        _width(given, designed["cover_width"], ordered["cover_width"]),
        _length(given, designed["cover_length"], ordered["cover_length"]),
        _edge(given, designed["leading_edge"], ordered["leading_edge"]),
        _drum(given, designed["drum"], ordered["drum"]),
    )


def change_of(label: str, needed: Figure, ordered: Figure) -> Figure:
    """Needed less ordered; + is longer."""
    return Figure.sum(
        label,
        [needed.term("Needed now"), Term("As ordered", -ordered.value, Origin.CHOSEN)],
        sigma=needed.sigma,
    )


def _judged(
    given: Given, key: str, item: str, figures: tuple[Figure, Figure, Figure | None], room: float, words: _Words
) -> Line:
    designed, ordered, needed = figures
    if needed is None:
        return Line(key, item, designed, ordered, None, None, Does.NOT_MEASURED, "Measure it after the pour.")
    change = change_of(f"{item}: needed less ordered", needed, ordered)
    d = change.value
    amount = given.say_small(abs(d))
    verdict = judge(d, change.sigma, Limit(-room, room))
    # What is too long can be cut whatever its ends take up: there is nothing to be unsure of.
    cut = d < 0.0 and verdict is not Verdict.PASS and words.too_long[0] is Does.TRIM
    if verdict is Verdict.CANNOT_TELL and not cut:
        says = f"{amount} off; it can take up {given.say_small(room)}. Too near to tell: measure again, twice."
        return Line(key, item, designed, ordered, needed, change, Does.MEASURE, says)
    if verdict is not Verdict.PASS:
        does, text = words.too_short if d > 0 else words.too_long
        return Line(
            key, item, designed, ordered, needed, change, does, text.format(d=amount, n=given.say(needed.value))
        )
    if abs(d) <= SAME_M:
        return Line(key, item, designed, ordered, needed, change, Does.FITS, "As ordered.")
    text = words.take_up[0 if d > 0 else 1]
    # Half of a sixteenth would read as nought on a rule, and "set it 0 further in" sends nobody anywhere.
    half = given.say_small(abs(d) / 2) if abs(d) / 2 >= SAME_M else f"half of {amount}"
    says = text.format(d=amount, half=half, n=given.say(needed.value), o=given.say(ordered.value))
    return Line(key, item, designed, ordered, needed, change, Does.TAKE_UP, says)


def _width(given: Given, designed: Figure, ordered: Figure) -> Line:
    hems = 2 * given.system.fabric.hem_each_side_m
    stations = taken.gauges(given)
    needed = None
    if stations:
        at, gauge = max(stations, key=lambda g: abs(g[1].value + hems - ordered.value))
        needed = asked.cover_width(given.system, gauge.term(f"Gauge, as built, {given.say(at)} from the housing"))
    words = _Words(
        (
            "The gauge is {d} wider at the worst place: the hems take it up.",
            "The gauge is {d} narrower at the worst place: the hems take it up.",
        ),
        (
            Does.REORDER,
            "{d} too wide at the worst place, more than the hems take up. Move the tracks, or have it taken in.",
        ),
        (
            Does.REORDER,
            "{d} too narrow at the worst place. A cover cannot be made wider: move the tracks, or order again.",
        ),
    )
    room = takes_up(given.system).cover_width_m
    return _judged(given, "cover-width", "Cover, width", (designed, ordered, needed), room, words)


def _length(given: Given, designed: Figure, ordered: Figure) -> Line:
    sides = [taken.channel(given, s) for s in ("left", "right")]
    built = [t for t in sides if t.basis == taken.AS_BUILT]
    needed = None
    if built:
        shorter = min(built, key=lambda t: t.figure.value)
        needed = Figure.sum(
            "Cover length for the built channel",
            [
                Term("Cover, length, as designed", designed.value, Origin.DERIVED),
                shorter.term("Channel as built, the shorter side"),
                Term("Channel as laid out", -given.layout.channel.value, Origin.DERIVED),
            ],
            sigma=shorter.figure.sigma,
        )
    words = _Words(
        (
            "The run is {d} longer: that much less stays on the drum.",
            "The run is {d} shorter: that much more stays on the drum.",
        ),
        (
            Does.TRIM,
            "{d} too long. Cut it off at the drum end, or leave it on the drum if the roll still clears its housing.",
        ),
        (Does.REORDER, "{d} too short: the drum would run out of wraps. Order again, or bring the far stop in."),
    )
    room = takes_up(given.system).cover_length_m
    return _judged(given, "cover-length", "Cover, length", (designed, ordered, needed), room, words)


def _edge(given: Given, designed: Figure, ordered: Figure) -> Line:
    figure, basis, _ = leading_edge_figure(given)
    needed = figure if basis == taken.AS_BUILT else None
    words = _Words(
        (
            "{d} shorter than the tracks ask: leave the tube at {o}, and set each adjustable end {half} further out.",
            "{d} too long: cut the tube to {n}, or leave it at {o} and set each adjustable end {half} further in.",
        ),
        (Does.TRIM, "{d} too long. Cut the tube to {n}."),
        (Does.REORDER, "{d} too short, more than its ends reach. Order a tube of {n}."),
    )
    room = takes_up(given.system).leading_edge_m
    return _judged(given, "leading-edge", "Leading edge", (designed, ordered, needed), room, words)


def _drum(given: Given, designed: Figure, ordered: Figure) -> Line:
    figure, basis = drum_figure(given)
    needed = figure if basis == taken.AS_BUILT else None
    words = _Words(
        (
            "{d} short: its ends have room for that. Leave it at {o}.",
            "{d} long: its ends have room for that. Leave it at {o}.",
        ),
        (Does.TRIM, "{d} too long. Cut the drum to {n}."),
        (Does.REORDER, "{d} too short, more than its ends have room for. Order a drum of {n}."),
    )
    room = takes_up(given.system).drum_m
    return _judged(given, "drum", "Drum", (designed, ordered, needed), room, words)
