"""Papers, and the frame that every sheet is drawn in."""

from __future__ import annotations

from dataclasses import dataclass

# The frame of a sheet and what it leaves free, millimetres. The left margin is wide enough to be punched.
LEFT, RIGHT, TOP, BOTTOM = 18.0, 10.0, 10.0, 10.0
INSET = 4.0  # between the frame and what stands in it
BLOCK = 17.0  # height of the title block at the foot of the frame
HEADING = 11.0  # height of a sheet's heading


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper size in millimetres, upright."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def free_mm(self) -> tuple[float, float]:
        """Width and height inside frame, inset and title block."""
        return self.width_mm - LEFT - RIGHT - 2 * INSET, self.height_mm - TOP - BOTTOM - BLOCK - 2 * INSET


PAPERS = {"letter": Paper("letter", 215.9, 279.4), "a4": Paper("a4", 210.0, 297.0)}
