"""Checks between what was ordered, what was built and what is cut."""

from __future__ import annotations

from collections.abc import Iterable

from stringline.checks.codes import check
from stringline.cutting.difference import Difference
from stringline.cutting.result import CutList, Piece
from stringline.fit.result import Fit
from stringline.judging import Check, Limit, Verdict, judge
from stringline.system.model import System
from stringline.worked import Figure, Origin, Term


def cut_checks(cuts: CutList, system: System, rope_cut: Figure | None) -> tuple[Check, ...]:
    """Last pieces and the ropes' common cut point."""
    found = [_last_piece(cuts.pieces, system)]
    if rope_cut is not None:
        limit = Limit(system.rope.cut_station_low_m, system.rope.cut_station_high_m, "trade")
        found.append(check("cut-rope", judge(rope_cut.value, rope_cut.sigma, limit), figure=rope_cut, limit=limit))
    return tuple(found)


def order_checks(
    fit: Fit | None, system: System, channel_change: Figure | None, placed: Difference | None = None
) -> tuple[Check, ...]:
    """After the pour: is the built gauge and length within what the made-to-measure parts can take up?

    ``placed`` is given where the job holds the order that went out: what was built is then held against that.
    """
    width = Limit(-system.fabric.width_take_up_m, system.fabric.width_take_up_m, "catalogue")
    reach = Limit(-2 * system.leading_edge.adjust_m, 2 * system.leading_edge.adjust_m, "catalogue")
    length = Limit(-system.fabric.length_take_up_m, system.fabric.length_take_up_m, "catalogue")
    if placed is not None:
        return (
            _changed("order-width", placed.line("cover-width").change, width),
            _changed("order-leading-edge", placed.line("leading-edge").change, reach),
            _changed("order-length", placed.line("cover-length").change, length),
        )
    if fit is None or not fit.gauge:
        return tuple(
            check(code, Verdict.NOT_MEASURED, limit=limit)
            for code, limit in (("order-width", width), ("order-leading-edge", reach), ("order-length", length))
        )
    worst = max(fit.gauge, key=lambda g: abs(g.deviation.value)).deviation
    return (
        check("order-width", judge(worst.value, worst.sigma, width), figure=worst, limit=width),
        check("order-leading-edge", judge(worst.value, worst.sigma, reach), figure=worst, limit=reach),
        check("order-length", Verdict.NOT_MEASURED, limit=length)
        if channel_change is None
        else check(
            "order-length",
            judge(channel_change.value, channel_change.sigma, length),
            figure=channel_change,
            limit=length,
        ),
    )


def _changed(code: str, change: Figure | None, limit: Limit) -> Check:
    if change is None:
        return check(code, Verdict.NOT_MEASURED, limit=limit)
    return check(code, judge(change.value, change.sigma, limit), figure=change, limit=limit)


def _last_piece(pieces: Iterable[Piece], system: System) -> Check:
    limit = Limit(low=system.track.min_last_piece_m, source="catalogue")
    last = [
        (segment.length_m, piece.name)
        for piece in pieces
        for segment in piece.segments
        if piece.key.startswith("track") and not segment.whole
    ]
    if not last:
        return check("cut-last-piece", Verdict.PASS, limit=limit)
    length, name = min(last)
    figure = Figure.by_rule(
        f"Shortest last piece, {name}",
        length,
        "the run less its whole sticks",
        [Term("last piece", length, Origin.DERIVED)],
    )
    return check("cut-last-piece", judge(length, None, limit), figure=figure, limit=limit)
