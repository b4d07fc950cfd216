"""Taking in files: shop files, piece files and lists of boards become documents.

All of them are read before anything is kept; where one has a fault, nothing is.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

from faywright.app.documents import Documents
from faywright.app.sheet import TEXT as LONGEST
from faywright.app.values import check_text
from faywright.errors import DocumentError, Fault, InputError
from faywright.piece.amending import amended
from faywright.piece.boards_inside import with_boards_inside
from faywright.piece.piece_file import piece_from_text, read_piece
from faywright.piece.shop_file import shop_from_text
from faywright.piece.toml_lines import line_of
from faywright.piece.values import short

_PIECE, _LIST = "piece.toml", "boards.csv"  # names while a piece is read with its list


@dataclass(frozen=True, slots=True)
class Taken:
    """Numbers of the documents that files became, in the order of the files."""

    pieces: tuple[int, ...]
    shops: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Read:
    """A document that was read without faults; ``shop`` is the name of the file it names."""

    name: str
    text: str
    title: str
    shop: str = ""


def taken_in(
    documents: Documents,
    texts: Mapping[str, str],
    *,
    what: str,
    author: str = "",
    shop: int | None = None,
) -> int:
    """Keep files, given by their names; the number of the first piece, else of the first shop.

    As ``take_in``.
    """
    taken = take_in(documents, texts, what=what, author=author, shop=shop)
    return (taken.pieces or taken.shops)[0]


def take_in(
    documents: Documents,
    texts: Mapping[str, str],
    *,
    what: str,
    author: str = "",
    shop: int | None = None,
    over: bool = False,
) -> Taken:
    """Keep shop files, and piece files with their lists of boards inside.

    ``shop`` is the number of the shop of all pieces; without it a piece goes with the shop file it
    names, with the only one given, or with the only shop there is. A shop file takes the place of
    a shop of the same title, as a new revision, where ``over`` says so.

    Raises
    ------
    DocumentError
        Files have faults, or it is not plain what belongs to what; nothing was kept.
    """
    names = [_bare(name) for name in texts]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None or not names:
        what = f"there are two called {short(twice)}" if twice else "there are none"
        raise InputError(what, where="files", remedy="Give each file once, under its own name")
    given = {_bare(name): text.removeprefix("\ufeff") for name, text in texts.items()}
    shops, pieces = _judged(given)
    standing = _standing(documents, shops, over=over)
    owners = [_owner(documents, piece, shops, shop) for piece in pieces]
    _refuse_unstorable([*shops, *pieces])
    numbers = {
        each.name: _kept(documents, each, standing.get(each.name), what, author) for each in shops
    }
    begun = tuple(
        documents.begin(
            "piece",
            piece.text,
            title=piece.title,
            shop=numbers[owner] if isinstance(owner, str) else owner,
            author=author,
            what=what,
        ).id
        for piece, owner in zip(pieces, owners, strict=True)
    )
    return Taken(begun, tuple(numbers.values()))


def _refuse_unstorable(files: Sequence[_Read]) -> None:
    """Refuse what the store would, before anything is kept."""
    faults = []
    for each in files:
        try:
            check_text(each.text, "the file", most=LONGEST)
            check_text(each.title, "title")
        except InputError as error:
            faults.append(Fault(each.name, None, error.where, error.what, error.remedy))
    if faults:
        raise DocumentError(faults)


def _bare(name: str) -> str:
    """The last step of a path as any system writes it."""
    return PurePosixPath(name.replace("\\", "/")).name or name


def _judged(given: Mapping[str, str]) -> tuple[list[_Read], list[_Read]]:
    """The shops and the pieces among files; all their faults are told together."""
    shops: list[_Read] = []
    pieces: list[_Read] = []
    faults: list[Fault] = []
    lists = {name: text for name, text in given.items() if name.lower().endswith(".csv")}
    unnamed = set(lists)
    for name, text in given.items():
        if name in lists:
            continue
        data = _data(text)
        unnamed.discard(_list_of(data))
        try:
            if str(data.get("faywright", "")).startswith("shop"):
                shops.append(_Read(name, text, shop_from_text(text, file=name).title))
            else:
                pieces.append(_piece(name, text, data, lists))
        except DocumentError as error:
            faults += error.faults
    for name in sorted(unnamed):
        what = "no piece file among those given names this list of boards"
        remedy = "Give the piece file with it, or put the boards in on the page of boards"
        faults.append(Fault(name, None, "the list", what, remedy))
    if faults:
        raise DocumentError(faults)
    return shops, pieces


def _data(text: str) -> Mapping[str, object]:
    """What a text says; nothing, if it is not TOML, which its reader tells."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError):
        return {}


def _list_of(data: Mapping[str, object]) -> str:
    """Name of the list of boards that a piece file names; empty if it names none."""
    boards = data.get("boards")
    named = boards.get("csv") if isinstance(boards, dict) else None
    return _bare(named) if isinstance(named, str) else ""


def _piece(name: str, text: str, data: Mapping[str, object], lists: Mapping[str, str]) -> _Read:
    named = _list_of(data)
    if named and named not in lists:
        path = ("boards", "csv")
        what = f"{short(named)} is not among the files that were given"
        remedy = "Give it along with the piece file, or list the boards under [[board]]"
        raise DocumentError([Fault(name, line_of(text, path), "boards.csv", what, remedy, path)])
    if named:
        _read_together(name, text, named, lists[named])
        text = with_boards_inside(text, lists[named], file=named)
    piece = piece_from_text(text, file=name, folder=None).piece
    shop = data.get("shop")
    return _Read(name, text, piece.title, _bare(shop) if isinstance(shop, str) else "")


def _read_together(name: str, text: str, list_name: str, content: str) -> None:
    """Read a piece file and its list as the command line does, for faults with their lines.

    The list has a name of our own meanwhile, so that no other file is ever opened.
    """
    with TemporaryDirectory(prefix="faywright-") as made:
        folder = Path(made)
        alone = amended(text, ("boards", "csv"), _LIST)
        (folder / _PIECE).write_bytes(alone.encode())
        (folder / _LIST).write_bytes(content.encode())
        names = {str(folder / _PIECE): name, str(folder / _LIST): list_name}
        try:
            read_piece(folder / _PIECE)
        except DocumentError as error:
            faults = [replace(each, file=names[each.file]) for each in error.faults]
            raise DocumentError(faults) from None


def _standing(documents: Documents, shops: Sequence[_Read], *, over: bool) -> Mapping[str, int]:
    """Numbers of the shops that are there already, by the name of the file that gives them."""
    there = {each.title: each.id for each in documents.listed("shop")}
    faults, found, titles = [], {}, set()
    for each in shops:
        number = there.get(each.title)
        if each.title in titles:
            what = f"the title {short(each.title)!r} is that of another file, too"
            faults.append(Fault(each.name, None, "title", what, "Give each shop its own"))
        elif number is not None:
            found[each.name] = number
            if not over and documents.sheet(number).revision.text != each.text:
                what = f"there is another shop called {short(each.title)!r} already"
                remedy = "Say that it takes the place of that one, or give it another title"
                line = line_of(each.text, ("title",))
                faults.append(Fault(each.name, line, "title", what, remedy, ("title",)))
        titles.add(each.title)
    if faults:
        raise DocumentError(faults)
    return found


def _owner(
    documents: Documents, piece: _Read, shops: Sequence[_Read], shop: int | None
) -> int | str:
    """The shop of a piece: its number, or the name of the file it is in."""
    if shop is not None:
        return documents.sheet(shop).id
    names = [each.name for each in shops]
    if piece.shop in names:
        return piece.shop
    if len(names) == 1:
        return names[0]
    there = documents.listed("shop")
    if not names and len(there) == 1:
        return there[0].id
    what = "it is not plain which shop it is to be made in"
    remedy = "Give its shop file along with it, or choose a shop that is here"
    raise DocumentError([Fault(piece.name, None, "shop", what, remedy, ("shop",))])


def _kept(documents: Documents, shop: _Read, number: int | None, what: str, author: str) -> int:
    """The number of a shop that is begun, or revised."""
    if number is None:
        return documents.begin("shop", shop.text, title=shop.title, author=author, what=what).id
    there = documents.sheet(number)
    if there.revision.text != shop.text:
        documents.revise(
            number, there.revision.number, shop.text, title=shop.title, author=author, what=what
        )
    return number
