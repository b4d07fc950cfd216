"""How Django knows this room."""

from __future__ import annotations

from django.apps import AppConfig


class FaywrightConfig(AppConfig):
    """Tables are called ``faywright_trial`` and so on."""

    name = "faywright.app"
    label = "faywright"
