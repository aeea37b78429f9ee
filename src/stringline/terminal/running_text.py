"""How the cover rolls, the lead to expect and why it is crooked, for a terminal."""

from __future__ import annotations

from stringline.mechanics.result import Mechanics
from stringline.plan import Needs, Plan
from stringline.sheets.cautions import for_card
from stringline.sheets.diagnosis import diagnosis_sheet
from stringline.sheets.lead import lead_sheet
from stringline.sheets.mechanics import mechanics_sheet
from stringline.sheets.model import Cautions, Sheet
from stringline.sheets.needs import needs_blocks
from stringline.sheets.voice import Voice
from stringline.terminal.lines import heading
from stringline.terminal.render import sheets_text


def lead_text(plan: Plan) -> str:
    """The lead to expect at each station with the tolerance worth spending effort on, and how the cover rolls."""
    voice = Voice(plan.job.unit)
    if isinstance(plan.lead, Needs):
        lead = _lacking("title", plan.lead, voice)
    else:
        lead = lead_sheet(plan.lead, voice, plan.tightened)
    shown = [lead, mechanics_sheet(plan.mechanics, voice)] if isinstance(plan.mechanics, Mechanics) else [lead]
    return f"{heading(plan.job.name)}\n\n{sheets_text(shown)}"


def diagnosis_text(plan: Plan) -> str:
    """Why the cover runs crooked: the verdict, every cause with what to do, and what to measure next."""
    voice, found = Voice(plan.job.unit), plan.diagnosis
    shown = _lacking("why-title", found, voice) if isinstance(found, Needs) else diagnosis_sheet(found, voice)
    return f"{heading(plan.job.name)}\n\n{sheets_text([shown])}"


def _lacking(title: str, needs: Needs, voice: Voice) -> Sheet:
    """What a section lacks; whoever measures for it runs the cover, so that the cautions stand here too."""
    blocks = (*needs_blocks(needs, voice), Cautions(for_card("run-in", voice)))
    return Sheet(title, voice.say(f"lead.sheet.{title}"), blocks)
