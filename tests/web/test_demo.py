"""A new store begins with the demo, once."""

from __future__ import annotations

from faywright.web.demo import put_demo
from faywright.web.desk import Desk


def test_a_new_store_gets_the_demo(desk: Desk) -> None:
    documents = desk.store.documents
    assert [each.title for each in documents.listed("piece")] == ["Hall bench with a boarded back"]
    assert [each.title for each in documents.listed("shop")] == ["Lean-to shop"]


def test_the_demo_does_not_come_back_once_it_is_discarded(desk: Desk) -> None:
    documents = desk.store.documents
    for kind in ("piece", "shop"):
        documents.discard(documents.listed(kind)[0].id)
    put_demo(documents)
    assert not documents.listed("piece")
    assert len(documents.listed("shop", discarded=True)) == 1
