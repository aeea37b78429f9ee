"""Checks between what was ordered, what was built and what is cut."""

from __future__ import annotations

from collections.abc import Iterable

from stringline.cutting.result import CutList, Piece
from stringline.finding import finding, nested
from stringline.judging import Check, Limit, Verdict, judge
from stringline.ordering.result import Difference, Does, Line
from stringline.plan.checks.codes import check
from stringline.system.model import System
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term


def cut_checks(cuts: CutList, system: System, rope_cut: Figure | None) -> tuple[Check, ...]:
    """Last pieces and the ropes' common cut point."""
    found = [_last_piece(cuts.pieces, system)]
    if rope_cut is not None:
        limit = Limit(system.rope.cut_station_low_m, system.rope.cut_station_high_m, "trade")
        found.append(check("cut-rope", judge(rope_cut.value, rope_cut.sigma, limit), figure=rope_cut, limit=limit))
    return tuple(found)


_VERDICTS = {
    Does.FITS: Verdict.PASS,
    Does.TAKE_UP: Verdict.PASS,
    Does.TRIM: Verdict.WATCH,
    Does.MEASURE: Verdict.CANNOT_TELL,
    Does.NOT_MEASURED: Verdict.NOT_MEASURED,
    Does.REORDER: Verdict.FAIL,
}


def order_checks(found: Difference | None, system: System) -> tuple[Check, ...]:
    """After the pour: is what was built within what the made-to-measure parts can take up?

    The verdicts are those of the difference page, so that the two never disagree.
    """
    room = takes_up(system)
    rooms = (
        ("order-width", "cover-width", room.cover_width_m),
        ("order-leading-edge", "leading-edge", room.leading_edge_m),
        ("order-length", "cover-length", room.cover_length_m),
    )
    return tuple(_ordered(code, None if found is None else found.line(key), room) for code, key, room in rooms)


def _ordered(code: str, line: Line | None, room: float) -> Check:
    limit = Limit(-room, room, "catalogue")
    if line is None or line.change is None:
        return check(code, Verdict.NOT_MEASURED, limit=limit)
    verdict = _VERDICTS[line.does]
    return check(code, verdict, figure=line.change, limit=limit, detail=None if verdict is Verdict.PASS else line.says)


def _last_piece(pieces: Iterable[Piece], system: System) -> Check:
    limit = Limit(low=system.track.min_last_piece_m, source="catalogue")
    last = [
        (segment.length_m, piece)
        for piece in pieces
        for segment in piece.segments
        if piece.key.startswith("track") and not segment.whole
    ]
    if not last:
        return check("cut-last-piece", Verdict.PASS, limit=limit)
    length, piece = min(last, key=lambda found: found[0])
    figure = Figure.by_rule(
        finding("cutting.shortest-last", piece=nested(piece.name)),
        length,
        "cutting.run-less-wholes",
        [Term("cutting.one-last", length, Origin.DERIVED)],
    )
    return check("cut-last-piece", judge(length, None, limit), figure=figure, limit=limit)
