"""Strips without factory ends: the filler along each side, and how any such strip is made up from stock lengths."""

from __future__ import annotations

from stringline.cutting import basis as taken
from stringline.cutting import cautions
from stringline.cutting.basis import Given
from stringline.cutting.result import Mark, Piece, Segment
from stringline.nesting.grain import to_grains, to_m
from stringline.worked import Figure, Origin, Term


def make_up(length: int, sticks: tuple[int, ...]) -> tuple[int, ...]:
    """Sticks whose sum reaches ``length`` with least over, then fewest; longest first. All in grains.

    Raises ValueError without a stick above zero or for a length that is not above zero.
    """
    if not sticks or min(sticks) <= 0 or length <= 0:
        raise ValueError("a strip needs a length and a stick length above zero")
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


def segments(length: int, sticks: tuple[int, ...], label: str) -> tuple[Segment, ...]:
    """The strip's segments from the housing end: the cut one first, whole ones beyond it."""
    made = make_up(length, sticks)
    cut = length - sum(made[:-1])
    out = [Segment(0.0, to_m(cut), cut == made[-1], to_m(made[-1]), f"{label} 1")]
    at = cut
    for i, s in enumerate(reversed(made[:-1]), 2):
        out.append(Segment(to_m(at), to_m(s), True, to_m(s), f"{label} {i}"))
        at += s
    return tuple(out)


def joint_marks(parts: tuple[Segment, ...]) -> tuple[Mark, ...]:
    """A joint mark wherever one segment meets the next."""
    return tuple(Mark(s.start_m, "joint", f"Joint {i}") for i, s in enumerate(parts[1:], 1))


def filler(given: Given, side: str) -> Piece:
    """Filler strip of one side: the channel less its end gap."""
    rule = given.system.filler
    channel = taken.channel(given, side)
    figure = Figure.sum(
        f"Filler strip, {side}",
        [
            channel.term(f"Channel, {side}"),
            Term("End gap", -rule.end_gap_m, Origin.CATALOGUE, "catalogue"),
        ],
    )
    letter = side[0].upper()
    sticks = tuple(to_grains(s) for s in rule.stick_lengths_m)
    parts = segments(to_grains(figure.value), sticks, f"F-{letter}")
    cut = parts[0]
    steps = [f"Take {len(parts)} filler stick{'' if len(parts) == 1 else 's'} for the {side} side."]
    if not cut.whole:
        steps.append(f"Cut one {given.say(cut.stick_m)} stick to {given.say(cut.length_m)}.")
    steps += [
        "Start at the far end with a whole stick; butt each to the next."
        if len(parts) > 1
        else "Lay it from the far end.",
        "Press the strip in by hand. Do not strike the track.",
        f"See that it ends {given.say_small(rule.end_gap_m)} short.",
    ]
    return Piece(
        f"filler-{side}",
        f"F-{letter}",
        f"Filler strip, {side}",
        side,
        1,
        figure,
        channel.basis,
        "filler strip",
        tuple(steps),
        () if cut.whole else (cautions.SAW,),
        parts,
        joint_marks(parts),
    )
