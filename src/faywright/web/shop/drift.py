"""What zeros and cutters did over time: the chart, and its numbers as a table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from faywright.app.drifting import drifted
from faywright.drawing.drift_chart import Drifted, Event, bounds, drift_chart
from faywright.piece.words import Write, finer
from faywright.web.desk import desk
from faywright.web.shop.shop_cards import open_shop


@dataclass(frozen=True, slots=True)
class DriftRow:
    """What was believed of one thing after one trial or sharpening, lengths written."""

    when: str
    mean: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class DriftTable:
    """One thing over time; ``more`` says what it is where it lies above nought."""

    name: str
    more: str
    rows: tuple[DriftRow, ...]


@require_GET
def drift(request: HttpRequest, shop: int) -> HttpResponse:
    """The chart of a shop, or a word that nothing was learned yet."""
    at = open_shop(request, shop)
    store = desk().store
    courses, events = drifted(
        at.shop, store.trials(shop=at.shop.title), store.sharpenings(at.shop.title)
    )
    chart = None
    if courses:
        title = f"{at.shop.title}: what its trial cuts have taught"
        chart = drift_chart(courses, events, title=title, style=at.style)
    tables = tuple(_tables(courses, events, finer(at.style)))
    return render(
        request, "faywright/drift.html", {"sheet": at.sheet, "chart": chart, "tables": tables}
    )


def _tables(
    courses: tuple[Drifted, ...], events: tuple[Event, ...], write: Write
) -> Iterator[DriftTable]:
    for course in courses:
        rows = []
        for at, point in course.points:
            low, high = bounds(point)
            rows.append(DriftRow(events[at].told, write(point.mean), write(low), write(high)))
        yield DriftTable(course.name, course.more, tuple(rows))
