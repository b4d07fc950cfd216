"""A browser without a screen: one connection that is kept, cookies, and forms sent as htmx does.

It is cheap on purpose, for it shares the processors with the server that it measures.
"""

from __future__ import annotations

import gzip
import http.client
import re
import time
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

FORM = "application/x-www-form-urlencoded"
PATIENCE = 120
"""How long an answer is waited for. [s]"""


class RefusedError(Exception):
    """The server answered otherwise than was to be expected."""

    def __init__(self, status: int, text: str) -> None:
        """With the status and the page of the answer."""
        super().__init__(f"{status}: {text[:4000]}")
        self.status = status


@dataclass(frozen=True, slots=True)
class Answer:
    """What came back, and how long it took from the first byte sent. [s]"""

    status: int
    headers: http.client.HTTPMessage
    raw: bytes
    seconds: float

    @property
    def text(self) -> str:
        """The page or part, decompressed; empty for files that are no text."""
        packed = self.headers.get("Content-Encoding") == "gzip"
        return (gzip.decompress(self.raw) if packed else self.raw).decode()

    def found(self, pattern: str) -> str:
        """The first group of a pattern that has to be in the text.

        Raises
        ------
        RefusedError
            It is not.
        """
        found = re.search(pattern, self.text)
        if found is None:
            raise RefusedError(self.status, f"no {pattern} in {self.text}")
        return found[1]

    def told(self, *right: int) -> Answer:
        """Itself, if its status is among ``right``.

        Raises
        ------
        RefusedError
            It is another.
        """
        if self.status not in right:
            raise RefusedError(self.status, self.text)
        return self


class Browser:
    """One person at one device."""

    def __init__(self, port: int) -> None:
        """Of a server on this computer."""
        self._port = port
        self._cookies: dict[str, str] = {}
        self._token = ""
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
        self._used = 0.0

    def close(self) -> None:
        """Leave."""
        self._connection.close()

    def follow(self, port: int) -> None:
        """Go on at a server that was started anew, with the cookies one has."""
        self.close()
        self._port = port
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)

    def get(self, path: str, *, part: bool = False) -> Answer:
        """A page, or a part of one as htmx asks for it."""
        return self._ask("GET", path, None, part=part)

    def post(self, path: str, form: Mapping[str, str], *, part: bool = True) -> Answer:
        """What is typed into a form."""
        return self._ask("POST", path, urlencode(form), part=part)

    def begin(self, path: str = "/") -> Answer:
        """Open a page and take its token, with which forms are sent from then on."""
        answer = self.get(path).told(200)
        self._token = answer.found(r'"X-CSRFToken": "(\w+)"')
        return answer

    def sign_in(self, name: str, password: str) -> None:
        """Sign in by name, and go to the list of pieces."""
        form = {"name": name, "password": password, "next": "/"}
        form["csrfmiddlewaretoken"] = self.get("/sign-in").found(
            r'name="csrfmiddlewaretoken" value="(\w+)"'
        )
        self.post("/sign-in", form, part=False).told(302)
        self.begin()

    def _ask(self, method: str, path: str, body: str | None, *, part: bool) -> Answer:
        headers = {"Accept-Encoding": "gzip"}
        if self._cookies:
            headers["Cookie"] = "; ".join(f"{key}={value}" for key, value in self._cookies.items())
        if part:
            headers["HX-Request"] = "true"
        if body is not None:
            headers |= {
                "Content-Type": FORM,
                "X-CSRFToken": self._token,
                "Origin": f"http://127.0.0.1:{self._port}",
            }
        if time.monotonic() - self._used > 5:
            self._connection.close()  # the server closes idle ones after ten seconds
        start = time.perf_counter()
        self._connection.request(method, path, body, headers)
        with self._connection.getresponse() as response:
            raw = response.read()
        seconds = time.perf_counter() - start
        self._used = time.monotonic()
        for cookie in response.headers.get_all("Set-Cookie") or []:
            name, _, value = cookie.partition(";")[0].partition("=")
            self._cookies[name] = value
        return Answer(response.status, response.headers, raw, seconds)
