"""Files that nobody else on this computer may read."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from faywright.app.places import FilePlace, Place, data_folder
from faywright.errors import InputError

SHORTEST = 50
"""Characters of a secret key; Django asks for as many (its check security.W009)."""


def write_secret(path: Path, content: bytes) -> None:
    """Write a file for its owner's eyes only, whole or not at all.

    Raises
    ------
    InputError
        It cannot be written.
    """
    new = path.with_name(f"{path.name}.{secrets.token_hex(4)}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with os.fdopen(os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        new.replace(path)
    except OSError as error:
        with suppress(OSError):
            new.unlink(missing_ok=True)
        raise _refused(path, "written", error) from error


def read_secret(path: Path) -> bytes | None:
    """What is in such a file; None if there is none. Others are kept from it, if they were not.

    Raises
    ------
    InputError
        It cannot be read.
    """
    try:
        content = path.read_bytes()
        if os.name == "posix" and path.stat().st_mode & 0o077:
            path.chmod(0o600)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise _refused(path, "read", error) from error
    return content


def secret_key(place: Place) -> str:
    """The key that signs sessions: made once for a store, so that they outlive a restart.

    For a file it is kept beside it. For a server it is kept in this computer's data folder: a copy
    of the database that goes astray then cannot be used to sign anything.

    Raises
    ------
    InputError
        It cannot be read, made or used.
    """
    path = key_file(place)
    found = read_secret(path)
    if found is None:
        write_secret(path, secrets.token_urlsafe(64).encode())
        found = read_secret(path) or b""  # what stands there, should another have made one too
    if len(found) < SHORTEST or not found.isascii() or not found.decode("ascii").isprintable():
        what = "it is not a key that Faywright made"
        raise InputError(what, where=str(path), remedy="Remove it; everyone then signs in again")
    return found.decode("ascii")


def key_file(place: Place) -> Path:
    """Where the key for a store is kept."""
    if isinstance(place, FilePlace):
        path = place.path.absolute()
        return path.with_name(f"{path.name}.key")
    return data_folder() / f"server-{sha256(str(place).encode()).hexdigest()[:16]}.key"


def _refused(path: Path, done: str, error: OSError) -> InputError:
    return InputError(
        f"it cannot be {done} ({error.strerror})",
        where=str(path),
        remedy="Give yourself the right to it, or use a store in a folder of your own",
    )
