"""Documents stand at a revision, and everything they ever were can be had again."""

from collections.abc import Callable
from threading import Thread
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faywright.app import open_store
from faywright.app.documents import Documents, Overtaken, Sheet
from faywright.app.sheet import TEXT
from faywright.app.store import Store
from faywright.errors import InputError, MissingError
from tests.app.test_store import SAME_STORE

PIECE, SHOP = 'faywright = "piece 1"\n# é\r\n', 'faywright = "shop 1"\n'


@pytest.fixture
def documents(store: Store) -> Documents:
    return store.documents


@pytest.fixture
def shop(documents: Documents) -> int:
    return documents.begin("shop", SHOP, title="Mill Lane", what="begun").id


@pytest.fixture
def piece(documents: Documents, shop: int) -> Sheet:
    return documents.begin(
        "piece", PIECE, title="Door", shop=shop, author="Ann", what="begun from a file"
    )


def revised(documents: Documents, sheet: Sheet, *texts: str) -> Sheet:
    for text in texts:
        sheet = documents.revise(
            sheet.id, sheet.revision.number, text, title=f"Door {text}", what=f"now {text}"
        )
    return sheet


def stand(sheet: Sheet) -> tuple[str, bool, bool]:
    return sheet.revision.text, sheet.can_undo, sheet.can_redo


def test_a_new_document_stands_at_its_first_revision(
    documents: Documents, piece: Sheet, shop: int
) -> None:
    assert (piece.kind, piece.title, piece.shop, piece.discarded) == ("piece", "Door", shop, None)
    first = piece.revision
    assert (first.number, first.author, first.what) == (1, "Ann", "begun from a file")
    assert stand(piece) == (PIECE, False, False)
    assert documents.sheet(piece.id) == piece


def test_a_revision_is_put_on_top_of_the_one_it_was_made_from(
    documents: Documents, piece: Sheet
) -> None:
    after = revised(documents, piece, "b")
    assert (stand(after), after.title, after.revision.number) == (("b", True, False), "Door b", 2)
    assert documents.sheet(piece.id) == after
    assert documents.revision(piece.id, 1) == piece.revision


def test_undo_and_redo_walk_the_way_back_and_forth(documents: Documents, piece: Sheet) -> None:
    revised(documents, piece, "b", "c")
    assert stand(documents.undo(piece.id, 3)) == ("b", True, True)
    assert documents.undo(piece.id, 2, author="Ben").title == "Door"
    assert stand(documents.redo(piece.id, 1)) == ("b", True, True)
    assert stand(documents.redo(piece.id, 2)) == ("c", True, False)


def test_a_change_after_undo_is_a_branch_and_nothing_is_lost(
    documents: Documents, piece: Sheet
) -> None:
    revised(documents, piece, "b")
    branch = revised(documents, documents.undo(piece.id, 2), "c")
    assert (branch.revision.number, stand(branch)) == (3, ("c", True, False))
    assert stand(documents.undo(piece.id, 3)) == (PIECE, False, True)
    assert documents.redo(piece.id, 1).revision.text == "c"
    assert documents.revision(piece.id, 2).text == "b"


def test_the_first_cannot_be_undone_nor_the_last_redone(documents: Documents, piece: Sheet) -> None:
    with pytest.raises(InputError, match=r"Door: there is nothing to undo\. It stands as it was"):
        documents.undo(piece.id, 1)
    with pytest.raises(InputError, match=r"Door: there is nothing to redo\. Choose a revision"):
        documents.redo(piece.id, 1)


def test_any_revision_can_be_gone_to(documents: Documents, piece: Sheet) -> None:
    revised(documents, piece, "b", "c")
    assert stand(documents.go_to(piece.id, 3, 1)) == (PIECE, False, True)
    assert documents.redo(piece.id, 1).revision.text == "b"
    assert documents.redo(piece.id, 2).revision.text == "c"
    documents.undo(piece.id, 3)
    revised(documents, documents.undo(piece.id, 2), "d")
    assert stand(documents.go_to(piece.id, 4, 3)) == ("c", True, False)
    assert stand(documents.go_to(piece.id, 3, 3)) == ("c", True, False)


def test_a_history_tells_every_revision_newest_first(documents: Documents, piece: Sheet) -> None:
    revised(documents, piece, "b")
    revised(documents, documents.undo(piece.id, 2), "c")
    steps = documents.history(piece.id)
    assert [(step.number, step.parent, step.is_head) for step in steps] == [
        (3, 1, True),
        (2, 1, False),
        (1, None, False),
    ]
    assert (steps[2].at, steps[2].author, steps[2].what) == (
        piece.revision.at,
        "Ann",
        "begun from a file",
    )


def test_documents_are_listed_by_kind_the_latest_changed_first(
    documents: Documents, piece: Sheet, shop: int
) -> None:
    other = documents.begin("piece", "x", title="Gate", what="begun")
    assert [each.id for each in documents.listed("piece")] == [other.id, piece.id]
    after = revised(documents, piece, "b")
    (listed, _) = documents.listed("piece")
    assert (listed.id, listed.title, listed.shop, listed.author) == (piece.id, "Door b", shop, "")
    assert (listed.at, listed.revisions) == (after.revision.at, 2)
    documents.undo(piece.id, 2, author="Ben")
    (listed, _) = documents.listed("piece")
    assert (listed.title, listed.author, listed.revisions) == ("Door", "Ben", 2)
    assert [each.title for each in documents.listed("shop")] == ["Mill Lane"]


def changes(documents: Documents, number: int, base: int) -> list[Callable[[], Sheet]]:
    return [
        lambda: documents.revise(number, base, "mine", title="Door", what="mine"),
        lambda: documents.undo(number, base),
        lambda: documents.redo(number, base),
        lambda: documents.go_to(number, base, 1),
    ]


def test_a_change_of_what_stands_no_more_is_refused_with_what_stands(
    documents: Documents, piece: Sheet
) -> None:
    theirs = documents.revise(piece.id, 1, "b", title="Gate", author="Ben", what="theirs")
    message = r"Gate: it stands at revision 2 by Ben, and not at 1 any more\. Look at it as it is"
    for change in changes(documents, piece.id, 1):
        with pytest.raises(Overtaken, match=message) as told:
            change()
        assert told.value.sheet == theirs == documents.sheet(piece.id)


def test_a_discarded_document_is_listed_apart_until_it_is_brought_back(
    documents: Documents, piece: Sheet
) -> None:
    gone = documents.discard(piece.id)
    assert gone.discarded is not None
    assert documents.discard(piece.id) == gone == documents.sheet(piece.id)
    assert documents.listed("piece") == ()
    assert [each.id for each in documents.listed("piece", discarded=True)] == [piece.id]
    for change in changes(documents, piece.id, 1):
        with pytest.raises(InputError, match=r"Door: it was discarded\. Bring it back first"):
            change()
    assert documents.bring_back(piece.id) == piece == documents.bring_back(piece.id)
    assert [each.id for each in documents.listed("piece")] == [piece.id]


def told_a_number(change: Callable[[], Sheet]) -> Callable[[int], Sheet]:
    return lambda _: change()


@pytest.mark.parametrize("number", [0, 99, -1, 2**63, 10**40])
def test_a_document_that_is_not_there_is_told(documents: Documents, number: int) -> None:
    asks: list[Callable[[int], object]] = [
        documents.sheet,
        documents.history,
        documents.discard,
        documents.bring_back,
        lambda number: documents.revision(number, 1),
    ]
    asks += [told_a_number(change) for change in changes(documents, number, 1)]
    for ask in asks:
        with pytest.raises(MissingError, match=f"document: there is no document {number}"):
            ask(number)


@pytest.mark.parametrize("number", [0, 2, 10**40])
def test_a_revision_that_is_not_there_is_told(
    documents: Documents, piece: Sheet, number: int
) -> None:
    asks: list[Callable[[], object]] = [
        lambda: documents.revision(piece.id, number),
        lambda: documents.go_to(piece.id, 1, number),
    ]
    for ask in asks:
        with pytest.raises(MissingError, match=f"document {piece.id}: it has no revision {number}"):
            ask()


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ({"text": " \n"}, "document: text: it is empty"),
        ({"text": "a\0"}, "document: text: character 2, '.x00', cannot be stored. Leave it out"),
        ({"text": "\ud800"}, "cannot be stored"),
        ({"text": "x" * (TEXT + 1)}, "it has 2000001 characters. Keep it to 2000000"),
        ({"title": ""}, "document: title: it is empty"),
        ({"what": ""}, "document: what was changed: it is empty"),
        ({"author": "x" * 201}, "document: author: it has 201 characters"),
    ],
)
def test_what_cannot_be_stored_is_refused(
    documents: Documents, piece: Sheet, told: dict[str, Any], message: str
) -> None:
    given: dict[str, Any] = {"text": "x", "title": "x", "what": "x", "author": ""} | told
    with pytest.raises(InputError, match=message):
        documents.begin("piece", **given)
    with pytest.raises(InputError, match=message):
        documents.revise(piece.id, 1, **given)
    assert len(documents.history(piece.id)) == len(documents.listed("piece")) == 1


def test_an_author_who_cannot_be_stored_undoes_nothing(documents: Documents, piece: Sheet) -> None:
    after = revised(documents, piece, "b")
    with pytest.raises(InputError, match="document: author"):
        documents.undo(piece.id, 2, author="a\0")
    assert documents.sheet(piece.id) == after


def test_a_kind_of_document_that_there_is_not_is_refused(documents: Documents) -> None:
    with pytest.raises(
        InputError, match=r"document: 'bench' is no kind of document\. Give shop or"
    ):
        documents.begin("bench", "x", title="x", what="x")  # type: ignore[arg-type] # the point


def test_inside_a_transaction_documents_are_told_and_asked_too(store: Store, piece: Sheet) -> None:
    def fail() -> None:
        with store.all_or_nothing():
            assert revised(store.documents, piece, "b") == store.documents.sheet(piece.id)
            store.documents.revise(piece.id, 1, "c", title="x", what="x")

    with pytest.raises(Overtaken):
        fail()
    assert store.documents.sheet(piece.id) == piece


def test_only_a_piece_is_made_in_a_shop(documents: Documents, piece: Sheet, shop: int) -> None:
    for kind, number in (("piece", piece.id), ("piece", 99), ("shop", shop)):
        with pytest.raises(
            InputError, match=f"shop: document {number} is not a shop that a {kind}"
        ):
            documents.begin(kind, "x", title="x", shop=number, what="x")  # type: ignore[arg-type] # each is one


@SAME_STORE
@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1))
def test_a_text_comes_back_to_the_letter(store: Store, text: str) -> None:
    text = f"#{text}"
    begun = store.documents.begin("shop", text, title="x", what="x")
    assert store.documents.sheet(begun.id).revision.text == text


Moves = st.lists(
    st.tuples(st.sampled_from(["revise", "undo", "redo", "go to"]), st.integers(1, 8)), max_size=14
)


@SAME_STORE
@given(moves=Moves)
def test_a_document_stands_where_its_moves_lead(store: Store, moves: list[tuple[str, int]]) -> None:
    documents = store.documents
    sheet = documents.begin("piece", "1", title="x", what="x")
    head, parents, undone = 1, {1: 0}, dict[int, int]()
    for move, number in moves:
        before = head
        if move == "revise":
            head = len(parents) + 1
            parents[head] = before
            sheet = documents.revise(sheet.id, before, str(head), title="x", what="x")
        elif move == "undo" and parents[head]:
            head = parents[head]
            undone[head] = before
            sheet = documents.undo(sheet.id, before)
        elif move == "redo" and head in undone:
            head = undone[head]
            sheet = documents.redo(sheet.id, before)
        elif move == "go to" and number in parents:
            head = number
            sheet = documents.go_to(sheet.id, before, number)
            way = [before]
            while way[-1] > head:
                way.append(parents[way[-1]])
            if way[-1] == head:
                undone |= {parents[child]: child for child in way[:-1]}
        wanted = (str(head), parents[head] > 0, head in undone)
        assert stand(sheet) == stand(documents.sheet(sheet.id)) == wanted
    steps = documents.history(sheet.id)
    assert {step.number: step.parent or 0 for step in steps} == parents


def test_a_store_that_was_closed_still_has_its_documents(place: str) -> None:
    with open_store(place) as store:
        sheet = revised(
            store.documents, store.documents.begin("shop", SHOP, title="a", what="b"), "c"
        )
    with open_store(place) as store:
        assert store.documents.sheet(sheet.id) == sheet


def test_many_threads_revise_through_one_store(store: Store, piece: Sheet) -> None:
    """Each tries until its change is on top; none fails for a lock, and none is lost."""
    failed: list[BaseException] = []

    def work(name: str) -> None:
        try:
            for number in range(5):
                add(store.documents, piece.id, f"{name}{number}")
        except BaseException as error:  # noqa: BLE001 - told below
            failed.append(error)

    threads = [Thread(target=work, args=(name,)) for name in "abcdef"]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert not failed
    assert len(store.documents.sheet(piece.id).revision.text.split()) == 30 + len(PIECE.split())
    assert len(store.documents.history(piece.id)) == 31


def add(documents: Documents, number: int, word: str) -> None:
    """Add a word to whatever stands, however often someone else is quicker."""
    sheet = documents.sheet(number)
    while True:
        try:
            revision = sheet.revision
            text = f"{revision.text} {word}"
            documents.revise(number, revision.number, text, title="Door", what=word)
        except Overtaken as overtaken:
            sheet = overtaken.sheet
        else:
            return
