"""Every address: pages in the order of the work, then the API."""

from __future__ import annotations

from django.urls import include, path

from faywright.web.drawing_rules import drawing_rules
from faywright.web.units import units

urlpatterns = [
    path("", include("faywright.web.pieces.piece_urls")),
    path("", include("faywright.web.machine.work_urls")),
    path("", include("faywright.web.shop.shop_urls")),
    path("", include("faywright.web.entry.signing_in_urls")),
    path("units", units, name="units"),
    path("drawing.css", drawing_rules, name="drawing-rules"),
    path("api/", include(("faywright.web.api.urls", "api"))),
]
