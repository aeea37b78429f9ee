"""What the order would come to once the contradicted readings are taped again and read as the others expect."""

from __future__ import annotations

from dataclasses import replace

from stringline.faults import Faults
from stringline.job.model import Job, SurveyInput
from stringline.job.readings import Tape
from stringline.layout.place import lay_out
from stringline.lengths import metres
from stringline.ordering.order import order
from stringline.ordering.result import Order
from stringline.survey.result import Survey
from stringline.survey.run import survey as adjust_survey
from stringline.system.model import System


def order_if_retaped(job: Job, system: System | None, survey: Survey) -> Order | None:
    """The order with each contradicted reading put where the others expect it; nothing in the job is changed.

    None where no reading is contradicted, or where there is no order to compare.
    """
    if system is None or job.pool is None or job.cover is None or not survey.suspects:
        return None
    again = replace(job, survey=_as_expected(job.survey, survey))
    try:
        found = adjust_survey(again.survey, searched=False)
        return order(again, system, lay_out(found, job.pool, job.cover, system))
    except (Faults, ValueError):
        return None


def _as_expected(spec: SurveyInput, survey: Survey) -> SurveyInput:
    expected = {(frozenset((s.frm, s.to)), s.read_m): s.expected_m for s in survey.suspects}

    def one(tape: Tape) -> Tape:
        m = expected.get((frozenset((tape.a, tape.b)), tape.length.m))
        return tape if m is None else replace(tape, length=metres(m))

    return replace(spec, tapes=tuple(one(t) for t in spec.tapes))
