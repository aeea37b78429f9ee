"""The tracks: runs, sticks, joints, pins and last pieces, each side a card of its own."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stringline.cutting import basis as taken
from stringline.cutting.basis import Given
from stringline.cutting.result import DRILL, SAW, Mark, Piece, Segment
from stringline.finding import Code, finding
from stringline.layout import asked
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.runs import RunPlan, TracksPlan, plan_tracks
from stringline.nesting.variants import RunRules, StickRun
from stringline.system.model import Track
from stringline.worked import Figure, Origin, Term

SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Tracks:
    """Track pieces of a job with the plan they came from."""

    pieces: tuple[Piece, ...]
    plan: TracksPlan
    notes: tuple[Code, ...]


def run_figure(given: Given, side: str) -> tuple[Figure, str]:
    """Length of one track from its cut end in the housing to its factory end at the pulley, and its basis.

    Channel + run into the housing − pulley spacer (of a two-channel track). Sources ``track-into-housing``,
    ``pulley-spacer``.
    """
    channel = taken.channel(given, side)
    term = channel.term(finding("cutting.channel-far-end", side=side))
    return asked.track_run(finding("cutting.track-run", side=side), term, given.system.track), channel.basis


def track_rules(given: Given) -> RunRules:
    """The catalogue's rules for a run, in grains.

    The last piece is at least the catalogue's minimum, and so long that the joint behind it stays clear of the guides
    where the channel begins: run into the housing + clearance of a joint.
    """
    track = given.system.track
    return RunRules(
        min_last=to_grains(max(track.min_last_piece_m, track.into_housing_m + track.joint_clear_m)),
        kerf=to_grains(track.kerf_m),
        clear=to_grains(track.joint_clear_m),
        stagger=to_grains(track.joint_stagger_m),
    )


def track_run(given: Given, side: str) -> StickRun:
    """One side's run in grains, with its pins; its key is ``track-left`` or ``track-right``."""
    figure, _ = run_figure(given, side)
    pins = tuple(to_grains(p) for p in pin_stations(figure.value, given.system.track))
    return StickRun(f"track-{side}", to_grains(figure.value), pins)


def tracks(given: Given) -> Tracks:
    """Both tracks: their runs, sticks, joints, pins and last pieces, from the job's rack where that saves a stick.

    Exact for one job (:func:`stringline.nesting.runs.plan_tracks`); what no mix of sticks keeps to is noted. A track is
    cut at its housing end only (source ``track-cut-end``).
    """
    sticks = tuple(to_grains(s) for s in given.system.track.stick_lengths_m)
    left, right = (track_run(given, side) for side in SIDES)
    rack = tuple(to_grains(o.m) for o in given.job.offcuts)
    plan = plan_tracks(left, right, sticks, track_rules(given), rack)
    pieces: list[Piece] = []
    notes: list[Code] = []
    for side in SIDES:
        pieces += _track_pieces(given, side, plan)
        notes += _track_notes(given, side, plan.run(f"track-{side}"))
    if plan.staggered is False and plan.gap is not None:
        stagger = given.system.track.joint_stagger_m
        notes.append(finding("cutting.joints-close", gap_m=to_m(plan.gap), stagger_m=stagger))
    return Tracks(tuple(pieces), plan, tuple(notes))


def _track_pieces(given: Given, side: str, plan: TracksPlan) -> list[Piece]:
    figure, basis = run_figure(given, side)
    run = plan.run(f"track-{side}")
    laid = Piece(
        f"track-{side}",
        _mark(side),
        finding("cutting.track", side=side),
        side,
        1,
        figure,
        basis,
        finding("cards.of-track", profile=given.system.track.name),
        _laying_steps(given, side, run),
        (DRILL,),
        _segments(run, _mark(side)),
        _marks(given, run),
    )
    if run.variant.last == 0:
        return [laid]
    return [laid, _last_piece(given, side, run, figure, basis)]


def _last_piece(given: Given, side: str, run: RunPlan, figure: Figure, basis: str) -> Piece:
    wholes = [to_m(w) for w in run.variant.wholes]
    terms = [
        *figure.terms,
        *(
            Term(finding("cutting.whole-stick", number=i), -w, Origin.CATALOGUE, "track-cut-end")
            for i, w in enumerate(wholes, 1)
        ),
    ]
    last = Figure.sum(finding("cutting.last-piece", side=side), terms, sigma=figure.sigma)
    source = run.last_from
    assert source is not None
    whole = source.stick == run.variant.last
    return Piece(
        f"last-{side}",
        f"{_mark(side)}-1",
        finding("cutting.track-last", side=side),
        side,
        1,
        last,
        basis,
        finding("cards.of-track", profile=given.system.track.name),
        _cutting_steps(given, side, run, last.value),
        () if whole else (SAW,),
        marks=(
            Mark(0.0, "cut-end", "cards.cut-end-housing"),
            Mark(last.value, "factory-end", "cards.factory-end-joint" if wholes else "cards.factory-end-pulley"),
        ),
    )


def _mark(side: str) -> str:
    return f"T-{side[0].upper()}"


def _mate(pieces: tuple[tuple[str, int], ...], key: str) -> str | None:
    """The mark of the other track whose last piece comes from the same stick."""
    return next((_mark(other.rsplit("-", 1)[-1]) for other, _ in pieces if other != key), None)


def _cutting_steps(given: Given, side: str, run: RunPlan, length_m: float) -> tuple[Code, ...]:
    source = run.last_from
    assert source is not None
    mate = _mate(source.pieces, run.run.key)
    take = "cards.last-from-rack" if source.from_rack else "cards.last-from-stick"
    steps: list[Code] = [finding(take, stick_m=to_m(source.stick)), finding("cards.last-mark", mark=_mark(side))]
    if source.stick == run.variant.last:
        return (*steps, "cards.last-whole")
    steps += [
        finding("cards.last-measure", length_m=length_m),
        "cards.last-square",
        "cards.last-cut",
        "cards.last-file",
        "cards.last-lay",
    ]
    if mate is not None:
        steps.append(finding("cards.last-mate", mate=mate))
    elif (
        not source.from_rack and source.left_over > 0 and to_m(source.left_over) >= given.system.track.min_last_piece_m
    ):
        steps.append(finding("cards.last-offcut", left_m=to_m(source.left_over)))
    return tuple(steps)


def _laying_steps(given: Given, side: str, run: RunPlan) -> tuple[Code, ...]:
    track = given.system.track
    steps: list[Code] = [finding("cards.track-start", side=side)]
    if track.channels == 2:
        steps.append(finding("cards.track-spacer", spacer_m=track.pulley_spacer_m))
    steps += [finding("cards.track-whole", number=i, length_m=to_m(w)) for i, w in enumerate(run.variant.wholes, 1)]
    if run.variant.last:
        steps.append(finding("cards.track-last", length_m=to_m(run.variant.last)))
    if run.variant.joints:
        steps.append("cards.track-splice")
    drill = "cards.track-drill-channel" if given.in_channel else "cards.track-drill-deck"
    return (
        *steps,
        finding("cards.track-housing", length_m=track.into_housing_m),
        finding(drill, hole_m=track.pin_hole_m),
        finding("cards.track-pins", count=len(run.pins)),
    )


def _segments(run: RunPlan, mark: str) -> tuple[Segment, ...]:
    out: list[Segment] = []
    at = 0
    if run.variant.last:
        assert run.last_from is not None
        mate = _mate(run.last_from.pieces, run.run.key)
        label = (
            finding("cards.segment-last", mark=mark)
            if mate is None
            else finding("cards.segment-last-shared", mark=mark, mate=mate)
        )
        out.append(Segment(0.0, to_m(run.variant.last), False, to_m(run.last_from.stick), label))
        at = run.variant.last
    for i, w in reversed(list(enumerate(run.variant.wholes, 1))):
        out.append(Segment(to_m(at), to_m(w), True, to_m(w), finding("cards.segment-whole", mark=mark, number=i)))
        at += w
    return tuple(out)


def _marks(given: Given, run: RunPlan) -> tuple[Mark, ...]:
    marks = [
        Mark(0.0, "cut-end" if run.variant.last else "factory-end", "cards.housing-end"),
        Mark(given.system.track.into_housing_m, "note", "cards.channel-begins"),
        Mark(to_m(run.run.length), "factory-end", "cards.pulley-end"),
    ]
    joints = enumerate(sorted(run.variant.joints), 1)
    marks += [Mark(to_m(j), "joint", finding("cards.joint", number=i)) for i, j in joints]
    for i, p in enumerate(run.pins):
        code = "cards.pin-moved" if i in run.moved else "cards.pin"
        marks.append(Mark(to_m(p), "pin", finding(code, number=i + 1)))
    return tuple(sorted(marks, key=lambda m: m.at_m))


def _track_notes(given: Given, side: str, run: RunPlan) -> list[Code]:
    notes: list[Code] = []
    if run.short:
        least = given.system.track.min_last_piece_m
        notes.append(finding("cutting.last-short", side=side, length_m=to_m(run.variant.last), least_m=least))
    if run.moved:
        places = tuple(to_m(run.pins[i]) for i in run.moved)
        notes.append(finding("cutting.pins-moved", side=side, n=len(places), places_m=places))
    return notes


def pin_stations(run_m: float, track: Track) -> tuple[float, ...]:
    """Pin places from the housing end of the track, evenly spaced and nowhere further apart than the catalogue says.

    The first is ``pin_from_end`` inside the channel's housing end, the last as far from the factory end at the pulley:
    pins pass through the channel, so none stands in the part of the track that is in the housing. Where both would be
    the same place or cross, one pin stands in the middle of the channel; a run no longer than its part in the housing
    has none. Metres; source ``pin-hole``.

    >>> from stringline.system.read import load_system
    >>> track = load_system("invented-18").track
    >>> track.into_housing_m, track.pin_from_end_m, track.pin_spacing_m
    (0.0254, 0.1524, 1.2192)
    >>> [round(p, 3) for p in pin_stations(4.0, track)]
    [0.178, 1.095, 2.013, 2.93, 3.848]
    """
    first = track.into_housing_m + track.pin_from_end_m
    last = run_m - track.pin_from_end_m
    if last <= first:
        return ((track.into_housing_m + run_m) / 2.0,) if run_m > track.into_housing_m else ()
    gaps = max(1, math.ceil((last - first) / track.pin_spacing_m - 1e-9))
    return tuple(first + (last - first) * i / gaps for i in range(gaps + 1))
