"""Checks on the order: is it likely to fit, and does a placed order still follow from the survey?"""

from __future__ import annotations

from stringline.cutting.result import Order
from stringline.judging import Check, Limit, Verdict
from stringline.lengths import Unit, format_amount
from stringline.ordering.advice import Readiness
from stringline.ordering.compare import SAME_M
from stringline.ordering.placed import Placed, figures_of
from stringline.plan.checks.codes import check
from stringline.survey.result import Survey
from stringline.system.model import System
from stringline.system.takes_up import takes_up
from stringline.worked import Figure, Origin, Term


def ready_check(found: Readiness, survey: Survey, system: System, *, waits: bool = False) -> Check:
    """The probability that all ordered parts fit against the catalogue's least.

    CANNOT_TELL where the survey is contradicted or where nothing checks it (the probability then leans on readings that
    may be wrong), and where the order ``waits`` for the pour (there is nothing to place it on yet).
    """
    limit = Limit(low=system.tolerances.least_fit_probability, source="tolerances")
    figure = found.choice("now").figures[-1]
    if waits:
        detail = "The order waits for the pour, as the job says: measure, and write [as_built]."
        return check("order-ready", Verdict.CANNOT_TELL, limit=limit, detail=detail)
    doubt = _doubt(found, survey)
    if doubt:
        return check("order-ready", Verdict.CANNOT_TELL, figure=figure, limit=limit, detail=doubt)
    if figure.value < system.tolerances.least_fit_probability:
        return check("order-ready", Verdict.FAIL, figure=figure, limit=limit, detail=found.why)
    verdict = Verdict.PASS if found.take == "now" else Verdict.WATCH
    return check("order-ready", verdict, figure=figure, limit=limit, detail=found.why)


def _doubt(found: Readiness, survey: Survey) -> str:
    """Why the probability itself cannot be trusted; "" where it can."""
    if survey.suspects:
        return found.why
    if survey.freedom == 0:
        return "No reading checks another: the probability holds only if none was misread. Tape one more line."
    if survey.global_test.statistic > survey.global_test.high:
        return "The readings contradict each other: settle which is wrong before anything is ordered."
    return ""


def changed_check(placed: Placed, today: Order, system: System, unit: Unit) -> Check:
    """Whether the order that went out is still what the survey asks for; by how much not, and what takes that up."""
    takes = takes_up(system)
    rooms = {
        "cover_width": ("the hems take up", takes.cover_width_m),
        "cover_length": ("the wraps on the drum take up", takes.cover_length_m),
        "leading_edge": ("the adjustable ends take up", takes.leading_edge_m),
        "drum": ("the drum's ends take up", takes.drum_m),
        "rope_left": ("the common cut point takes up", takes.rope_m),
        "rope_right": ("the common cut point takes up", takes.rope_m),
    }
    design = figures_of(today)
    moved = {k: design[k].value - f.value for k, f in placed.figures.items() if k in design}
    if not moved:
        return check("order-changed", Verdict.CANNOT_TELL, detail="No figure of the order can be read: write them in.")

    def used(key: str) -> float:
        return abs(moved[key]) / rooms[key][1] if key in rooms and rooms[key][1] > 0.0 else 0.0

    noticed = {k: d for k, d in moved.items() if abs(d) > SAME_M}
    worst = max(noticed or moved, key=lambda k: (used(k), abs(moved[k])))
    room = rooms[worst][1] if worst in rooms else None
    then = Term("As ordered", -placed.figures[worst].value, Origin.CHOSEN)
    figure = Figure.sum(
        f"{_name(worst).capitalize()}: today's plan less the order",
        [design[worst].term("As today's plan would order"), then],
    )
    limit = None if room is None else Limit(-room, room, "catalogue")
    if not noticed:
        return check("order-changed", Verdict.PASS, figure=figure, limit=limit, detail="Nothing to do.")
    words = []
    for k, d in sorted(noticed.items(), key=lambda m: -used(m[0])):
        far = f"{_name(k)} {'+' if d > 0 else '−'}{format_amount(abs(d), unit)}"
        if k in rooms:
            part, most = rooms[k]
            if k.startswith("rope") and d < 0:
                words.append(f"{far} (what is left over is cut off)")
                continue
            still = "more than" if abs(d) > most else "of"
            far += f" ({still} the {format_amount(most, unit)} that {part})"
        words.append(far)
    # A rope that is longer than it need be is cut: only one that is short can be wrong.
    over = [k for k, d in noticed.items() if k in rooms and (d if k.startswith("rope") else abs(d)) > rooms[k][1]]
    told = f"THE ORDER HAS CHANGED since it went out: {'; '.join(words)}. "
    if over:
        told += f"Tell the suppliers today, in writing: order again {', '.join(_name(k) for k in over)}."
    else:
        told += "Tell the suppliers while nothing is cut; if it is, the parts ordered can still take this up."
    return check("order-changed", Verdict.FAIL if over else Verdict.WATCH, figure=figure, limit=limit, detail=told)


def _name(key: str) -> str:
    return key.replace("_", " ")
