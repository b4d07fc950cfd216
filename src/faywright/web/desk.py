"""What every page works with: the open store, the planner, and who is at work."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace
from pathlib import Path

from django.contrib.auth.models import User
from django.http import HttpRequest

from faywright.app.bench import Ground
from faywright.app.documents import Sheet
from faywright.app.opening import open_store
from faywright.app.planner import Planner
from faywright.app.store import Store
from faywright.lengths import LengthStyle, Style
from faywright.piece.plan import Plan
from faywright.web.entry.mode import Mode, mode

STYLES: tuple[Style, ...] = ("mm", "decimal inch", "fraction inch")
UNITS_COOKIE = "units"


@dataclass(frozen=True)
class Desk:
    """One open store with its planner; a server has one."""

    store: Store
    given: str | Path | None
    planner: Planner


_open: list[Desk] = []


def open_desk(given: str | Path | None, planner: Planner | None = None) -> Desk:
    """Open the store for this server, under the name by which Django's own tables know it.

    A ``planner`` may have planned for another store before: it goes by what documents say.

    Raises
    ------
    InputError
        It cannot be found, made, read or written.
    """
    close_desk()
    desk = Desk(open_store(given, alias="default"), given, planner or Planner())
    _open.append(desk)
    return desk


def close_desk() -> None:
    """Close what is open, if anything is."""
    while _open:
        _open.pop().store.close()


def desk() -> Desk:
    """The one that is open."""
    return _open[-1]


@dataclass(frozen=True, eq=False)
class OpenPiece:
    """A piece as it stands: its text, that of its shop, and what both say together."""

    sheet: Sheet
    shop: Sheet
    ground: Ground


def open_piece(number: int) -> OpenPiece:
    """The piece of that number, read.

    Raises
    ------
    InputError
        There is none.
    DocumentError
        Its text, or that of its shop, has faults.
    """
    at = desk()
    sheet = at.store.documents.sheet(number)
    shop = at.store.documents.sheet(sheet.shop or 0)
    ground = at.planner.ground(
        sheet.revision.text, shop.revision.text, at.store.learned, today=today()
    )
    return OpenPiece(sheet, shop, ground)


def today() -> datetime.date:
    """The day by which what is known of cutters and zeros is aged."""
    return datetime.datetime.now(datetime.UTC).date()


def author(request: HttpRequest) -> str:
    """Who is at work, as revisions name them; empty where people have no names."""
    user = signed_in(request)
    return "" if user is None or mode() is not Mode.ACCOUNTS else user.get_username()


def signed_in(request: HttpRequest) -> User | None:
    """Whoever has signed in."""
    user = getattr(request, "user", None)
    return user if isinstance(user, User) else None


def style_of(request: HttpRequest, habit: LengthStyle) -> LengthStyle:
    """How lengths are shown: as was asked for on any page, else as the shop's habit is.

    The page is told of it, so that its switch shows where it stands.
    """
    asked = request.COOKIES.get(UNITS_COOKIE, "")
    style = next((style for style in STYLES if style == asked), habit.style)
    request.shown_in = style  # type: ignore[attr-defined] # a note of ours, as middleware leaves
    return habit if style == habit.style else LengthStyle(style)


def shown_in(plan: Plan, style: LengthStyle) -> Plan:
    """The same plan, to be written in another style: nothing of it is worked out anew."""
    habits = replace(plan.shop.habits, style=style)
    return replace(plan, shop=replace(plan.shop, habits=habits))
