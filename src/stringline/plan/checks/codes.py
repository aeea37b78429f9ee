"""Every check by its code, with the stage it holds.

What it asks, what follows if it is ignored and what to do stand in the chapter ``check`` of the words, under
``check.<code>.title``, ``.consequence`` and ``.action``, so that the documentation lists them all.
"""

from __future__ import annotations

from dataclasses import dataclass

from stringline.finding import Code, in_turn
from stringline.judging import Check, Limit, Stage, Verdict
from stringline.worked import Figure


@dataclass(frozen=True, slots=True)
class Standing:
    """The stage whose work must not go on past a check, and whether it stops that stage at all."""

    stage: Stage
    holds: bool = True


CODES: dict[str, Standing] = {
    "survey-misread": Standing(Stage.SURVEY),
    "survey-taped": Standing(Stage.SURVEY),
    "survey-agreement": Standing(Stage.SURVEY),
    "survey-controlled": Standing(Stage.ORDER),
    "survey-precision": Standing(Stage.ORDER),
    "layout-width": Standing(Stage.LAYOUT),
    "layout-length": Standing(Stage.LAYOUT),
    "layout-overlap": Standing(Stage.LAYOUT),
    "layout-fits": Standing(Stage.LAYOUT),
    "floor-drains": Standing(Stage.ROUGH_IN),
    "layout-clear": Standing(Stage.LAYOUT),
    "fit-straight-left": Standing(Stage.FIT_OUT),
    "fit-straight-right": Standing(Stage.FIT_OUT),
    "fit-parallel": Standing(Stage.FIT_OUT),
    "fit-measured": Standing(Stage.FIT_OUT),
    "fit-gauge": Standing(Stage.FIT_OUT),
    "fit-square": Standing(Stage.FIT_OUT),
    "fit-diagonals": Standing(Stage.FIT_OUT),
    "cut-last-piece": Standing(Stage.FIT_OUT),
    "cut-rope": Standing(Stage.FIT_OUT),
    "order-width": Standing(Stage.FIT_OUT),
    "order-leading-edge": Standing(Stage.FIT_OUT),
    "order-length": Standing(Stage.FIT_OUT),
    "order-ready": Standing(Stage.ORDER),
    "order-changed": Standing(Stage.ORDER),
    "roll-clearance": Standing(Stage.ORDER),
    "reel-freeboard": Standing(Stage.ORDER),
    "rope-strength": Standing(Stage.ORDER),
    "motor-torque": Standing(Stage.ORDER),
    "drum-sag": Standing(Stage.ORDER),
    "slider-jam": Standing(Stage.ORDER),
    "lead-expected": Standing(Stage.RUN_IN, holds=False),
    "lead-measured": Standing(Stage.HANDOVER),
}


def check(
    code: str,
    verdict: Verdict,
    *,
    figure: Figure | None = None,
    limit: Limit | None = None,
    detail: Code | None = None,
    stage: Stage | None = None,
    holds: bool | None = None,
) -> Check:
    """Make a check; KeyError for a code that is not in :data:`CODES`.

    ``detail`` replaces the standing advice where the particular case allows a better one. Where only the uncertainty
    of a figure keeps it from a verdict, the first advice is to measure it more closely.

    >>> check("floor-drains", Verdict.FAIL).action
    'check.floor-drains.action'
    >>> check("cut-rope", Verdict.WATCH, detail="check.nothing-to-do").action
    'check.nothing-to-do'
    """
    standing = CODES[code]
    usual = f"check.{code}.action"
    doubtful = verdict is Verdict.CANNOT_TELL and figure is not None and bool(figure.sigma)
    return Check(
        code=code,
        verdict=verdict,
        stage=standing.stage if stage is None else stage,
        figure=figure,
        limit=limit,
        action=detail or (in_turn("check.measure-closer", usual) if doubtful else usual),
        holds=standing.holds if holds is None else holds,
    )
