"""One configuration of Django for the whole run: that of pages, which holds that of the store."""

from __future__ import annotations

import os

import django
from django.conf import settings

os.environ["DJANGO_SETTINGS_MODULE"] = "faywright.web.settings"
settings.SECRET_KEY = "known to everyone, for tests only"  # noqa: S105 - no secret
django.setup()
