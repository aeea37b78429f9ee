"""What lies beside the tracks in their channels, filler strip and wedges; how a strip is made up from stock lengths."""

from __future__ import annotations

import math

from stringline.cutting import basis as taken
from stringline.cutting.basis import Given
from stringline.cutting.result import SAW, Mark, Piece, Segment
from stringline.finding import Code, Refused, finding
from stringline.nesting.grain import to_grains, to_m
from stringline.worked import Figure, Origin, Term


def make_up(length: int, sticks: tuple[int, ...]) -> tuple[int, ...]:
    """Sticks whose sum reaches ``length`` with least over, then fewest; longest first. All in grains.

    Raises Refused without a stick above zero or for a length that is not above zero.

    >>> make_up(479, (120, 96)), make_up(200, (120, 96))
    ((120, 120, 120, 120), (120, 96))
    """
    if not sticks or min(sticks) <= 0 or length <= 0:
        raise Refused("cutting.strip-no-length")
    kinds = sorted(set(sticks), reverse=True)
    best: tuple[tuple[int, int], tuple[int, ...]] | None = None
    stack: list[tuple[tuple[int, ...], int, int]] = [((), 0, 0)]
    while stack:
        chosen, total, first = stack.pop()
        if total >= length:
            score = (total, len(chosen))
            if best is None or score < best[0]:
                best = (score, chosen)
            continue
        if best is not None and len(chosen) + 1 > len(best[1]) and total + kinds[-1] >= best[0][0]:
            continue
        stack.extend(((*chosen, s), total + s, i) for i, s in enumerate(kinds) if i >= first)
    assert best is not None
    return best[1]


def segments(length: int, sticks: tuple[int, ...], mark: str) -> tuple[Segment, ...]:
    """The strip's segments from the housing end: the cut one first, whole ones beyond it. Lengths in grains.

    >>> [(s.start_m, s.length_m, s.whole) for s in segments(12_000_000, (8_000_000,), "F-L")]
    [(0.0, 0.5, False), (0.5, 1.0, True)]
    """
    made = make_up(length, sticks)
    cut = length - sum(made[:-1])
    out = [Segment(0.0, to_m(cut), cut == made[-1], to_m(made[-1]), finding("cards.segment", mark=mark, number=1))]
    at = cut
    for i, s in enumerate(reversed(made[:-1]), 2):
        out.append(Segment(to_m(at), to_m(s), True, to_m(s), finding("cards.segment", mark=mark, number=i)))
        at += s
    return tuple(out)


def joint_marks(parts: tuple[Segment, ...]) -> tuple[Mark, ...]:
    """A joint mark wherever one segment meets the next."""
    return tuple(Mark(s.start_m, "joint", finding("cards.joint", number=i)) for i, s in enumerate(parts[1:], 1))


def filler(given: Given, side: str) -> Piece:
    """Filler strip of one side: the channel − its end gap, made up from the catalogue's strips with least left over."""
    rule = given.system.filler
    channel = taken.channel(given, side)
    name = finding("cutting.filler", side=side)
    figure = Figure.sum(
        name,
        [
            channel.term(finding("cutting.channel", side=side)),
            Term("cutting.end-gap", -rule.end_gap_m, Origin.CATALOGUE, "catalogue"),
        ],
    )
    letter = side[0].upper()
    sticks = tuple(to_grains(s) for s in rule.stick_lengths_m)
    parts = segments(to_grains(figure.value), sticks, f"F-{letter}")
    cut = parts[0]
    steps: list[Code] = [finding("cards.filler-take", n=len(parts), side=side)]
    if not cut.whole:
        steps.append(finding("cards.filler-cut", stick_m=cut.stick_m, length_m=cut.length_m))
    steps += [
        "cards.filler-butt" if len(parts) > 1 else "cards.filler-lay",
        "cards.filler-press",
        finding("cards.filler-short", gap_m=rule.end_gap_m),
    ]
    return Piece(
        f"filler-{side}",
        f"F-{letter}",
        name,
        side,
        1,
        figure,
        channel.basis,
        "cards.of-filler",
        tuple(steps),
        () if cut.whole else (SAW,),
        parts,
        joint_marks(parts),
    )


def wedges(given: Given, side: str) -> Piece:
    """The row of wedges on one side: whole ones from the far end, then a cut one that stops short of the channel's end.

    n = ⌊(channel − stop)/wedge⌋ whole ones; the last one is channel − stop − n · wedge (source ``wedge-stop``). With a
    wedge spacing in the catalogue the wedges stand apart, all whole, and none is cut.
    """
    wedge = given.system.wedge
    spacing = given.system.hardware.wedge_spacing_m
    channel = taken.channel(given, side)
    terms = [
        channel.term(finding("cutting.channel", side=side)),
        Term("cutting.wedge-stop", -wedge.stop_short_m, Origin.CATALOGUE, "wedge-stop"),
    ]
    steps: list[Code] = ["cards.wedge-start", "cards.wedge-tap"]
    if spacing is not None:
        count = whole_wedges(given, side)
        one = finding("cutting.wedge", side=side)
        figure = Figure.single(one, wedge.length_m, Origin.CATALOGUE, source="catalogue")
        steps.insert(1, finding("cards.wedge-spaced", count=count, spacing_m=spacing))
        return _wedge_piece(side, count, figure, channel.basis, steps)
    whole = whole_wedges(given, side)
    wholes = finding("cutting.whole-wedges", n=whole)
    terms.append(Term(wholes, -whole * wedge.length_m, Origin.CATALOGUE, "catalogue"))
    last = finding("cutting.last-wedge", side=side)
    figure = Figure.sum(last, terms)
    if figure.value < 1e-6:
        figure = Figure.single(last, wedge.length_m, Origin.CATALOGUE, source="catalogue")
        steps.insert(1, finding("cards.wedge-row-uncut", count=whole))
        return _wedge_piece(side, whole, figure, channel.basis, steps)
    steps.insert(1, finding("cards.wedge-row", count=whole))
    steps += [
        finding("cards.wedge-cut", length_m=figure.value),
        finding("cards.wedge-drive", short_m=wedge.stop_short_m),
    ]
    marks = (Mark(0.0, "cut-end", "cards.towards-housing"), Mark(figure.value, "wedge-end", "cards.against-wedges"))
    return _wedge_piece(side, 1, figure, channel.basis, steps, marks)


def _wedge_piece(
    side: str, count: int, figure: Figure, basis: str, steps: list[Code], marks: tuple[Mark, ...] = ()
) -> Piece:
    return Piece(
        f"wedge-{side}",
        f"W-{side[0].upper()}",
        finding("cutting.last-wedge" if marks else "cutting.wedges", side=side),
        side,
        count,
        figure,
        basis,
        "cards.of-wedge",
        tuple(steps),
        (SAW,) if marks else (),
        marks=marks,
    )


def whole_wedges(given: Given, side: str) -> int:
    """How many whole wedges stand on one side: end to end, or one a spacing as long as a whole one still fits."""
    wedge = given.system.wedge
    spacing = given.system.hardware.wedge_spacing_m
    row = taken.channel(given, side).figure.value - wedge.stop_short_m
    if spacing is not None:
        return max(1, math.floor((row - wedge.length_m) / spacing + 1e-9) + 1)
    return max(0, math.floor(row / wedge.length_m + 1e-9))


def wedges_to_order(given: Given) -> int:
    """Whole wedges on both sides, and one more for each last wedge that is cut; none without a channel."""
    if not given.in_channel:
        return 0
    spaced = given.system.hardware.wedge_spacing_m is not None
    return sum(whole_wedges(given, side) + (0 if spaced else 1) for side in ("left", "right"))
