"""Addresses of the work at the machine: setups, trial cuts, and what is printed or taken along."""

from __future__ import annotations

from django.urls import path

from faywright.web.machine.offline import offline
from faywright.web.machine.packet_page import drawing_file, packet, packet_file, plan_file
from faywright.web.machine.setups_page import setup_done, setups
from faywright.web.machine.trial_page import trial

urlpatterns = [
    path("pieces/<int:piece>/setups", setups, name="setups"),
    path("pieces/<int:piece>/setups/done", setup_done, name="setup-done"),
    path("pieces/<int:piece>/joints/<int:joint>/trial", trial, name="trial"),
    path("pieces/<int:piece>/packet", packet, name="packet"),
    path("pieces/<int:piece>/packet.pdf", packet_file, name="packet-file"),
    path("pieces/<int:piece>/drawings/<str:name>", drawing_file, name="drawing-file"),
    path("pieces/<int:piece>/plan.json", plan_file, name="plan-file"),
    path("offline.js", offline, name="offline"),
]
