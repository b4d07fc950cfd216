"""Django's own checks of a server that others can reach."""

from __future__ import annotations

import pytest
from django.conf import settings
from django.core.checks import run_checks

from faywright.web.entry.mode import Mode
from faywright.web.entry.security_settings import LARGEST_BODY
from tests.web.conftest import Start


@pytest.mark.parametrize("mode", [Mode.LAN, Mode.ACCOUNTS])
def test_django_finds_nothing_to_warn_of(start: Start, mode: Mode) -> None:
    start(mode, tls=True)
    found = [one for one in run_checks(include_deployment_checks=True) if not one.is_silenced()]
    assert found == []


def test_the_only_check_that_is_silenced_is_that_for_hsts(start: Start) -> None:
    start(Mode.LAN, tls=True)
    silenced = [one.id for one in run_checks(include_deployment_checks=True) if one.is_silenced()]
    assert silenced == settings.SILENCED_SYSTEM_CHECKS == ["security.W004"]


def test_without_tls_cookies_come_by_other_names(start: Start) -> None:
    start(Mode.HERE)
    assert settings.SESSION_COOKIE_NAME == "faywright-session"
    assert not settings.SESSION_COOKIE_SECURE
    assert not settings.SECURE_SSL_REDIRECT


def test_a_form_is_smaller_than_the_largest_body(start: Start) -> None:
    start(Mode.HERE)
    assert settings.DATA_UPLOAD_MAX_MEMORY_SIZE < LARGEST_BODY == 10 * 1024 * 1024
