"""Forms of a page as a browser would send them."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

Sent = dict[str, str | list[str]]


@dataclass
class PageForm:
    """One form: where it is sent, what is sent if nothing is typed, and what is marked invalid."""

    action: str = ""
    method: str = "get"
    values: Sent = field(default_factory=dict)
    invalid: set[str] = field(default_factory=set)
    names: set[str] = field(default_factory=set)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[PageForm] = []
        self._select = ""
        self._fieldset_invalid = False
        self._open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._open = True
            self.forms.append(PageForm(given.get("action", ""), given.get("method", "get")))
        elif not self._open:
            return
        elif tag == "fieldset":
            self._fieldset_invalid = "aria-invalid" in given
        elif tag == "select":
            self._select = given["name"]
            self._note(given["name"], given)
        elif tag == "option" and self._select:
            values = self.forms[-1].values
            if "selected" in given or self._select not in values:
                values[self._select] = given["value"]
        elif tag == "input":
            self._input(given)

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = False
        elif tag == "select":
            self._select = ""
        elif tag == "fieldset":
            self._fieldset_invalid = False

    def _input(self, given: dict[str, str]) -> None:
        form, name = self.forms[-1], given.get("name", "")
        if not name:
            return
        self._note(name, given)
        if given.get("type") != "checkbox":
            form.values[name] = given.get("value", "")
            return
        several = form.values.setdefault(name, [])
        if "checked" in given and isinstance(several, list):
            several.append(given.get("value", "on"))

    def _note(self, name: str, given: dict[str, str]) -> None:
        self.forms[-1].names.add(name)
        if "aria-invalid" in given or (given.get("type") == "checkbox" and self._fieldset_invalid):
            self.forms[-1].invalid.add(name)


def forms_of(page: bytes) -> list[PageForm]:
    """All forms of a page, in its order."""
    reader = _Reader()
    reader.feed(page.decode())
    return reader.forms


def form_with(page: bytes, **values: str) -> PageForm:
    """The form whose inputs have these values."""
    found = [
        form
        for form in forms_of(page)
        if all(form.values.get(name) == value for name, value in values.items())
    ]
    if not found:
        raise AssertionError(f"no form with {values}")
    return found[0]
