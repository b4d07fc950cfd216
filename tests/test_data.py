"""Packaged tables: each has a loader that takes every row, and names its sources."""

import csv
import re
from collections.abc import Callable, Mapping, Sized
from pathlib import Path

import pytest

import faywright
from faywright.fit import bands
from faywright.shop import practice
from faywright.timber import climate, names, species_table, strength_factors

ROOT = Path(faywright.__file__).parent
PAGE = (Path(__file__).parents[1] / "docs" / "references.md").read_text(encoding="utf-8")
KEYS = re.findall(r"^## `([a-z0-9-]+)`$", PAGE, re.MULTILINE)

TABLES = sorted(path.relative_to(ROOT).as_posix() for path in ROOT.rglob("*.csv"))
LOADERS: Mapping[str, Callable[[], Sized]] = {
    bands.FILE: bands.fits,
    practice.FILE: practice.greatest_speeds,
    climate.FILE: climate.rooms,
    names.FILE: names.loose_names,
    species_table.FILE: species_table.species_table,
    strength_factors.FILE: strength_factors.strength_factors,
}

each_table = pytest.mark.parametrize("table", TABLES)


def rows(table: str) -> list[dict[str, str]]:
    """Cells of each row by column; a row of another length than the header is an error."""
    with (ROOT / table).open(encoding="utf-8", newline="") as file:
        header, *lines = csv.reader(file, strict=True)
    return [dict(zip(header, cells, strict=True)) for cells in lines]


def test_every_table_has_a_loader() -> None:
    assert sorted(LOADERS) == TABLES


@each_table
def test_the_loader_takes_every_row(table: str) -> None:
    assert len(LOADERS[table]()) == len(rows(table)) > 0


@each_table
def test_every_source_is_a_key_of_the_references(table: str) -> None:
    assert {row["source"] for row in rows(table)} <= set(KEYS)


@each_table
def test_a_published_source_has_a_place_in_it(table: str) -> None:
    published = [row for row in rows(table) if row["source"] != "common-practice"]
    assert all(row["locator"] for row in published)


@each_table
def test_cells_have_no_space_around_them(table: str) -> None:
    cells = [cell for row in rows(table) for cell in (*row, *row.values())]
    assert [cell for cell in cells if cell != cell.strip()] == []


def test_keys_of_the_references_are_named_once() -> None:
    assert len(KEYS) == len(set(KEYS)) > 3


def test_every_published_source_with_tests_has_a_key() -> None:
    files = (Path(__file__).parent / "published").glob("test_*.py")
    tested = {file.stem.removeprefix("test_").replace("_", "-") for file in files}
    assert [name for name in tested if not name.startswith(tuple(KEYS))] == []
    assert tested


CITED = re.compile(r"JCGM \d+:\d+|NIST SP \d+|\d+ CFR\s+[\d.]*\d|EN \d+-\d+")


def test_every_standard_that_the_code_cites_is_in_the_references() -> None:
    sources = [*ROOT.rglob("*.py"), *Path(__file__).parent.rglob("*.py")]
    cited = {name for file in sources for name in CITED.findall(file.read_text(encoding="utf-8"))}
    told = {" ".join(name.split()) for name in CITED.findall(PAGE)}
    assert {" ".join(name.split()) for name in cited} <= told
    assert len(cited) > 3


CLAUSE = re.compile(r"JCGM (10[01]):2008,\s+(?:clause )?(F?[\d.]*\d(?:\s+and\s+[\d.]*\d)?)")


def test_every_clause_that_the_package_cites_is_in_the_references() -> None:
    sections = dict(re.findall(r"^## `jcgm-(10[01])`$(.*?)(?=^## )", PAGE, re.MULTILINE | re.S))
    cited = [
        (document, clause)
        for file in ROOT.rglob("*.py")
        for document, clauses in CLAUSE.findall(file.read_text(encoding="utf-8"))
        for clause in re.findall(r"F?[\d.]*\d", clauses)
    ]
    assert len(cited) > 6
    for document, clause in cited:
        assert f"| {clause} |" in sections[document]
