"""What stands where a section would be: what it lacks."""

from __future__ import annotations

from stringline.finding import finding
from stringline.plan import Needs
from stringline.sheets.model import Block, Bullets, Headline
from stringline.sheets.voice import Voice


def needs_blocks(needs: Needs, voice: Voice) -> tuple[Block, ...]:
    """That the section is not there yet, and what to write or measure to have it."""
    name = finding(f"common.section.{needs.section}")
    if not needs.missing:
        return (Headline(voice.say(finding("plan.sheet.follows", section=name))),)
    return (
        Headline(voice.say(finding("plan.sheet.needs", section=name))),
        Bullets(tuple(voice.all(needs.missing))),
    )
