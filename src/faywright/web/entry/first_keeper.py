"""The code by which the first keeper shows that they can see the server's terminal."""

from __future__ import annotations

import secrets
from threading import Lock

from faywright.errors import InputError
from faywright.web.entry import accounts
from faywright.web.entry.passphrase import made_passphrase, tidied


class FirstKeeper:
    """Good for one account, and only while there is none."""

    def __init__(self) -> None:
        """No code has been given out."""
        self._lock = Lock()
        self._code = ""

    def new_code(self) -> str:
        """Another code; those before are good for nothing any more."""
        self._code = made_passphrase()
        return self._code

    def is_awaited(self) -> bool:
        """Whether an account can be made with the code."""
        return bool(self._code) and not accounts.listed()

    def knows(self, code: str) -> bool:
        """Whether that is the code."""
        given = tidied(code).encode()
        return bool(self._code) and secrets.compare_digest(given, self._code.encode())

    def add(self, code: str, name: str, password: str) -> accounts.Account:
        """Make the first account, a keeper's.

        Raises
        ------
        InputError
            The code is wrong or used, or name or password cannot be.
        """
        with self._lock:
            if not (self.knows(code) and self.is_awaited()):
                remedy = "Type the words that the server's terminal shows"
                raise InputError("it is not the code", where="code", remedy=remedy)
            account = accounts.add(name, password, keeper=True)
            self._code = ""
            return account


first_keeper = FirstKeeper()
"""That of this server."""
