"""The misread reading: which one the others contradict, what it probably was, and what cannot be told.

Nothing is corrected here. The answer is always "tape this line again", with the reading that the other lines expect.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stringline.lengths import Unit, format_length
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.observe import predict
from stringline.survey.result import Suspect
from stringline.survey.slips.data_snooping import Frame, growing_sets, threshold
from stringline.survey.slips.discriminating import locating_line, telling_line
from stringline.survey.slips.hypotheses import Kind, Story, coarse_weight, length_of, no_slip_weight, tell, weigh

MOST_SLIPS = 5
"""Slips looked for at once, where there are readings enough (three need f ≥ 4, five f ≥ 25)."""

HARD_TO_TELL = 0.8
"""Correlation of two standardised residuals above which a slip in one line looks much like a slip in the other."""

RIVAL_SHARE = 0.02
"""A line this likely, against the line named, is named as its rival."""

MOST_ODDS = 1e6
"""Odds are not stated beyond this: the shares behind them are practice, not measurement."""

_GROSS = 5.0  # σ
_LOOSE_M = 3.0  # a point known no better than this is not held at all
_MUDDLED = 4.0  # σ₀ beyond this is no coarse reading but misreadings
_NAMED = 6  # names listed in one note
_COARSE_LEAD = 6.0  # in log weight: how much better coarse reading must explain a survey before nobody is accused


@dataclass(frozen=True)
class Finding:
    """What the search settled on: the stories of one size (likeliest first), and each one's adjusted coordinates."""

    stories: tuple[Story, ...]
    adjusted: dict[tuple[int, ...], Adjustment]
    frame: Frame
    nothing: float  # log weight of no slip at all


def find_suspects(adj: Adjustment, net: Network, unit: Unit) -> tuple[tuple[Suspect, ...], tuple[str, ...]]:
    """Look for up to three misread tapes; give the suspects, likeliest first, and what cannot be told, in words.

    ``adj`` is the adjustment of all of ``net``'s readings. No suspect is named where every reading is within what
    chance allows (about one clean survey in a hundred is accused), or where too few readings are to spare.
    """
    notes: list[str] = []
    if adj.f <= 0:
        where = locating_line(adj, net)
        return (), (f"Tape {where[0]}: a misread line would then show.",) if where else ()
    found = search(adj, net)
    if found is None:
        if coarse_weight(adj) > no_slip_weight(adj) + 1.0:
            notes.append(_coarse(adj, net))
        elif adj.f == 1:
            notes += _then_locatable(adj, net)
        return (), tuple(notes)
    best = found.stories[0]
    if adj.f == 1:
        return (), (_unlocated(found, net, unit), *_then_locatable(adj, net, [s.rows[0] for s in found.stories]))
    suspects = _suspects(found, net, unit)
    notes += _cannot_tell(suspects)
    notes += _other_rows(found, net)
    rest = found.adjusted[best.rows]
    if rest.f > 0 and rest.vtpv > rest.test.high * 1.2:
        notes.append("Even without the lines named, the readings disagree by more than they should: tape more again.")
    return suspects, tuple(notes)


def search(adj: Adjustment, net: Network) -> Finding | None:
    """Settle on the readings that slipped; None where chance alone explains the survey.

    A large slip bends the coordinates, even into another shape. So the search begins at several places (the adjustment,
    the robust start, the start without what is grossly off there), goes on from each until it names the same readings
    twice, and believes the set that leaves least, each further slip at its price.
    """
    known: dict[tuple[int, ...], Adjustment] = {(): adj}
    first = Frame.of(adj)
    price = _price(first)
    rows, frame = _settled(first, adj, net, known)
    if not rows and adj.vtpv < price:
        return None
    if known[rows].vtpv > known[rows].test.high or not rows:  # else what is left fits, and there is no more to find
        for start in _robust_frames(adj, net, known):
            other, there = _settled(start, adj, net, known)
            if known[other].vtpv + len(other) * price < known[rows].vtpv + len(rows) * price:
                rows, frame = other, there
    if not rows:
        return None
    told = _sharpened(weigh(frame, known[rows], len(rows)), adj, net, known)
    # A likeliest story must have coordinates of its own: without them there is no reading to expect.
    stories = [*told[next((k for k, s in enumerate(told) if s.rows in known), len(told)) :]]
    if not stories:
        return None
    nothing = no_slip_weight(adj)
    if coarse_weight(adj) > max(stories[0].log_weight, nothing) + _COARSE_LEAD:
        return None
    return Finding(tuple(stories), known, frame, nothing)


def _robust_frames(adj: Adjustment, net: Network, known: dict[tuple[int, ...], Adjustment]) -> Iterator[Frame]:
    """Linearise at the robust start, and where the readings lead that are not grossly off there."""
    try:
        yield Frame.of(adjust(net, adj.start_xy, use=adj.used, max_iter=0))
    except ValueError:
        return
    off = np.abs(predict(net, adj.start_xy) - net.value) > _GROSS * net.sigma
    rows = tuple(int(k) for k in np.flatnonzero(off & adj.used))
    if 0 < len(rows) < adj.f:
        without = _without(adj, net, rows, known)
        if without is not None:
            yield Frame.of(without)


def _settled(
    frame: Frame, adj: Adjustment, net: Network, known: dict[tuple[int, ...], Adjustment]
) -> tuple[tuple[int, ...], Frame]:
    """Choose, adjust without, choose again, until the same readings are named twice; with the last linearisation."""
    rows: tuple[int, ...] = ()
    for _ in range(6):
        now = _choose(frame)
        if now == rows:
            break
        without = _without(adj, net, now, known)
        if without is None:
            break
        rows, frame = now, Frame.of(without)
    return rows, frame


def _price(frame: Frame) -> float:
    """What a slip must take off vᵀPv to be believed."""
    return threshold(int(np.count_nonzero(frame.testable))) ** 2


def _choose(frame: Frame) -> tuple[int, ...]:
    """The set of rows whose slips explain enough to be believed, () for none.

    Each further slip must take as much off vᵀPv as a lone one must to be called out.
    """
    price = _price(frame)
    best: tuple[int, ...] = ()
    most = 0.0
    for size, (sets, gain) in enumerate(growing_sets(frame), start=1):
        if not len(sets):
            break
        worth = float(gain[0]) - size * price
        if worth > most:
            most, best = worth, tuple(int(x) for x in sets[0])
        if size >= most_slips(frame.freedom) or frame.omega < (size + 1) * price + most:
            break
    return best


def most_slips(freedom: int) -> int:
    """How many slips may be named at once with f readings to spare: more need a well-braced network."""
    return min(freedom - 1, max(3, min(MOST_SLIPS, freedom // 5)))


def _without(
    adj: Adjustment, net: Network, rows: tuple[int, ...], known: dict[tuple[int, ...], Adjustment]
) -> Adjustment | None:
    """Adjust without some rows, or recall it; None where the rest does not hold the points."""
    if rows not in known:
        use = adj.used.copy()
        use[list(rows)] = False
        try:
            rest = adjust(net, adj.start_xy, use=use)  # a gross slip may have pulled adj.xy into another shape
        except ValueError:
            return None
        if not float(np.abs(rest.Q).max()) < _LOOSE_M**2:
            return None
        known[rows] = rest
    return known[rows]


def _sharpened(
    stories: list[Story], adj: Adjustment, net: Network, known: dict[tuple[int, ...], Adjustment]
) -> list[Story]:
    """Weigh the likeliest stories again, each at the coordinates that it implies itself."""
    sharp = []
    for place, story in enumerate(stories):
        if place < 6 and story.log_weight > stories[0].log_weight - 12.0:
            rest = _without(adj, net, story.rows, known)
            if rest is not None:
                rows = list(story.rows)
                A = rest.A[rows]
                C = A @ rest.Q @ A.T
                C[np.diag_indices(len(rows))] += net.sigma[rows] ** 2
                sharp.append(tell(rest, story.rows, rest.vtpv, -rest.v[rows], C))
                continue
        sharp.append(story)
    return sorted(sharp, key=lambda story: -story.log_weight)


def _suspects(found: Finding, net: Network, unit: Unit) -> tuple[Suspect, ...]:
    """Suspects of the likeliest story, then lines of other stories that are not much less likely."""
    shares = _shares(found)
    total: dict[int, float] = {}
    for story, share in zip(found.stories, shares, strict=True):
        for row in story.rows:
            total[row] = total.get(row, 0.0) + share
    best = found.stories[0]
    named = sorted(best.rows, key=lambda row: -total[row])
    rivals = {
        row: [
            other
            for other in sorted(total, key=lambda x: -total[x])
            if other not in best.rows and total[other] >= RIVAL_SHARE * total[row] and _instead(found, row, other)
        ][:_NAMED]
        for row in named
    }
    extra = sorted({x for others in rivals.values() for x in others}, key=lambda x: -total[x])
    made = []
    for row in [*named, *extra]:
        if row >= net.tapes:
            continue
        others = rivals.get(row, [x for x in named if row in rivals[x]])
        made.append(_suspect(found, shares, net, unit, row, [x for x in others if x < net.tapes]))
    return tuple(made)


def _suspect(
    found: Finding, shares: Sequence[float], net: Network, unit: Unit, row: int, rivals: Sequence[int]
) -> Suspect:
    """Put one line's case: what the others expect, the likeliest misreading, and its odds."""
    story = next(s for s in found.stories if row in s.rows)
    kind = _likeliest_kind(story, row)
    chance = math.fsum(
        share * math.fsum(p for p, k in s.kinds[s.rows.index(row)] if k.words == kind.words or _both_any(k, kind))
        for s, share in zip(found.stories, shares, strict=True)
        if row in s.rows
    )
    rest = found.adjusted.get(story.rows, found.adjusted[found.stories[0].rows])
    i, j = int(net.at[row, 0]), int(net.at[row, 1])
    reading = net.reading[row]
    tell_line = None
    if rivals:
        rival_story = next(s for s in found.stories if rivals[0] in s.rows)
        other = found.adjusted.get(rival_story.rows)
        if other is not None and other is not rest:
            tell_line = telling_line(rest, other, net, unit, line_names(net, row), line_names(net, rivals[0]))
    return Suspect(
        frm=net.names[i],
        to=net.names[j],
        read_m=float(net.value[row]),
        expected_m=float(rest.computed[row]),
        sigma_m=rest.sigma_of(i, j),
        slip=kind.words,
        odds=min(MOST_ODDS, chance / max(1.0 - chance, 1e-12)),
        line=reading.line,
        likely_m=kind.likely_m,
        rivals=tuple(line_names(net, x) for x in rivals),
        would_tell=tell_line,
    )


def line_names(net: Network, row: int) -> str:
    """Name a taped line; one that was taped more than once also by what was read."""
    ends = {int(x) for x in net.at[row, :2]}
    same = [k for k in range(net.tapes) if {int(x) for x in net.at[k, :2]} == ends]
    if len(same) == 1:
        return net.label(row)
    length = length_of(net, row)
    return net.label(row) if length is None else f"{net.label(row)} ({length.text})"


def _shares(found: Finding) -> list[float]:
    """Probability of each story, no slip at all being one more."""
    logs = [story.log_weight for story in found.stories]
    top = max([*logs, found.nothing])
    each = [math.exp(x - top) for x in logs]
    total = math.fsum(each) + math.exp(found.nothing - top)
    return [x / total for x in each]


def _instead(found: Finding, row: int, other: int) -> bool:
    """Whether some story blames ``other`` where the likeliest one blames ``row``."""
    return any(other in story.rows and row not in story.rows for story in found.stories)


def _likeliest_kind(story: Story, row: int) -> Kind:
    return story.kinds[story.rows.index(row)][0][1]


def _both_any(a: Kind, b: Kind) -> bool:
    return "no usual misreading" in a.words and "no usual misreading" in b.words


def _listed(names: Sequence[str]) -> str:
    shown = list(names[:_NAMED])
    if len(names) > _NAMED:
        return ", ".join(shown) + f" and {len(names) - _NAMED} more"
    return " and ".join([", ".join(shown[:-1]), shown[-1]] if len(shown) > 1 else shown)


def _then_locatable(adj: Adjustment, net: Network, among: Sequence[int] | None = None) -> list[str]:
    where = locating_line(adj, net, among)
    if where is None:
        return []
    line, settled = where
    if settled:
        return [f"Tape {line}: a misread line can then be named."]
    return [f"Tape {line}: it narrows down which line was misread, but no single further tape settles it."]


def _unlocated(found: Finding, net: Network, unit: Unit) -> str:
    """Say that something slipped, and what would make sense of it, where the geometry cannot say where."""
    lines = [line_names(net, row) for row in sorted(s.rows[0] for s in found.stories) if row < net.tapes]
    shares = _shares(found)
    text = f"The readings contradict each other, but any of {_listed(lines)} may be the misread one."
    best = found.stories[0]
    kind = _likeliest_kind(best, best.rows[0])
    if shares[0] > 0.8 and "no usual misreading" not in kind.words and best.rows[0] < net.tapes:
        rest = found.adjusted.get(best.rows)
        expected = f" ({format_length(float(rest.computed[best.rows[0]]), unit)} expected)" if rest is not None else ""
        text += f" A usual misreading fits best on {line_names(net, best.rows[0])}: {kind.words}{expected}."
    return text


def _cannot_tell(suspects: Sequence[Suspect]) -> list[str]:
    notes: list[str] = []
    told: set[str] = set()
    for s in suspects:
        name = f"{s.frm}–{s.to}"
        if s.rivals and name not in told:
            told.update((name, *s.rivals))
            end = f" Tape {s.would_tell}." if s.would_tell else ""
            notes.append(f"The readings cannot tell for sure a slip in {name} from one in {_listed(s.rivals)}.{end}")
    return notes


def _other_rows(found: Finding, net: Network) -> list[str]:
    """A slip in a reading that is no tape is told in words."""
    best = found.stories[0]
    return [
        f"The reading of {net.label(row)} contradicts the others: it seems to be {_likeliest_kind(best, row).words}."
        for row in best.rows
        if row >= net.tapes
    ]


def _coarse(adj: Adjustment, net: Network) -> str:
    """Everything scatters, or too much is wrong to say what."""
    off = np.abs(predict(net, adj.start_xy) - net.value) / net.sigma
    worst = [int(k) for k in np.argsort(-off[: net.tapes], kind="stable")[:_NAMED] if off[k] > _GROSS]
    if adj.sigma0 > _MUDDLED and worst:
        return (
            f"More readings contradict each other than can be told apart (they scatter {adj.sigma0:.0f} times as much "
            f"as their σ allows). Tape again, beginning with {_listed([line_names(net, k) for k in worst])}, which lie "
            "farthest from what most others agree on."
        )
    return (
        f"The readings scatter {adj.sigma0:.1f} times as much as their σ allows, and no single one is to blame: "
        "expect that much more error in every point, or tape again with more care."
    )


__all__ = ["HARD_TO_TELL", "Finding", "find_suspects", "line_names", "search"]
