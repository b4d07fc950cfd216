"""What browsers are told to refuse on our behalf: one set of headers for every answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.http import HttpRequest, HttpResponseBase

from faywright.web.entry.mode import Mode, mode

_CONTENT = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data:",
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "worker-src": "'self'",
    "form-action": "'self'",
    "frame-ancestors": "'none'",
    "base-uri": "'none'",
}
"""Only what we serve ourselves, and no script or style written into a page."""

_NOT_ALLOWED = (
    "accelerometer",
    "autoplay",
    "browsing-topics",
    "camera",
    "clipboard-read",
    "clipboard-write",
    "compute-pressure",
    "display-capture",
    "encrypted-media",
    "fullscreen",
    "gamepad",
    "geolocation",
    "gyroscope",
    "hid",
    "identity-credentials-get",
    "idle-detection",
    "keyboard-map",
    "local-fonts",
    "magnetometer",
    "microphone",
    "midi",
    "otp-credentials",
    "payment",
    "picture-in-picture",
    "publickey-credentials-create",
    "publickey-credentials-get",
    "serial",
    "speaker-selection",
    "storage-access",
    "sync-xhr",
    "usb",
    "window-management",
    "xr-spatial-tracking",
)
"""Features that browsers know, and name no louder than they must: each has to be listed."""

HEADERS: Mapping[str, str] = {
    "Content-Security-Policy": "; ".join(f"{name} {what}" for name, what in _CONTENT.items()),
    "Permissions-Policy": ", ".join(
        # Setups are read at the machine, with hands that cannot touch the screen to wake it.
        ["screen-wake-lock=(self)", *(f"{name}=()" for name in _NOT_ALLOWED)]
    ),
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}

Answer = Callable[[HttpRequest], HttpResponseBase]


class PolicyMiddleware:
    """Puts the headers on every answer; stands before all that may answer, static files too."""

    def __init__(self, answer: Answer) -> None:
        """``answer`` is the rest of the chain."""
        self._answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """The answer, with the headers; what is behind a sign-in is kept by no cache."""
        response = self._answer(request)
        for name, value in HEADERS.items():
            response[name] = value
        # The gate marks what comes to it; static files never do.
        if mode() is not Mode.HERE and hasattr(request, "at_gate"):
            response["Cache-Control"] = "no-store"
        return response
