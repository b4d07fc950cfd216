"""Who may import whom inside the package: each room only from those above it in ``ROOMS``."""

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

import faywright

ROOT = Path(faywright.__file__).parent

ROOMS = (
    "errors",
    "lengths",
    "timber",
    "section",
    "shop",
    "fit",
    "joints",
    "setups",
    "trials",
    "piece",
    "drawing",
    "app",
    "web",
    "cli",
)
"""From what is needed by everything down to what needs everything."""

FACES = {"": "the package's own root", "cli": "the command line"}
"""Modules that show the rooms to the outside; ``""`` is the package's ``__init__``."""


@dataclass(frozen=True)
class Import:
    """One import of something of the package by a module of it."""

    module: str  # faywright.shop.cutters is shop.cutters here, and the root is ""
    line: int
    target: str

    def __str__(self) -> str:
        return f"{self.module or 'faywright'}, line {self.line}: imports {self.target}"


def module_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def is_module(name: str) -> bool:
    """Whether a dotted name within the package is a file, not a folder or something in a file."""
    return (ROOT / Path(*name.split("."))).with_suffix(".py").is_file() if name else False


def imports_in(source: str, module: str) -> Iterator[Import]:
    """Every import of the package; a module taken out of a folder counts as the module."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            start = node.module or ""
            if node.level:
                start = ".".join(filter(None, ["faywright", "." * node.level, start]))
            inner = [f"{start}.{alias.name}" for alias in node.names]
            names = [
                name if is_module(name.removeprefix("faywright.")) else start for name in inner
            ]
        else:
            continue
        for name in dict.fromkeys(names):
            if name.split(".")[0] == "faywright":
                yield Import(module, node.lineno, name)


IMPORTS = [
    found
    for path in sorted(ROOT.rglob("*.py"))
    for found in imports_in(path.read_text(encoding="utf-8"), module_of(path))
]


def inside(target: str) -> str:
    return target.removeprefix("faywright").removeprefix(".")


def upward(found: Import) -> bool:
    """Whether an import reaches for a room below its own."""
    here, there = (name.split(".")[0] for name in (found.module, inside(found.target)))
    return here in ROOMS and there in ROOMS and ROOMS.index(there) > ROOMS.index(here)


def relative(found: Import) -> bool:
    return ".." in found.target


def through_a_face(found: Import) -> bool:
    """Whether an import goes by the root or a folder rather than the module that defines it."""
    return found.module not in FACES and not is_module(inside(found.target))


def named(wrong: Callable[[Import], bool]) -> str:
    """The offending imports, one a line."""
    return "\n".join(str(found) for found in IMPORTS if wrong(found))


def test_every_module_and_folder_has_its_place_in_the_order() -> None:
    rooms = {module_of(path).split(".")[0] for path in ROOT.rglob("*.py")}
    assert rooms == {*ROOMS, ""}


def test_a_room_imports_only_from_rooms_above_it() -> None:
    assert not named(upward), named(upward)


def test_inside_the_package_things_are_imported_from_where_they_are_defined() -> None:
    assert not named(through_a_face), named(through_a_face)


def test_no_import_is_relative() -> None:
    assert not named(relative), named(relative)


def test_the_imports_are_seen_at_all() -> None:
    assert len(IMPORTS) > 150
    assert ("shop.cutters", "faywright.errors") in {(one.module, one.target) for one in IMPORTS}


@pytest.mark.parametrize(
    ("module", "source", "wrong"),
    [
        ("fit.chance", "from faywright.joints.method import Method", upward),
        ("piece.words", "from faywright.drawing import svg", upward),
        ("joints.task", "import faywright.cli", upward),
        ("setups.sheet", "def late():\n    from faywright.piece.plan import Plan", upward),
        ("piece.plan", "from faywright import plan", through_a_face),
        ("piece.plan", "import faywright", through_a_face),
        ("joints.task", "from faywright.shop import Board", through_a_face),
        ("joints.task", "from .work import Work", relative),
    ],
)
def test_an_import_against_the_order_would_be_found(
    module: str, source: str, wrong: Callable[[Import], bool]
) -> None:
    (found,) = imports_in(source, module)
    assert wrong(found)
    assert str(found).startswith(f"{module}, line ")


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("drawing.folder", "from faywright.piece.plan import plan"),
        ("joints.task", "from faywright.shop import cutters"),
        ("cli", "from faywright.piece.plan import plan"),
        ("shop.cutters", "from faywright.shop.boards import Board"),
    ],
)
def test_an_import_with_the_order_is_let_through(module: str, source: str) -> None:
    (found,) = imports_in(source, module)
    assert not upward(found)
    assert not through_a_face(found)


def test_other_packages_are_no_matter_of_the_order() -> None:
    assert list(imports_in("import numpy as np\nfrom shapely import box", "fit.chance")) == []
