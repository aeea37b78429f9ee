"""Running the cover in: the lead to expect, and what a crooked cover's readings say."""

from stringline.running.diagnosis import diagnose
from stringline.running.predict import predict_lead
from stringline.running.result import (
    CardRow,
    CauseFound,
    Diagnosis,
    LeadAfter,
    LeadPrediction,
    Lesson,
    NextReading,
    Share,
)
from stringline.running.whole import diagnose_job

__all__ = [
    "CardRow",
    "CauseFound",
    "Diagnosis",
    "LeadAfter",
    "LeadPrediction",
    "Lesson",
    "NextReading",
    "Share",
    "diagnose",
    "diagnose_job",
    "predict_lead",
]
