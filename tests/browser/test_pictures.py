"""What the pictures in the README show is what the pages show today."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Opening
from tests.browser.pages import settled
from tests.browser.pictures import PICTURES, RENEWED_BY, WORDS, Picture, file_of, ready, words_on
from tests.browser.served import Served

MOST_BYTES = 120_000


def pictured(name: str) -> list[str]:
    told = WORDS.read_text(encoding="utf-8").split("== ")
    found = next(each for each in told if each.startswith(f"{name}\n"))
    return found.splitlines()[1:]


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
def test_a_page_says_what_its_picture_says(
    fresh: Served, opened: Opening, picture: Picture
) -> None:
    page = settled(opened(fresh.address))
    now = words_on(ready(page, fresh.address, picture), in_sight=False)
    gone = [words for words in pictured(picture.name) if words not in now]
    assert gone == [], f"renew with {RENEWED_BY}"


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
def test_a_picture_is_small(picture: Picture) -> None:
    file = file_of(picture).read_bytes()
    assert file[8:12] == b"WEBP"
    assert len(file) < MOST_BYTES
