"""Checks on the order: is it likely to fit, and does a placed order still follow from the survey?"""

from __future__ import annotations

from stringline.finding import Code, Finding, finding, in_turn, nested
from stringline.judging import Check, Limit, Verdict
from stringline.ordering.placed import FIGURES, figures_of, moved
from stringline.ordering.result import SAME_M, Advice, Order, Placed
from stringline.plan.checks.codes import check
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term


def ready_check(found: Advice, survey: Survey, system: System, *, waits: bool = False) -> Check:
    """The probability that all ordered parts fit against the catalogue's least.

    CANNOT_TELL where the survey is contradicted or where nothing checks it (the probability then leans on readings that
    may be wrong), and where the order ``waits`` for the pour (there is nothing to place it on yet).
    """
    limit = Limit(low=system.tolerances.least_fit_probability, source="tolerances")
    figure = found.choice("now").figures[-1]
    if waits:
        return check("order-ready", Verdict.CANNOT_TELL, limit=limit, detail="check.waits-for-pour")
    doubt = _doubt(found, survey)
    if doubt:
        return check("order-ready", Verdict.CANNOT_TELL, figure=figure, limit=limit, detail=doubt)
    if figure.value < system.tolerances.least_fit_probability:
        return check("order-ready", Verdict.FAIL, figure=figure, limit=limit, detail=found.why)
    verdict = Verdict.PASS if found.take == "now" else Verdict.WATCH
    return check("order-ready", verdict, figure=figure, limit=limit, detail=found.why)


def _doubt(found: Advice, survey: Survey) -> Code | None:
    """Why the probability itself cannot be trusted; None where it can."""
    if survey.suspects:
        return found.why
    if survey.freedom == 0:
        return "check.probability-unchecked"
    if survey.global_test.statistic > survey.global_test.high:
        return "check.contradiction-first"
    return None


def changed_check(placed: Placed, today: Order, system: System) -> Check:
    """Whether the order that went out is still what the survey asks for; by how much not, and what takes that up.

    Figures that moved by half a sixteenth or more are told, those first that use most of their room, |change| / room.
    FAIL where one is beyond its room (a rope only where it is short), WATCH where all can still be taken up.
    """
    rooms = _rooms(system)
    design, changes = figures_of(today), moved(today, placed)
    if not changes:
        return check("order-changed", Verdict.CANNOT_TELL, detail="check.order-unreadable")

    def used(key: str) -> float:
        return abs(changes[key]) / rooms[key][1] if key in rooms and rooms[key][1] > 0.0 else 0.0

    noticed = {k: d for k, d in changes.items() if abs(d) > SAME_M}
    worst = max(noticed or changes, key=lambda k: (used(k), abs(changes[k])))
    room = rooms[worst][1] if worst in rooms else None
    then = Term("check.as-ordered", -placed.figures[worst].value, Origin.CHOSEN)
    figure = Figure.sum(
        finding("check.order-moved-most", part=_name(worst)), [design[worst].term("check.as-today"), then]
    )
    limit = None if room is None else Limit(-room, room, "catalogue")
    if not noticed:
        return check("order-changed", Verdict.PASS, figure=figure, limit=limit, detail="check.nothing-to-do")
    parts = [_moved(k, d, rooms.get(k)) for k, d in sorted(noticed.items(), key=lambda m: -used(m[0]))]
    # A rope that is longer than it need be is cut: only one that is short can be wrong.
    over = [k for k, d in noticed.items() if k in rooms and (d if k.startswith("rope") else abs(d)) > rooms[k][1]]
    do = finding("check.order-again", parts=[_name(k) for k in over]) if over else "check.order-may-hold"
    verdict = Verdict.FAIL if over else Verdict.WATCH
    told = in_turn(finding("check.order-moved", parts=parts), do)
    return check("order-changed", verdict, figure=figure, limit=limit, detail=told)


def _rooms(system: System) -> dict[str, tuple[Code, float]]:
    """What takes up a change of each figure, and how much of it, ± metres."""
    takes = takes_up(system)
    return {
        "cover_width": ("check.by-hems", takes.cover_width_m),
        "cover_length": ("check.by-wraps", takes.cover_length_m),
        "leading_edge": ("check.by-ends", takes.leading_edge_m),
        "drum": ("check.by-drum", takes.drum_m),
        "rope_left": ("check.by-cut-point", takes.rope_m),
        "rope_right": ("check.by-cut-point", takes.rope_m),
    }


def _moved(key: str, change_m: float, room: tuple[Code, float] | None) -> Finding:
    """One figure that moved, with how much of its room that takes."""
    tail: Code | None = None
    if room is not None and key.startswith("rope") and change_m < 0.0:
        tail = finding("check.rope-left-over")
    elif room is not None:
        by, most = room
        code = "check.beyond-room" if abs(change_m) > most else "check.within-room"
        tail = finding(code, room_m=float(most), by=nested(by))
    return finding("check.moved", part=_name(key), change_m=change_m, tail=tail)


def _name(key: str) -> Finding:
    return nested(FIGURES[key].name)
