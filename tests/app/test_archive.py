"""The whole shop goes into an archive and comes out of it, and nothing else does."""

import io
import json
import random
import re
import stat
import struct
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from zipfile import ZIP_BZIP2, ZIP_DEFLATED, ZipFile, ZipInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faywright.app import Contents, open_store
from faywright.app.archive import TakenIn, read_archive, write_archive
from faywright.app.document_merging import records
from faywright.app.document_records import DocumentRecord
from faywright.app.merging import Imported
from faywright.app.store import Store
from faywright.errors import InputError
from tests.app.strategies import a_feel, a_trial, stores
from tests.app.test_store import SAME_STORE


def fill(store: Store, name: str = "") -> None:
    """A shop that had another history, a piece that is undone half way, and trials."""
    documents = store.documents
    piece = documents.begin("piece", "a", title=f"Gate{name}", what="begun")
    documents.discard(piece.id)
    shop = documents.begin("shop", "s", title=f"Mill Lane{name}", author="Ann", what="begun")
    made = documents.begin("piece", "é\r\n", title=f"Door{name}", shop=shop.id, what="begun")
    for text in "bc":
        number = documents.sheet(made.id).revision.number
        documents.revise(made.id, number, text, title=f"Door {text}", author="Ben", what="on")
    documents.undo(made.id, 3)
    documents.revise(made.id, 2, "d", title="Door d", what="on")
    documents.go_to(made.id, 4, 1)
    store.add_feel(a_feel(trial=store.add_trial(a_trial(0.1, joint=f"J1{name}"))))


def kept(store: Store) -> list[tuple[DocumentRecord, str]]:
    """Every document, with its shop's title for the number, in no order of numbers."""
    with store.at_one_moment() as alias:
        found = dict(records(alias))
    shops = {number: each.revisions[0].draft.title for number, each in found.items()}
    return sorted(
        ((each, shops.get(each.shop or 0, "")) for each in found.values()),
        key=lambda pair: pair[0].changed,
    )


def told(store: Store) -> list[tuple[Any, ...]]:
    return [
        (each.kind, shop, each.head, each.changed, each.author, each.discarded, each.revisions)
        for each, shop in kept(store)
    ]


@pytest.fixture
def full(tmp_path: Path) -> Iterator[Store]:
    with open_store(tmp_path / "full.sqlite3") as opened:
        fill(opened)
        yield opened


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """An archive of a full store."""
    with open_store(tmp_path_factory.mktemp("full") / "full.sqlite3") as opened:
        fill(opened)
        return write_archive(opened)


def test_an_empty_store_takes_in_the_whole_shop(store: Store, full: Store) -> None:
    taken = read_archive(write_archive(full), store=store)
    assert taken == TakenIn(documents=Imported(3, known=0), trials=Imported(2, known=0))
    assert told(store) == told(full)
    assert store.contents() == full.contents()
    (door,) = store.documents.listed("piece")
    assert store.documents.redo(door.id, 1).revision.text == "b"
    assert store.documents.redo(door.id, 2).revision.text == "d"


@settings(SAME_STORE, max_examples=8)
@given(contents=stores())
def test_trials_go_with_the_archive(
    tmp_path_factory: pytest.TempPathFactory, contents: Contents
) -> None:
    folder = tmp_path_factory.mktemp("stores")
    with open_store(folder / "a.sqlite3") as one, open_store(folder / "b.sqlite3") as other:
        one.add_contents(contents)
        read_archive(write_archive(one), store=other)
        assert other.contents() == contents


def test_the_same_store_gives_the_same_archive(full: Store) -> None:
    assert write_archive(full) == write_archive(full)


def test_what_is_there_already_is_left_alone(full: Store) -> None:
    before, archive = told(full), write_archive(full)
    taken = read_archive(archive, store=full)
    assert taken == TakenIn(documents=Imported(0, known=3), trials=Imported(0, known=2))
    assert told(full) == before


def test_a_document_that_went_on_since_is_left_alone(full: Store) -> None:
    archive = write_archive(full)
    (door,) = full.documents.listed("piece")
    full.documents.revise(door.id, 1, "new", title="Door", what="on")
    before = told(full)
    assert read_archive(archive, store=full).documents == Imported(0, known=3)
    assert told(full) == before


def test_a_document_that_went_another_way_is_put_beside_it(full: Store, tmp_path: Path) -> None:
    with open_store(tmp_path / "other.sqlite3") as other:
        read_archive(write_archive(full), store=other)
        (door,) = other.documents.listed("piece")
        other.documents.revise(door.id, 1, "theirs", title="Door", what="theirs")
        theirs = write_archive(other)
    (door,) = full.documents.listed("piece")
    full.documents.revise(door.id, 1, "mine", title="Door", what="mine")
    assert read_archive(theirs, store=full).documents == Imported(1, known=2)
    both = {full.documents.sheet(each.id).revision.text for each in full.documents.listed("piece")}
    assert both == {"mine", "theirs"}
    (shop,) = full.documents.listed("shop")
    assert {each.shop for each in full.documents.listed("piece")} == {shop.id}


def test_a_piece_stays_with_the_shop_it_was_made_in(full: Store, tmp_path: Path) -> None:
    with open_store(tmp_path / "other.sqlite3") as other:
        read_archive(write_archive(full), store=other)
        (shop,) = other.documents.listed("shop")
        other.documents.revise(shop.id, 1, "theirs", title="Mill Lane", what="theirs")
        theirs = write_archive(other)
    assert read_archive(theirs, store=full).documents == Imported(2, known=1)
    pieces = [full.documents.sheet(each.id) for each in full.documents.listed("piece")]
    shops = [full.documents.sheet(each.shop or 0).revision.text for each in pieces]
    assert sorted(shops) == ["s", "theirs"]


def test_two_shops_are_put_together_whole(store: Store, full: Store, tmp_path: Path) -> None:
    with open_store(tmp_path / "other.sqlite3") as other:
        fill(other, " 2")
        for each in (full, other, full, other):
            read_archive(write_archive(each), store=store)
        assert told(store) == told(full) + told(other)
    assert len(store.trials()) == 2


# What is refused.

Change = Callable[[dict[str, bytes]], object]


def repacked(packed: bytes, change: Change) -> bytes:
    """An archive with its texts changed."""
    with ZipFile(io.BytesIO(packed)) as file:
        texts = {name: file.read(name) for name in file.namelist()}
    change(texts)
    out = io.BytesIO()
    with ZipFile(out, "w", ZIP_DEFLATED) as file:
        for name, text in texts.items():
            file.writestr(name, text)
    return out.getvalue()


def refused(packed: bytes, store: Store, message: str) -> None:
    with pytest.raises(InputError, match=message):
        read_archive(packed, store=store)
    assert store.documents.listed("piece") == ()
    assert store.documents.listed("shop") == ()
    assert store.trials() == ()


def put(name: str, text: object) -> Change:
    written = text if isinstance(text, bytes) else json.dumps(text).encode()
    return lambda texts: texts.update({name: written})


def edit(name: str, key: str, value: object, revision: int | None = None) -> Change:
    def change(texts: dict[str, bytes]) -> None:
        row = json.loads(texts[name])
        (row if revision is None else row["revisions"][revision - 1])[key] = value
        texts[name] = json.dumps(row).encode()

    return change


DOOR = "documents/3.json"


@pytest.mark.parametrize(
    "name",
    [
        "../archive.json",
        "documents/../../1.json",
        "/etc/passwd",
        "C:\\archive.json",
        "C:/archive.json",
        "documents\\1.json",
        "documents/",
        "documents/0.json",
        "documents/01.json",
        "documents/\u0661.json",
        "documents/1.json\n",
        "documents/1.json.exe",
        "documents/" + "9" * 30 + ".json",
        "x" * 60_000,
    ],
)
def test_a_name_that_does_not_belong_is_refused(store: Store, packed: bytes, name: str) -> None:
    archive = repacked(packed, put(name, {}))
    refused(archive, store, "nothing of that name belongs in it|more than 10000 texts")


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda texts: texts.pop("archive.json"), "archive: archive.json is not in it"),
        (lambda texts: texts.pop("trials.json"), "archive: trials.json is not in it"),
        (put("archive.json", b"{"), "archive.json: it is not JSON"),
        (put("archive.json", []), "archive.json: it is not an object of JSON"),
        (put("archive.json", {"format": "other"}), "its format is 'other', not 'faywright arch"),
        (edit("archive.json", "version", 2), "it is version 2, where only 1 is known. Install"),
        (put("trials.json", b"[" * 100_000), "trials.json: it is not JSON"),
        (put("trials.json", {}), "archive: trials.json: its format is None"),
        (put(DOOR, b"\xff"), "it is damaged"),
        (put(DOOR, b"9" * 5000), "documents/3.json: it is not JSON"),
        (put(DOOR, {"kind": "piece"}), "documents/3.json: shop: it is missing"),
        (edit(DOOR, "kind", "bench"), "documents/3.json: kind: it is no kind of document"),
        (edit(DOOR, "shop", 1), "document 3: shop: 1 is not the number of a shop that is given"),
        (edit(DOOR, "shop", 9), "document 3: shop: 9 is not the number of a shop that is given"),
        (edit(DOOR, "shop", True), "shop: True is not a number of a row"),
        (edit("documents/2.json", "shop", 2), "shop: a shop is not made in a shop"),
        (edit(DOOR, "head", 5), "head: there is no revision 5 to stand at"),
        (edit(DOOR, "revisions", []), "head: there is no revision 1 to stand at"),
        (edit(DOOR, "revisions", "x"), "revisions: 'x' is not a list"),
        (edit(DOOR, "revisions", ["x"]), "revision 1: it is not a row"),
        (edit(DOOR, "changed", "2026-01-01"), "changed: .* is not a date and time with its zone"),
        (edit(DOOR, "discarded", "soon"), "discarded: 'soon' is not a date and time"),
        (edit(DOOR, "author", "\0"), "author: character 1"),
        (edit(DOOR, "parent", 2, revision=2), "parent: revision 2 is not made from an earlier"),
        (edit(DOOR, "parent", None, revision=2), "parent: revision 2 is not made from an earlier"),
        (edit(DOOR, "parent", 1, revision=1), "parent: revision 1 is not made from an earlier one"),
        (edit(DOOR, "undone", 3, revision=1), "undone: revision 3 was not made from 1"),
        (edit(DOOR, "undone", 9, revision=1), "undone: revision 9 was not made from 1"),
        (edit(DOOR, "text", "", revision=2), "3.json: revision 2: document: text: it is empty"),
        (edit(DOOR, "text", "\ud800", revision=2), "revision 2: .* cannot be stored"),
        (edit(DOOR, "at", "x", revision=2), "revision 2: at: 'x' is not a date and time"),
        (edit(DOOR, "more", 1, revision=2), "revision 2: more: it is not a known column"),
    ],
)
def test_a_text_that_is_not_as_it_should_be_is_refused(
    store: Store, packed: bytes, change: Change, message: str
) -> None:
    refused(repacked(packed, change), store, message)


def with_entry(packed: bytes, entry: ZipInfo, content: bytes = b"{}") -> bytes:
    out = io.BytesIO(packed)
    with ZipFile(out, "a") as file:
        file.writestr(entry, content)
    return out.getvalue()


def test_a_link_is_refused(store: Store, packed: bytes) -> None:
    link = ZipInfo("documents/9.json")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    refused(with_entry(packed, link, b"/etc/passwd"), store, "it is a link, or something else")


def test_another_way_of_packing_is_refused(store: Store, packed: bytes) -> None:
    entry = ZipInfo("documents/9.json")
    entry.compress_type = ZIP_BZIP2
    refused(with_entry(packed, entry), store, "it is packed in another way")


def test_a_text_that_is_there_twice_is_refused(store: Store, packed: bytes) -> None:
    with pytest.warns(UserWarning, match="Duplicate name"):
        twice = with_entry(packed, ZipInfo(DOOR))
    refused(twice, store, "a text is in it twice")


def test_a_locked_text_is_refused(store: Store, packed: bytes) -> None:
    locked = bytearray(packed)
    for mark, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        locked[packed.index(mark) + offset] |= 1
    refused(bytes(locked), store, "it is packed in another way")


def test_a_name_that_goes_on_behind_a_nought_is_refused(store: Store, packed: bytes) -> None:
    archive = repacked(packed, put("documents/9.json~.exe", {})).replace(b"json~", b"json\0")
    refused(archive, store, "nothing of that name belongs in it")


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> None:
    """Limits that a bomb of a test may reach."""
    monkeypatch.setattr("faywright.app.archive.LARGEST_ENTRY", 2**20)
    monkeypatch.setattr("faywright.app.archive.LARGEST_UNPACKED", 3 * 2**20)
    monkeypatch.setattr("faywright.app.archive.MOST_ENTRIES", 20)


@pytest.mark.usefixtures("small")
def test_a_bomb_is_refused_before_it_is_unpacked(
    store: Store, packed: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = repacked(packed, put("documents/9.json", b" " * (2**20 + 1)))
    many = repacked(
        packed,
        lambda texts: texts.update({f"documents/{n}.json": b" " * 2**20 for n in range(4, 8)}),
    )
    crowd = repacked(
        packed, lambda texts: texts.update({f"documents/{n}.json": b"" for n in range(4, 24)})
    )
    monkeypatch.setattr("faywright.app.archive.ZipFile.read", None)  # calling it would fail
    refused(one, store, r"documents/9.*unpacked it has more than 1 MB")
    refused(many, store, "archive: unpacked it has more than 3 MB")
    refused(crowd, store, "more than 20 texts are in it")


def test_a_bomb_that_lies_about_its_size_is_refused(store: Store, packed: bytes) -> None:
    archive = bytearray(repacked(packed, put("documents/9.json", b" " * 10_000_000)))
    for found in re.finditer(re.escape(struct.pack("<L", 10_000_000)), bytes(archive)):
        archive[found.start() : found.end()] = struct.pack("<L", 2)
    refused(bytes(archive), store, "it is damaged")


@pytest.mark.usefixtures("small")
def test_more_than_could_be_read_back_is_not_written(full: Store) -> None:
    (door,) = full.documents.listed("piece")
    full.documents.revise(door.id, 1, "x" * 2**20, title="Door", what="on")
    with pytest.raises(InputError, match=r"it is too large for an archive\. Copy the database"):
        write_archive(full)


def test_an_archive_that_is_too_large_is_refused(
    store: Store, packed: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("faywright.app.archive.LARGEST", len(packed) - 1)
    refused(packed, store, "it has more than 0 MB")


def test_an_archive_with_anything_before_or_after_it_is_refused(
    store: Store, packed: bytes
) -> None:
    refused(b"#!/bin/sh\n" + packed, store, "archive: it is not an archive")
    refused(packed + b"x", store, "it is cut off, or not an archive")
    refused(b"", store, "it is not an archive")


@SAME_STORE
@given(place=st.floats(0, 1, exclude_max=True))
def test_an_archive_that_is_cut_off_is_refused(store: Store, packed: bytes, place: float) -> None:
    refused(packed[: int(place * len(packed))], store, "it is cut off|it is not an archive")


@SAME_STORE
@given(content=st.binary(max_size=300), head=st.booleans())
def test_bytes_that_are_anything_are_refused(store: Store, content: bytes, head: bool) -> None:
    content = b"PK\x03\x04" + content + b"PK\x05\x06" + content[:18] if head else content
    refused(content, store, "archive")


def spoilt_is_refused_or_harmless(packed: bytes, store: Store, seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - places, not secrets
    spoilt = bytearray(packed)
    for _ in range(chance.randint(1, 4)):
        spoilt[chance.randrange(len(spoilt))] = chance.randrange(256)
    try:
        read_archive(bytes(spoilt), store=store)
    except InputError as error:
        assert "archive" in error.where  # noqa: PT017 - or it is taken in whole
    assert len(store.documents.listed("shop")) <= 1


@SAME_STORE
@given(seed=st.integers(0, 2**32))
def test_a_spoilt_archive_is_refused_or_harmless(store: Store, packed: bytes, seed: int) -> None:
    spoilt_is_refused_or_harmless(packed, store, seed)


@pytest.mark.soak
def test_very_many_spoilt_archives_are_refused_or_harmless(store: Store, packed: bytes) -> None:
    for seed in range(5000):
        spoilt_is_refused_or_harmless(packed, store, seed)
