"""Standing cautions, placed with the stage or the card where the danger is. Each names who says so."""

from __future__ import annotations

from stringline.judging import Stage
from stringline.sheets.model import Item
from stringline.sheets.voice import Voice

_WATER = ("caution.water", "caution-water")  # the code of its words, and the key of its source
_POWER = ("caution.power", "caution-power")
_RUN = ("caution.run", "caution-run")
_NIP = ("caution.nip", "caution-nip")
_LOCAL = ("caution.local", "caution-local")

_BY_STAGE: dict[Stage, tuple[tuple[str, str], ...]] = {
    Stage.SURVEY: (("caution.read-aloud", "trade"), ("caution.mark-points", "trade"), _WATER),
    Stage.LAYOUT: (("caution.pull-string", "trade"), ("caution.look-round", "trade"), _LOCAL),
    Stage.ORDER: (("caution.sign-once", "trade"), ("caution.one-revision", "trade")),
    Stage.ROUGH_IN: (("caution.before-pour", "trade"), ("caution.sleeves", "trade"), _POWER, _WATER),
    Stage.FIT_OUT: (("caution.as-built", "trade"), ("caution.factory-ends", "trade"), _POWER, _NIP, _WATER),
    Stage.RUN_IN: (_RUN, _NIP, _POWER, ("caution.first-catch", "trade")),
    Stage.HANDOVER: (_RUN, ("caution.standing-water", "caution-water-on-cover"), _LOCAL),
    Stage.SERVICE: (_POWER, _NIP, _RUN, _WATER),
}

_BY_CARD: dict[str, tuple[tuple[str, str], ...]] = {
    "order": (("caution.no-return", "trade"), ("caution.order-waits", "trade")),
    "fit-out": (_WATER, _POWER, _NIP),
    "run-in": (_RUN, _NIP, _POWER, _LOCAL),
}


def for_stage(stage: Stage, voice: Voice) -> tuple[Item, ...]:
    """What a crew must not forget at this stage."""
    return _items(_BY_STAGE[stage], voice)


def for_card(card: str, voice: Voice) -> tuple[Item, ...]:
    """Cautions at the top of the ``order``, ``fit-out`` or ``run-in`` sheet."""
    return _items(_BY_CARD[card], voice)


def _items(cautions: tuple[tuple[str, str], ...], voice: Voice) -> tuple[Item, ...]:
    return tuple(Item(voice.say(code), source) for code, source in cautions)
