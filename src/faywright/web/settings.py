"""Django's settings for pages. What differs from start to start is set by ``serving``."""

from __future__ import annotations

from faywright.app import settings as app
from faywright.web.entry.mode import Mode

FAYWRIGHT_MODE = Mode.HERE
SECRET_KEY = ""  # serving reads or makes the shop's own; Django refuses to start with none
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
DEBUG = False

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "django_htmx",
    *app.INSTALLED_APPS,
    "faywright.web.apps.WebConfig",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "faywright.web.entry.policy.PolicyMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "faywright.web.entry.gate.GateMiddleware",
    "faywright.web.telling.TellingMiddleware",
]
ROOT_URLCONF = "faywright.web.urls"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": False,
        "OPTIONS": {
            "loaders": [
                (
                    "django.template.loaders.cached.Loader",
                    ["django.template.loaders.app_directories.Loader"],
                )
            ],
            "context_processors": [
                "django.template.context_processors.request",
                "faywright.web.frame.frame",
            ],
            "builtins": ["django.templatetags.static", "faywright.web.templatetags.faywright"],
        },
    }
]
DATABASES = app.DATABASES
DEFAULT_AUTO_FIELD = app.DEFAULT_AUTO_FIELD
USE_TZ = app.USE_TZ
TIME_ZONE = app.TIME_ZONE
USE_I18N = app.USE_I18N
LOGGING_CONFIG = app.LOGGING_CONFIG

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True  # served from where they are installed: nothing is collected
WHITENOISE_AUTOREFRESH = False
WHITENOISE_MAX_AGE = 3600
