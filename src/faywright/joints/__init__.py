"""Joints: what is wanted, its proportions, every way to cut it, and settings for a pile of boards.

A *target* is what a joint should be; a *method* is one way to cut one side of it, in closed form
and as passes; a *solution* is a pair of methods with groups, settings and chances decided.
"""

from faywright.joints.details import with_detail
from faywright.joints.gaps import formula_gaps, gap_forms, gap_meetings, simulate
from faywright.joints.grooves import GROOVE_METHODS, Declined, groove_methods
from faywright.joints.method import Method, Reading, Run, Station
from faywright.joints.proportion import Target, target_of
from faywright.joints.side_groups import SideGroup
from faywright.joints.solution import Solution, effects_on, solve
from faywright.joints.task import Instruments, JointTask, joint_task
from faywright.joints.tongues import (
    HALF_METHODS,
    TONGUE_METHODS,
    TongueJob,
    strip_as_it_is,
    tongue_methods,
)
from faywright.joints.wanted import EdgeDetail, Place, WantedJoint
from faywright.joints.work import Work, work_of

__all__ = [
    "GROOVE_METHODS",
    "HALF_METHODS",
    "TONGUE_METHODS",
    "Declined",
    "EdgeDetail",
    "Instruments",
    "JointTask",
    "Method",
    "Place",
    "Reading",
    "Run",
    "SideGroup",
    "Solution",
    "Station",
    "Target",
    "TongueJob",
    "WantedJoint",
    "Work",
    "effects_on",
    "formula_gaps",
    "gap_forms",
    "gap_meetings",
    "groove_methods",
    "joint_task",
    "simulate",
    "solve",
    "strip_as_it_is",
    "target_of",
    "tongue_methods",
    "with_detail",
    "work_of",
]
