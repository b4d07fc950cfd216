"""A server started as a maker starts it, in a process of its own, and what it takes of memory."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from socket import socket
from threading import Thread

from benchmarks.measuring import MEGABYTE, ROOT

PROGRAM = (sys.executable, "-c", "from faywright.cli import main; main()")
BARE = (sys.executable, "-m", "benchmarks.web_bare")
READY = "Stop with"
SECONDS = 30
"""How long a server has to come to an end by itself."""


@dataclass(frozen=True)
class Server:
    """One that answers, and what its terminal shows."""

    port: int
    process: subprocess.Popen[str]
    shown: str

    @property
    def megabytes(self) -> float:
        """Memory that it has in use now. [MB]"""
        status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return int(re.findall(r"VmRSS:\s+(\d+) kB", status)[0]) * 1024 / MEGABYTE

    @property
    def processor_seconds(self) -> float:
        """Time that processors have spent on it so far. [s]"""
        stat = Path(f"/proc/{self.process.pid}/stat").read_text(encoding="ascii")
        user, system = stat.rpartition(")")[2].split()[11:13]
        return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")

    def kill(self) -> None:
        """End it as a power cut would: at once, and unasked."""
        self.process.kill()
        self.process.wait(SECONDS)


@contextmanager
def serving(folder: Path, store: str) -> Iterator[Server]:
    """``faywright serve`` with a store of its own; what else it keeps is in ``folder``."""
    with running([*PROGRAM, "serve", "--store", store, "--port"], folder) as server:
        yield server


@contextmanager
def bare(folder: Path) -> Iterator[Server]:
    """The peer: Django's least, behind the same HTTP server."""
    with running(BARE, folder) as server:
        yield server


@contextmanager
def running(command: Sequence[str], folder: Path) -> Iterator[Server]:
    """A program that serves at the port given last, until it is left.

    Raises
    ------
    RuntimeError
        It ends before it is ready.
    """
    port = free_port()
    with (folder / "server.log").open("a") as log:
        process = subprocess.Popen(
            [*command, str(port)],
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
            cwd=ROOT,
            env={**os.environ, "XDG_DATA_HOME": str(folder / "data")},
        )
    try:
        yield Server(port, process, _until_ready(process))
    finally:
        if process.poll() is None:
            process.terminate()
        try:
            process.wait(SECONDS)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        if process.stdout is not None:
            process.stdout.close()


def _until_ready(process: subprocess.Popen[str]) -> str:
    out, shown = process.stdout, ""
    if out is None:
        raise RuntimeError("a server without an output")
    for line in out:
        shown += line
        if line.startswith(READY):
            Thread(target=out.read, daemon=True).start()  # lest it waits for a reader
            return shown
    raise RuntimeError(f"the server ended before it was ready: {shown}")


def free_port() -> int:
    """A port of this computer that nobody listens at."""
    with closing(socket()) as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
        return port
