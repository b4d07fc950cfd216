"""What Django has to be told for safety's sake; all of it is set when a server starts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from faywright.web.entry.mode import Mode

_VALIDATION = "django.contrib.auth.password_validation"
_WEEKS = 2 * 7 * 24 * 3600
_MEBIBYTE = 1024 * 1024

LARGEST_BODY = 10 * _MEBIBYTE
"""Bytes of one request; only the server can refuse it before it is read."""

FIXED: Mapping[str, object] = {
    # scrypt takes memory as well as time from who guesses, and comes with Python.
    "PASSWORD_HASHERS": [
        "django.contrib.auth.hashers.ScryptPasswordHasher",
        "django.contrib.auth.hashers.PBKDF2PasswordHasher",
    ],
    "AUTH_PASSWORD_VALIDATORS": [
        {"NAME": f"{_VALIDATION}.UserAttributeSimilarityValidator"},
        {"NAME": f"{_VALIDATION}.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
        {"NAME": f"{_VALIDATION}.CommonPasswordValidator"},
        {"NAME": f"{_VALIDATION}.NumericPasswordValidator"},
    ],
    "LOGIN_URL": "sign-in",
    "SESSION_ENGINE": "django.contrib.sessions.backends.db",
    "SESSION_COOKIE_AGE": _WEEKS,
    "SESSION_COOKIE_HTTPONLY": True,
    # Links from a message or another page lead to ours; changes want a token all the same.
    "SESSION_COOKIE_SAMESITE": "Lax",
    "CSRF_COOKIE_HTTPONLY": True,  # pages carry the token themselves
    "CSRF_COOKIE_SAMESITE": "Lax",
    "CSRF_COOKIE_AGE": _WEEKS,
    "CSRF_FAILURE_VIEW": "faywright.web.entry.refusals.csrf_failure",
    "SECURE_REFERRER_POLICY": "same-origin",
    "SECURE_CROSS_ORIGIN_OPENER_POLICY": "same-origin",
    "SECURE_CONTENT_TYPE_NOSNIFF": True,
    "SECURE_PROXY_SSL_HEADER": None,  # no header makes plain HTTP pass for TLS
    "USE_X_FORWARDED_HOST": False,
    "USE_X_FORWARDED_PORT": False,
    "X_FRAME_OPTIONS": "DENY",
    # A form or a call with a document in it; files may be larger, up to LARGEST_BODY.
    "DATA_UPLOAD_MAX_MEMORY_SIZE": 2 * _MEBIBYTE,
    "DATA_UPLOAD_MAX_NUMBER_FIELDS": 1000,
    "DATA_UPLOAD_MAX_NUMBER_FILES": 10,
    "FILE_UPLOAD_MAX_MEMORY_SIZE": 2 * _MEBIBYTE,
    "FILE_UPLOAD_PERMISSIONS": 0o600,
    # HSTS stays off. Browsers ignore it for addresses in numbers, and where the certificate is
    # one they warned of. Where they heed it, it holds for every port of the computer's name: other
    # things that it serves would be cut off, and ours too, without a way past the warning, as soon
    # as the certificate is made anew. Plain HTTP is not spoken beyond loopback in any case.
    "SECURE_HSTS_SECONDS": 0,
    "SILENCED_SYSTEM_CHECKS": ["security.W004"],  # asks for HSTS: see above
}


def start_settings(
    mode: Mode, *, key: str, hosts: Sequence[str], tls: bool
) -> Mapping[str, object]:
    """All settings that safety hangs on, for a server that is about to start."""
    # Browsers take a cookie of the first kind only over TLS, and from no other port or host.
    prefix = "__Host-" if tls else "faywright-"
    return {
        **FIXED,
        "FAYWRIGHT_MODE": mode,
        "SECRET_KEY": key,
        "ALLOWED_HOSTS": list(hosts),
        "SECURE_SSL_REDIRECT": tls,
        "SESSION_COOKIE_NAME": f"{prefix}session",
        "SESSION_COOKIE_SECURE": tls,
        "CSRF_COOKIE_NAME": f"{prefix}csrf",
        "CSRF_COOKIE_SECURE": tls,
    }
