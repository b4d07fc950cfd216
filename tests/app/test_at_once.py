"""Many processes, and processes that die: what was said to be kept is kept."""

import random
import signal
import subprocess
import sys
import time
from collections.abc import Collection
from pathlib import Path

import pytest

from faywright.app import open_store, recall
from tests.app.strategies import a_trial

WRITER = """
import sys
from faywright.app import open_store
from tests.app.strategies import a_trial
with open_store(sys.argv[1]) as store:
    while True:
        print(store.add_trial(a_trial(0.01, -0.05)), flush=True)
"""

STARTER = """
import sys, time
from pathlib import Path
from faywright.app import open_store
from tests.app.strategies import a_trial
import faywright.app.opening
faywright.app.opening.set_up_django()
print("ready", flush=True)
while not Path(sys.argv[2]).exists():
    time.sleep(0.001)
with open_store(sys.argv[1]) as store:
    store.add_trial(a_trial(0.01))
"""


def child(code: str, *arguments: str) -> subprocess.Popen[str]:
    return subprocess.Popen(  # noqa: S603 - Python itself
        [sys.executable, "-c", code, *arguments],
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[2],
    )


def killed_amid_writing(place: str, writes: int, chance: random.Random) -> list[int]:
    """Numbers that were said to be kept before the writer was killed."""
    with child(WRITER, place) as writer:
        assert writer.stdout is not None
        said = [int(writer.stdout.readline()) for _ in range(writes)]
        time.sleep(chance.uniform(0, 0.01))
        writer.send_signal(signal.SIGKILL)
        return said + [int(line) for line in writer.stdout if line.endswith("\n")]


def survives(place: str, writes: int, each: int, seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - moments, not secrets
    said: list[int] = []
    while len(said) < writes:
        said += killed_amid_writing(place, chance.randint(1, each), chance)
        with open_store(place) as store:
            kept = {trial.id: trial.record for trial in store.trials()}
            known = store.learned("Mill Lane")
        assert set(said) <= kept.keys()
        assert len(kept.keys() - set(said)) <= one_unsaid(said, kept)
        assert set(kept.values()) == {a_trial(0.01, -0.05)}, "a trial is kept whole"
        assert recall("Mill Lane", place) == known
        said = list(kept)


def one_unsaid(said: list[int], kept: Collection[int]) -> int:
    """One more may be kept than was said: the writer died between the two."""
    return 1 if max(kept) > max(said) else 0


def test_what_was_said_to_be_kept_survives_a_kill(tmp_path: Path) -> None:
    survives(str(tmp_path / "trials.sqlite3"), writes=40, each=15, seed=1)


@pytest.mark.soak
def test_what_was_said_to_be_kept_survives_many_kills(place: str) -> None:
    survives(place, writes=500, each=30, seed=2)


def all_start_at_once(place: str, go: Path, processes: int) -> None:
    started = [child(STARTER, place, str(go)) for _ in range(processes)]
    for each in started:
        assert each.stdout is not None
        assert each.stdout.readline() == "ready\n"
    go.touch()
    for each in started:
        with each:
            assert each.wait(60) == 0
    with open_store(place) as store:
        assert len(store.trials()) == processes


def test_two_processes_may_make_the_store_at_once(tmp_path: Path) -> None:
    all_start_at_once(str(tmp_path / "trials.sqlite3"), tmp_path / "go", processes=2)


@pytest.mark.soak
@pytest.mark.parametrize("time_", range(5))
def test_many_processes_may_make_the_store_at_once(place: str, tmp_path: Path, time_: int) -> None:
    del time_
    all_start_at_once(place, tmp_path / "go", processes=6)
