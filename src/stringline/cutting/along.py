"""The tracks: runs, sticks, joints, pins and last pieces, each side a card of its own."""

from __future__ import annotations

from dataclasses import dataclass

from stringline.cutting import basis as taken
from stringline.cutting import cautions
from stringline.cutting.basis import Given
from stringline.cutting.fixed import pin_stations
from stringline.cutting.rack import rack_of
from stringline.cutting.result import Mark, Piece, Segment
from stringline.layout import asked
from stringline.nesting.grain import to_grains, to_m
from stringline.nesting.runs import RunPlan, TracksPlan, plan_tracks
from stringline.nesting.variants import Run, RunRules
from stringline.worked import Figure, Origin, Term

SIDES = ("left", "right")


@dataclass(frozen=True, slots=True)
class Tracks:
    """Track pieces of a job with the plan they came from."""

    pieces: tuple[Piece, ...]
    plan: TracksPlan
    notes: tuple[str, ...]


def run_figure(given: Given, side: str) -> tuple[Figure, str]:
    """Length of one track from its cut end in the housing to its factory end at the pulley, and its basis."""
    channel = taken.channel(given, side)
    term = channel.term(f"Channel, {side}, housing face to far end")
    return asked.track_run(f"Track run, {side}", term, given.system.track), channel.basis


def track_rules(given: Given) -> RunRules:
    """The catalogue's rules for a run, in grains. A joint also stays clear of the guides where the channel begins."""
    track = given.system.track
    return RunRules(
        min_last=to_grains(max(track.min_last_piece_m, track.into_housing_m + track.joint_clear_m)),
        kerf=to_grains(track.kerf_m),
        clear=to_grains(track.joint_clear_m),
        stagger=to_grains(track.joint_stagger_m),
    )


def track_run(given: Given, side: str) -> Run:
    """One side's run in grains, with its pins."""
    figure, _ = run_figure(given, side)
    pins = tuple(to_grains(p) for p in pin_stations(figure.value, given.system.track))
    return Run(f"track-{side}", to_grains(figure.value), pins)


def tracks(given: Given) -> Tracks:
    """Both tracks: their runs, sticks, joints, pins and last pieces, from the job's rack where that saves a stick."""
    sticks = tuple(to_grains(s) for s in given.system.track.stick_lengths_m)
    left, right = (track_run(given, side) for side in SIDES)
    offcuts, told = rack_of(given.job)
    rack = tuple(to_grains(o.length_m) for o in offcuts)
    plan = plan_tracks(left, right, sticks, track_rules(given), rack)
    pieces: list[Piece] = []
    notes: list[str] = list(told)
    for side in SIDES:
        pieces += _track_pieces(given, side, plan)
        notes += _track_notes(given, side, plan.run(f"track-{side}"))
    if plan.staggered is False and plan.gap is not None:
        notes.append(
            f"Left and right joints come within {given.say_small(to_m(plan.gap))} of each other; the catalogue asks "
            f"for {given.say_small(given.system.track.joint_stagger_m)}. No mix of its stick lengths keeps to it."
        )
    return Tracks(tuple(pieces), plan, tuple(notes))


def _track_pieces(given: Given, side: str, plan: TracksPlan) -> list[Piece]:
    figure, basis = run_figure(given, side)
    run = plan.run(f"track-{side}")
    letter = side[0].upper()
    laid = Piece(
        f"track-{side}",
        f"T-{letter}",
        f"Track, {side}",
        side,
        1,
        figure,
        basis,
        given.system.track.name,
        _laying_steps(given, side, run),
        (cautions.DRILL,),
        _segments(run, letter),
        _marks(given, run),
    )
    if run.variant.last == 0:
        return [laid]
    return [laid, _last_piece(given, side, run, figure, basis)]


def _last_piece(given: Given, side: str, run: RunPlan, figure: Figure, basis: str) -> Piece:
    letter = side[0].upper()
    terms = list(figure.terms)
    wholes = [to_m(w) for w in run.variant.wholes]
    terms += [
        Term(f"Whole stick {i} from the pulley", -w, Origin.CATALOGUE, "track-cut-end") for i, w in enumerate(wholes, 1)
    ]
    last = Figure.sum(f"Last piece, {side}", terms, sigma=figure.sigma)
    source = run.last_from
    assert source is not None
    mate = _mate(source.pieces, run.run.key)
    stick = given.say(to_m(source.stick))
    origin = f"the {stick} piece from the rack" if source.from_rack else f"one {stick} stick"
    whole = source.stick == run.variant.last
    steps = [f"Take {origin}.", f"Mark it T-{letter} last piece, and mark which end is the factory end."]
    if whole:
        steps.append("Use it whole: no cut.")
    else:
        steps += [
            f"Measure {given.say(last.value)} from the factory end.",
            "Square the line across. Check the length a second time, from the other side.",
            "Cut on the far side of the line, so that the blade eats the offcut.",
            "File the cut end smooth inside and out, where the hem runs.",
            "Lay it with the cut end in the housing.",
        ]
        if mate is not None:
            steps.append(f"Keep the other end: its factory end makes the last piece of {mate}.")
        elif source.left_over > 0 and not source.from_rack:
            left = given.say(to_m(source.left_over))
            steps.append(f"Write {left} and the track's name on the offcut; it goes back on the rack.")
    return Piece(
        f"last-{side}",
        f"T-{letter}-1",
        f"Track, {side}, last piece",
        side,
        1,
        last,
        basis,
        given.system.track.name,
        tuple(steps),
        () if whole else (cautions.SAW,),
        marks=(
            Mark(0.0, "cut-end", "Cut end, in the housing"),
            Mark(last.value, "factory-end", "Factory end, at the joint" if wholes else "Factory end, at the pulley"),
        ),
    )


def _mate(pieces: tuple[tuple[str, int], ...], key: str) -> str | None:
    for other, _ in pieces:
        if other != key:
            return f"T-{other.rsplit('-', 1)[-1][0].upper()}"
    return None


def _laying_steps(given: Given, side: str, run: RunPlan) -> tuple[str, ...]:
    track = given.system.track
    wholes = [to_m(w) for w in run.variant.wholes]
    steps = [f"Start the {side} track at the pulley, factory end first."]
    if track.channels == 2:
        steps.append(f"Leave {given.say_small(track.pulley_spacer_m)} at the far end for the pulley spacer.")
    for i, w in enumerate(wholes, 1):
        steps.append(f"Lay whole stick {i}: {given.say(w)}.")
    if run.variant.last:
        steps.append(f"Lay the last piece: {given.say(to_m(run.variant.last))}, cut end towards the housing.")
    if run.variant.joints:
        steps.append("Join factory end to factory end with splices. Never cut at a joint or at the pulley.")
    steps += [
        f"See that {given.say_small(track.into_housing_m)} of track stands past its channel in the housing.",
        f"Drill each pin hole, {given.say_small(track.pin_hole_m)}, {_through(given)}.",
        f"Drive {len(run.pins)} locking pins.",
    ]
    return tuple(steps)


def _through(given: Given) -> str:
    return "through channel top, track and channel bottom" if given.in_channel else "through the track into the deck"


def _segments(run: RunPlan, letter: str) -> tuple[Segment, ...]:
    out: list[Segment] = []
    at = 0
    if run.variant.last:
        assert run.last_from is not None
        mate = _mate(run.last_from.pieces, run.run.key)
        label = f"T-{letter} last piece" + ("" if mate is None else f"; same stick as {mate}")
        out.append(Segment(0.0, to_m(run.variant.last), False, to_m(run.last_from.stick), label))
        at = run.variant.last
    wholes = run.variant.wholes
    for i, w in reversed(list(enumerate(wholes, 1))):
        out.append(Segment(to_m(at), to_m(w), True, to_m(w), f"T-{letter} whole stick {i}"))
        at += w
    return tuple(out)


def _marks(given: Given, run: RunPlan) -> tuple[Mark, ...]:
    end = to_m(run.run.length)
    marks = [
        Mark(0.0, "cut-end" if run.variant.last else "factory-end", "Housing end"),
        Mark(given.system.track.into_housing_m, "note", "Channel begins"),
        Mark(end, "factory-end", "Pulley end"),
    ]
    marks += [Mark(to_m(j), "joint", f"Joint {i}") for i, j in enumerate(sorted(run.variant.joints), 1)]
    marks += [
        Mark(to_m(p), "pin", f"Pin {i + 1}" + (", moved clear of a joint" if i in run.moved else ""))
        for i, p in enumerate(run.pins)
    ]
    return tuple(sorted(marks, key=lambda m: m.at_m))


def _track_notes(given: Given, side: str, run: RunPlan) -> list[str]:
    notes = []
    track = given.system.track
    if run.short:
        notes.append(
            f"Track, {side}: the last piece is {given.say(to_m(run.variant.last))}, under the catalogue's "
            f"{given.say(track.min_last_piece_m)}. No mix of its stick lengths gives a longer one: ask for another."
        )
    if run.moved:
        places = ", ".join(given.say(to_m(run.pins[i])) for i in run.moved)
        notes.append(
            f"Track, {side}: {_pins(len(run.moved))} aside of a joint, at {places} from the track's housing end."
        )
    return notes


def _pins(count: int) -> str:
    return "1 pin stands" if count == 1 else f"{count} pins stand"
