"""What the shop has learned, told; and what a maker may correct in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from faywright.app.drifting import drifted
from faywright.app.forgetting import forget
from faywright.app.merging import Imported
from faywright.app.opening import open_store
from faywright.app.recall import is_there, recall
from faywright.app.records import KeptTrial
from faywright.app.shop_memory import (
    SHOWN,
    ShopMemory,
    came_back,
    felt_lines,
    sharpenable,
    shop_memory,
    size_now,
    trial_readings,
)
from faywright.app.trial_run import Answer
from faywright.drawing.drift_chart import drift_chart
from faywright.drawing.svg import svg
from faywright.errors import InputError
from faywright.lengths import LengthStyle, Style, Unit
from faywright.piece.shop_file import read_shop
from faywright.piece.words import Write, finer, writer
from faywright.shop.inventory import Shop

FORMAT = "faywright shop 1"

ELSEWHERE = "Try a piece first, or say with --store where its trials are"


@dataclass(frozen=True, kw_only=True)
class Wish:
    """What is asked of the shop's memory; all but looking at it changes it."""

    shop: Path
    store: str | None
    forget: int | None
    sharpened: str | None
    cuts: str | None
    export: Path | None
    take_in: Path | None
    chart: Path | None
    style: Style | None


def run_shop(wish: Wish) -> Answer:
    """Do what is asked, then tell what is known.

    Raises
    ------
    InputError
        There is no such trial or cutter, or a file cannot be read or written.
    """
    shop = read_shop(wish.shop)
    style = shop.habits.style if wish.style is None else LengthStyle(wish.style)
    done = list(_done(wish, shop, style))
    trials: tuple[KeptTrial, ...] = ()
    if is_there(wish.store):
        with open_store(wish.store) as store:
            trials = store.trials(shop=shop.title, limit=SHOWN, forgotten=True)
    memory = shop_memory(
        shop, recall(shop.title, wish.store), trials, today=datetime.now(UTC).date()
    )
    if wish.chart is not None:
        _draw(wish.chart, wish.store, shop, style)
        done.append(f"Drawn in {wish.chart}.")
    lines = [*done, *_told(memory, writer(style), finer(style))]
    return Answer(lines, _json(memory), questions=False)


def _done(wish: Wish, shop: Shop, style: LengthStyle) -> Iterator[str]:
    if wish.forget is not None:
        forget(wish.forget, shop, wish.store)
        yield f"Trial {wish.forget} is forgotten; what came after it was worked out anew."
    if wish.sharpened is not None:
        yield from _sharpened(wish, shop, wish.sharpened, style)
    elif wish.cuts is not None:
        raise InputError(
            "no cutter is named", where="--cuts", remedy="Name it with --sharpened CUTTER"
        )
    if wish.take_in is not None:
        found = _taken_in(wish.take_in, wish.store)
        yield f"Taken in from {wish.take_in}: {found.added} new, {found.known} known already."
    if wish.export is not None:
        _exported(wish.export, wish.store)
        yield f"Written to {wish.export}."


def _taken_in(path: Path, place: str | None) -> Imported:
    text = None if path.is_dir() else _text(path)  # before a store is made for it
    with open_store(place) as store:
        return store.import_csv(path) if text is None else store.import_json(text, where=str(path))


def _exported(path: Path, place: str | None) -> None:
    if not is_there(place):
        raise InputError(
            "nothing is remembered yet that could be written", where="--export", remedy=ELSEWHERE
        )
    with open_store(place) as store:
        if path.suffix == ".json":
            _write(path, store.export_json())
        else:
            store.export_csv(path)


def _draw(path: Path, place: str | None, shop: Shop, style: LengthStyle) -> None:
    """Write the chart of drift."""
    if path.suffix != ".svg":
        raise InputError(
            f"{path.suffix or 'no ending'!r} is not the ending of a drawing",
            where="--chart",
            remedy="Give a name that ends in .svg",
        )
    if not is_there(place):
        raise InputError(
            "nothing is remembered yet that could be drawn", where="--chart", remedy=ELSEWHERE
        )
    with open_store(place) as store:
        courses, events = drifted(
            shop, store.trials(shop=shop.title), store.sharpenings(shop.title)
        )
    title = f"{shop.title}: what its trial cuts have taught"
    _write(path, svg(drift_chart(courses, events, title=title, style=style)))


def _sharpened(wish: Wish, shop: Shop, mark: str, style: LengthStyle) -> Iterator[str]:
    cutter = sharpenable(shop, mark, where="--sharpened")
    bare: Unit = "mm" if style.style == "mm" else "in"
    size = None if wish.cuts is None else size_now(cutter, wish.cuts, bare=bare, where="--cuts")
    with open_store(wish.store) as store:
        store.sharpened(came_back(shop, cutter, size, datetime.now(UTC)))
    yield f"Cutter {mark} came back from sharpening; earlier trials no longer tell its size."
    if size is None and cutter.cut_size is not None:
        yield (
            f"Plans take what the shop file lists, {writer(style)(cutter.cut_size)}, until you "
            "say what it cuts now with --cuts, or change the shop file."
        )


def _told(memory: ShopMemory, write: Write, fine: Write) -> Iterator[str]:
    yield f"{memory.shop.title}: what its trial cuts have taught"
    yield from (f"  {lesson.said(fine)}" for lesson in memory.known.lessons)
    if not memory.known.lessons:
        yield "  Nothing yet: plans go by the shop file alone."
    if memory.trials:
        yield "Trials, the latest first"
    for trial in memory.trials:
        record = trial.record
        gone = " (forgotten)" if trial.forgotten is not None else ""
        yield (
            f"  {trial.id}  {record.at:%Y-%m-%d}  {record.piece}, {record.joint}: "
            f"{trial_readings(trial, write)}{gone}"
        )
    if memory.reports:
        yield "How dry joints felt"
    yield from (f"  {line}" for line in felt_lines(memory.reports, write))


def _json(memory: ShopMemory) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "shop": memory.shop.title,
        "known": [lesson.json() for lesson in memory.known.lessons],
        "trials": [
            {
                "number": trial.id,
                "at": trial.record.at.isoformat(),
                "piece": trial.record.piece,
                "joint": trial.record.joint,
                "forgotten": trial.forgotten is not None,
            }
            for trial in memory.trials
        ],
        "reports": {timber: len(said) for timber, said in memory.reports.items()},
    }


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeError) as error:
        raise InputError(
            f"it cannot be read ({error})", where=str(path), remedy="Give an exported file"
        ) from error


def _write(path: Path, text: str) -> None:
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise InputError(
            f"it cannot be written ({error.strerror})",
            where=str(path),
            remedy="Give a place you may write to",
        ) from error
