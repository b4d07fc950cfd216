"""Many processes at the same document, and processes that die while they write to it."""

import random
import signal
import time
from pathlib import Path

import pytest

from faywright.app import open_store
from tests.app.test_at_once import child

WRITER = """
import sys
from faywright.app import open_store
with open_store(sys.argv[1]) as store:
    sheet = store.documents.sheet(1)
    while True:
        last = sheet.revision.number
        text = f"{last + 1} " * 5000
        sheet = store.documents.revise(1, last, text, title=str(last + 1), what="on")
        print(sheet.revision.number, flush=True)
"""

ADDER = """
import sys
from faywright.app import open_store
from tests.app.test_documents import add
with open_store(sys.argv[1]) as store:
    for number in range(int(sys.argv[3])):
        add(store.documents, 1, f"{sys.argv[2]}{number}")
"""


def begin(place: str) -> None:
    with open_store(place) as store:
        store.documents.begin("shop", "begun", title="1", what="begun")


def killed_amid_writing(place: str, writes: int, chance: random.Random) -> int:
    """The last revision that was said to be kept before the writer was killed."""
    with child(WRITER, place) as writer:
        assert writer.stdout is not None
        said = [int(writer.stdout.readline()) for _ in range(writes)]
        time.sleep(chance.uniform(0, 0.01))
        writer.send_signal(signal.SIGKILL)
        return ([*said, *(int(line) for line in writer.stdout if line.endswith("\n"))])[-1]


def survives(place: str, writes: int, each: int, seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - moments, not secrets
    begin(place)
    said = 1
    while said < writes:
        said = killed_amid_writing(place, chance.randint(1, each), chance)
        with open_store(place) as store:
            sheet, steps = store.documents.sheet(1), store.documents.history(1)
        head = sheet.revision.number
        assert head - said in (0, 1), "one more may be kept than was said"
        assert sheet.revision.text == f"{head} " * 5000, "a revision is kept whole"
        assert sheet.title == str(head)
        assert [step.number for step in steps] == list(range(head, 0, -1))
        said = head


def test_a_revision_that_was_said_to_be_kept_survives_a_kill(tmp_path: Path) -> None:
    survives(str(tmp_path / "trials.sqlite3"), writes=20, each=10, seed=3)


@pytest.mark.soak
def test_revisions_that_were_said_to_be_kept_survive_many_kills(place: str) -> None:
    survives(place, writes=400, each=30, seed=4)


def all_revise_at_once(place: str, processes: int, each: int) -> None:
    begin(place)
    started = [child(ADDER, place, name, str(each)) for name in "abcdefgh"[:processes]]
    for process in started:
        with process:
            assert process.wait(120) == 0
    with open_store(place) as store:
        words = store.documents.sheet(1).revision.text.split()
        assert len(store.documents.history(1)) == 1 + processes * each
    wanted = {f"{name}{number}" for name in "abcdefgh"[:processes] for number in range(each)}
    assert set(words) == wanted | {"begun"}
    for name in "abcdefgh"[:processes]:
        mine = [word for word in words if word[0] == name and word[1:].isdecimal()]
        assert mine == [f"{name}{number}" for number in range(each)]


def test_two_processes_may_revise_a_document_at_once(tmp_path: Path) -> None:
    all_revise_at_once(str(tmp_path / "trials.sqlite3"), processes=2, each=10)


@pytest.mark.soak
def test_many_processes_may_revise_a_document_at_once(place: str) -> None:
    all_revise_at_once(place, processes=6, each=30)
