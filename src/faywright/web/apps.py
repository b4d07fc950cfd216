"""How Django knows this room; it has no tables of its own."""

from __future__ import annotations

from django.apps import AppConfig


class WebConfig(AppConfig):
    """Its templates and static files are found by this name."""

    name = "faywright.web"
    label = "faywright_web"
