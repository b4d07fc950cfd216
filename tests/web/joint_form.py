"""The form of a joint's page, filled in and sent as a browser would."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.http import HttpResponse
from django.test import Client

from faywright.piece.document import tables_of
from faywright.web.changing import NamedPath, value_at
from faywright.web.demo import put_demo
from faywright.web.desk import close_desk, desk, open_desk
from tests.web.forms_read import Sent, form_with

HTMX = {"HX-Request": "true"}


@contextmanager
def demo_open(folder: Path) -> Iterator[None]:
    """A desk with the demo, for many tests that each take a piece of their own."""
    put_demo(open_desk(folder / "shop.sqlite3").store.documents)
    yield
    close_desk()


@dataclass(frozen=True)
class Bench:
    """The demo's piece as a browser sees it."""

    client: Client
    piece: int

    @classmethod
    def new(cls, *, panel: bool = True) -> Bench:
        """The demo's piece once more; its panel stands last, and can be left out."""
        documents = desk().store.documents
        demo = documents.sheet(documents.listed("piece")[-1].id)
        text = demo.revision.text if panel else demo.revision.text.partition("[[panel]]")[0]
        piece = documents.begin("piece", text, title=demo.title, shop=demo.shop, what="once more")
        return cls(Client(headers={"host": "localhost"}), piece.id)

    def url(self, place: int, name: str = "") -> str:
        return f"/pieces/{self.piece}/joints/{place}" + (f"/{name}" if name else "")

    def page(self, place: int) -> bytes:
        found: bytes = self.client.get(self.url(place)).content
        return found

    def filled(self, place: int, group: str, **typed: str) -> Sent:
        """A group as it is shown, with keys typed in: dots in them are written as ``__``."""
        form = form_with(self.page(place), group=group)
        values = {**form.values}
        for key, text in typed.items():
            name = key.replace("__", ".")
            assert name in form.names, name
            values[name] = text
        return values

    def send(self, place: int, group: str, *, to: str = "change", **typed: str) -> HttpResponse:
        """Type into a group and leave it."""
        data = self.filled(place, group, **typed)
        return self.client.post(self.url(place, to), data, headers=HTMX)  # type: ignore[return-value] # it is one, with more on it

    @property
    def text(self) -> str:
        return desk().store.documents.sheet(self.piece).revision.text

    @property
    def revision(self) -> int:
        return desk().store.documents.sheet(self.piece).revision.number

    def stored(self, *path: str) -> object:
        whole: NamedPath = ("joint", *path)
        return value_at(tables_of(self.text), whole)


def beside(content: bytes, key: str) -> str:
    """The fault that stands right after the input of a key; empty if there is none."""
    after = content.decode().partition(f'name="{key}" ')[2].partition('<div class="field')[0]
    return after.partition('class="fault"')[2].partition(">")[2].partition("</p>")[0]
