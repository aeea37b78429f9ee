"""The job: one document of what was measured and chosen."""

from stringline.job.model import (
    AsBuilt,
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
)

__all__ = [
    "AsBuilt",
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
]
