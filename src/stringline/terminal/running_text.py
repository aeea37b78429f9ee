"""How the cover rolls, the lead to expect and why it is crooked, for a terminal."""

from __future__ import annotations

from stringline.lead.result import CauseFound, Diagnosis, LeadPrediction
from stringline.lengths import Unit
from stringline.mechanics.result import Mechanics
from stringline.plan import Needs, Plan
from stringline.quantities import amount, chance, figure_text, length, small, spread, tiny
from stringline.sheets.voice import Voice
from stringline.terminal.lines import heading, table
from stringline.terminal.plan_text import needs_lines
from stringline.worked import Kind

CAUTION = (
    "The one who holds the control sees all of the water; nobody is in the pool or on the cover, and hands, hair and "
    "clothing stay clear of drum, reels, ropes and tracks while it runs."
)


def lead_text(plan: Plan) -> str:
    """How the cover rolls and the lead to expect at each station, with the tolerance worth spending effort on."""
    unit = plan.job.unit
    out = [heading(f"{plan.job.name} – how it runs"), CAUTION]
    if isinstance(plan.mechanics, Needs) or isinstance(plan.lead, Needs):
        missing = plan.mechanics if isinstance(plan.mechanics, Needs) else plan.lead
        assert isinstance(missing, Needs)
        return "\n".join([*out, "", *needs_lines(missing, plan.job.unit)])
    return "\n".join([*out, "", *_mechanics(plan.mechanics, unit), "", *_lead(plan.lead, unit)])


def diagnosis_text(plan: Plan) -> str:
    """Why the cover runs crooked: the verdict, every cause with what to do, and what to measure next."""
    out = [heading(f"{plan.job.name} – why it runs crooked")]
    if isinstance(plan.diagnosis, Needs):
        return "\n".join([*out, *needs_lines(plan.diagnosis, plan.job.unit)])
    return "\n".join([*out, *_diagnosis(plan.diagnosis, plan.job.unit), "", CAUTION])


def _mechanics(m: Mechanics, unit: Unit) -> list[str]:
    voice = Voice(unit)
    say = voice.say
    rows = [(say(f.label), figure_text(f, unit)) for f in m.figures]
    out = [
        f"CANNOT WORK: {say(r.part)}: {say(r.why)}. Nearest that would: {say(r.nearest or 'none known')}."
        for r in m.refusals
    ]
    return [*out, *table(("how it rolls and pulls", ""), rows), *(f"  note: {n}" for n in voice.all(m.notes))]


def _lead(lead: LeadPrediction, unit: Unit) -> list[str]:
    voice = Voice(unit)
    rows = [
        (
            length(r.station_m, unit),
            f"{small(r.closing_low_m, unit, sign=True)} to {small(r.closing_high_m, unit, sign=True)}",
            f"{small(r.opening_low_m, unit, sign=True)} to {small(r.opening_high_m, unit, sign=True)}",
            f"{r.closing_current_a:.1f} A",
            f"{r.opening_current_a:.1f} A",
        )
        for r in lead.card
    ]
    out = ["Lead to expect, 95 runs in 100; + where the drive side is ahead in the direction of travel"]
    out += table(("station", "closing", "opening", "closing", "opening"), rows)
    out += [
        "",
        *(f"  {voice.say(f.label)}: {figure_text(f, unit)}" for f in (lead.worst, lead.p_over, lead.p_bind)),
    ]
    out.append(f"  Limit of the catalogue: {length(lead.limit_m, unit)}")
    if lead.effort is not None:
        part, advice = 100 * lead.effort.share, voice.say(lead.effort.advice)
        out.append(f"  Effort pays most on the {voice.say(lead.effort.label)} ({part:.0f} % of the scatter).")
        out.append(f"  {advice[:1].upper()}{advice[1:]}.")
    return [*out, *(f"  note: {n}" for n in voice.all(lead.notes))]


def _diagnosis(d: Diagnosis, unit: Unit) -> list[str]:
    voice = Voice(unit)
    out = [voice.say(d.verdict), ""]
    for n, cause in enumerate(d.causes, start=1):
        out += _cause_lines(n, cause, voice)
    if d.rivals:
        out.append(f"Cannot be told from: {', '.join(voice.all(d.rivals))}.")
    if d.next_reading is not None:
        out.append(f"Measure next: {voice.say(d.next_reading.text)}")
    if d.after is not None:
        called = voice.say(d.after.worst.label).lower()
        out.append(f"After the first action: {figure_text(d.after.worst, unit)} ({called}).")
    for lesson in d.lessons:
        out += ["", f"Earlier: {voice.say(lesson.action)} {voice.say(lesson.verdict)}"]
        rows = [
            (length(s, unit), way, small(p, unit, sign=True), small(m, unit, sign=True), spread(sd, Kind.LENGTH, unit))
            for s, way, p, m, sd in zip(
                lesson.station_m, lesson.direction, lesson.predicted_m, lesson.measured_m, lesson.sigma_m, strict=True
            )
        ]
        out += table(("station", "run", "predicted", "measured", "± 2σ"), rows)
    return [*out, *(f"note: {n}" for n in voice.all(d.notes))]


def _cause_lines(n: int, c: CauseFound, voice: Voice) -> list[str]:
    unit = voice.unit
    size = tiny(c.amount.value, unit) if c.amount.kind is Kind.LENGTH else amount(c.amount.value, c.amount.kind, unit)
    wide = spread(c.amount.sigma, c.amount.kind, unit)
    return [
        f"{n}. {voice.say(c.title)}: {size} {wide}".rstrip(),
        f"   {chance(c.main)} that it is the main cause, {chance(c.probability)} that it is there at all",
        f"   do:  {voice.say(c.action)}",
        f"   why: {voice.say(c.why)}",
    ]
