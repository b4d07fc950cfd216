"""Files out and in: a piece as its file, and files taken in, in size and kind as they may be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_http_methods

from faywright.app.archive import read_archive, write_archive
from faywright.errors import DocumentError, Fault, InputError
from faywright.web.desk import author, desk
from faywright.web.field_changes import SEE_OTHER, UNPROCESSABLE
from faywright.web.pieces.boards_page import paste_shown
from faywright.web.pieces.taking_in import Taken, take_in

MOST_BYTES: Mapping[str, int] = {"toml": 2_000_000, "csv": 2_000_000, "zip": 20_000_000}
"""Greatest size of a file by the end of its name. [bytes]"""

MOST_FILES = 20
PASTED = "pasted.toml"


@dataclass(frozen=True, slots=True)
class _File:
    """A file as it was sent, and its name."""

    name: str
    held: UploadedFile[Any]

    @property
    def kind(self) -> str:
        """The end of its name."""
        return self.name.rpartition(".")[2].lower()


@require_GET
def piece_file(_: HttpRequest, piece: int) -> HttpResponse:
    """The piece as its file, with all that was written in it; it names its shop as it did."""
    sheet = desk().store.documents.sheet(piece)
    name = f"{slugify(sheet.title)[:60] or 'piece'}.toml"
    return HttpResponse(
        sheet.revision.text.encode(),
        content_type="application/toml; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@require_http_methods(["GET", "HEAD", "POST"])
def take_in_page(request: HttpRequest) -> HttpResponse:
    """Take in files of pieces, shops and boards, or a whole archive; or tell why not."""
    if request.method != "POST":
        return _page(request, (), 200)
    try:
        sent = [_File(each.name or "a file", each) for each in request.FILES.getlist("files")]
        if any(each.kind == "zip" for each in sent):
            return _archive_taken(request, sent, request.POST.get("text", ""))
        return _taken(request, _given(sent, request.POST.get("text", "")))
    except DocumentError as error:
        return _page(request, error.faults, UNPROCESSABLE)
    except InputError as error:
        fault = Fault(error.where, None, "", error.what, error.remedy)
        return _page(request, (fault,), UNPROCESSABLE)


def _taken(request: HttpRequest, given: Mapping[str, str]) -> HttpResponse:
    lists = [text for name, text in given.items() if name.lower().endswith(".csv")]
    piece = request.POST.get("piece", "")
    if piece and len(lists) == len(given) == 1:
        return paste_shown(request, _chosen("piece", piece) or 0, lists[0])
    taken = take_in(
        desk().store.documents,
        given,
        what=f"taken in from {', '.join(given)}"[:200],
        author=author(request),
        shop=_chosen("shop", request.POST.get("shop", "")),
        over=request.POST.get("over") == "true",
    )
    return HttpResponseRedirect(_first(taken), status=SEE_OTHER)


def _first(taken: Taken) -> str:
    """The page to look at after files were taken in."""
    if len(taken.pieces) == 1:
        return reverse("piece", kwargs={"piece": taken.pieces[0]})
    if not taken.pieces and len(taken.shops) == 1:
        return reverse("shop-one", kwargs={"shop": taken.shops[0]})
    return reverse("pieces")


def _chosen(kind: str, number: str) -> int | None:
    """The document that was chosen in a list; None for none."""
    if not number:
        return None
    listed = desk().store.documents.listed("piece" if kind == "piece" else "shop")
    found = next((each.id for each in listed if str(each.id) == number), None)
    if found is None:
        raise InputError("it is not there any more", where=kind, remedy="Choose one that is listed")
    return found


def _given(files: Sequence[_File], pasted: str) -> Mapping[str, str]:
    """The texts of what was given, by name.

    Raises
    ------
    DocumentError
        Files are too large, of another kind, or no text in UTF-8; all are told.
    InputError
        There are too many, or none.
    """
    if len(files) > MOST_FILES:
        what = f"{len(files)} at once are too many"
        raise InputError(what, where="files", remedy=f"Give up to {MOST_FILES}, or an archive")
    if not files and not pasted.strip():
        raise InputError("none was chosen", where="files", remedy="Choose some, or paste a text")
    faults: list[Fault] = []
    texts: dict[str, str] = {}
    for file in files:
        if file.name in texts:
            faults.append(Fault(file.name, None, "", "two have this name", "Give each its own"))
        try:
            texts[file.name] = _text(file)
        except DocumentError as error:
            faults += error.faults
    if pasted.strip():
        texts[PASTED] = pasted.replace("\r\n", "\n")
    if faults:
        raise DocumentError(faults)
    return texts


def _text(file: _File) -> str:
    try:
        return _bytes(file).decode("utf-8")
    except UnicodeDecodeError as error:
        what = f"byte {error.start + 1} is not text in UTF-8"
        remedy = "Save it as plain text in UTF-8"
        raise DocumentError([Fault(file.name, None, "", what, remedy)]) from None


def _bytes(file: _File) -> bytes:
    """What a file holds, once it is plain that it is of a kind and size that may be taken."""
    most = MOST_BYTES.get(file.kind)
    if most is None:
        what, remedy = "it is of another kind", "Give .toml, .csv, or an archive, .zip, by itself"
    elif (size := file.held.size or 0) > most:
        what, remedy = f"it has {size:,} bytes", f"Give one of up to {most:,}"
    else:
        held: bytes = file.held.read()
        return held
    raise DocumentError([Fault(file.name, None, "", what, remedy)])


def _archive_taken(request: HttpRequest, files: Sequence[_File], pasted: str) -> HttpResponse:
    """Take in an archive, which says all there is to say."""
    if len(files) > 1 or pasted.strip():
        what = "an archive stands beside other files"
        raise InputError(what, where="files", remedy="Take it in by itself")
    taken = read_archive(_bytes(files[0]), store=desk().store, where=files[0].name)
    return render(request, "faywright/archive_taken.html", {"taken": taken})


@require_GET
def archive(_: HttpRequest) -> HttpResponse:
    """The whole shop: every piece and shop with its history, and all trials."""
    return HttpResponse(
        write_archive(desk().store),
        content_type="application/zip",
        headers={"Content-Disposition": 'attachment; filename="faywright.zip"'},
    )


def _page(request: HttpRequest, faults: Sequence[Fault], status: int) -> HttpResponse:
    documents = desk().store.documents
    context = {
        "faults": faults,
        "shops": documents.listed("shop"),
        "pieces": documents.listed("piece"),
        "text": request.POST.get("text", "") if request.method == "POST" else "",
        "shop": request.POST.get("shop", "") if request.method == "POST" else "",
        "piece": request.POST.get("piece", "") if request.method == "POST" else "",
    }
    return render(request, "faywright/take_in.html", context, status=status)
