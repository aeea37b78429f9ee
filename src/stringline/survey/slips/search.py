"""The misread reading: which one the others contradict, what it probably was, and what cannot be told.

Nothing is corrected here. The answer is always "tape this line again", with the reading that the other lines expect.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stringline.finding import Code, Finding, finding
from stringline.survey.adjust.least_squares import Adjustment, adjust
from stringline.survey.adjust.network import Network
from stringline.survey.adjust.observe import predict
from stringline.survey.result import Suspect
from stringline.survey.slips.data_snooping import Linearised, growing_sets, threshold
from stringline.survey.slips.discriminating import discriminating_tape, locating_tape
from stringline.survey.slips.hypotheses import (
    Explanation,
    SlipHypothesis,
    coarse_weight,
    hypothesis,
    length_of,
    no_slip_weight,
    weigh,
)
from stringline.survey.slips.misreadings import is_unusual

MOST_SLIPS = 5
"""Slips looked for at once, where there are readings enough (three need f ≥ 4, five f ≥ 25)."""

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
class Settled:
    """What the search settled on: the hypotheses of one size (likeliest first), and each one's adjusted coordinates."""

    hypotheses: tuple[SlipHypothesis, ...]
    adjusted: dict[tuple[int, ...], Adjustment]
    nothing: float  # log weight of no slip at all


def find_suspects(adj: Adjustment, net: Network) -> tuple[tuple[Suspect, ...], tuple[Code, ...]]:
    """Look for up to five misread tapes; give the suspects, likeliest first, and what cannot be told.

    ``adj`` is the adjustment of all of ``net``'s readings. No suspect is named where every reading is within what
    chance allows (about one clean survey in a hundred is accused), or where too few readings are to spare.

    The demo job holds one reading that its reader took six inches too long:

    >>> from stringline.demo import demo_job_text
    >>> from stringline.job.read import read_job
    >>> from stringline.survey.approximate.start import find_start
    >>> from stringline.survey.build import build_network
    >>> net = build_network(read_job(demo_job_text(), "demo").survey)
    >>> (suspect,), _ = find_suspects(adjust(net, find_start(net).xy), net)
    >>> suspect.frm, suspect.to, str(suspect.slip)
    ('2', '4', 'survey.inches-many(n=6)')
    """
    notes: list[Code] = []
    if adj.f <= 0:
        where = locating_tape(adj, net)
        return (), (finding("survey.tape-to-show", line=where[0]),) if where else ()
    found = search(adj, net)
    if found is None:
        if coarse_weight(adj) > no_slip_weight(adj) + 1.0:
            notes.append(_coarse(adj, net))
        elif adj.f == 1:
            notes += _then_locatable(adj, net)
        return (), tuple(notes)
    best = found.hypotheses[0]
    if adj.f == 1:
        return (), (_unlocated(found, net), *_then_locatable(adj, net, [h.rows[0] for h in found.hypotheses]))
    suspects = _suspects(found, net)
    notes += _cannot_tell(suspects)
    notes += _other_rows(found, net)
    rest = found.adjusted[best.rows]
    if rest.f > 0 and rest.vtpv > rest.test.high * 1.2:
        notes.append("survey.still-disagree")
    return suspects, tuple(notes)


def search(adj: Adjustment, net: Network) -> Settled | None:
    """Settle on the readings that slipped; None where chance alone explains the survey.

    A large slip bends the coordinates, even into another shape. So the search begins at several places (the adjustment,
    the robust start, the start without what is grossly off there), goes on from each until it names the same readings
    twice, and believes the set that leaves least, each further slip at its price.
    """
    known: dict[tuple[int, ...], Adjustment] = {(): adj}
    first = Linearised.of(adj)
    price = _price(first)
    rows, at = _settled(first, adj, net, known)
    if not rows and adj.vtpv < price:
        return None
    if known[rows].vtpv > known[rows].test.high or not rows:  # else what is left fits, and there is no more to find
        for start in _robust_places(adj, net, known):
            other, there = _settled(start, adj, net, known)
            if known[other].vtpv + len(other) * price < known[rows].vtpv + len(rows) * price:
                rows, at = other, there
    if not rows:
        return None
    told = _sharpened(weigh(at, known[rows], len(rows)), adj, net, known)
    # The likeliest hypothesis must have coordinates of its own: without them there is no reading to expect.
    weighed = [*told[next((k for k, h in enumerate(told) if h.rows in known), len(told)) :]]
    if not weighed:
        return None
    nothing = no_slip_weight(adj)
    if coarse_weight(adj) > max(weighed[0].log_weight, nothing) + _COARSE_LEAD:
        return None
    return Settled(tuple(weighed), known, nothing)


def _robust_places(adj: Adjustment, net: Network, known: dict[tuple[int, ...], Adjustment]) -> Iterator[Linearised]:
    """Linearise at the robust start, and where the readings lead that are not grossly off there."""
    try:
        yield Linearised.of(adjust(net, adj.start_xy, use=adj.used, max_iter=0))
    except ValueError:
        return
    off = np.abs(predict(net, adj.start_xy) - net.value) > _GROSS * net.sigma
    rows = tuple(int(k) for k in np.flatnonzero(off & adj.used))
    if 0 < len(rows) < adj.f:
        without = _without(adj, net, rows, known)
        if without is not None:
            yield Linearised.of(without)


def _settled(
    at: Linearised, adj: Adjustment, net: Network, known: dict[tuple[int, ...], Adjustment]
) -> tuple[tuple[int, ...], Linearised]:
    """Choose, adjust without, choose again, until the same readings are named twice; with the last linearisation."""
    rows: tuple[int, ...] = ()
    for _ in range(6):
        now = _choose(at)
        if now == rows:
            break
        without = _without(adj, net, now, known)
        if without is None:
            break
        rows, at = now, Linearised.of(without)
    return rows, at


def _price(at: Linearised) -> float:
    """What a slip must take off vᵀPv to be believed."""
    return threshold(int(np.count_nonzero(at.testable))) ** 2


def _choose(at: Linearised) -> tuple[int, ...]:
    """The set of rows whose slips explain enough to be believed, () for none.

    Each further slip must take as much off vᵀPv as a lone one must to be called out.
    """
    price = _price(at)
    best: tuple[int, ...] = ()
    most = 0.0
    for size, (sets, gain) in enumerate(growing_sets(at), start=1):
        if not len(sets):
            break
        worth = float(gain[0]) - size * price
        if worth > most:
            most, best = worth, tuple(int(x) for x in sets[0])
        if size >= most_slips(at.freedom) or at.omega < (size + 1) * price + most:
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
    weighed: list[SlipHypothesis], adj: Adjustment, net: Network, known: dict[tuple[int, ...], Adjustment]
) -> list[SlipHypothesis]:
    """Weigh the likeliest hypotheses again, each at the coordinates that it implies itself."""
    sharp = []
    for place, h in enumerate(weighed):
        if place < 6 and h.log_weight > weighed[0].log_weight - 12.0:
            rest = _without(adj, net, h.rows, known)
            if rest is not None:
                rows = list(h.rows)
                A = rest.A[rows]
                C = A @ rest.Q @ A.T
                C[np.diag_indices(len(rows))] += net.sigma[rows] ** 2
                sharp.append(hypothesis(rest, h.rows, rest.vtpv, -rest.v[rows], C))
                continue
        sharp.append(h)
    return sorted(sharp, key=lambda h: -h.log_weight)


def _suspects(found: Settled, net: Network) -> tuple[Suspect, ...]:
    """Suspects of the likeliest hypothesis, then lines of other hypotheses that are not much less likely."""
    shares = _shares(found)
    total: dict[int, float] = {}
    for h, share in zip(found.hypotheses, shares, strict=True):
        for row in h.rows:
            total[row] = total.get(row, 0.0) + share
    best = found.hypotheses[0]
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
        made.append(_suspect(found, shares, net, row, [x for x in others if x < net.tapes]))
    return tuple(made)


def _suspect(found: Settled, shares: Sequence[float], net: Network, row: int, rivals: Sequence[int]) -> Suspect:
    """Put one line's case: what the others expect, the likeliest misreading, and its odds."""
    mine = next(h for h in found.hypotheses if row in h.rows)
    slip = _likeliest_explanation(mine, row)
    chance = math.fsum(
        share * math.fsum(p for p, e in h.explained[h.rows.index(row)] if e.says == slip.says or _both_unusual(e, slip))
        for h, share in zip(found.hypotheses, shares, strict=True)
        if row in h.rows
    )
    rest = found.adjusted.get(mine.rows, found.adjusted[found.hypotheses[0].rows])
    i, j = int(net.at[row, 0]), int(net.at[row, 1])
    tells = None
    if rivals:
        theirs = next(h for h in found.hypotheses if rivals[0] in h.rows)
        other = found.adjusted.get(theirs.rows)
        if other is not None and other is not rest:
            tells = discriminating_tape(rest, other, net, tape_name(net, row), tape_name(net, rivals[0]))
    return Suspect(
        frm=net.names[i],
        to=net.names[j],
        read_m=float(net.value[row]),
        expected_m=float(rest.computed[row]),
        sigma_m=rest.sigma_of(i, j),
        slip=slip.says,
        odds=min(MOST_ODDS, chance / max(1.0 - chance, 1e-12)),
        line=net.reading[row].line,
        likely_m=slip.likely_m,
        rivals=tuple(tape_name(net, x) for x in rivals),
        would_tell=tells,
    )


def tape_name(net: Network, row: int) -> Finding:
    """Name a taped line; one that was taped more than once also by what was read."""
    ends = {int(x) for x in net.at[row, :2]}
    same = [k for k in range(net.tapes) if {int(x) for x in net.at[k, :2]} == ends]
    length = length_of(net, row)
    if len(same) == 1 or length is None:
        return net.label(row)
    return finding("survey.line-read", line=net.label(row), read=length.text)


def _shares(found: Settled) -> list[float]:
    """Probability of each hypothesis, no slip at all being one more."""
    logs = [h.log_weight for h in found.hypotheses]
    top = max([*logs, found.nothing])
    each = [math.exp(x - top) for x in logs]
    total = math.fsum(each) + math.exp(found.nothing - top)
    return [x / total for x in each]


def _instead(found: Settled, row: int, other: int) -> bool:
    """Whether some hypothesis blames ``other`` where the likeliest one blames ``row``."""
    return any(other in h.rows and row not in h.rows for h in found.hypotheses)


def _likeliest_explanation(h: SlipHypothesis, row: int) -> Explanation:
    return h.explained[h.rows.index(row)][0][1]


def _both_unusual(a: Explanation, b: Explanation) -> bool:
    return is_unusual(a.says) and is_unusual(b.says)


def _listed(names: Sequence[Finding]) -> Finding:
    """The first few names, and how many more there are."""
    if len(names) > _NAMED:
        return finding("survey.listed-more", names=tuple(names[:_NAMED]), n=len(names) - _NAMED)
    return finding("survey.listed", names=tuple(names))


def _then_locatable(adj: Adjustment, net: Network, among: Sequence[int] | None = None) -> list[Code]:
    where = locating_tape(adj, net, among)
    if where is None:
        return []
    line, settled = where
    return [finding("survey.tape-to-name" if settled else "survey.tape-to-narrow", line=line)]


def _unlocated(found: Settled, net: Network) -> Code:
    """Say that something slipped, and what would make sense of it, where the geometry cannot say where."""
    lines = [tape_name(net, row) for row in sorted(h.rows[0] for h in found.hypotheses) if row < net.tapes]
    best = found.hypotheses[0]
    row, slip = best.rows[0], _likeliest_explanation(best, best.rows[0])
    if _shares(found)[0] <= 0.8 or is_unusual(slip.says) or row >= net.tapes:
        return finding("survey.unlocated", lines=_listed(lines))
    return finding(
        "survey.unlocated-likely",
        lines=_listed(lines),
        line=tape_name(net, row),
        slip=slip.says,
        expected_m=float(found.adjusted[best.rows].computed[row]),
    )


def _cannot_tell(suspects: Sequence[Suspect]) -> list[Code]:
    notes: list[Code] = []
    told: set[Finding] = set()
    for s in suspects:
        line = finding("survey.line", a=s.frm, b=s.to)
        if s.rivals and line not in told:
            told.update((line, *s.rivals))
            rivals = _listed(s.rivals)
            if s.would_tell is None:
                notes.append(finding("survey.not-told", line=line, rivals=rivals))
            else:
                notes.append(finding("survey.not-told-but", line=line, rivals=rivals, tells=s.would_tell))
    return notes


def _other_rows(found: Settled, net: Network) -> list[Code]:
    """A slip in a reading that is no tape is noted."""
    best = found.hypotheses[0]
    return [
        finding("survey.other-slipped", reading=net.label(row), slip=_likeliest_explanation(best, row).says)
        for row in best.rows
        if row >= net.tapes
    ]


def _coarse(adj: Adjustment, net: Network) -> Code:
    """Everything scatters, or too much is wrong to say what."""
    off = np.abs(predict(net, adj.start_xy) - net.value) / net.sigma
    worst = [int(k) for k in np.argsort(-off[: net.tapes], kind="stable")[:_NAMED] if off[k] > _GROSS]
    if adj.sigma0 > _MUDDLED and worst:
        return finding("survey.muddled", times=adj.sigma0, lines=_listed([tape_name(net, k) for k in worst]))
    return finding("survey.coarse", times=adj.sigma0)
