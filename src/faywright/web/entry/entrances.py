"""How people get in, set up at a start and told in the terminal."""

from __future__ import annotations

from faywright.web.entry import accounts
from faywright.web.entry.first_keeper import first_keeper
from faywright.web.entry.mode import Mode, mode
from faywright.web.entry.passphrase import made_passphrase, tidied


def entrance(passphrase: str | None = None, *, new: bool = False) -> tuple[str, ...]:
    """Set it up; lines for the terminal, which alone shows what was made.

    Raises
    ------
    InputError
        The passphrase is too easily guessed.
    """
    if mode() is Mode.LAN:
        return _by_passphrase(passphrase, new=new)
    if mode() is Mode.ACCOUNTS and not accounts.listed():
        return (f"Nobody has an account yet. The first is made with: {first_keeper.new_code()}",)
    return ()


def _by_passphrase(typed: str | None, *, new: bool) -> tuple[str, ...]:
    if typed is not None:
        accounts.keep_passphrase(tidied(typed))
        return ("Everyone signs in with the passphrase you typed.",)
    if accounts.has_passphrase() and not new:
        return (
            "Everyone signs in with the passphrase of last time; "
            "--passphrase new makes another if it is lost.",
        )
    made = made_passphrase()
    accounts.keep_passphrase(made)
    return (f"Everyone signs in with the passphrase: {made}",)
