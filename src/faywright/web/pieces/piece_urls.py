"""Addresses of pieces: the list, one piece with its boards and joints, and what was done to it."""

from __future__ import annotations

from django.urls import include, path

from faywright.web.pieces.boards_page import boards, paste
from faywright.web.pieces.files_page import archive, piece_file, take_in_page
from faywright.web.pieces.going_back import bring_back, discard, go_back, history, redo, undo
from faywright.web.pieces.piece_forms import piece_add, piece_climate, piece_drop
from faywright.web.pieces.piece_page import piece, piece_change
from faywright.web.pieces.piece_year import piece_year
from faywright.web.pieces.pieces import new_piece, pieces

urlpatterns = [
    path("", pieces, name="pieces"),
    path("pieces/new", new_piece, name="new-piece"),
    path("pieces/<int:piece>", piece, name="piece"),
    path("pieces/<int:piece>/change", piece_change, name="piece-change"),
    path("pieces/<int:piece>/add/<str:kind>", piece_add, name="piece-add"),
    path("pieces/<int:piece>/remove", piece_drop, name="piece-drop"),
    path("pieces/<int:piece>/climate/<str:form>", piece_climate, name="piece-climate"),
    path("pieces/<int:piece>/boards", boards, name="boards"),
    path("pieces/<int:piece>/boards/paste", paste, name="boards-paste"),
    path("pieces/<int:piece>/year", piece_year, name="piece-year"),
    path("pieces/<int:piece>/undo", undo, name="undo"),
    path("pieces/<int:piece>/redo", redo, name="redo"),
    path("pieces/<int:piece>/history", history, name="history"),
    path("pieces/<int:piece>/history/<int:number>/go-back", go_back, name="go-back"),
    path("pieces/<int:piece>/discard", discard, name="discard"),
    path("pieces/<int:piece>/bring-back", bring_back, name="bring-back"),
    path("pieces/<int:piece>/piece.toml", piece_file, name="piece-file"),
    path("take-in", take_in_page, name="take-in"),
    path("archive.zip", archive, name="archive"),
    path("", include("faywright.web.joint.joint_urls")),
]
