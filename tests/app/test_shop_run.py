"""What the shop has learned, told, drawn and corrected."""

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from faywright.app.bench import informed_plan
from faywright.app.opening import open_store
from faywright.app.records import FeelRecord
from faywright.app.shop_run import Wish, run_shop
from faywright.app.trial_cut import (
    tried,
)
from faywright.app.trial_records import (
    record_of,
)
from faywright.app.trial_run import Answer
from faywright.errors import InputError, PlanError
from faywright.lengths import LengthStyle
from faywright.piece.words import writer
from tests.app.hidden import C1, DEMO, HEIGHT, Hidden, chest, shop

WORN = Hidden({HEIGHT: 0.06, C1: -0.04})


@pytest.fixture(name="wish")
def _wish(tmp_path: Path) -> Wish:
    return Wish(
        shop=DEMO / "shop.toml",
        store=str(tmp_path / "trials.sqlite3"),
        forget=None,
        sharpened=None,
        cuts=None,
        export=None,
        take_in=None,
        chart=None,
        style=None,
    )


def ask(wish: Wish, **changes: object) -> Answer:
    return run_shop(replace(wish, **changes))  # type: ignore[arg-type]  # of all kinds


def try_once(wish: Wish, *, ago: int = 2) -> None:
    at = datetime.now(UTC) - timedelta(days=ago)
    now = informed_plan(chest(), shop(), wish.store, today=at.date())
    measured = WORN.measured(now.plan, now.known)
    outcome = tried(now.plan, now.known, measured, writer(LengthStyle("mm")))
    with open_store(wish.store) as store:
        store.add_trial(record_of(outcome, now.known, now.plan, at))


def test_a_shop_that_tried_nothing_has_learned_nothing_and_no_store_is_made(wish: Wish) -> None:
    answer = ask(wish)
    assert answer.lines == [
        "Lean-to shop: what its trial cuts have taught",
        "  Nothing yet: plans go by the shop file alone.",
    ]
    assert (answer.json["known"], answer.json["trials"]) == ([], [])
    assert not Path(wish.store or "").exists()
    Path(wish.store or "").touch()
    assert ask(wish).lines == answer.lines
    assert Path(wish.store or "").read_bytes() == b""


def test_what_was_learned_is_told_with_the_trials_it_comes_from(wish: Wish) -> None:
    try_once(wish)
    answer = ask(wish)
    assert any(line.startswith("  height by the depth gauge: 0.0") for line in answer.lines)
    assert any(
        line.startswith("  1  20") and "Chest, sides: groove" in line for line in answer.lines
    )
    assert {"kind", "of", "mean_mm", "deviation_mm"} == set(answer.json["known"][0])
    assert answer.json["trials"][0]["number"] == 1


def test_lengths_are_told_in_the_style_asked_for(wish: Wish) -> None:
    try_once(wish)
    assert any(" in higher than it shows" in line for line in ask(wish, style="decimal inch").lines)


def test_a_forgotten_trial_teaches_nothing_and_stays_listed(wish: Wish) -> None:
    try_once(wish)
    lines = ask(wish, forget=1).lines
    assert lines[0].startswith("Trial 1 is forgotten")
    assert "  Nothing yet: plans go by the shop file alone." in lines
    assert lines[-1].endswith("(forgotten)")


def test_a_sharpened_cutter_cuts_what_was_measured_since(wish: Wish) -> None:
    try_once(wish)
    lines = ask(wish, sharpened="C1", cuts="6.20").lines
    assert lines[0].startswith("Cutter C1 came back from sharpening")
    assert any(line.startswith("  cutter C1: 0.090 mm less than listed") for line in lines)


def test_a_sharpened_cutter_that_was_not_measured_goes_by_the_file(wish: Wish) -> None:
    try_once(wish)
    lines = ask(wish, sharpened="C1").lines
    assert "Plans take what the shop file lists, 6.29 mm, until you say" in lines[1]
    assert not any(line.startswith("  cutter C1") for line in lines)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"forget": 1}, "no trial 1: nothing is remembered yet"),
        ({"sharpened": "C9"}, "no cutter called 'C9' decides a size. Use C1, C2, C3, C4"),
        ({"sharpened": "C5"}, "no cutter called 'C5' decides a size"),
        ({"sharpened": "C1", "cuts": "thin"}, "--cuts: 'thin'"),
        ({"sharpened": "C1", "cuts": "9"}, "more than a tenth off the marked"),
        ({"cuts": "6.2"}, "--cuts: no cutter is named"),
        ({"export": Path("all.json")}, "nothing is remembered yet that could be written"),
        ({"take_in": Path("none.json")}, "none.json: it cannot be read"),
        ({"chart": Path("drift.svg")}, "nothing is remembered yet that could be drawn"),
        ({"chart": Path("drift.png")}, "'.png' is not the ending of a drawing"),
        ({"shop": Path("none.toml")}, "none.toml"),
    ],
)
def test_what_cannot_be_done_is_told_and_makes_no_store(
    wish: Wish,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    changes: dict[str, object],
    told: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(PlanError, match=told):
        ask(wish, **changes)
    assert not Path(wish.store or "").exists()


def test_all_of_it_goes_to_another_store(wish: Wish, tmp_path: Path) -> None:
    try_once(wish)
    for place in (tmp_path / "all.json", tmp_path / "tables"):
        assert ask(wish, export=place).lines[0] == f"Written to {place}."
        other = str(tmp_path / f"{place.stem}.sqlite3")
        taken = ask(wish, store=other, take_in=place)
        assert taken.lines[0] == f"Taken in from {place}: 1 new, 0 known already."
        assert taken.json["known"] == ask(wish).json["known"]
        again = ask(wish, store=other, take_in=place)
        assert again.lines[0].endswith("0 new, 1 known already.")


@pytest.mark.parametrize("name", ["none/all.json", "file/tables", "none/drift.svg"])
def test_a_place_that_cannot_be_written_is_told(wish: Wish, tmp_path: Path, name: str) -> None:
    try_once(wish)
    (tmp_path / "file").touch()
    place = tmp_path / name
    how = {"chart": place} if place.suffix == ".svg" else {"export": place}
    with pytest.raises(InputError, match="cannot be"):
        ask(wish, **how)


def test_a_chart_is_drawn_of_what_was_learned(wish: Wish, tmp_path: Path) -> None:
    for ago in (9, 5):
        try_once(wish, ago=ago)
    ask(wish, sharpened="C1", cuts="6.20")
    place = tmp_path / "drift.svg"
    assert f"Drawn in {place}." in ask(wish, chart=place).lines
    drawn = place.read_text(encoding="utf-8")
    assert "height by the depth gauge" in drawn
    assert "sharpened on" in drawn


def test_a_chart_counts_from_what_is_listed(wish: Wish, tmp_path: Path) -> None:
    for ago in (2, 1):
        try_once(wish, ago=ago)
    known = {each["of"]: each["mean_mm"] for each in ask(wish).json["known"]}
    place = tmp_path / "drift.svg"
    ask(wish, chart=place)
    drawn = place.read_text(encoding="utf-8")
    told = re.search(r"Cutter C1, from what is listed: .*?trial 2 on \S+ (\S+) mm", drawn, re.S)
    assert told is not None
    assert float(told[1]) == pytest.approx(known["C1"], abs=0.006)
    assert known["C1"] < -0.02


def test_a_forgotten_trial_is_not_drawn(wish: Wish, tmp_path: Path) -> None:
    try_once(wish)
    ask(wish, forget=1)
    with pytest.raises(InputError, match="nothing has been learned yet that could be drawn"):
        ask(wish, chart=tmp_path / "drift.svg")


def test_reports_of_feel_are_counted_until_they_move_a_fit(wish: Wish) -> None:
    report = FeelRecord(
        shop=shop().title,
        timber="softwood",
        word="rattles",
        mean=0.15,
        sd=0.01,
        at=datetime.now(UTC),
        joint="sides",
    )
    for count in (1, 2, 3):
        with open_store(wish.store) as store:
            store.add_feel(report)
        lines, json = ask(wish).lines, ask(wish).json
        assert json["reports"] == {"softwood": count}
        waiting = f"  softwood: {count} of the 3 reports it takes to move a fit"
        assert (waiting in lines) is (count < 3)
    assert any(line.startswith("  softwood, snug: ") and "from 3 reports" in line for line in lines)
