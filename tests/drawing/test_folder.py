"""What a plan leaves in its folder, read back from the files."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest
import shapely
from ezdxf.document import Drawing as Document
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read

from faywright.drawing.drawings import LONGEST_SLUG, PlanDrawing, plan_drawings, slug
from faywright.drawing.folder import LIST, write_plan
from faywright.drawing.model import LINE_WIDTHS, Drawing
from faywright.drawing.part_section import Scale
from faywright.errors import DocumentError
from faywright.piece.opened import Documents, open_documents
from faywright.piece.plan import Plan, plan
from tests.drawing.paper import SVG, element_tree, hatched

DEMO = Path(__file__).parents[2] / "examples" / "hall-bench" / "piece.toml"
SAME_NAMES = ("Lådor!", "lador?")


@pytest.fixture(name="documents", scope="module")
def _documents() -> Documents:
    return open_documents(DEMO)


@pytest.fixture(name="bench", scope="module")
def _bench(documents: Documents) -> Plan:
    """The demo, its two joints called nearly the same."""
    joints = tuple(
        replace(joint, name=name)
        for joint, name in zip(documents.piece.joints, SAME_NAMES, strict=True)
    )
    return plan(replace(documents.piece, joints=joints, panels=()), documents.shop)


@pytest.fixture(name="drawings", scope="module")
def _drawings(bench: Plan) -> dict[str, PlanDrawing]:
    return {each.stem: each for each in plan_drawings(bench)}


@pytest.fixture(name="small", scope="module")
def _small(documents: Documents) -> Plan:
    """The demo with one joint only."""
    piece = replace(documents.piece, joints=documents.piece.joints[1:], panels=())
    return plan(piece, documents.shop)


@pytest.fixture(name="loose", scope="module")
def _loose(documents: Documents) -> Plan:
    """Boards of the demo joined by its runners as loose tongues."""
    piece = documents.piece
    (back, runner) = piece.joints
    wanted = replace(
        runner,
        name="boards",
        family="loose tongue",
        groove=back.groove,
        second_groove=back.tongue,
        groove_depth=None,
        tongue_length=8.0,
        load=None,
    )
    parts = tuple(
        replace(part, boards=part.boards[:3] if part.name == back.groove.part else part.boards)
        for part in piece.parts
    )
    return plan(replace(piece, parts=parts, joints=(wanted,), panels=()), documents.shop)


@pytest.fixture(name="folder", scope="module")
def _folder(bench: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo in it; only to be read."""
    folder = tmp_path_factory.mktemp("bench")
    write_plan(bench, folder)
    return folder / "drawings"


@pytest.fixture(name="own")
def _own(bench: Plan, tmp_path: Path) -> Path:
    """A folder with the demo in it, to be written again."""
    write_plan(bench, tmp_path)
    return tmp_path / "drawings"


def read_dxf(path: Path) -> Document:
    document = read(io.StringIO(path.read_text(encoding="ascii")))
    assert document.audit().errors == []
    return document


def corners(document: Document) -> set[tuple[float, float]]:
    """Corners of all surfaces of the work."""
    return {
        (round(x, 6), round(y, 6))
        for run in document.modelspace().query("LWPOLYLINE[layer=='OUTLINE']")
        if isinstance(run, LWPolyline)
        for x, y, *_ in run.get_points()
    }


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


# What is there


def test_every_joint_part_and_setup_has_its_files(folder: Path, bench: Plan) -> None:
    both = {f"joint-{joint}-lador{part}" for joint in (1, 2) for part in ("", "-groove")}
    both |= {"joint-1-lador-tongue", "joint-2-lador-strip"}
    for setup in bench.setups:
        both |= {f"setup-{setup.number:02}-along-feed", f"setup-{setup.number:02}-from-above"}
    made = ("by-thickness", "clearances", "errors")
    charts = {f"joint-{k}-lador-{chart}" for k in (1, 2) for chart in made}
    outlines = {f"{stem}-outline" for stem in both if stem.endswith(("groove", "tongue", "strip"))}
    expected = {f"{stem}.svg" for stem in both | charts}
    expected |= {f"{stem}.dxf" for stem in both | outlines}
    assert names(folder) == expected | {LIST}


def test_all_paths_are_told_and_no_two_are_the_same(small: Plan, tmp_path: Path) -> None:
    written = write_plan(small, tmp_path)
    found = {path for path in tmp_path.rglob("*") if path.is_file()}
    assert len(set(written.paths)) == len(written.paths)
    assert set(written.paths) == found - {tmp_path / "drawings" / LIST}
    assert written.removed == ()
    count = len(written.paths) - 3
    assert list(written.lines) == [
        *(str(tmp_path / name) for name in ("plan.json", "summary.txt", "packet.pdf")),
        f"{tmp_path / 'drawings'}: {count} files",
    ]


def test_both_boards_of_a_loose_tongue_are_shown(loose: Plan) -> None:
    roles = {each.stem: each.cut.role for each in plan_drawings(loose) if each.cut is not None}
    assert roles == {
        "joint-1-boards-groove": "groove",
        "joint-1-boards-strip": "strip",
        "joint-1-boards-second-groove": "second groove",
    }


def test_a_loose_tongue_is_shown_as_wide_as_it_is_ripped(loose: Plan) -> None:
    stock = loose.joints[0].task.tongued.deep
    assert stock.min() > 2 * 8.0
    joint, *others = plan_drawings(loose)
    (strip,) = [each.cut for each in others if each.cut is not None and each.cut.role == "strip"]
    assert float(np.ptp(strip.sections.polygons[0].bounds[1::2])) == pytest.approx(2 * 8.0)
    grooved, tongue, facing = hatched_apart(joint.drawing)
    assert tongue.bounds[2] - tongue.bounds[0] == pytest.approx(2 * 8.0)
    assert tongue.intersection(grooved).area == pytest.approx(0.0, abs=1e-6)
    assert tongue.intersection(facing).area == pytest.approx(0.0, abs=1e-6)


def hatched_apart(drawing: Drawing) -> list[shapely.Polygon]:
    """Grooved part, tongue and facing part at true size, the lens left out."""
    return hatched(drawing)[:3]


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("Back", "-back"),
        ("Lådor, höger", "-lador-hoger"),
        ("задняя стенка", ""),
        ("../../etc", "-etc"),
        ("-- 3/4 --", "-3-4"),
        ("w" * 300, f"-{'w' * LONGEST_SLUG}"),
    ],
)
def test_names_are_made_plain(name: str, part: str) -> None:
    assert slug(name) == part


# SVG


def test_every_svg_is_well_formed_and_says_what_it_shows(folder: Path) -> None:
    for path in folder.glob("*.svg"):
        root = element_tree(path.read_text(encoding="utf-8"))
        title, told = (root.findtext(f"{SVG}{tag}") for tag in ("title", "desc"))
        assert root.tag == f"{SVG}svg"
        assert title
        assert told
        assert root.get("width", "").endswith("mm")


@pytest.mark.parametrize(
    ("scale", "words"),
    [(1, "1:1, this line is 50 mm"), (2, "2:1, this line is 50 mm on paper, 25 mm of the work")],
)
def test_parts_come_at_the_scale_that_is_asked_for(small: Plan, scale: Scale, words: str) -> None:
    parts = [each for each in plan_drawings(small, scale=scale) if each.cut is not None]
    assert len(parts) == 2
    for each in parts:
        assert each.drawing.scale == scale
        assert words in [text.text for text in each.drawing.texts]


def test_the_scale_is_for_parts_alone(bench: Plan, drawings: dict[str, PlanDrawing]) -> None:
    for each in plan_drawings(bench, scale=1):
        usual = drawings[each.stem].drawing.scale
        assert each.drawing.scale == (usual if each.cut is None else 1)
    assert drawings["joint-1-lador-groove"].drawing.scale == 2
    assert drawings["joint-2-lador-groove"].drawing.scale == 1  # a drawer side is 96 mm across


# DXF


def test_every_dxf_is_read_back_in_millimetres_with_its_layers(folder: Path) -> None:
    for path in folder.glob("*.dxf"):
        document = read_dxf(path)
        assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (4, 1)
        layers = {layer.dxf.name for layer in document.layers}
        if path.stem.endswith("-outline"):
            assert layers & {"GROOVE", "TONGUE", "STRIP"}
        else:
            assert {"TEXT", *(weight.upper() for weight in LINE_WIDTHS)} <= layers


def test_no_entity_is_on_a_layer_that_is_not_there(folder: Path) -> None:
    for path in folder.glob("*.dxf"):
        document = read_dxf(path)
        used = {entity.dxf.layer for entity in document.modelspace()}
        assert used
        assert used <= {layer.dxf.name for layer in document.layers}


@pytest.mark.parametrize("part", ["joint-1-lador-groove", "joint-1-lador-tongue"])
def test_a_drawn_part_has_its_true_size(
    folder: Path, drawings: dict[str, PlanDrawing], part: str
) -> None:
    cut = drawings[part].cut
    assert cut is not None
    thick = float(cut.sections.thickness[cut.board])
    faces = {-y for _, y in corners(read_dxf(folder / f"{part}.dxf"))}
    name, axis = ("bottom", 1) if cut.role == "groove" else ("face-A cheek", 0)
    at = abs(float(cut.sections.position(name, axis)[cut.board]))
    level = {abs(point[1 - axis]) for point in corners(read_dxf(folder / f"{part}.dxf"))}
    assert max(faces) == pytest.approx(thick, abs=1e-6)
    assert min(faces) == pytest.approx(0.0, abs=1e-6)
    assert min(abs(each - at) for each in level) < 1e-6


def test_the_outline_of_every_part_has_the_area_that_was_simulated(
    folder: Path, drawings: dict[str, PlanDrawing]
) -> None:
    parts = [each for each in drawings.values() if each.cut is not None]
    assert len(parts) == 4
    for each in parts:
        cut = each.cut
        assert cut is not None
        (run,) = read_dxf(folder / f"{each.stem}-outline.dxf").modelspace()
        assert isinstance(run, LWPolyline)
        assert run.closed
        area = shapely.Polygon([point[:2] for point in run.get_points()]).area
        assert area == pytest.approx(float(cut.sections.area[cut.board]), abs=1e-6)


def test_the_boards_of_the_tightest_pair_are_drawn(
    bench: Plan, drawings: dict[str, PlanDrawing]
) -> None:
    solution = bench.joints[0].solution
    tightest = int(solution.clearance.argmin())
    task = solution.task
    for part, mark in (
        ("groove", task.grooved.marks[solution.first[tightest]]),
        ("tongue", task.tongued.marks[solution.second[tightest]]),
    ):
        assert drawings[f"joint-1-lador-{part}"].drawing.title.endswith(f"{part} of {mark}")


# A folder that is written again


def test_drawings_of_a_larger_plan_do_not_stay(own: Path, small: Plan) -> None:
    before = names(own)
    written = write_plan(small, own.parent)
    assert {path.name for path in written.removed} == before - names(own)
    assert names(own) == {path.name for path in written.paths if path.parent == own} | {LIST}
    assert not list(own.glob("setup-10*"))
    assert any(line.endswith("no such drawing") for line in written.lines)


def spoil(path: Path) -> None:
    path.write_text("mine", encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "touch"),
    [
        ("setup-10-along-feed.svg", spoil),
        ("setup-11-along-feed.svg", spoil),
        ("notes.txt", spoil),
    ],
    ids=["changed since", "like ours", "another"],
)
def test_what_was_not_written_here_stays(
    own: Path, small: Plan, name: str, touch: Callable[[Path], None]
) -> None:
    touch(own / name)
    written = write_plan(small, own.parent)
    assert (own / name).read_text(encoding="utf-8") == "mine"
    assert own / name not in written.removed


def test_a_list_leads_to_no_other_folder(own: Path, small: Plan) -> None:
    treasure = own.parent / "treasure.svg"
    spoil(treasure)
    fingerprint = sha256(b"mine").hexdigest()
    told = f"{fingerprint}  ../treasure.svg\n{fingerprint}  {treasure}\nno line of ours\n"
    (own / LIST).write_text(told, encoding="utf-8")
    assert write_plan(small, own.parent).removed == ()
    assert treasure.is_file()


def test_the_list_has_the_fingerprint_of_every_drawing(folder: Path) -> None:
    lines = (folder / LIST).read_text(encoding="ascii").splitlines()
    listed = {name: fingerprint for fingerprint, name in (line.split("  ") for line in lines)}
    assert listed == {
        path.name: sha256(path.read_bytes()).hexdigest()
        for path in folder.iterdir()
        if path.name != LIST
    }


def test_the_same_plan_is_always_the_same_files(own: Path, bench: Plan) -> None:
    before = {path.name: path.read_bytes() for path in own.iterdir()}
    assert write_plan(bench, own.parent).removed == ()
    assert {path.name: path.read_bytes() for path in own.iterdir()} == before


def test_a_folder_that_cannot_be_written_is_told(small: Plan, tmp_path: Path) -> None:
    (tmp_path / "drawings").write_text("a file, not a folder", encoding="utf-8")
    with pytest.raises(DocumentError, match="output folder: it cannot be written"):
        write_plan(small, tmp_path)
