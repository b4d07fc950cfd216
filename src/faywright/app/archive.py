"""The whole shop as one archive: every document with all its revisions, and all trials.

A zip file of JSON texts, with names that are known beforehand. What is in it is held against
limits before anything is unpacked.
"""

from __future__ import annotations

import io
import json
import re
import stat
import struct
import zlib
from dataclasses import dataclass
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from faywright.app.cells import Row
from faywright.app.document_merging import merged, records
from faywright.app.document_records import DocumentRecord, document_of_json, json_of_document
from faywright.app.merging import Imported
from faywright.app.store import Store
from faywright.errors import InputError

FORMAT, VERSION = "faywright archive", 1

LARGEST = 256 * 2**20
"""Most bytes of an archive as it is sent."""
LARGEST_UNPACKED = 1024 * 2**20
"""Most bytes of all that is in it."""
LARGEST_ENTRY = 256 * 2**20
"""Most bytes of one text in it."""
MOST_ENTRIES = 10_000

ABOUT, TRIALS = "archive.json", "trials.json"
REMEDY = "Give an archive as Faywright wrote it"

_DOCUMENT = re.compile(r"documents/([1-9][0-9]{0,17})\.json", re.ASCII)
_END = struct.Struct("<4s4H2LH")  # the end of a central directory: the format's note, 4.3.16
_ENTRY = 46 + 200  # bytes of an entry of the directory with a long name
_BROKEN = (
    BadZipFile,
    NotImplementedError,
    RuntimeError,
    EOFError,
    OSError,
    OverflowError,
    ValueError,
    struct.error,
    zlib.error,
)
"""What reading a damaged zip file may end in."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What an archive brought, and what was there already."""

    documents: Imported
    trials: Imported


def write_archive(store: Store) -> bytes:
    """All that is in a store, as of one moment.

    Raises
    ------
    InputError
        It is more than ``read_archive`` would take in.
    """
    packed = io.BytesIO()
    with ZipFile(packed, "w", ZIP_DEFLATED) as file, store.at_one_moment() as alias:
        _write(file, ABOUT, json.dumps({"format": FORMAT, "version": VERSION}))
        _write(file, TRIALS, store.export_json())
        for number, record in records(alias):
            _write(file, f"documents/{number}.json", json_of_document(record))
        sizes = [entry.file_size for entry in file.infolist()]
    archive = packed.getvalue()
    small = len(archive) <= LARGEST and max(sizes) <= LARGEST_ENTRY
    if not small or sum(sizes) > LARGEST_UNPACKED or len(sizes) > MOST_ENTRIES:
        what, remedy = "it is too large for an archive", "Copy the database itself"
        raise InputError(what, where=str(store.place), remedy=remedy)
    return archive


def read_archive(packed: bytes, *, store: Store, where: str = "archive") -> TakenIn:
    """Take in what ``write_archive`` gave; ``where`` names it in messages.

    Documents and trials that are there already are left alone; others get new numbers.

    Raises
    ------
    InputError
        It is something else, damaged, too large, or of a version that is not known. Nothing was
        taken in.
    """
    texts = _unpacked(packed, where)
    _check_version(texts.pop(ABOUT), where)
    trials = texts.pop(TRIALS)
    documents = {
        int(name.removeprefix("documents/").removesuffix(".json")): _document(text, where, name)
        for name, text in texts.items()
    }
    with store.all_or_nothing() as alias:
        return TakenIn(
            merged(alias, documents), store.import_json(trials, where=f"{where}: {TRIALS}")
        )


def _write(file: ZipFile, name: str, text: str) -> None:
    # A fixed date: the same store gives the same bytes.
    entry = ZipInfo(name)
    entry.compress_type = ZIP_DEFLATED
    entry.external_attr = (stat.S_IFREG | 0o644) << 16
    file.writestr(entry, text.encode())


def _unpacked(packed: bytes, where: str) -> dict[str, str]:
    """The texts in an archive, by their names."""
    _check_end(packed, where)
    try:
        with ZipFile(io.BytesIO(packed)) as file:
            entries = file.infolist()
            _check_entries(entries, where)
            return {entry.filename: file.read(entry).decode() for entry in entries}
    except InputError:
        raise
    except _BROKEN as error:
        raise _refused(f"it is damaged ({error})", where) from None


def _check_end(packed: bytes, where: str) -> None:
    """Refuse what has no zip file's end, or one that tells of more than is looked at."""
    if len(packed) > LARGEST:
        raise _refused(f"it has more than {LARGEST // 2**20} MB", where)
    if len(packed) < _END.size or not packed.startswith(b"PK\x03\x04"):
        raise _refused("it is not an archive", where)
    mark, disk, other, here, count, size, _, comment = _END.unpack(packed[-_END.size :])
    if mark != b"PK\x05\x06" or disk or other or comment or here != count:
        raise _refused("it is cut off, or not an archive", where)
    long = packed[-_END.size - 20 : -_END.size].startswith(b"PK\x06\x07")
    if long or count > MOST_ENTRIES or size > MOST_ENTRIES * _ENTRY:
        raise _refused(f"more than {MOST_ENTRIES} texts are in it", where)


def _check_entries(entries: list[ZipInfo], where: str) -> None:
    names = [entry.filename for entry in entries]
    for entry in entries:
        _check_entry(entry, f"{where}: {entry.filename!a:.60}")
    if len(set(names)) < len(names):
        raise _refused("a text is in it twice", where)
    for name in (ABOUT, TRIALS):
        if name not in names:
            raise _refused(f"{name} is not in it", where)
    if sum(entry.file_size for entry in entries) > LARGEST_UNPACKED:
        raise _refused(f"unpacked it has more than {LARGEST_UNPACKED // 2**20} MB", where)


def _check_entry(entry: ZipInfo, where: str) -> None:
    name = entry.orig_filename
    if name not in (ABOUT, TRIALS) and not _DOCUMENT.fullmatch(name):
        raise _refused("nothing of that name belongs in it", where)
    if stat.S_IFMT(entry.external_attr >> 16) not in (0, stat.S_IFREG):
        raise _refused("it is a link, or something else that is no text", where)
    if entry.flag_bits & 1 or entry.compress_type not in (ZIP_STORED, ZIP_DEFLATED):
        raise _refused("it is packed in another way", where)
    if entry.file_size > LARGEST_ENTRY:
        raise _refused(f"unpacked it has more than {LARGEST_ENTRY // 2**20} MB", where)


def _check_version(text: str, where: str) -> None:
    told = _json(text, f"{where}: {ABOUT}")
    if told.get("format") != FORMAT:
        raise _refused(f"its format is {told.get('format')!r:.60}, not {FORMAT!r}", where)
    if told.get("version") != VERSION:
        what = f"it is version {told.get('version')!r:.60}, where only {VERSION} is known"
        remedy = "Install the version of Faywright that wrote it, or a later one"
        raise InputError(what, where=where, remedy=remedy)


def _document(text: str, where: str, name: str) -> DocumentRecord:
    where = f"{where}: {name}"
    return document_of_json(_json(text, where), where=where)


def _json(text: str, where: str) -> Row:
    try:
        told = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise _refused(f"it is not JSON ({error})", where) from None
    if not isinstance(told, dict):
        raise _refused("it is not an object of JSON", where)
    return told


def _refused(what: str, where: str) -> InputError:
    return InputError(what, where=where, remedy=REMEDY)
