"""From answer to answer, as the links of the API's description lead."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import settings

from faywright.web.demo import put_demo
from faywright.web.desk import close_desk, open_desk
from tests.web.asking import QUICK, schema

Walks: Any = schema.as_state_machine()


class Walk(Walks):  # type: ignore[misc] # made by the schema
    """Each walk is in a store of its own, for what is there decides the answers."""

    folder: TemporaryDirectory[str]

    def setup(self) -> None:
        super().setup()
        self.folder = TemporaryDirectory(prefix="faywright-walk-")
        put_demo(open_desk(Path(self.folder.name) / "shop.sqlite3").store.documents)

    def teardown(self) -> None:
        close_desk()
        self.folder.cleanup()
        super().teardown()


WALK = settings(QUICK, max_examples=6, stateful_step_count=8)
LONG_WALK = settings(QUICK, max_examples=300, stateful_step_count=20)


def test_every_answer_leads_on_as_described() -> None:
    Walk.run(settings=WALK)


@pytest.mark.soak
def test_every_answer_leads_on_as_described_for_long() -> None:
    Walk.run(settings=LONG_WALK)
