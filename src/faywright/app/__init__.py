"""The shop's memory of trial cuts. Nothing here loads a database before one is opened."""

from faywright.app.memory import Memory, Remembered
from faywright.app.opening import open_store
from faywright.app.places import FilePlace, ServerPlace, place_of
from faywright.app.recall import recall
from faywright.app.records import (
    Contents,
    FeelRecord,
    Kept,
    KeptTrial,
    Learned,
    Learning,
    MeasurementRecord,
    Share,
    SharpenedRecord,
    TrialRecord,
)

__all__ = [
    "Contents",
    "FeelRecord",
    "FilePlace",
    "Kept",
    "KeptTrial",
    "Learned",
    "Learning",
    "MeasurementRecord",
    "Memory",
    "Remembered",
    "ServerPlace",
    "Share",
    "SharpenedRecord",
    "TrialRecord",
    "open_store",
    "place_of",
    "recall",
]
