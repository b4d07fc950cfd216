"""Keys are made once, and are nobody else's business."""

from __future__ import annotations

from pathlib import Path

import pytest

from faywright.app.places import FilePlace, ServerPlace
from faywright.errors import InputError
from faywright.web.entry.secret_files import key_file, read_secret, secret_key, write_secret

SERVER = ServerPlace(host="bench", database="shop", user="ann", password="one")  # noqa: S106


def test_a_key_outlives_a_restart(tmp_path: Path) -> None:
    place = FilePlace(tmp_path / "shop.sqlite3")
    key = secret_key(place)
    assert len(key) > 80
    assert secret_key(place) == key


def test_every_store_has_its_own_key(tmp_path: Path) -> None:
    one, other = (secret_key(FilePlace(tmp_path / name)) for name in ("a.sqlite3", "b.sqlite3"))
    assert one != other


def test_nobody_else_can_read_a_key(tmp_path: Path) -> None:
    place = FilePlace(tmp_path / "shop.sqlite3")
    secret_key(place)
    assert key_file(place).stat().st_mode & 0o777 == 0o600
    assert [path.name for path in tmp_path.iterdir()] == ["shop.sqlite3.key"]


def test_a_secret_is_never_open_to_others_not_even_at_first(tmp_path: Path) -> None:
    write_secret(tmp_path / "some.key", b"secret")
    assert (tmp_path / "some.key").stat().st_mode & 0o777 == 0o600


def test_a_key_that_others_could_read_is_closed_to_them(tmp_path: Path) -> None:
    path = tmp_path / "some.key"
    path.write_bytes(b"secret")
    path.chmod(0o644)
    assert read_secret(path) == b"secret"
    assert path.stat().st_mode & 0o777 == 0o600


def test_the_key_for_a_server_is_kept_on_this_computer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("faywright.web.entry.secret_files.data_folder", lambda: tmp_path / "data")
    assert secret_key(SERVER) == secret_key(SERVER)
    assert key_file(SERVER).parent == tmp_path / "data"
    assert "shop" not in key_file(SERVER).name


@pytest.mark.parametrize("content", [b"", b"short", b"\xff" * 80, b"k" * 40 + b"\x07" + b"k" * 40])
def test_what_is_no_key_is_refused(tmp_path: Path, content: bytes) -> None:
    place = FilePlace(tmp_path / "shop.sqlite3")
    key_file(place).write_bytes(content)
    with pytest.raises(InputError, match=r"it is not a key that Faywright made\. Remove it"):
        secret_key(place)


def test_a_folder_that_cannot_be_written_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(InputError, match=r"it cannot be written \(.+\)\. Give yourself the right"):
        write_secret(tmp_path / "file" / "some.key", b"secret")


def test_a_key_that_is_a_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"it cannot be read \(Is a directory\)"):
        read_secret(tmp_path)
