"""The job: one document of what was measured and chosen."""

from stringline.job.model import (
    AsBuilt,
    Coordinate,
    Corner,
    Cover,
    Job,
    Level,
    Obstacle,
    Offset,
    Pool,
    Run,
    RunReading,
    SurveyInput,
    Tape,
    TapeConditions,
)

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
