import pytest

from faywright.errors import DocumentError, Fault
from faywright.joints.wanted import WantedJoint
from faywright.piece.document import open_document
from faywright.piece.fields import Table
from faywright.piece.panel_tables import (
    Rings,
    WantedDrawer,
    WantedFramed,
    WantedRow,
    read_drawer,
    read_framed,
    read_panel,
)
from faywright.piece.values import Reader, UnreadError, shown

JOINTS: dict[str, WantedJoint | None] = {"back boards": None, "door boards": None}

PANEL = 'name = "back"\njoint = "back boards"\nwidth = "36 in"\n'
FRAMED = """\
name = "door panel"
species = "walnut"
rings = "flat"
opening_width = 300
opening_height = 620
groove_depth = "3/8 in"
"""
DRAWER = """\
name = "top drawer"
species = "cherry"
rings = 20
opening_width = 400
opening_height = 120
"""


def _rings(value: object) -> Rings:
    if value == "flat":
        return "flat"
    if isinstance(value, (int, float)):
        return float(value)
    raise UnreadError(f"{shown(value)} is no way of sawing", 'Use "flat" or an angle')


RINGS: Reader[Rings] = Reader(_rings, "flat")


def opened(kind: str, lines: str) -> Table:
    """The only table of a document of that kind, which begins in line 3."""
    top = open_document(
        f'faywright = "piece 1"\n\n[[{kind}]]\n{lines}', file="p.toml", kind="piece"
    )
    return top.tables(kind)[0]


def faults(table: Table) -> list[Fault]:
    with pytest.raises(DocumentError) as caught:
        table.document.stop_at_faults()
    return list(caught.value.faults)


def test_a_panel_names_its_joint_and_the_width_to_fill() -> None:
    assert read_panel(opened("panel", PANEL), JOINTS) == WantedRow(
        name="back", joint="back boards", width=914.4, count=None, ends=None, laid="between sides"
    )


def test_a_panel_may_say_how_many_boards_and_how_they_are_laid() -> None:
    row = read_panel(opened("panel", PANEL + 'count = 7\nlaid = "glued"\n'), JOINTS)
    assert row is not None
    assert (row.count, row.laid) == (7, "glued")


def test_a_panel_of_given_boards_may_ask_for_equal_ends() -> None:
    row = read_panel(opened("panel", PANEL + 'ends = "equal ends"\n'), JOINTS)
    assert row is not None
    assert row.ends == "equal ends"


def test_a_framed_panel_has_its_grain_upright_and_common_engagement() -> None:
    assert read_framed(opened("framed", FRAMED), RINGS) == WantedFramed(
        name="door panel",
        species="walnut",
        rings="flat",
        opening_width=300,
        opening_height=620,
        groove_depth=9.525,
        grain="upright",
        engagement=3.0,
    )


def test_a_framed_panel_may_have_level_grain_and_its_own_engagement() -> None:
    lines = FRAMED + 'grain = "level"\nengagement = 4.5\n'
    panel = read_framed(opened("framed", lines), RINGS)
    assert panel is not None
    assert (panel.grain, panel.engagement) == ("level", 4.5)


def test_a_drawer_takes_the_angle_of_its_rings_from_the_reader_given() -> None:
    assert read_drawer(opened("drawer", DRAWER), RINGS) == WantedDrawer(
        name="top drawer", species="cherry", rings=20.0, opening_width=400, opening_height=120
    )


@pytest.mark.parametrize(
    ("lines", "line", "field", "what"),
    [
        (PANEL.replace("36 in", "5 mm"), 6, "width", "width 5 mm is not between 20 and 20000 mm"),
        (PANEL + "count = 0\n", 7, "count", "count 0 boards is not between 1 and 200"),
        (PANEL + "count = 6.5\n", 7, "count", "6.5 is a number, where a whole number belongs"),
        (PANEL.replace("back boards", "bak boards"), 5, "joint", "no joint called 'bak boards'"),
        (PANEL + 'ends = "equal"\n', 7, "ends", '"equal ends" is like it'),
        (PANEL + 'laid = "floating"\n', 7, "laid", "'floating' is not known"),
        (PANEL + "gap = 2\n", 7, "gap", "it is not a known key"),
        (PANEL.replace('width = "36 in"\n', ""), 3, "width", "it is missing"),
    ],
)
def test_a_fault_of_a_panel_is_told_at_its_field(
    lines: str, line: int, field: str, what: str
) -> None:
    table = opened("panel", lines)
    assert read_panel(table, JOINTS) is None
    (fault,) = faults(table)
    assert (fault.line, fault.field) == (line, f"panel 1 (back): {field}")
    assert what in fault.what


def test_equal_boards_cannot_have_other_ends() -> None:
    table = opened("panel", PANEL + 'count = 7\nends = "equal ends"\n')
    assert read_panel(table, JOINTS) is None
    (fault,) = faults(table)
    assert (fault.line, fault.what) == (3, "equal boards have equal ends")
    assert fault.remedy.startswith("Leave ends out, or leave count out")


@pytest.mark.parametrize(
    ("old", "new", "line", "field", "what"),
    [
        ("width = 300", "width = 3", 7, "opening_width", "opening_width 3 mm is not between 20"),
        ("height = 620", "height = 1e4", 8, "opening_height", "is not between 20 and 5000 mm"),
        ('"3/8 in"', "0.5", 9, "groove_depth", "groove_depth 0.5 mm is not between 2 and 50 mm"),
        ('"3/8 in"', '10\ngrain = "across"', 10, "grain", "'across' is not known"),
        ('"3/8 in"', "10\nengagement = 0.1", 10, "engagement", "is not between 0.5 and 50 mm"),
        ('"flat"', '"wild"', 6, "rings", "'wild' is no way of sawing"),
        ('"walnut"', '""', 5, "species", "nothing is written"),
    ],
)
def test_a_fault_of_a_framed_panel_is_told_at_its_field(
    old: str, new: str, line: int, field: str, what: str
) -> None:
    assert old in FRAMED
    table = opened("framed", FRAMED.replace(old, new))
    assert read_framed(table, RINGS) is None
    (fault,) = faults(table)
    assert (fault.line, fault.field) == (line, f"framed 1 (door panel): {field}")
    assert what in fault.what


def test_an_engagement_as_deep_as_its_groove_is_refused() -> None:
    table = opened("framed", FRAMED + "engagement = 9.525\n")
    assert read_framed(table, RINGS) is None
    (fault,) = faults(table)
    assert fault.what == "an engagement of 9.525 mm needs a groove deeper than 9.525 mm"


@pytest.mark.parametrize(
    ("old", "new", "line", "field"),
    [
        ("width = 400", "width = 4", 7, "opening_width"),
        ("height = 120", 'height = "4 ft"', 8, "opening_height"),
        ("height = 120", 'height = "tall"', 8, "opening_height"),
    ],
)
def test_a_fault_of_a_drawer_is_told_at_its_field(
    old: str, new: str, line: int, field: str
) -> None:
    table = opened("drawer", DRAWER.replace(old, new))
    assert read_drawer(table, RINGS) is None
    (fault,) = faults(table)
    assert (fault.line, fault.field) == (line, f"drawer 1 (top drawer): {field}")


def test_all_that_is_missing_is_told_at_once() -> None:
    table = opened("drawer", 'name = "top drawer"\n')
    assert read_drawer(table, RINGS) is None
    missing = {fault.field.rpartition(" ")[2] for fault in faults(table)}
    assert missing == {"species", "rings", "opening_width", "opening_height"}
