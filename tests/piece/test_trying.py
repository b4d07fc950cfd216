"""A joint that is tried reads as the same words in its document would."""

from __future__ import annotations

import pytest

from faywright.errors import DocumentError, InputError, MissingError
from faywright.piece.amending import Value, amended
from faywright.piece.piece_file import piece_from_text
from faywright.piece.trying import KeyPath, tried

DOOR = """
faywright = "piece 1"
title = "Boarded door"
units = "in"

[[part]]
name = "board"
timber = "softwood"

[[board]]
mark = "B1"
part = "board"
width = 5
length = 78
thickness = ["7/8", 0.88]

[[board]]
mark = "B2"
part = "board"
width = 5
length = 78
thickness = [0.87]

[[joint]]
name = "boards"
family = "tongue and groove"
groove = { part = "board", edge = "reference edge" }
tongue = { part = "board", edge = "opposite edge" }
fit = "snug"
detail = { kind = "V", size = 0.1 }

[[joint]]
name = "ends"
family = "tongue and groove"
groove = { part = "board", edge = "head end" }
tongue = { part = "board", edge = "foot end" }
fit = "glued"
"""
PIECE = piece_from_text(DOOR, file="door.toml", folder=None).piece


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("groove_depth",), 0.4),
        (("groove_depth",), "10 mm"),
        (("half",), True),
        (("fit",), {"aim": 0.005, "low": 0, "high": "0.3 mm"}),
        (("detail", "size"), "1/8 in"),
        (("detail",), None),
        (("method",), {"groove": "groove flat, slot cutter"}),
        (("film",), None),
    ],
)
def test_what_is_tried_reads_as_if_it_were_written(path: KeyPath, value: Value | None) -> None:
    found = tried(PIECE, DOOR, "boards", {path: value})
    text = DOOR if path == ("film",) else amended(DOOR, ("joint", 0, *path), value)
    assert found.joints == piece_from_text(text, file="door.toml", folder=None).piece.joints
    assert found.parts == PIECE.parts


def test_a_fault_of_what_is_tried_has_its_place_in_the_document() -> None:
    with pytest.raises(DocumentError) as caught:
        tried(PIECE, DOOR, "ends", {("groove_depth",): "far", ("film",): 7})
    assert [fault.path for fault in caught.value.faults] == [
        ("joint", 1, "groove_depth"),
    ]


def test_an_edge_that_another_joint_has_cut_is_refused() -> None:
    with pytest.raises(InputError, match="is cut for joint 'boards' already"):
        tried(PIECE, DOOR, "ends", {("tongue", "edge"): "opposite edge"})


def test_a_joint_that_is_not_there_is_missing() -> None:
    with pytest.raises(MissingError):
        tried(PIECE, DOOR, "lid", {})


def test_trying_changes_nothing_for_whoever_reads_next() -> None:
    tried(PIECE, DOOR, "boards", {("detail", "size"): 0.2, ("film",): 0.001})
    assert tried(PIECE, DOOR, "boards", {}).joints == PIECE.joints


def test_a_board_is_kept_only_as_long_as_its_part_says_the_same() -> None:
    again = piece_from_text(DOOR, file="another", folder=None).piece
    hard = DOOR.replace('"softwood"', '"hardwood"\nspecies = "white ash"')
    other = piece_from_text(hard, file="door.toml", folder=None).piece
    thicker = piece_from_text(DOOR.replace("0.87", "0.9"), file="door.toml", folder=None).piece
    assert again.parts[0].boards[0] is PIECE.parts[0].boards[0]
    assert [board.timber for board in other.parts[0].boards] == ["hardwood", "hardwood"]
    assert other.parts[0].boards[0].species == "white ash"
    assert thicker.parts[0].boards[1].thickness == pytest.approx(0.9 * 25.4)


def test_boards_that_are_alike_in_other_units_are_read_anew() -> None:
    metric = DOOR.replace('units = "in"', 'units = "mm"').replace('["7/8", 0.88]', "[0.87, 0.88]")
    with pytest.raises(DocumentError, match="not between 1 and 200 mm"):
        piece_from_text(metric, file="door.toml", folder=None)
