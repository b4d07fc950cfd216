"""``docs/documents.md`` against the readers: every key they know is explained, and no other.

The readers tell what they know when a key is misspelt beyond guessing: "Known here are ...".
"""

import re
from collections.abc import Mapping
from dataclasses import MISSING, fields
from functools import cache
from pathlib import Path
from typing import get_args

import pytest

from faywright.errors import DocumentError
from faywright.fit.bands import fits
from faywright.joints.grooves import GROOVE_METHODS
from faywright.joints.tongues import HALF_METHODS, TONGUE_METHODS
from faywright.joints.wanted import EdgeName, Family, WantedJoint
from faywright.lengths import LengthStyle, Style, Unit
from faywright.piece.csv_table import ACROSS, WORDS
from faywright.piece.panel_tables import WantedDrawer, WantedFramed, WantedRow
from faywright.piece.piece_file import PieceFile, piece_from_text
from faywright.piece.plan import plan
from faywright.piece.shop_file import shop_from_text
from faywright.shop.boards import Timber
from faywright.shop.cutters import (
    BeadCutter,
    CutSize,
    Cutter,
    DovetailCutter,
    SlotCutter,
    StraightCutter,
    TonguePairCutter,
    VCutter,
)
from faywright.shop.gauges import Gauge, Use
from faywright.shop.inventory import Reference, Shop
from faywright.shop.machines import Fence, FenceSide, Machine, Rotation
from faywright.timber.beams import LoadPlace
from faywright.timber.climate import rooms
from faywright.timber.framed import FrameGrain
from faywright.timber.movement import Grain
from faywright.timber.rows import Ends, Laid
from faywright.timber.species import Group
from faywright.timber.strength import Duration

PAGE = (Path(__file__).parents[1] / "docs" / "documents.md").read_text(encoding="utf-8")

SHOP = 'faywright = "shop 1"\n'
PIECE = 'faywright = "piece 1"\n'
PART = '[[part]]\nname = "lid"\ntimber = "softwood"\n'
ODD = "qqqqqq"
COMMON = "`[[cutter]]`, of every kind"

SECTIONS = {
    "The top of a shop file": f"{SHOP}{ODD} = 1\n",
    "`[habits]`": f"{SHOP}[habits]\n{ODD} = 1\n",
    "`[[machine]]`": f"{SHOP}[[machine]]\n{ODD} = 1\n",
    "`fence` of a machine": f"{SHOP}[[machine]]\nfence = {{ {ODD} = 1 }}\n",
    **{
        f'`kind = "{kind}"`': f'{SHOP}[[cutter]]\nkind = "{kind}"\n{ODD} = 1\n'
        for kind in ("straight", "slot", "tongue pair", "v", "bead", "dovetail")
    },
    "A size that decides a fit": (
        f'{SHOP}[[cutter]]\nkind = "straight"\ndiameter = {{ {ODD} = 1 }}\n'
    ),
    "`[[gauge]]`": f"{SHOP}[[gauge]]\n{ODD} = 1\n",
    "`[[species]]`": f"{SHOP}[[species]]\n{ODD} = 1\n",
    "The top of a piece file": f"{PIECE}{ODD} = 1\n",
    "`[[part]]`": f"{PIECE}[[part]]\n{ODD} = 1\n",
    "`[[board]]`": f"{PIECE}{PART}[[board]]\n{ODD} = 1\n",
    "`[boards]`": f"{PIECE}{PART}[boards]\n{ODD} = 1\n",
    "`[[joint]]`": f"{PIECE}{PART}[[joint]]\n{ODD} = 1\n",
    "A place: `groove`, `tongue`, `second_groove`": (
        f"{PIECE}{PART}[[joint]]\ngroove = {{ {ODD} = 1 }}\n"
    ),
    "`fit`": f"{PIECE}{PART}[[joint]]\nfit = {{ {ODD} = 1 }}\n",
    "`detail`": f"{PIECE}{PART}[[joint]]\ndetail = {{ {ODD} = 1 }}\n",
    "`load`": f"{PIECE}{PART}[[joint]]\nload = {{ {ODD} = 1 }}\n",
    "`method`": f"{PIECE}{PART}[[joint]]\nmethod = {{ {ODD} = 1 }}\n",
    "`[climate]`": f"{PIECE}[climate]\n{ODD} = 1\n",
    "`cutting`, `assembly`": f"{PIECE}[climate]\ncutting = {{ {ODD} = 1 }}\n",
    "`[[climate.season]]`": f"{PIECE}[[climate.season]]\n{ODD} = 1\n",
    "`monthly`": f"{PIECE}[climate]\nmonthly = {{ {ODD} = 1 }}\n",
    "`[[shelf]]`": f"{PIECE}[[shelf]]\n{ODD} = 1\n",
    "`[[panel]]`": f"{PIECE}[climate]\n[[panel]]\n{ODD} = 1\n",
    "`[[framed]]`": f"{PIECE}[climate]\n[[framed]]\n{ODD} = 1\n",
    "`[[drawer]]`": f"{PIECE}[climate]\n[[drawer]]\n{ODD} = 1\n",
}
"""A heading of the page, and a document with an odd key in the table that it explains."""

MADE: Mapping[str, type] = {
    "`[[machine]]`": Machine,
    "`fence` of a machine": Fence,
    COMMON: Cutter,
    '`kind = "straight"`': StraightCutter,
    '`kind = "slot"`': SlotCutter,
    '`kind = "tongue pair"`': TonguePairCutter,
    '`kind = "v"`': VCutter,
    '`kind = "bead"`': BeadCutter,
    '`kind = "dovetail"`': DovetailCutter,
    "A size that decides a fit": CutSize,
    "`[[gauge]]`": Gauge,
    "`[habits]`": LengthStyle,
    "`[[joint]]`": WantedJoint,
    "`[[panel]]`": WantedRow,
    "`[[framed]]`": WantedFramed,
    "`[[drawer]]`": WantedDrawer,
}
"""What the keys under a heading are the fields of."""


def rows(heading: str) -> dict[str, str]:
    """Keys that the tables under a heading explain, and what is taken where each is left out."""
    (text,) = re.findall(rf"^##+ {re.escape(heading)}$(.*?)(?=^#|\Z)", PAGE, re.MULTILINE | re.S)
    return dict(re.findall(r"^\| `(\w+)` \|.*\| ([^|]+) \|$", text, re.MULTILINE))


def read(document: str) -> object:
    """The shop or piece that a document describes."""
    if document.startswith(SHOP):
        return shop_from_text(document, file="shop.toml")
    return piece_from_text(document, file="piece.toml", folder=None)


@cache
def known(document: str) -> frozenset[str]:
    """Keys known where the odd one stands."""
    with pytest.raises(DocumentError) as caught:
        read(document)
    (fault,) = (fault for fault in caught.value.faults if fault.field.endswith(ODD))
    return frozenset(fault.remedy.removeprefix("Known here are ").split(", "))


@pytest.mark.parametrize("heading", SECTIONS)
def test_every_key_that_is_read_is_explained_and_no_other(heading: str) -> None:
    explained = set(rows(heading))
    if heading.startswith("`kind ="):
        explained |= set(rows(COMMON))
    assert explained == known(SECTIONS[heading])


def test_a_key_left_out_of_the_page_would_be_found() -> None:
    assert {"mark", "speeds_rpm", "fence"} < known(SECTIONS["`[[machine]]`"])
    assert ODD not in rows("`[[machine]]`")


def test_tables_that_are_read_have_a_heading_of_their_own() -> None:
    tops = [*rows("The top of a shop file"), *rows("The top of a piece file")]
    tables = {f"[{key}]" for key in tops} | {f"[[{key}]]" for key in tops}
    headings = re.findall(r"^## `(\[+\w+\]+)`", PAGE, re.MULTILINE)
    assert len(headings) == 14
    assert set(headings) <= tables


@pytest.mark.parametrize("heading", MADE)
def test_what_is_said_of_a_key_left_out_is_so(heading: str) -> None:
    told = rows(heading)
    checked = 0
    for field in fields(MADE[heading]):
        if field.name not in told or field.name == "style":  # as the units are
            continue
        left_out = told[field.name]
        assert (left_out == "needed") == (field.default is MISSING), field.name
        if isinstance(field.default, int | float) and not isinstance(field.default, bool):
            assert left_out.split()[0] == f"{field.default:g}", field.name
        checked += 1
    assert checked > 0


@pytest.mark.parametrize(
    "words",
    [
        *(Unit, Style, Rotation, FenceSide, Use, Reference, Timber, EdgeName, Family),
        *(GROOVE_METHODS, TONGUE_METHODS, HALF_METHODS),
        *(Group, Grain, Duration, LoadPlace, Ends, Laid, FrameGrain, tuple(rooms())),
    ],
)
def test_every_word_a_key_takes_is_on_the_page(words: object) -> None:
    accepted = words if isinstance(words, tuple) else get_args(words)
    assert [word for word in accepted if f'`"{word}"`' not in PAGE] == []


def test_packaged_fits_are_on_the_page_with_their_figures() -> None:
    found = {
        name: [cell.strip() for cell in cells.split("|")]
        for name, cells in re.findall(r'^\| `"(\w+)"` \| (.*) \|$', PAGE, re.MULTILINE)
    }
    timbers = get_args(Timber)
    for (name, timber), fit in fits().items():
        figures = f"{fit.low:.2f} to {fit.high:.2f}, aim {fit.aim:.2f}"
        assert found[name][timbers.index(timber)] == figures
    assert sum(bool(cell) for cells in found.values() for cell in cells) == len(fits())


@pytest.mark.parametrize("column", [*WORDS, *(f"{letter}1" for letter in ACROSS)])
def test_every_column_of_a_list_of_boards_is_explained(column: str) -> None:
    (text,) = re.findall(r"^### The list of boards$(.*?)(?=^#)", PAGE, re.MULTILINE | re.S)
    assert f"`{column}`" in text


# The examples


def examples(part: str, language: str) -> list[str]:
    """Code blocks under ``# Shop file`` or ``# Piece file``, in order."""
    (text,) = re.findall(rf"^# {part} file$(.*?)(?=^# |\Z)", PAGE, re.MULTILINE | re.S)
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.MULTILINE | re.S)


@pytest.fixture(name="cellar", scope="module")
def _cellar() -> Shop:
    return shop_from_text("\n".join(examples("Shop", "toml")), file="shop.toml")


def test_the_examples_make_one_whole_shop_file(cellar: Shop) -> None:
    assert len(examples("Shop", "toml")) == 8
    assert [cutter.mark for cutter in cellar.cutters] == ["C1", "C2", "C3"]
    assert cellar.machines[0].fence.ratio == 2


@pytest.fixture(name="lid")
def _lid(tmp_path: Path) -> PieceFile:
    (tmp_path / "boards.csv").write_text("".join(examples("Piece", "csv")), encoding="utf-8")
    text = "\n".join(examples("Piece", "toml"))
    return piece_from_text(text, file="piece.toml", folder=tmp_path)


def test_the_examples_make_one_whole_piece_file(lid: PieceFile) -> None:
    assert [board.mark for board in lid.piece.part("lid").boards] == ["L1", "L2", "L3", "L4"]
    assert [joint.family for joint in lid.piece.joints] == ["tongue and groove", "loose tongue"]
    assert lid.piece.climate is not None
    assert [shelf.name for shelf in lid.piece.shelves] == ["tray"]


def test_the_examples_can_be_planned_together(lid: PieceFile, cellar: Shop) -> None:
    whole = plan(lid.piece, cellar)
    joints = whole.joints
    assert [len(each) for each in (whole.rows, whole.framed, whole.drawers)] == [1, 1, 1]
    assert [joint.strength is not None for joint in joints] == [
        joint.wanted.name == "lid boards" for joint in joints
    ]
    assert {joint.wanted.family: joint.choice.forced for joint in joints} == {
        "tongue and groove": True,
        "loose tongue": False,
    }
    assert all(joint.setups for joint in joints)


def test_readings_along_and_across_are_read_as_the_page_says(lid: PieceFile) -> None:
    _, across, _, listed = lid.piece.part("lid").boards
    assert across.readings.shape == (3, 2)
    assert across.thickness_at("reference edge") == pytest.approx(19.0)
    assert across.thickness_at("opposite edge") == pytest.approx(18.96)
    assert listed.readings.tolist() == [[18.86], [18.87]]


def test_runout_widens_what_calipers_measured_and_not_what_a_trial_slot_did() -> None:
    assert CutSize(marked=8, measured=7.9, how="trial slot").cuts(0.05) == 7.9
    assert CutSize(marked=8, measured=7.9, how="calipers").cuts(0.05) == pytest.approx(7.95)
