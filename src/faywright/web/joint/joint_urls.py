"""Addresses of the joints of a piece; a joint is named by its place in it, counted from 1."""

from __future__ import annotations

from django.urls import path

from faywright.web.joint.joint_changes import joint_change, joint_remove
from faywright.web.joint.joint_live import joint_live
from faywright.web.joint.joint_new import new_joint
from faywright.web.joint.joint_pages import (
    joint,
    joint_charts,
    joint_row,
    joint_seasons,
    joint_working,
)

JOINT = "pieces/<int:piece>/joints/<int:place>"

urlpatterns = [
    path("pieces/<int:piece>/joints/new", new_joint, name="new-joint"),
    path(JOINT, joint, name="joint"),
    path(f"{JOINT}/change", joint_change, name="joint-change"),
    path(f"{JOINT}/live", joint_live, name="joint-live"),
    path(f"{JOINT}/row", joint_row, name="joint-row"),
    path(f"{JOINT}/charts", joint_charts, name="joint-charts"),
    path(f"{JOINT}/seasons", joint_seasons, name="joint-seasons"),
    path(f"{JOINT}/working", joint_working, name="joint-working"),
    path(f"{JOINT}/remove", joint_remove, name="joint-remove"),
]
