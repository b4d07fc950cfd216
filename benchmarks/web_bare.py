"""The peer of pages: a bare view of Django's, behind the same HTTP server as ours.

No middleware, no database, no template, nothing planned: a form is read, and an answer as long as
that of an edit is sent. Run as ``python -m benchmarks.web_bare PORT``.
"""

from __future__ import annotations

import sys

from django.conf import settings
from django.core.handlers.wsgi import WSGIHandler
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, path

from faywright.web.entry.listening import Listening
from faywright.web.entry.wishes import THREADS

ANSWER = b"<p>An answer.</p>\n" * 800
"""Some 14 kB, as the new drawing of a joint has with its figures, compressed or not."""


def view(request: HttpRequest) -> HttpResponse:
    """The same for all who ask, with the form read."""
    sent = request.POST.dict()
    return HttpResponse(ANSWER, headers={"X-Fields": str(len(sent))})


urlpatterns: list[URLPattern] = [path("", view)]


def main() -> None:
    """Serve until it is stopped."""
    settings.configure(
        ALLOWED_HOSTS=["*"],
        ROOT_URLCONF=__name__,
        MIDDLEWARE=[],
        INSTALLED_APPS=[],
        SECRET_KEY="signs nothing",  # noqa: S106
    )
    server = Listening("127.0.0.1", int(sys.argv[1]), threads=THREADS)
    server.wsgi_app = WSGIHandler()
    server.prepare()
    print("Stop with Ctrl+C.", flush=True)
    server.serve()


if __name__ == "__main__":
    main()
