"""What may be asked of serving and of accounts; nothing heavy is loaded for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import NoReturn

from faywright.errors import InputError
from faywright.web.entry.attempts import FREE

PORT = 8417
THREADS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """What shall be served, and to whom.

    ``store`` is as for ``place_of``; one that has held nothing yet gets the ``demo``.
    ``passphrase`` is one that the maker chose; without it, and unless ``new_passphrase`` is
    wanted, the one of last time stays good. ``certificate`` and ``key`` are the maker's own.
    """

    store: str | None = None
    demo: bool = True
    port: int = PORT
    lan: bool = False
    passphrase: str | None = None
    new_passphrase: bool = False
    certificate: Path | None = None
    key: Path | None = None
    threads: int = THREADS

    def __post_init__(self) -> None:
        """Refuse what does not go together."""
        if not 0 < self.port < 65536:
            _refuse(f"{self.port} is no port", "--port", "Give one from 1024 to 65535")
        if not 1 <= self.threads <= FREE:  # see there
            _refuse(f"{self.threads} threads cannot be used", "threads", f"Use 1 to {FREE}")
        if (self.certificate is None) != (self.key is None):
            _refuse("one is there without the other", "--certificate and --key", "Give both")
        if self.certificate is not None and not self.lan:
            _refuse("this computer talks to itself without one", "--certificate", "Add --lan")
        if (self.passphrase is not None or self.new_passphrase) and not self.lan:
            _refuse("nobody is asked for one on this computer", "--passphrase", "Add --lan")


class Doing(StrEnum):
    """What is done with an account."""

    ADD = "add"
    REMOVE = "remove"
    PASSWORD = "password"  # noqa: S105 - a word of the command line
    LIST = "list"


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountWish:
    """What is asked for; ``password`` is called for one, if one is needed."""

    doing: Doing
    name: str | None
    store: str | None
    keeper: bool
    password: Callable[[], str]

    def __post_init__(self) -> None:
        """Refuse what does not go together."""
        if (self.name is None) != (self.doing is Doing.LIST):
            what = "no name is given" if self.name is None else "all are listed, whatever the name"
            remedy = "Write: faywright account add NAME, or: faywright account list"
            _refuse(what, "account", remedy)
        if self.keeper and self.doing is not Doing.ADD:
            remedy = "On the page of accounts, a keeper can make somebody else one"
            _refuse("it goes with add only", "--keeper", remedy)


def _refuse(what: str, where: str, remedy: str) -> NoReturn:
    raise InputError(what, where=where, remedy=remedy)
