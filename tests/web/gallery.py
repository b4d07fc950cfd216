"""One page with everything that pages are made of, to be looked at and to be measured.

No part of the application: ``python -m tests.web.gallery FOLDER`` writes pictures of it.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from itertools import product
from pathlib import Path
from typing import Literal

from django.http import HttpRequest, HttpResponse
from django.template import engines
from django.test import Client, override_settings
from django.urls import path
from playwright.sync_api import Browser, Page, Route, sync_playwright

from faywright.drawing.drawings import plan_drawings
from faywright.drawing.model import Drawing
from faywright.piece.opened import open_documents
from faywright.piece.plan import plan
from faywright.web.drawing_rules import drawing_rules
from tests import conftest  # noqa: F401 - it configures Django

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "examples" / "hall-bench" / "piece.toml"
ADDRESS = "http://localhost"
SIZES = {"phone": (360, 800), "tablet": (820, 1180), "desk": (1440, 900)}
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
CHARTS = ("by-thickness", "clearances", "errors", "year")


@cache
def drawings() -> dict[str, Drawing]:
    """All drawings of the demo by their stems."""
    documents = open_documents(DEMO)
    made = plan(documents.piece, documents.shop)
    return {each.stem: each.drawing for each in plan_drawings(made)}


def gallery(request: HttpRequest) -> HttpResponse:
    """The page."""
    found = drawings()
    page = engines["django"].from_string((HERE / "gallery.html").read_text(encoding="utf-8"))
    context = {
        "joint": found["joint-1-back"],
        "setup": found["setup-03-along-feed"],
        "charts": [found[stem] for stem in found if any(chart in stem for chart in CHARTS)],
        "marks": [f"B{k:02}" for k in range(1, 5)],
    }
    return HttpResponse(page.render(context, request))


urlpatterns = [
    path("", gallery, name="pieces"),
    path("shop", gallery, name="shop"),
    path("timber", gallery, name="timber"),
    path("units", gallery, name="units"),
    path("sign-out", gallery, name="sign-out"),
    path("drawing.css", drawing_rules, name="drawing-rules"),
]


@contextmanager
def shown(browser: Browser, size: str, scheme: Literal["light", "dark"]) -> Iterator[Page]:
    """The gallery in a browser of that size; answers come from here, not over a network."""
    client = Client(headers={"host": "localhost"})
    width, height = SIZES[size]

    def answer(route: Route) -> None:
        found = client.get(route.request.url.removeprefix(ADDRESS))
        route.fulfill(status=found.status_code, headers=dict(found.items()), body=found.getvalue())
        found.close()

    with override_settings(ROOT_URLCONF=__name__):
        page = browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)
        page.route("**/*", answer)
        page.goto(ADDRESS)
        yield page
        page.close()


def main(folder: Path) -> None:
    """Write a picture for each size and scheme."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox"]
        )
        for size, scheme in product(SIZES, SCHEMES):
            with shown(browser, size, scheme) as page:
                page.screenshot(path=folder / f"gallery-{size}-{scheme}.png", full_page=True)
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
