"""The survey: raw readings to coordinates with their uncertainty, and what the readings say about each other."""

from stringline.survey.result import Ellipse, GlobalTest, NextTape, PointResult, Struck, Survey, Suspect, TapeResult

__all__ = ["Ellipse", "GlobalTest", "NextTape", "PointResult", "Struck", "Survey", "Suspect", "TapeResult"]
