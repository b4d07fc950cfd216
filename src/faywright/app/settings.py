"""Django's settings: the one module for the store and for pages.

Opened stores add themselves to the databases, so none is named here.
"""

from __future__ import annotations

INSTALLED_APPS = ["faywright.app.apps.FaywrightConfig"]
DATABASES: dict[str, dict[str, object]] = {}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
USE_TZ = True
TIME_ZONE = "UTC"
USE_I18N = False
LOGGING_CONFIG = None  # half a second's worth of handlers that nothing here writes to
