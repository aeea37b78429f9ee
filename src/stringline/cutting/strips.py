"""Strips without factory ends: the filler along each side, and how any such strip is made up from stock lengths."""

from __future__ import annotations

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
