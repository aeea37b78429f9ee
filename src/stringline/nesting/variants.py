"""Every way to make one run of track from whole sticks and one last piece, and where its joints then fall."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from stringline.finding import Refused, finding

MOST = 600  # variants of one run that are looked at
DEEPEST = 25  # sticks in one run: past 150 m of track the length or its unit is wrong


@dataclass(frozen=True, slots=True)
class StickRun:
    """One run to be made, in grains. ``pins`` are measured from the housing end."""

    key: str
    length: int
    pins: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class RunRules:
    """What holds for every run, in grains.

    ``min_last`` is the shortest last piece (it also keeps the joint clear of the guides), ``clear`` the distance from a
    joint to a pin, ``stagger`` that between a left and a right joint.
    """

    min_last: int
    kerf: int
    clear: int = 0
    stagger: int = 0


@dataclass(frozen=True, slots=True)
class RunVariant:
    """Whole sticks in order from the pulley, the last piece at the housing, and the joints from the housing end."""

    wholes: tuple[int, ...]
    last: int
    joints: tuple[int, ...]

    @property
    def whole_length(self) -> int:
        """Length of the whole sticks together."""
        return sum(self.wholes)


def variants(run: StickRun, sticks: tuple[int, ...], min_last: int) -> tuple[RunVariant, ...]:
    """Every order of whole sticks that leaves no last piece, or one of ``min_last`` up to the longest stick.

    A run that is exactly whole sticks has a last piece of 0. Orders that differ are different variants, because their
    joints are. ``min_last`` is 1 or more. Past ``MOST`` of them only one order of each mix is kept, longest sticks at
    the pulley, and of those the ones with the fewest sticks. Raises Refused for a run of more than ``DEEPEST`` sticks.

    >>> [(v.wholes, v.last, v.joints) for v in variants(StickRun("a", 250), (100, 60), min_last=60)][:2]
    [((100, 60), 90, (150, 90)), ((60, 100), 90, (190, 90))]
    """
    if run.length > DEEPEST * max(sticks):
        raise Refused(finding("nesting.run-too-long", run=run.key, most=DEEPEST))
    found = _orders(run, sticks, min_last, mixes_only=False)
    if found is None:
        found = _orders(run, sticks, min_last, mixes_only=True) or []
        found = sorted(found, key=lambda v: len(v.wholes))[:MOST]
    return tuple(found)


def _orders(run: StickRun, sticks: tuple[int, ...], min_last: int, *, mixes_only: bool) -> list[RunVariant] | None:
    """Variants depth first; None past ``MOST`` where all orders were wanted."""
    longest = max(sticks)
    found: list[RunVariant] = []
    stack: list[tuple[tuple[int, ...], int]] = [((), run.length)]
    looked = 0
    while stack:
        wholes, rest = stack.pop()
        looked += 1
        if rest == 0 or min_last <= rest <= longest:
            found.append(RunVariant(wholes, rest, _joints(run.length, wholes, rest)))
        if (len(found) > MOST or looked > 20 * MOST) and not mixes_only:
            return None
        if looked > 200 * MOST:
            break
        last = wholes[-1] if wholes and mixes_only else longest
        stack.extend(((*wholes, s), rest - s) for s in sorted(sticks) if s <= rest and s <= last)
    return found


def options_of(run: StickRun, sticks: tuple[int, ...], rules: RunRules) -> list[tuple[RunVariant, int, int]]:
    """Variants, each with whether the last piece is too short (0 or 1) and how many pins its joints are too near to.

    Where every last piece would be too short, those with the longest one.
    """
    good = variants(run, sticks, rules.min_last)
    short = 0
    if not good:
        short = 1
        every = variants(run, sticks, 1)
        longest = max(v.last for v in every)
        good = tuple(v for v in every if v.last == longest)
    return [(v, short, len(blocked_pins(v.joints, run.pins, rules.clear))) for v in good]


def _joints(length: int, wholes: tuple[int, ...], rest: int) -> tuple[int, ...]:
    joints: list[int] = []
    at = length
    for w in wholes:
        at -= w
        if at > 0:
            joints.append(at)
    assert at == rest
    return tuple(joints)


def blocked_pins(joints: tuple[int, ...], pins: tuple[int, ...], clear: int) -> tuple[int, ...]:
    """Pins that stand nearer than ``clear`` to a joint.

    >>> blocked_pins(joints=(100, 200), pins=(40, 96, 205), clear=5)
    (96,)
    """
    return tuple(p for p in pins if any(abs(p - j) < clear for j in joints))


def nearest_joints(left: tuple[int, ...], right: tuple[int, ...]) -> int | None:
    """Smallest distance between a joint on the left and one on the right; None where a side has none.

    >>> nearest_joints((10, 50), (45, 90)), nearest_joints((), (45,))
    (5, None)
    """
    if not left or not right:
        return None
    ordered = sorted(right)
    best: int | None = None
    for j in left:
        i = bisect_left(ordered, j)
        for k in (i - 1, i):
            if 0 <= k < len(ordered):
                d = abs(ordered[k] - j)
                best = d if best is None else min(best, d)
    return best
