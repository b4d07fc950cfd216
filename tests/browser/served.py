"""A real server, started as a maker starts it."""

from __future__ import annotations

import os
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

PATIENCE_S = 30.0
"""For anything that is waited for; a slow machine takes a tenth of it."""

PIECE, SHOP = 2, 1
"""The demo's numbers in a new store."""


@dataclass
class Served:
    """A server on a free port with a store of its own; it can be killed and started again."""

    store: Path
    port: int
    options: tuple[str, ...] = ()
    process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        scheme = "https" if "--lan" in self.options else "http"
        return f"{scheme}://127.0.0.1:{self.port}"

    @property
    def said(self) -> str:
        """What the terminal shows."""
        return self._log.read_text(encoding="utf-8")

    @property
    def _log(self) -> Path:
        return self.store.with_suffix(".log")

    def start(self) -> None:
        program = Path(sys.executable).with_name("faywright")
        command = [str(program), "serve", "--port", str(self.port), "--store", str(self.store)]
        told = {name: value for name, value in os.environ.items() if "DJANGO" not in name}
        told["XDG_DATA_HOME"] = str(self.store.parent)  # where a certificate is kept
        with self._log.open("ab") as log:
            self.process = subprocess.Popen(  # noqa: S603 - our own program
                [*command, *self.options], stdout=log, stderr=log, env=told
            )
        self._wait()

    def kill(self) -> None:
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            self.process = None

    def _wait(self) -> None:
        """Until the first page is there."""
        until = time.monotonic() + PATIENCE_S
        while True:
            try:
                fetched(self.address)
            except (urllib.error.URLError, OSError) as error:
                ended = self.process is None or self.process.poll() is not None
                if ended or time.monotonic() > until:
                    raise AssertionError(f"the server did not start: {self.said}") from error
                time.sleep(0.05)
            else:
                return


def fetched(address: str) -> bytes:
    """What is at an address; the certificate of a test's server is its own."""
    trusting = ssl.create_default_context()
    trusting.check_hostname = False
    trusting.verify_mode = ssl.CERT_NONE
    with urllib.request.urlopen(address, timeout=PATIENCE_S, context=trusting) as answer:  # noqa: S310 - ours
        found: bytes = answer.read()
        return found


def free_port() -> int:
    with socket.socket() as at:
        at.bind(("127.0.0.1", 0))
        return int(at.getsockname()[1])


@contextmanager
def serving(folder: Path, *options: str) -> Iterator[Served]:
    served = Served(folder / "shop.sqlite3", free_port(), options)
    served.start()
    try:
        yield served
    finally:
        served.kill()
