"""Setups: choosing a way, what to set and check, and the hazards read off the simulated cut."""

from faywright.setups.choice import Choice, Refused, Way, choose
from faywright.setups.hazards import CAUTIONS, Caution, Hazard, feed_of
from faywright.setups.report import StationReport, station_reports
from faywright.setups.setup import CheckReading, Correction, Setting, Setup
from faywright.setups.sheet import setups_of
from faywright.setups.simulate import PassResult, run_passes

__all__ = [
    "CAUTIONS",
    "Caution",
    "CheckReading",
    "Choice",
    "Correction",
    "Hazard",
    "PassResult",
    "Refused",
    "Setting",
    "Setup",
    "StationReport",
    "Way",
    "choose",
    "feed_of",
    "run_passes",
    "setups_of",
    "station_reports",
]
