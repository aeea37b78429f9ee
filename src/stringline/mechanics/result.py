"""What the mechanics room gives back: worked figures at the boundary, arrays for the curves, and what cannot work."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stringline.finding import Code, Finding
from stringline.worked import Figure

if TYPE_CHECKING:
    from stringline.mechanics.machine import Machine
    from stringline.mechanics.run_state import RunState


@dataclass(frozen=True, slots=True)
class Refusal:
    """A part that cannot do this job: what, why, and the nearest that would (None where none is known)."""

    code: str  # reel-full | housing-small | motor-weak | rope-weak
    part: Finding
    why: Finding
    nearest: Finding | None


@dataclass(frozen=True)
class Mechanics:
    """How the cover rolls and pulls. Diameters over everything; pulls of one side; runs with both sides alike."""

    roll_open: Figure  # diameter over the hems, cover open
    roll_open_middle: Figure  # diameter in the middle, cover open
    roll_closed: Figure  # diameter over the hems, cover closed
    roll_turns: Figure  # turns on the drum, cover open
    middle_slack: Figure  # cover that the middle winds up loosely
    clearance_open: Figure  # roll to the housing's nearest wall
    clearance_closed: Figure
    reel_layers: Figure
    reel_fill: Figure  # share of the reel's room, cover closed
    reel_freeboard: Figure  # flange to rope, cover closed
    rope_length: Figure  # each rope, slider to its end on the reel
    peak_pull: Figure  # highest rope pull of one side
    design_factor: Figure
    peak_torque_closing: Figure
    peak_torque_opening: Figure
    motor_margin: Figure  # rated torque over the highest needed
    peak_current: Figure
    drum_sag: Figure
    drum_sag_ratio: Figure  # sag over span
    drum_twist: Figure
    jam_margin: Figure
    run_time_closing: Figure
    run_time_opening: Figure
    closing: RunState
    opening: RunState
    machine: Machine
    refusals: tuple[Refusal, ...] = ()
    notes: tuple[Code, ...] = ()

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure, in the order of a page."""
        return tuple(v for v in (getattr(self, n) for n in self.__dataclass_fields__) if isinstance(v, Figure))
