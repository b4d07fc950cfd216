"""Run the benchmarks and print their tables."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from benchmarks import drawing, landings, memory, speed, timber, trials, web, workshop
from benchmarks.promise import report

QUICK_PILES = 20
QUICK_REPEATS = 3
QUICK_SHOPS = 10
QUICK_TRIALS = 200
HOW = "medians; below 1 x is faster or smaller than the peer"


def main(arguments: Sequence[str] | None = None) -> None:
    """Run what is asked for."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("--only", choices=PARTS, help="run only one of them")
    parser.add_argument(
        "--quick", action="store_true", help="fewer piles and repetitions: a look, not a result"
    )
    asked = parser.parse_args(arguments)
    for name, part in PARTS.items():
        if asked.only in (None, name):
            part(quick=asked.quick)


def _speed(*, quick: bool) -> None:
    repeats = QUICK_REPEATS if quick else speed.REPEATS
    _say(f"SPEED, {HOW}")
    results = []
    for part in (speed.kernel, speed.sampling, speed.demo, speed.help_page):
        results += part(repeats)
    _say(report(results))
    _say(speed.large_report(speed.large_panels(speed.QUICK_LARGE if quick else speed.LARGE)))


def _drawing(*, quick: bool) -> None:
    repeats = QUICK_REPEATS if quick else speed.REPEATS
    _say(f"DRAWINGS AND THE PACKET, {HOW}")
    walls = drawing.QUICK_WALLS if quick else drawing.WALLS
    _say(report([*drawing.packets(repeats, walls), *drawing.drawings(repeats, drawing.pieces())]))


def _timber(*, quick: bool) -> None:
    repeats = QUICK_REPEATS if quick else speed.REPEATS
    _say(f"TIMBER, {HOW}")
    _say(report([part(repeats) for part in (timber.year, timber.look_up, timber.loading)]))


def _workshop(*, quick: bool) -> None:
    _say("THE VIRTUAL WORKSHOP")
    piles = QUICK_PILES if quick else workshop.PILES
    _say(landings.report(workshop.panels(piles=piles, progress=_progress)))


def _memory(*, quick: bool) -> None:
    _say(f"THE SHOP'S MEMORY, {HOW}")
    repeats = QUICK_REPEATS if quick else speed.REPEATS
    kept = QUICK_TRIALS if quick else memory.TRIALS
    _say(report([memory.update(repeats), memory.remembered(repeats, kept)]))


def _trials(*, quick: bool) -> None:
    _say("TRIAL CUTS")
    shops, calibrated = (QUICK_SHOPS, QUICK_SHOPS) if quick else (trials.SHOPS, trials.CALIBRATED)
    courses = trials.courses(shops=shops, progress=_progress)
    _say(trials.report(courses, trials.held(shops=calibrated, progress=_progress)))


def _web(*, quick: bool) -> None:
    _say(f"PAGES, {HOW}")
    for part in web.reports(web.QUICK if quick else web.Size()):
        _say(part)


PARTS = {
    "speed": _speed,
    "drawing": _drawing,
    "timber": _timber,
    "workshop": _workshop,
    "trials": _trials,
    "memory": _memory,
    "web": _web,
}


def _say(text: str) -> None:
    print(f"{text}\n", flush=True)


def _progress(done: int, whole: int) -> None:
    if sys.stderr.isatty() and done % 10 == 0:
        end = "\r" if done + 10 < whole else "\n"
        print(f"{done} of {whole}", end=end, file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
