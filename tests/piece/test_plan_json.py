import json
import math
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, get_args

import pytest
from jsonschema import Draft202012Validator

from faywright.joints.method import Reference, Side
from faywright.joints.wanted import Family
from faywright.piece.learned import Lesson
from faywright.piece.opened import open_documents
from faywright.piece.piece_file import piece_from_text
from faywright.piece.plan import Plan, plan
from faywright.piece.plan_json import FORMAT, SCHEMA_FILE, plan_json
from faywright.piece.rounded import Json, mm
from faywright.piece.shop_file import shop_from_text
from faywright.setups.hazards import Feed, Severity
from faywright.setups.setup import Direction, Setting, Setup
from faywright.setups.simulate import Cut
from faywright.shop.inventory import Reference as Habit
from faywright.timber.verdict import Likely
from faywright.trials.belief import Unknown, UnknownKind

DEMO = Path(__file__).parents[2] / "examples" / "hall-bench"

PILE = (18.90, 19.30, 19.10, 18.70, 19.50)
HEAD = 'faywright = "piece 1"\ntitle = "Lid"\n'
PARTS = (
    '[[part]]\nname = "lid"\ntimber = "softwood"\n[[part]]\nname = "strip"\ntimber = "hardwood"\n'
)
PANEL = (
    'family = "tongue and groove"\nfit = "snug"\n'
    'groove = { part = "lid", edge = "reference edge" }\n'
    'tongue = { part = "lid", edge = "opposite edge" }\n'
)
LOOSE = (
    'family = "loose tongue"\nfit = "glued"\nstrip = "strip"\n'
    'groove = { part = "lid", edge = "reference edge" }\n'
    'second_groove = { part = "lid", edge = "opposite edge" }\n'
)
RUNNER = (
    'family = "runner"\nfit = "sliding"\nstrip = "strip"\ngroove_depth = 6\n'
    'groove = { part = "lid", edge = "face B" }\n'
)

CLIMATE = (
    '[climate]\nroom = "unheated porch"\ncutting = { temperature = 19, humidity = 50 }\n'
    "assembly = { moisture = 10 }\n"
)
LOAD = "load = { force = 200, along = 300 }\n"
SHELF = (
    '[[shelf]]\nname = "tray"\nspecies = "white oak"\nspan = 800\nwidth = 200\nthickness = 15\n'
    "load_kg = 9\n"
)


def boards(part: str, thicknesses: tuple[float, ...], *, width: float = 110) -> str:
    return "".join(
        f'[[board]]\nmark = "{part} {number}"\npart = "{part}"\nwidth = {width}\nlength = 700\n'
        f"thickness = [{thickness - 0.01:.2f}, {thickness + 0.01:.2f}]\n"
        for number, thickness in enumerate(thicknesses, 1)
    )


def piece(joint: str, *piles: str) -> str:
    return f'{HEAD}{PARTS}{"".join(piles)}[[joint]]\nname = "it"\n{joint}'


BOTH_FACES = (
    'method = { groove = "groove on edge, one pass", tongue = "tongue flat, from both faces" }'
)
VARIANTS = {
    "both faces in groups": piece(PANEL + BOTH_FACES, boards("lid", PILE)),
    "half tongue": piece(PANEL + "half = true", boards("lid", PILE[:3])),
    "V on the face": piece(PANEL + 'detail = { kind = "V", size = 2 }', boards("lid", PILE[:3])),
    "two boards": piece(PANEL, boards("lid", PILE[:2])),
    "given order and sizes": piece(
        PANEL + 'order = "as listed"\ngroove_width = 6.29\noffset = 5\nfilm = 0.02',
        boards("lid", PILE[:4]),
    ),
    "loose tongue": piece(LOOSE, boards("lid", PILE[:3]), boards("strip", (6.11,), width=18)),
    "runner": piece(RUNNER, boards("lid", (13.0, 13.1)), boards("strip", (7.2, 7.22), width=18)),
    "no joints yet": HEAD + PARTS + boards("lid", PILE),
    "climate, load and shelf": piece(PANEL + LOAD, boards("lid", PILE[:3])).replace(
        'timber = "softwood"\n', 'timber = "softwood"\nspecies = "white oak"\n'
    )
    + CLIMATE
    + SHELF,
}


@cache
def planned(name: str) -> Plan:
    if name == "demo":
        documents = open_documents(DEMO / "piece.toml")
        return plan(documents.piece, documents.shop)
    shop = shop_from_text((DEMO / "shop.toml").read_text(encoding="utf-8"), file="shop.toml")
    return plan(piece_from_text(VARIANTS[name], file="piece.toml", folder=None).piece, shop)


@cache
def schema() -> Json:
    found = json.loads(files("faywright").joinpath(SCHEMA_FILE).read_text(encoding="utf-8"))
    assert isinstance(found, dict)
    return found


each_plan = pytest.mark.parametrize("name", ["demo", *VARIANTS])


def tables(node: Any) -> Iterator[Json]:
    """Every object of a JSON value, itself included."""
    if isinstance(node, dict):
        yield node
    for child in node.values() if isinstance(node, dict) else node:
        if isinstance(child, dict | list):
            yield from tables(child)


# The schema


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(schema())
    assert schema()["properties"]["format"]["const"] == FORMAT


def test_every_object_of_the_schema_is_closed_and_every_property_explained() -> None:
    objects = [node for node in tables(schema()) if node.get("type") == "object"]
    assert len(objects) > 20
    for node in objects:
        assert node["additionalProperties"] is False
        for key, about in node["properties"].items():
            assert about.get("description", "").endswith((".", "]")), key


def test_only_gaps_that_some_joints_lack_may_be_left_out() -> None:
    left_out = {
        key
        for node in tables(schema())
        if node.get("type") == "object"
        for key in node["properties"].keys() - set(node["required"])
    }
    shoulders = {"face-A shoulder", "face-B shoulder", "face-B step"}
    assert {key for key in left_out - shoulders if not key.startswith("sampled_")} == {
        "chance_not_below_0"
    }


@pytest.mark.parametrize(
    ("where", "known"),
    [
        (("hazard", "severity"), Severity),
        (("pass", "feed"), Feed),
        (("pass", "fresh_wall"), Cut),
        (("correction", "if_more"), Direction),
        (("height", "measured_to"), Reference),
        (("setup", "fence_measured_to"), Habit),
        (("setup", "side"), Side),
        (("group", "side"), Side),
        (("joint", "family"), Family),
        (("verdict", "verdict"), Likely),
    ],
)
def test_words_of_a_fixed_set_are_those_of_the_code(where: tuple[str, str], known: object) -> None:
    kind, key = where
    assert schema()["$defs"][kind]["properties"][key]["enum"] == list(get_args(known))


def test_lengths_of_the_schema_name_their_unit_and_so_does_what_explains_them() -> None:
    for node in tables(schema()):
        for key, about in node.get("properties", {}).items():
            if key.endswith("_mm"):
                assert about["description"].endswith("[mm]"), key


# Plans


@each_plan
def test_a_plan_is_as_the_schema_says(name: str) -> None:
    found = Draft202012Validator(schema()).iter_errors(plan_json(planned(name)))
    assert [f"{error.json_path}: {error.message}" for error in found] == []


@pytest.mark.parametrize(
    ("key", "value"), [("seed", None), ("format", "faywright plan 2"), ("colour", "red")]
)
def test_what_is_not_as_the_schema_says_is_refused(key: str, value: object) -> None:
    assert not Draft202012Validator(schema()).is_valid(
        plan_json(planned("two boards")) | {key: value}
    )


@each_plan
def test_a_plan_holds_no_number_that_json_has_not(name: str) -> None:
    text = json.dumps(plan_json(planned(name)), allow_nan=False)
    assert json.loads(text) == plan_json(planned(name))


def test_the_variants_are_what_they_are_called() -> None:
    groups = plan_json(planned("both faces in groups"))["joints"][0]["groups"]
    assert sum(group["side"] == "tongue" for group in groups) > 1
    assert plan_json(planned("both faces in groups"))["joints"][0]["method"]["forced"] is True
    assert plan_json(planned("half tongue"))["joints"][0]["method"]["tongue"].startswith("half")
    assert "detail" in {setup["stage"] for setup in plan_json(planned("V on the face"))["setups"]}
    assert len(plan_json(planned("two boards"))["joints"][0]["pairs"]) == 1
    assert plan_json(planned("loose tongue"))["joints"][0]["tongue"] == "strip"
    assert plan_json(planned("runner"))["joints"][0]["groove"] == "face B of lid"
    assert plan_json(planned("no joints yet"))["setups"] == []
    moving = plan_json(planned("climate, load and shelf"))
    assert moving["climate"]["room"] == "unheated porch"
    assert len(moving["joints"][0]["seasons"]["moments"]) == 3
    assert [each["member"] for each in moving["joints"][0]["strength"]] == ["tongue", "groove wall"]
    assert [shelf["name"] for shelf in moving["shelves"]] == ["tray"]


UNITS = ("_mm", "_rpm", "_percent")
PLAIN = {
    *("chance", "standard_error", "chance_not_below_0", "screened_chance_all_fit"),
    *("share_of_variance", "share_of_difference", "divided_by", "turns_of_the_lift"),
    *("seed", "trials", "number", "pass_count", "setup_count"),
    "setups",  # numbers of them
    "mm",  # beside its name, "what"
    *("found", "allowed"),  # beside their "unit"
    *("used_share", "carries_more_than_thirds_share"),
}


def without_unit(node: Any, key: str = "") -> set[str]:
    """Keys of numbers that do not end in a unit, nor stand under a key that does."""
    if key.endswith(UNITS) or isinstance(node, str | bool) or node is None:
        return set()
    if isinstance(node, dict):
        return {found for name, child in node.items() for found in without_unit(child, name)}
    if isinstance(node, list):
        return {found for child in node for found in without_unit(child, key)}
    return {key}


@each_plan
def test_a_number_names_its_unit_unless_it_counts_or_is_a_share(name: str) -> None:
    assert without_unit(plan_json(planned(name))) <= PLAIN


def test_a_length_without_its_unit_would_be_found() -> None:
    assert without_unit({"a_mm": {"b": 1}, "c": [{"width": 2.5}, {"note": "x"}]}) == {"width"}


# The numbers are those of the plan


def setups(name: str) -> list[tuple[Json, Setup]]:
    return list(zip(plan_json(planned(name))["setups"], planned(name).setups, strict=True))


def exactly(length: float) -> Any:
    return pytest.approx(length, abs=5.1e-5)


def agrees(told: Json, setting: Setting) -> bool:
    start = setting.start if setting.start is None else exactly(setting.start)
    return (told["true_mm"], told["gauge_shows_mm"], told["first_trial_at_mm"]) == (
        exactly(setting.true),
        exactly(setting.shows),
        start,
    )


@each_plan
def test_settings_are_those_of_the_setups(name: str) -> None:
    for told, setup in setups(name):
        assert (told["number"], told["cutter"], told["boards"]) == (
            setup.number,
            setup.cutter,
            list(setup.marks),
        )
        assert agrees(told["height"], setup.height)
        assert agrees(told["fence"], setup.fence)
        assert told["cutter_top_above_table_mm"] == exactly(setup.cutter_top)
        assert told["fence_to_axis_mm"] == exactly(setup.places.axis)


@each_plan
def test_far_edge_less_near_edge_is_what_the_cutter_turns_and_the_axis_is_between(
    name: str,
) -> None:
    cutters = {cutter.mark: cutter for cutter in planned(name).shop.cutters}
    for told, _ in setups(name):
        far, near = told["fence_to_far_edge_mm"], told["fence_to_near_edge_mm"]
        assert told["fence"]["true_mm"] == far
        assert far - near == pytest.approx(cutters[told["cutter"]].swept_diameter, abs=2e-4)
        assert told["fence_to_axis_mm"] == pytest.approx((far + near) / 2, abs=2e-4)
        kept = told["fence_measured_to"].replace(" ", "_")
        assert told["fence_as_measured_mm"] == told[f"fence_to_{kept}_mm"]


@each_plan
def test_terms_of_a_working_add_up_to_its_setting(name: str) -> None:
    for told, _ in setups(name):
        for setting in (told["height"], told["fence"]):
            if setting["working"] is not None:
                terms = sum(term["mm"] for term in setting["working"]["terms"])
                total = terms / setting["working"]["divided_by"]
                assert total == pytest.approx(setting["true_mm"], abs=3e-4)


@each_plan
def test_the_setting_of_a_group_is_that_of_its_last_setup(name: str) -> None:
    told = plan_json(planned(name))
    for joint in told["joints"]:
        for group in joint["groups"]:
            settings = [
                setup[group["control"] or "height"]["true_mm"]
                for setup in told["setups"]
                if setup["final"] and setup["stage"] != "detail"
                if (setup["joint"], setup["side"]) == (joint["name"], group["side"])
                if setup["boards"] == group["boards"]
            ]
            assert group["control"] is None or group["control_mm"] == settings[-1]
            assert settings


@each_plan
def test_joints_and_setups_refer_to_each_other(name: str) -> None:
    told = plan_json(planned(name))
    numbers = [number for joint in told["joints"] for number in joint["setups"]]
    assert numbers == [setup["number"] for setup in told["setups"]]
    by_number = {setup["number"]: setup["joint"] for setup in told["setups"]}
    for joint in told["joints"]:
        assert {by_number[number] for number in joint["setups"]} == {joint["name"]}
        assert [way["chosen"] for way in joint["ways"]].count(True) == 1


@pytest.mark.parametrize("bound", [None, math.inf, -math.inf, math.nan])
def test_a_length_without_a_bound_is_null(bound: float | None) -> None:
    assert mm(bound) is None


def test_lengths_are_rounded_to_tenths_of_a_micrometre_and_never_minus_nought() -> None:
    assert mm(12.87784) == 12.8778
    assert math.copysign(1, mm(-1e-9) or 0.0) == 1


def test_seasons_are_those_of_the_plan() -> None:
    plan = planned("climate, load and shelf")
    told, meant = plan_json(plan)["joints"][0]["seasons"], plan.joints[0].seasonal
    assert meant is not None
    assert told["gap_to_leave_when_laid_mm"] == exactly(meant.laid)
    for one, at in zip(told["moments"], meant.moments, strict=True):
        assert one["name"] == at.name
        assert one["clearance_per_side_least_mm"] == exactly(at.clearance.min())
        assert one["clearance_per_side_greatest_mm"] == exactly(at.clearance.max())
        assert one["bottom_least_mm"] == exactly(at.gaps["bottom"].min())
        assert one["faces_open_greatest_mm"] == exactly(at.opening.max())
        assert one["tongue_in_groove_least_mm"] == exactly(at.engaged.min())


def test_a_check_uses_what_is_found_of_what_is_allowed() -> None:
    told = plan_json(planned("climate, load and shelf"))
    for verdict in (*told["joints"][0]["strength"], told["shelves"][0]["strength"]):
        shares = [check["found"] / check["allowed"] for check in verdict["checks"]]
        assert verdict["used_share"] == pytest.approx(max(shares), abs=1e-3)
        assert [check["used_share"] for check in verdict["checks"]] == pytest.approx(
            shares, abs=1e-3
        )


# The page that explains it


def test_the_example_on_the_page_reads_every_setting_of_the_demo(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    page = (DEMO.parents[1] / "docs" / "plan-json.md").read_text(encoding="utf-8")
    (code,) = re.findall(r"```python\n(.*?)```", page, re.DOTALL)
    (printed,) = re.findall(r"```text\n(.*?)```", page, re.DOTALL)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "plan.json").write_text(json.dumps(plan_json(planned("demo"))))
    monkeypatch.chdir(tmp_path)
    exec(code, {})  # noqa: S102 - our own page
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == len(planned("demo").setups)
    assert lines[: len(printed.splitlines())] == printed.splitlines()


def test_the_page_names_every_key_at_the_top_and_of_a_setup() -> None:
    page = (DEMO.parents[1] / "docs" / "plan-json.md").read_text(encoding="utf-8")
    keys = {*schema()["properties"], *schema()["$defs"]["setup"]["properties"]}
    keys |= {"seasons", "strength", "moments", "checks", "caution", "usual_tongue_length_mm"}
    assert [key for key in sorted(keys) if f"`{key}`" not in page] == []


# What trial cuts taught

LESSONS = tuple(
    Lesson(Unknown(kind, "C1"), mean, 0.0123456)
    for kind, mean in zip(get_args(UnknownKind)[:4], (0.02, -0.031, 0.0, -0.00004), strict=True)
)


def test_what_trials_taught_is_told_as_the_schema_says() -> None:
    told = plan_json(replace(planned("runner"), learned=LESSONS))
    Draft202012Validator(schema()).validate(told)
    assert told["learned"][1] == {
        "kind": "fence zero",
        "of": "C1",
        "mean_mm": -0.031,
        "deviation_mm": 0.0123,
    }
    assert told["learned"][3]["mean_mm"] == 0.0


def test_without_trials_nothing_was_learned() -> None:
    assert plan_json(planned("runner"))["learned"] == []


def test_kinds_of_what_was_learned_are_those_that_last() -> None:
    kinds = schema()["$defs"]["lesson"]["properties"]["kind"]["enum"]
    assert set(kinds) == set(get_args(UnknownKind)) - {"setting"}
