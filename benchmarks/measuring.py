"""Times and memory, taken so that two runs can be compared."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
LAUNCH = Path(__file__).parent / "launch.py"
MEGABYTE = 1e6


@dataclass(frozen=True, slots=True)
class Cost:
    """Wall time [s], greatest memory in use [MB], and what was printed."""

    seconds: float
    megabytes: float
    printed: str


def beside(
    ours: Callable[[], object], theirs: Callable[[], object], repeats: int
) -> tuple[float, float]:
    """Median wall time of our work [s], and the median of its ratio to the peer's.

    The two run by turns, each warmed up once, so that what else the machine does meets both.
    """
    ours()
    theirs()
    times = [(_time(ours), _time(theirs)) for _ in range(repeats)]
    return statistics.median(a for a, _ in times), statistics.median(a / b for a, b in times)


def _time(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def alone(command: Sequence[str]) -> Cost:
    """Run a command in a process of its own, to its end.

    Raises
    ------
    CalledProcessError
        It fails.
    """
    launch = [sys.executable, "-I", "-S", str(LAUNCH), *command]
    done = subprocess.run(launch, stdout=subprocess.PIPE, cwd=ROOT, check=True, text=True)
    *printed, last = done.stdout.splitlines()
    seconds, memory = last.split()
    # Linux counts in kibibytes, macOS in bytes.
    scale = 1 if sys.platform == "darwin" else 1024
    return Cost(float(seconds), int(memory) * scale / MEGABYTE, "\n".join(printed))


def median_alone(command: Sequence[str], repeats: int) -> Cost:
    """Medians of several runs of a command, each in a process of its own."""
    costs = [alone(command) for _ in range(repeats)]
    return Cost(
        statistics.median(cost.seconds for cost in costs),
        statistics.median(cost.megabytes for cost in costs),
        costs[-1].printed,
    )
