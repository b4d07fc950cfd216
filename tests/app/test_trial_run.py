"""A trial from the words of a command to its answer, kept in the store."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from faywright.app import trial_run
from faywright.app.opening import open_store
from faywright.app.trial_run import Answer, Asked, run_trial
from faywright.errors import InputError
from faywright.lengths import Unit
from tests.app.hidden import DEMO, chest

READ = {"tongue": "5.93", "groove": "6.29", "stock": "19.00"}
SLIP = {**READ, "groove": "62.9"}


@pytest.fixture(name="asked")
def _asked(tmp_path: Path) -> Asked:
    return Asked(
        piece=DEMO / "piece.toml",
        shop=None,
        joint="back",
        texts=READ,
        group="A",
        set_height=(),
        set_fence=(),
        feel=None,
        metres=None,
        note="",
        anew=False,
        sure=False,
        keep=True,
        store=str(tmp_path / "trials.sqlite3"),
        style=None,
    )


def kept(asked: Asked) -> int:
    assert asked.store is not None
    if not Path(asked.store).exists():
        return 0
    with open_store(asked.store) as store:
        return len(store.trials())


def run(asked: Asked, **changes: object) -> Answer:
    return run_trial(replace(asked, **changes))  # type: ignore[arg-type]  # of all kinds


def test_a_trial_is_answered_and_remembered(asked: Asked) -> None:
    answer = run(asked)
    assert not answer.questions
    assert answer.lines[0].startswith("Taken as set: setup ")
    assert answer.lines[-1] == "Remembered as trial 1."
    assert answer.json["trial"] == 1
    assert kept(asked) == 1


def test_a_look_remembers_nothing(asked: Asked) -> None:
    answer = run(asked, keep=False)
    assert answer.json["trial"] is None
    assert answer.json["advice"]["as_set"]["chance"] > 0.9
    assert kept(asked) == 0


def test_a_slip_is_a_question_and_nothing_is_remembered(asked: Asked) -> None:
    answer = run(asked, texts=SLIP)
    assert answer.questions
    assert any("Did the decimal point slip?" in line for line in answer.lines)
    assert (answer.json["advice"], answer.json["trial"]) == (None, None)
    assert len(answer.json["questions"]) == 1
    assert kept(asked) == 0


def test_readings_that_stand_are_remembered(asked: Asked) -> None:
    answer = run(asked, texts={**READ, "groove": "6.49"})
    assert answer.questions
    answer = run(asked, texts={**READ, "groove": "6.49"}, sure=True)
    assert not answer.questions
    assert kept(asked) == 1


def test_what_was_learned_before_stands_beside_a_question(asked: Asked) -> None:
    run(asked)
    lines = run(asked, texts=SLIP).lines
    assert "What was reckoned with:" in lines
    assert any(line.startswith("  cutter C1: ") for line in lines)


# Readings


@pytest.mark.parametrize(
    "text",
    ["6.29, 6.31", "6.29,6.31", "6,29; 6,31", "6,29, 6,31", "6.29;6.31", "0.629 cm; 6.31 mm"],
)
def test_readings_come_apart_as_they_were_meant(asked: Asked, text: str) -> None:
    run(asked, texts={**READ, "groove": text})
    with open_store(asked.store) as store:
        (trial,) = store.trials()
    read = next(m for m in trial.record.measurements if m.what == "groove width").readings
    assert read == pytest.approx((6.29, 6.31))


def test_one_reading_may_have_a_decimal_comma(asked: Asked) -> None:
    run(asked, texts={**READ, "groove": "6,29"})
    with open_store(asked.store) as store:
        (trial,) = store.trials()
    assert trial.record.measurements[0].readings == (6.29,)


@pytest.mark.parametrize(
    ("units", "text", "mm"),
    [("in", "0.2476", 6.289), ("in", "1/4, 0.2476", 6.32), ("in", "6.29 mm", 6.29)],
)
def test_bare_numbers_are_in_the_unit_of_the_piece(
    asked: Asked, tmp_path: Path, units: Unit, text: str, mm: float
) -> None:
    piece = tmp_path / "piece.toml"
    boards = "".join(
        f'[[board]]\nmark = "B{k}"\npart = "side"\nwidth = 4\nlength = 24\nthickness = 0.748\n'
        for k in range(3)
    )
    joint = (
        '[[joint]]\nname = "back"\nfamily = "tongue and groove"\nfit = "snug"\n'
        'groove = { part = "side", edge = "reference edge" }\n'
        'tongue = { part = "side", edge = "opposite edge" }\n'
    )
    head = f'faywright = "piece 1"\ntitle = "Box"\nunits = "{units}"\n'
    part = '[[part]]\nname = "side"\ntimber = "softwood"\n'
    piece.write_text(head + part + boards + joint, encoding="utf-8")
    answer = run(
        asked,
        piece=piece,
        shop=DEMO / "shop.toml",
        texts={"groove": text},
        style="decimal inch",
        sure=True,
    )
    with open_store(asked.store) as store:
        (trial,) = store.trials()
    readings = trial.record.measurements[0].readings
    assert sum(readings) / len(readings) == pytest.approx(mm, abs=0.002)
    assert any(" in of clearance a side" in line for line in answer.lines)
    assert chest().units == "mm"


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"joint": "lid"}, "no joint called 'lid'.*'back', 'drawer runner'"),
        ({"group": "z"}, "there is no group 'Z'"),
        ({"texts": {}}, "nothing was read. Measure --groove, --wall, --depth, --tongue"),
        (
            {"joint": "drawer runner", "texts": {"tongue": "7"}},
            "--tongue: this joint has no tongue to measure. Measure --groove, --wall, --depth",
        ),
        ({"texts": {"groove": "wide"}}, "--groove: 'wide': 'wide' is not a unit"),
        ({"texts": {"groove": "-6.29"}}, "a reading of -6.29 mm cannot be"),
        ({"texts": {"groove": "6,29,6,31"}}, "'6,29,6,31' may be read in several ways"),
        ({"texts": {"groove": ";"}}, "--groove"),
        ({"feel": "tight"}, "--feel: 'tight' is not known"),
        ({"metres": -1.0}, "--metres: -1 m cannot be"),
        ({"metres": float("nan")}, "--metres: nan m cannot be"),
        ({"set_height": ("x=6",)}, "--set-height: 'x' is not the number of a setup"),
        ({"set_height": ("99=6",)}, "setup 99 makes no height"),
        ({"set_fence": ("6",)}, "no fence decides the fit"),
        ({"set_height": ("six",)}, "--set-height: 'six'"),
    ],
)
def test_what_cannot_be_used_is_told_and_nothing_remembered(
    asked: Asked, changes: dict[str, object], told: str
) -> None:
    with pytest.raises(InputError, match=told):
        run(asked, **changes)
    assert kept(asked) == 0


def test_a_reading_that_follows_the_thickness_wants_it_measured(
    asked: Asked, tmp_path: Path
) -> None:
    text = (DEMO / "piece.toml").read_text(encoding="utf-8")
    piece = tmp_path / "piece.toml"
    forced = 'order = "as listed"\nmethod = { tongue = "tongue flat, from both faces" }'
    piece.write_text(text.replace('order = "free"', forced), encoding="utf-8")
    (tmp_path / "boards.csv").write_bytes((DEMO / "boards.csv").read_bytes())
    changes = {"piece": piece, "shop": DEMO / "shop.toml", "texts": {"tongue": "5.93"}}
    with pytest.raises(InputError, match=r"--tongue: it follows the thickness .* with --stock"):
        run(asked, **changes)


# Asked for


def test_only_what_is_useful_and_not_given_is_asked_for(asked: Asked) -> None:
    questions: list[str] = []

    def prompt(what: str) -> str:
        questions.append(what)
        return {"groove width": "6.29", "thickness of the trial piece": "19"}.get(what, "")

    answer = run_trial(replace(asked, texts={"tongue": "5.93"}), prompt=prompt)
    assert questions[:2] == ["thickness of the trial piece", "groove width"]
    assert "tongue thickness" not in questions
    assert "wall beside face B" not in questions
    assert not answer.questions
    assert kept(asked) == 1


# One set-up after the other


def test_a_second_piece_soon_after_is_taken_for_one_of_the_same_settings(asked: Asked) -> None:
    run(asked)
    second = run(asked)
    assert second.lines[0].startswith("Taken as left since the last trial: setup ")
    third = run(asked, anew=True)
    assert third.lines[0].startswith("Taken as set: setup ")


def test_a_trial_of_another_day_is_one_of_new_settings(
    asked: Asked, monkeypatch: pytest.MonkeyPatch
) -> None:
    run(asked)
    monkeypatch.setattr(trial_run, "STAYS", timedelta(0))
    assert run(asked).lines[0].startswith("Taken as set: setup ")


def test_a_trial_of_another_joint_in_between_means_new_settings(asked: Asked) -> None:
    run(asked)
    run(asked, joint="drawer runner", texts={"groove": "7.94"})
    assert run(asked).lines[0].startswith("Taken as set: setup ")


# Metres, feel, note


def test_metres_are_kept_and_must_not_run_backwards(asked: Asked) -> None:
    lines = run(asked, metres=40.0).lines
    assert lines[-1] == "Cutter C1 had cut 40 m."
    with pytest.raises(InputError, match="12 m are fewer than the 40 m"):
        run(asked, metres=12.0)
    run(asked, metres=55.0)
    with open_store(asked.store) as store:
        assert [each.record.metres for each in store.trials()] == [55.0, 40.0]


def test_how_it_felt_goes_with_the_clearance_of_the_piece(asked: Asked) -> None:
    run(asked, feel="hand push", note="end of the day")
    with open_store(asked.store) as store:
        (trial,) = store.trials()
        (feel,) = store.feels(trial.record.shop)
    assert (feel.record.word, feel.record.timber, feel.record.trial) == ("hand push", "softwood", 1)
    assert feel.record.mean == pytest.approx((6.29 - 5.93) / 2)
    assert trial.record.note == "end of the day"


# In words


def test_a_move_is_told_by_its_setup_with_turns_and_what_the_gauge_then_shows(
    asked: Asked,
) -> None:
    answer = run(asked, texts={**READ, "tongue": "6.09"}, sure=True, style="decimal inch")
    moves = [line for line in answer.lines if line.startswith("Move setup ")]
    assert moves
    assert any("turns of the key" in line for line in moves)
    assert all("; the gauge then shows 0." in line for line in moves)
    assert any(line.startswith("If you try another piece after") for line in answer.lines)
    told = answer.json["advice"]["moves"][0]
    assert sorted(told) == [
        "by_mm",
        "gauge_shows_mm",
        "of",
        "setting",
        "setup",
        "side",
        "to_true_mm",
    ]
