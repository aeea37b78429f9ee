"""The job: one document of what was measured and chosen."""

from stringline.job.model import Corner, Cover, Job, Obstacle, Pool, SurveyInput, TapeConditions
from stringline.job.readings import AsBuilt, Coordinate, Level, Offset, Run, RunReading, Tape

__all__ = [
    "AsBuilt",
    "Coordinate",
    "Corner",
    "Cover",
    "Job",
    "Level",
    "Obstacle",
    "Offset",
    "Pool",
    "Run",
    "RunReading",
    "SurveyInput",
    "Tape",
    "TapeConditions",
]
