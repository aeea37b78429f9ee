"""Standing cautions, placed with the stage or the card where the danger is. Each names who says so."""

from __future__ import annotations

from typing import Any

from stringline.judging import Stage

_Caution = tuple[str, str]  # what it says, and the key of its source

_WATER: _Caution = (
    "The water is open while the cover is off or loose: barrier up, somebody watching, nobody working alone.",
    "caution-water",
)
_POWER: _Caution = (
    "Electricity is for the licensed trade: isolated, locked out and proved dead before anybody reaches into the "
    "housing.",
    "caution-power",
)
_RUN: _Caution = (
    "Whoever holds the control sees all of the water and keeps hold of it; nobody is in the pool or on the cover "
    "while it moves.",
    "caution-run",
)
_NIP: _Caution = (
    "Hands, hair, clothing and tools stay clear of drum, reels, ropes, pulleys and leading edge while they can turn.",
    "caution-nip",
)
_LOCAL: _Caution = (
    "Barriers, bonding, disconnects and the cover standard are for the local code and its inspector to judge; this "
    "book does not.",
    "caution-local",
)

_BY_STAGE: dict[Stage, tuple[_Caution, ...]] = {
    Stage.SURVEY: (
        ("Tape level, straight and pulled alike every time; read aloud, hear it read back, write it at once.", "trade"),
        ("Mark every point so that it can be found again after the deck is poured.", "trade"),
        _WATER,
    ),
    Stage.LAYOUT: (
        ("Pull a string along both tracks and the housing before anybody agrees to the layout.", "trade"),
        ("Look for what no tape showed: rails, steps, rocks, raised walls, lights and pipes.", "trade"),
        _LOCAL,
    ),
    Stage.ORDER: (
        ("The cover and the leading edge are made once. Sign only when nothing holds the survey.", "trade"),
        ("Order from one revision. A later reading that changes it goes to every supplier in writing.", "trade"),
    ),
    Stage.ROUGH_IN: (
        ("Measure gauge, diagonals and housing while forms can still move, and again just before the pour.", "trade"),
        ("Sleeves, drain and conduit are in before the concrete is.", "trade"),
        _POWER,
        _WATER,
    ),
    Stage.FIT_OUT: (
        ("Cut from the as-built readings, not from the order. Measure the channel you are standing at.", "trade"),
        ("Factory ends stay at the pulley and at every joint; cut at the housing end only.", "trade"),
        _POWER,
        _NIP,
        _WATER,
    ),
    Stage.RUN_IN: (
        _RUN,
        _NIP,
        _POWER,
        ("Stop at the first catch, and write down the station before moving anything.", "trade"),
    ),
    Stage.HANDOVER: (
        _RUN,
        (
            "Show the owner how to stop it, to look over the water first, and what water standing on the cover means.",
            "caution-water-on-cover",
        ),
        _LOCAL,
    ),
    Stage.SERVICE: (_POWER, _NIP, _RUN, _WATER),
}

_CARD: dict[str, tuple[_Caution, ...]] = {
    "order": (
        ("Made-to-measure goods do not go back. Check each figure against its origin before signing.", "trade"),
        ("If a survey check holds, or a reading is marked for re-taping, the order waits.", "trade"),
    ),
    "fit-out": (_WATER, _POWER, _NIP),
    "run-in": (_RUN, _NIP, _POWER, _LOCAL),
}


def for_stage(stage: Stage) -> list[dict[str, Any]]:
    """What a crew must not forget at this stage."""
    return _rows(_BY_STAGE[stage])


def for_card(card: str) -> list[dict[str, Any]]:
    """Cautions printed at the top of the ``order``, ``fit-out`` or ``run-in`` sheet."""
    return _rows(_CARD[card])


def _rows(cautions: tuple[_Caution, ...]) -> list[dict[str, Any]]:
    return [{"text": text, "source": source} for text, source in cautions]
