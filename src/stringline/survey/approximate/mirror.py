"""Parts that could as well be their own mirror image: found, decided where anything decides, refused where not.

Wherever two points cut a part off from the rest, that part can be turned over about the line through them and every
taped distance stays as it was. The same is nearly true of a point whose lines all come from points nearly on one line.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from stringline.faults import Fault, Faults
from stringline.finding import Code, finding
from stringline.geometry import Array
from stringline.survey.adjust.least_squares import SingularError, adjust
from stringline.survey.adjust.network import Datum, IntArray, Network, Row
from stringline.survey.adjust.observe import predict
from stringline.survey.approximate.intersection import BLUR_M, CAP
from stringline.survey.approximate.rigidity import line_of, rows_of
from stringline.survey.approximate.robust import robust_cost
from stringline.survey.approximate.start import OUTLYING, Place, Start, distinct, judge_places

AMBIGUOUS = 10.0
"""Two placings whose misfits differ by less than this (χ²; odds of about 150 to 1) are not told apart by readings."""

APART_SIGMA = 6.0  # images closer together than this many σ of a reading are one and the same
BLUR_SIGMA = 4.0
ROUNDS = 4  # how often a better mirror image may replace the start


def settle_mirrors(net: Network, start: Start) -> tuple[Start, tuple[Code, ...]]:
    """Take the best mirror image of every part; raise ``Faults`` where two fit alike and nothing decides.

    Returns the start, possibly a better one than given, and notes on images that were close.
    """
    found = [Place(start.xy, start.cost, start.total), *start.others]
    best = found[0]
    for _ in range(ROUNDS):
        images = _images(net, best)
        found.extend(images)
        better = min(images, key=lambda p: p.total, default=best)
        if better.total >= best.total - 1e-6:
            break
        best = better
    ranked = distinct(found)
    best, rivals = _contest(net, ranked)
    faults = [_mirror_fault(net, best.xy, p.xy, sorted(moved)) for p, moved in rivals]
    if faults:
        raise Faults("survey", faults)
    others = tuple(p for p in ranked if p is not best)
    outlying = np.asarray(np.abs(predict(net, best.xy) - net.value) > OUTLYING * net.sigma)
    return Start(best.xy, best.cost, best.total, outlying, others), _side_notes(net, best.xy)


def _contest(net: Network, ranked: list[Place]) -> tuple[Place, list[tuple[Place, frozenset[int]]]]:
    """The placing that stands, and those that neither readings nor sides nor sketch can tell from it.

    Only placings that every reading fits alike contend: where different readings are contradicted, which of them was
    misread is a question for the search for slips.
    """
    best = ranked[0]
    rivals: list[tuple[Place, frozenset[int]]] = []
    for other in ranked[1:]:
        moved = _moved(net, best.xy, other.xy)
        same = bool((np.abs(predict(net, other.xy) - predict(net, best.xy)) <= OUTLYING * net.sigma).all())
        if not moved or not same or any(known <= moved for _, known in rivals):
            continue
        if net.datum is Datum.FREE and len(moved) >= net.n - 2 and np.isnan(net.sketch).all():
            continue  # a free network has no side of its own
        verdict = _sketch_verdict(net, best.xy, other.xy)
        if verdict < 0:
            best = other
        elif verdict == 0 and other.total < best.total + AMBIGUOUS and _beyond_blur(net, best.xy, other.xy, moved):
            rivals.append((other, moved))
    return best, rivals


def _beyond_blur(net: Network, one: Array, two: Array, moved: frozenset[int]) -> bool:
    """Whether two placings are further apart than the error ellipses at the first, which then do not speak for both."""
    use = np.abs(predict(net, one) - net.value) <= OUTLYING * net.sigma
    try:
        major = adjust(net, one, use=use).ellipses[:, 0]
    except SingularError:
        return False  # a point on one line with all that holds it is refused as such
    return any(float(np.hypot(*(one[i] - two[i]))) > BLUR_SIGMA * float(major[i]) for i in moved)


def _sketch_verdict(net: Network, one: Array, two: Array) -> int:
    """Which of two placings the sketch turns the same way round: 1, −1, or 0 where it does not say.

    Every three points of the sketch turn left or right, whatever its scale; those that turn otherwise in the two
    placings vote, each with its area, and two thirds of the votes decide.
    """
    who = np.flatnonzero(~np.isnan(net.sketch[:, 0]))
    if len(who) < 3:
        return _nearer(net, who, one, two)
    three = np.array(list(combinations(who.tolist(), 3)))
    drawn, first, second = (_turn(xy, three) for xy in (net.sketch, one, two))
    votes = np.where(np.sign(first) != np.sign(second), np.abs(drawn) * np.sign(drawn) * np.sign(first), 0.0)
    cast = float(np.abs(votes).sum())
    if cast <= 1e-3 * float(np.abs(drawn).sum()):
        return _nearer(net, who, one, two)
    share = float(votes.sum()) / cast
    return int(np.sign(share)) if abs(share) >= 1.0 / 3.0 else 0


def _nearer(net: Network, who: IntArray, one: Array, two: Array) -> int:
    """The same for a sketch that names too little to turn: taken as rough places in the survey's own frame.

    It decides only where it lies at least twice as close to one placing as to the other; a sketch in some other frame
    is far from both and so says nothing.
    """
    first, second = (float(np.hypot(*(xy[who] - net.sketch[who]).T).sum()) for xy in (one, two))
    if 2.0 * first < second:
        return 1
    return -1 if 2.0 * second < first else 0


def _turn(xy: Array, three: IntArray) -> Array:
    """Twice the signed area of triangles, shape (t,)."""
    a, b, c = (xy[three[:, k]] for k in range(3))
    return np.asarray((b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0]))


def _images(net: Network, best: Place) -> list[Place]:
    """Mirror images of parts of the best placing that the readings might accept, each settled."""
    turned = [*_single_images(net, best.xy)]
    for hinge, part in cut_off(net):
        if len(part) > 1:  # a single point's image is among the first already
            xy = best.xy.copy()
            xy[list(part)] = _reflect(xy[list(part)], xy[list(hinge)])
            turned.append(xy)
    if not turned:
        return []
    costs = robust_cost(net, np.stack(turned))
    return judge_places(net, [xy for xy, cost in zip(turned, costs, strict=True) if cost <= best.cost + 3.0 * CAP])


def _single_images(net: Network, xy: Array) -> Array:
    """Each point alone turned over about the line that lies best among its taped neighbours: (p, n, 2).

    The point then finds its own best place among its lines, all others standing still. Rows of points with fewer
    lines than the most are filled up with weight 0, so that all points are turned at once.
    """
    alone = {part[0]: hinge for hinge, part in cut_off(net) if len(part) == 1}
    who = [int(i) for i in np.flatnonzero(~net.fixed.any(axis=1)) if len({j for _, j in net.neighbours[i]}) >= 2]
    who += [i for i in alone if i not in who]
    most = max((len(net.neighbours[i]) for i in who), default=0)
    if not most:
        return np.empty((0, net.n, 2))
    ends, value, weight = np.zeros((len(who), most), int), np.zeros((len(who), most)), np.zeros((len(who), most))
    for k, i in enumerate(who):
        for c, (row, j) in enumerate(net.neighbours[i]):
            ends[k, c], value[k, c], weight[k, c] = j, net.value[row], 1.0 / net.sigma[row]
    anchors = xy[ends]
    first = np.array([[_is_first(net.neighbours[i], c) for c in range(most)] for i in who], dtype=float)
    mean = (anchors * first[..., None]).sum(axis=1) / np.maximum(first.sum(axis=1), 1.0)[:, None]
    off = (anchors - mean[:, None]) * first[..., None]
    xx, yy, both = (off[..., 0] ** 2).sum(1), (off[..., 1] ** 2).sum(1), (off[..., 0] * off[..., 1]).sum(1)
    angle = 0.5 * np.arctan2(2.0 * both, xx - yy)
    along = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    for k, i in enumerate(who):
        if i in alone:
            one, two = xy[list(alone[i])]
            mean[k], along[k] = one, (two - one) / max(float(np.hypot(*(two - one))), 1e-9)
    point = xy[who]
    rest = point - mean
    point = mean + 2.0 * (rest * along).sum(axis=1)[:, None] * along - rest
    for _ in range(5):
        d = point[:, None] - anchors
        r = np.maximum(np.hypot(d[..., 0], d[..., 1]), 1e-9)
        u = d * (weight / r)[..., None]
        miss = (value - r) * weight
        normal = np.einsum("pci,pcj->pij", u, u) + 10.0 * np.eye(2)
        point = point + np.linalg.solve(normal, np.einsum("pci,pc->pi", u, miss)[..., None])[..., 0]
    out = np.repeat(xy[None], len(who), axis=0)
    out[np.arange(len(who)), who] = point
    return out


def _is_first(neighbours: Sequence[tuple[int, int]], c: int) -> bool:
    """Whether the c-th line of a point is the first one to its neighbour; False behind the last."""
    return c < len(neighbours) and neighbours[c][1] not in {j for _, j in neighbours[:c]}


def cut_off(net: Network) -> list[tuple[tuple[int, int], tuple[int, ...]]]:
    """Every part that two points separate from the rest: ((hinge, hinge), part). Held points never part company.

    Point sets are bit masks; rows are links, and all points that carry the frame are linked with one another. A part
    cut off by two points can be turned over about the line through them without a taped distance changing.

    >>> from stringline.job.model import SurveyInput
    >>> from stringline.job.readings import Tape
    >>> from stringline.lengths import metres
    >>> from stringline.survey.build import build_network
    >>> lines = (("A", "B", 4.0), ("A", "1", 3.0), ("B", "1", 5.0))
    >>> cut_off(build_network(SurveyInput(tuple(Tape(a, b, metres(m)) for a, b, m in lines), baseline=("A", "B"))))
    [((0, 1), (2,))]
    """
    link = [0] * net.n
    frame = [int(i) for i in np.flatnonzero(net.fixed.all(axis=1))]
    frame += [int(net.at[k, 0]) for k in np.flatnonzero((net.kind == Row.X) | (net.kind == Row.Y))]
    if net.baseline is not None and net.datum is Datum.BASELINE:
        frame += list(net.baseline)
    if not frame:
        frame = [int(x) for x in net.at[0, :2]]
    anchored = 0
    for i in frame:
        anchored |= 1 << i
    for i in frame:
        link[i] |= anchored
    for at in net.at:
        points = [int(i) for i in at if i >= 0]
        for i in points:
            for j in points:
                link[i] |= 1 << j
    every = (1 << net.n) - 1
    out: list[tuple[tuple[int, int], tuple[int, ...]]] = []
    for u in range(net.n):
        for v in range(u + 1, net.n):
            left = every & ~(1 << u) & ~(1 << v)
            while left:
                part = _reach(link, left & -left, left)
                left &= ~part
                if not part & anchored:
                    out.append(((u, v), tuple(i for i in range(net.n) if part >> i & 1)))
    return out


def _reach(link: list[int], seed: int, within: int) -> int:
    """Everything in ``within`` that links lead to from ``seed`` (bit masks)."""
    done, edge = 0, seed
    while edge:
        low = edge & -edge
        done |= low
        edge = (edge | (link[low.bit_length() - 1] & within)) & ~done
    return done


def _reflect(points: Array, hinge: Array) -> Array:
    d = hinge[1] - hinge[0]
    size = float(np.hypot(d[0], d[1]))
    if size < 1e-9:
        return points
    n = np.array([-d[1], d[0]]) / size
    return np.asarray(points - 2.0 * ((points - hinge[0]) @ n)[:, None] * n)


def _moved(net: Network, one: Array, two: Array) -> frozenset[int]:
    """Points that stand elsewhere in the other placing, beyond what readings could blur."""
    apart = np.hypot(*(one - two).T)
    least = max(0.03, APART_SIGMA * float(net.sigma.min()))
    return frozenset(int(i) for i in np.flatnonzero(apart > least))


def _mirror_fault(net: Network, one: Array, two: Array, moved: list[int]) -> Fault:
    names = tuple(net.names[i] for i in moved)
    hinge = sorted({j for i in moved for _, j in net.neighbours[i]} - set(moved))
    wrong = finding("survey.mirror", points=names, n=len(names))
    if len(hinge) == 2:
        a, b = (net.names[i] for i in hinge)
        wrong = finding("survey.mirror-about", points=names, n=len(names), a=a, b=b)
    right = finding("survey.sketch", points=tuple(net.names[i] for i in (moved + hinge)[:6]))
    tape = _deciding_tape(net, one, two, moved)
    if tape is not None:
        i, j = tape
        first, second = (float(np.hypot(*(xy[i] - xy[j]))) for xy in (one, two))
        line = finding("survey.line", a=net.names[i], b=net.names[j])
        right = finding("survey.tape-or-sketch", line=line, first_m=first, second_m=second, sketch=right)
    return Fault("mirror", "survey.tapes", wrong, right, line_of(net, rows_of(net, moved)))


def _deciding_tape(net: Network, one: Array, two: Array, moved: list[int]) -> tuple[int, int] | None:
    """The untaped line whose length differs most between two placings, in parts of its length."""
    taped = {frozenset((int(i), int(j))) for i, j in net.at[: net.tapes, :2]}
    best: tuple[float, tuple[int, int]] | None = None
    for i in moved:
        for j in range(net.n):
            if i == j or frozenset((i, j)) in taped:
                continue
            a, b = float(np.hypot(*(one[i] - one[j]))), float(np.hypot(*(two[i] - two[j])))
            gain = abs(a - b) / max(a, b, 1e-9)
            if best is None or gain > best[0] + 1e-9:
                best = (gain, (i, j))
    return None if best is None or best[0] < 0.01 else best[1]


def _side_notes(net: Network, xy: Array) -> tuple[Code, ...]:
    """Points that the readings put on the other side of the baseline than the job says."""
    if net.baseline is None:
        return ()
    a, b = net.baseline
    out: list[Code] = []
    for i in np.flatnonzero(net.side != 0):
        off = float(_turn(xy, np.array([[a, b, i]]))[0]) / max(float(np.hypot(*(xy[b] - xy[a]))), 1e-9)
        if off * net.side[i] < -BLUR_M and np.isnan(net.sketch[i, 0]):
            code = "survey.stands-behind" if net.side[i] > 0 else "survey.stands-in-front"
            out.append(finding(code, point=net.names[i], a=net.names[a], b=net.names[b]))
    return tuple(out)
