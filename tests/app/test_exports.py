"""Nothing is lost on the way out and in again; what is not an export is refused whole."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings

from faywright.app import Contents, open_store
from faywright.app.csv_folder import read_csv, write_csv
from faywright.app.json_text import contents_of_json, json_of
from faywright.app.store import Store
from faywright.errors import InputError
from tests.app.strategies import a_feel, a_sharpening, a_trial, stores
from tests.strategies import STEADY

FIRST = Path(__file__).with_name("export-1.json")
"""What version 1 of the export looks like; later versions must take it in."""


@pytest.fixture
def full(tmp_path: Path) -> Contents:
    """A little of everything."""
    with open_store(tmp_path / "full.sqlite3") as store:
        number = store.add_trial(a_trial(0.01, -0.05))
        store.add_feel(a_feel(trial=number))
        store.sharpened(a_sharpening(day=3, size=12.6))
        return store.contents()


@settings(STEADY)
@given(contents=stores())
def test_json_gives_back_what_it_was_told(contents: Contents) -> None:
    assert contents_of_json(json_of(contents), where="export") == contents


@settings(STEADY, max_examples=30)
@given(contents=stores())
def test_csv_gives_back_what_it_was_told(
    tmp_path_factory: pytest.TempPathFactory, contents: Contents
) -> None:
    folder = tmp_path_factory.mktemp("csv")
    write_csv(contents, folder)
    assert read_csv(folder) == contents


@pytest.mark.parametrize("form", ["json", "csv"])
def test_a_store_goes_out_and_into_another(
    store: Store, tmp_path: Path, full: Contents, form: str
) -> None:
    with open_store(tmp_path / "full.sqlite3") as from_:
        if form == "json":
            imported = store.import_json(from_.export_json())
        else:
            from_.export_csv(tmp_path / "csv")
            imported = store.import_csv(tmp_path / "csv")
    assert store.contents() == full
    assert (imported.added, imported.known) == (3, 0)


def test_the_first_version_of_the_export_is_taken_in(store: Store) -> None:
    text = FIRST.read_text(encoding="utf-8")
    store.import_json(text)
    assert store.export_json() == text


def change(name: str, column: str, value: object) -> Callable[[dict[str, object]], None]:
    """Change a cell of the first row of a sheet."""

    def changed(told: dict[str, object]) -> None:
        rows = told[name]
        assert isinstance(rows, list)
        if value is None:
            del rows[0][column]
        else:
            rows[0][column] = value

    return changed


def put(name: str, value: object) -> Callable[[dict[str, object]], None]:
    return lambda told: told.update({name: value})


@pytest.mark.parametrize(
    ("fault", "message"),
    [
        (put("format", "recipes 1"), "its format is 'recipes 1', not 'faywright store'"),
        (put("version", 2), "it is version 2 of the export, where only 1 is known. Install"),
        (put("version", None), "it is version None of the export"),
        (lambda told: told.pop("feels"), "x.json: feels are missing"),
        (put("nails", []), "x.json: nails: it is not a list of rows that is known"),
        (put("trials", {}), "x.json: trials: it is not a list of rows that is known"),
        (put("trials", [3]), "trials, row 1: it is not a row"),
        (change("trials", "at", "soon"), "x.json: trials, row 1: at: 'soon' is not a date"),
        (change("trials", "at", "2026-01-01"), "trials, row 1: trial: at: .* with its zone"),
        (change("trials", "at", 3), "row 1: at: 3 is not text"),
        (change("trials", "piece", None), "trials, row 1: piece: it is missing"),
        (change("trials", "peace", "x"), "trials, row 1: peace: it is not a known column. Known"),
        (change("trials", "piece", ""), "trials, row 1: trial: piece: it is empty"),
        (change("trials", "piece", 4), "trials, row 1: piece: 4 is not text"),
        (change("trials", "metres", "far"), "trials, row 1: metres: 'far' is not a number"),
        (change("trials", "metres", 10**400), "metres: so large a number is not a number"),
        (change("trials", "metres", float("nan")), "metres: nan is out of range"),
        (change("trials", "id", 0), "trials, row 1: id: 0 is not a number of a row"),
        (change("trials", "id", True), "id: True is not a number of a row"),
        (change("trials", "id", 2**63), "id: so large a number is not a number of a row"),
        (change("trials", "id", 7), "measurements: trial 1 is not among the trials"),
        (change("measurements", "readings", "[]"), "readings: '\\[\\]' is not a list"),
        (change("measurements", "readings", [1, "2"]), "readings: '2' is not a number"),
        (change("measurements", "row", [["lift", 1]]), r"row: \['lift', 1\] has 2 parts. Give 2"),
        (change("measurements", "what", ""), "measurements, row 1: measurement: what: it is"),
        (change("learned", "place", 2), "learned, row 2: place: place 2 of trial 1 is taken"),
        (lambda told: told.update(trials=[], measurements=[]), "learned: trial 1 is not among"),
        (change("learned", "trial", 9), "trials, row 1: learning: the covariance of 1"),
        (change("learned", "covariance", [1.0]), "trials, row 1: learning: the covariance of 2"),
        (change("feels", "trial", 5), "has no trial 5"),
        (change("sharpenings", "sd", "x"), "sharpenings, row 1: sd: 'x' is not a number"),
    ],
)
def test_what_is_not_an_export_is_refused_whole(
    fault: Callable[[dict[str, object]], object],
    message: str,
    full: Contents,
    tmp_path: Path,
) -> None:
    told = json.loads(json_of(full))
    fault(told)
    with open_store(tmp_path / "new.sqlite3") as store:
        with pytest.raises(InputError, match=message):
            store.import_json(json.dumps(told), where="x.json")
        assert store.contents() == Contents()


def test_a_number_that_is_there_twice_is_refused(full: Contents) -> None:
    told = json.loads(json_of(full))
    told["feels"] *= 2
    with pytest.raises(InputError, match="feels, row 2: id: number 1 is there twice"):
        contents_of_json(json.dumps(told), where="x.json")


def test_a_feel_without_its_trial_is_refused_by_a_store_with_trials(
    store: Store, full: Contents
) -> None:
    store.add_trial(a_trial(0.4))
    with pytest.raises(InputError, match="feel 1: trial 1 is not among the trials"):
        store.add_contents(Contents(feels=full.feels))


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, "nothing"])
def test_text_that_is_not_json_is_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"export: it is not JSON \("):
        contents_of_json(text, where="export")


def test_json_that_is_not_a_table_is_refused() -> None:
    with pytest.raises(InputError, match="export: it is not an export"):
        contents_of_json("[1]", where="export")


def rewrite(name: str, old: str, new: str) -> Callable[[Path], None]:
    def rewritten(folder: Path) -> None:
        path = folder / name
        text = path.read_bytes().decode()
        assert old in text
        path.write_bytes(text.replace(old, new, 1).encode())

    return rewritten


@pytest.mark.parametrize(
    ("fault", "message"),
    [
        (
            lambda folder: (folder / "feels.csv").unlink(),
            r"feels\.csv: it cannot be read \(No such",
        ),
        (lambda folder: (folder / "about.csv").write_text(""), r"about\.csv: it is empty"),
        (lambda folder: (folder / "about.csv").write_text("format\n"), "its format is None"),
        (rewrite("about.csv", ",1", ",2"), r"about\.csv: it is version 2 of the export"),
        (rewrite("about.csv", ",1", ",new"), "it is version 'new' of the export"),
        (rewrite("trials.csv", "joint", "joined"), r"trials\.csv: its columns are id, shop"),
        (rewrite("trials.csv", "1.2,", "1.2,,"), r"trials\.csv: row 1: it has 15 cells"),
        (rewrite("trials.csv", "1.2,", "far,"), "row 1: metres: 'far' cannot be read. Give a num"),
        (rewrite("trials.csv", "1.2,", ","), "trials, row 1: metres: None is not a number"),
        (rewrite("trials.csv", "J1", '"J1'), r"trials\.csv: it cannot be read"),
        (lambda folder: (folder / "feels.csv").write_bytes(b"\xff"), "it cannot be read .*UTF-8"),
    ],
)
def test_a_folder_that_is_not_an_export_is_refused(
    fault: Callable[[Path], object], message: str, full: Contents, tmp_path: Path
) -> None:
    write_csv(full, tmp_path / "csv")
    fault(tmp_path / "csv")
    with pytest.raises(InputError, match=message):
        read_csv(tmp_path / "csv")


def test_a_spreadsheet_may_sort_the_rows_and_mark_the_encoding(
    full: Contents, tmp_path: Path
) -> None:
    write_csv(full, tmp_path)
    path = tmp_path / "learned.csv"
    header, first, second = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"\xef\xbb\xbf" + header + second + first)
    assert read_csv(tmp_path) == full


def test_a_folder_that_cannot_be_written_is_told(full: Contents, tmp_path: Path) -> None:
    (tmp_path / "csv").write_text("a file where the folder should be")
    with pytest.raises(InputError, match="csv: it cannot be written"):
        write_csv(full, tmp_path / "csv")
