"""Running the cover in: the lead to expect, and what a crooked cover's readings say."""

from stringline.lead.diagnosis import diagnose, diagnose_job
from stringline.lead.predict import predict_lead
from stringline.lead.result import (
    CardRow,
    CauseFound,
    Diagnosis,
    LeadAfter,
    LeadPrediction,
    Lesson,
    NextReading,
    Share,
)

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
