"""The page of a joint: what it says is the plan, and every key can be set and taken away."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from faywright.lengths import LengthStyle
from faywright.piece.gap_figures import gap_figures
from faywright.piece.words import writer
from faywright.web.desk import desk, open_piece
from faywright.web.joint.joint_keys import FIT_KIND, groups
from tests.web.forms_read import form_with
from tests.web.joint_form import HTMX, Bench, beside, demo_open

BACK, RUNNER = 1, 2
PLACES = {BACK: "back", RUNNER: "drawer runner"}

ALONE = [
    ("groove_depth", BACK, "10.5", 10.5),
    ("groove_width", BACK, "6.35", 6.35),
    ("tongue_thickness", BACK, "1/4 in", "1/4 in"),
    ("tongue_length", BACK, "9", 9),
    ("bottom_gap", BACK, "1,5", "1,5 mm"),
    ("offset", BACK, "6.2", 6.2),
    ("engagement", BACK, "4", 4),
    ("film", BACK, "0.03", 0.03),
    ("sanding", BACK, "0.02", 0.02),
    ("half", BACK, "true", True),
    ("order", RUNNER, "as listed", "as listed"),
    ("most_settings", BACK, "2", 2),
]
TOGETHER = [
    ("detail", BACK, {"detail__kind": "V", "detail__size": "2"}, {"kind": "V", "size": 2}),
    (
        "method",
        BACK,
        {
            "method__groove": "groove on edge, one pass",
            "method__tongue": "tongue flat, from both faces",
        },
        {"groove": "groove on edge, one pass", "tongue": "tongue flat, from both faces"},
    ),
    (
        "load",
        BACK,
        {
            "load__force": "150",
            "load__along": "300",
            "load__duration": "ten minutes",
            "load__strength_ratio": "0.8",
        },
        {"force": 150, "along": 300, "duration": "ten minutes", "strength_ratio": 0.8},
    ),
    (
        "load",
        RUNNER,
        {
            "load__drawer_kg": "6",
            "load__lean": "80",
            "load__pulled_out": "200",
            "load__projection": "5",
        },
        {"drawer_kg": 6, "lean": 80, "pulled_out": 200, "projection": 5},
    ),
]
OTHERWISE = [
    ("fit", BACK, {"fit__kind": "glued"}, "glued"),
    (
        "fit",
        BACK,
        {
            "fit__name": "my glue",
            "fit__aim": "0.06",
            "fit__low": "0",
            "fit__high": "0.12",
            "fit__glued": "true",
        },
        {"aim": 0.06, "low": 0, "high": 0.12, "name": "my glue", "glued": True},
    ),
]
MEETS = [
    ({"groove__edge": "head end", "tongue__edge": "foot end"}, ("groove", "edge"), "head end"),
    ({"family": "runner", "strip": "runner"}, ("strip",), "runner"),
    (
        {
            "family": "loose tongue",
            "second_groove__part": "back board",
            "second_groove__edge": "opposite edge",
            "strip": "runner",
        },
        ("second_groove",),
        {"part": "back board", "edge": "opposite edge"},
    ),
    (
        {"tongue__part": "drawer side", "tongue__edge": "head end"},
        ("tongue", "part"),
        "drawer side",
    ),
]


@pytest.fixture(scope="module", autouse=True)
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with demo_open(tmp_path_factory.mktemp("joints")):
        yield


@pytest.fixture
def bench() -> Bench:
    return Bench.new()


def test_every_key_of_the_documents_reference_is_tried_below() -> None:
    tried = {key for key, *_ in ALONE}
    for _, _, typed, _ in [*TOGETHER, *OTHERWISE]:
        tried |= {key.replace("__", ".") for key in typed}
    for typed, *_ in MEETS:
        tried |= {key.replace("__", ".") for key in typed}
    asked = {spec.key for group in groups() for spec in group.specs}
    assert asked - tried == {"name", "groove.part"}  # these have tests of their own


@pytest.mark.parametrize(("key", "place", "text", "value"), ALONE)
def test_a_key_is_set_as_it_was_typed_and_taken_away_without_a_trace(
    bench: Bench, key: str, place: int, text: str, value: object
) -> None:
    before = bench.text
    assert bench.send(place, key, **{key: text}).status_code == 200
    assert bench.stored(PLACES[place], key) == value
    data = bench.filled(place, key)
    data.pop(key, None)  # a box that is not ticked is not sent
    answer = bench.client.post(bench.url(place, "change"), data, headers=HTMX)
    assert (answer.status_code, bench.text) == (200, before)


@pytest.mark.parametrize(("group", "place", "typed", "table"), TOGETHER)
def test_keys_that_belong_together_make_a_table_and_leave_none(
    bench: Bench, group: str, place: int, typed: dict[str, str], table: object
) -> None:
    assert bench.send(place, group, **typed).status_code == 200
    assert bench.stored(PLACES[place], group) == table
    assert bench.send(place, group, **dict.fromkeys(typed, "")).status_code == 200
    assert bench.stored(PLACES[place], group) is None


@pytest.mark.parametrize(("group", "place", "typed", "value"), OTHERWISE)
def test_a_fit_is_a_packaged_one_or_figures_of_ones_own(
    bench: Bench, group: str, place: int, typed: dict[str, str], value: object
) -> None:
    before = bench.text
    assert bench.send(place, group, **typed).status_code == 200
    assert bench.stored(PLACES[place], group) == value
    assert bench.send(place, group, **{FIT_KIND.replace(".", "__"): "snug"}).status_code == 200
    assert bench.text == before


@pytest.mark.parametrize(("typed", "path", "value"), MEETS)
def test_what_meets_what_can_be_changed_and_leaves_nothing_behind(
    typed: dict[str, str], path: tuple[str, ...], value: object
) -> None:
    bench = Bench.new(panel=False)
    assert bench.send(BACK, "meets", **typed).status_code == 200
    assert bench.stored("back", *path) == value
    assert (bench.stored("back", "tongue") is None) == ("strip" in typed)


def test_what_a_panel_does_not_allow_names_the_panel(bench: Bench) -> None:
    answer = bench.send(BACK, "meets", family="runner", strip="runner")
    assert (answer.status_code, b"panel 1 (back): the boards" in answer.content) == (422, True)


def test_one_figure_of_ones_own_takes_the_others_from_the_fit(bench: Bench) -> None:
    assert bench.send(BACK, "fit", fit__aim="0.15").status_code == 200
    assert bench.stored("back", "fit") == {"aim": 0.15, "low": 0.08, "high": 0.28}


def test_another_name_is_taken_over_by_the_panel_that_is_made_of_the_joint(bench: Bench) -> None:
    answer = bench.send(BACK, "name", name="boarded back")
    assert answer.headers["HX-Redirect"] == bench.url(BACK)
    assert 'joint = "boarded back"' in bench.text


def test_the_gaps_of_the_drawing_and_of_the_table_are_those_of_the_plan(bench: Bench) -> None:
    page = bench.page(BACK).decode()
    opened = open_piece(bench.piece)
    plan = desk().planner.joint(opened.ground, opened.ground.piece.joints[0])
    write = writer(LengthStyle("mm"))
    described = re.search("<desc>(.*?)</desc>", page)
    assert described is not None
    tightest = int(plan.solution.clearance.argmin())
    for gap in gap_figures(plan):
        measured = float(plan.simulated.gaps[gap.name][tightest])
        assert f"{gap.name} {write(abs(measured))}" in described[1]
        cells = [write(each) for each in (gap.aim, gap.least, gap.greatest)]
        row = "".join(f"<td[^>]*>{re.escape(each)}</td>" for each in cells)
        assert re.search(f'scope="row">{gap.name}</th>{row}', page)


def test_units_change_what_is_shown_and_nothing_that_is_stored(bench: Bench) -> None:
    bench.send(BACK, "groove_depth", groove_depth="10.5")
    before = bench.text
    bench.client.post("/units", {"style": "fraction inch", "back": "/"})
    form = form_with(bench.page(BACK), group="groove_depth")
    assert form.values["groove_depth"] == form.values["was:groove_depth"] == "13/32 + .007 in"
    answer = bench.client.post(bench.url(BACK, "change"), form.values)
    assert (answer.status_code, bench.text) == (303, before)


def test_what_is_typed_in_inches_is_stored_with_its_unit(bench: Bench) -> None:
    bench.client.post("/units", {"style": "decimal inch", "back": "/"})
    bench.send(BACK, "groove_depth", groove_depth=".4")
    assert bench.stored("back", "groove_depth") == ".4 in"


WRONG = [
    *((key, BACK, key, "12 parsecs") for key, _, text, _ in ALONE if text[0].isdigit()),
    ("order", BACK, "order", "any"),
    ("detail", BACK, "detail.kind", "ogee"),
    ("detail", BACK, "detail.size", "wide"),
    ("method", BACK, "method.groove", "by hand"),
    *(
        ("load", BACK, f"load.{key}", "much")
        for key in (
            "force",
            "along",
            "drawer_kg",
            "lean",
            "pulled_out",
            "projection",
            "duration",
            "strength_ratio",
        )
    ),
    ("fit", BACK, "fit.kind", "tight"),
    *(("fit", BACK, f"fit.{key}", "loose") for key in ("aim", "low", "high")),
    ("meets", BACK, "family", "dowel"),
    ("meets", BACK, "groove.part", "lid"),
    ("meets", BACK, "groove.edge", "middle"),
    ("meets", BACK, "tongue.part", "lid"),
    ("meets", BACK, "tongue.edge", "middle"),
    ("meets", BACK, "strip", "lid"),
    ("name", BACK, "name", "drawer runner"),
]


@pytest.mark.parametrize(("group", "place", "key", "text"), WRONG)
def test_what_is_wrong_is_told_beside_its_field_which_keeps_its_text(
    bench: Bench, group: str, place: int, key: str, text: str
) -> None:
    before = bench.text
    answer = bench.send(place, group, **{key.replace(".", "__"): text})
    assert (answer.status_code, bench.text) == (422, before)
    form = form_with(answer.content, group=group)
    assert (form.values[key], key in form.invalid) == (text, True)
    assert beside(answer.content, key)


def test_without_scripts_the_whole_page_comes_back_with_the_fault(bench: Bench) -> None:
    data = bench.filled(BACK, "film", film="thick")
    answer = bench.client.post(bench.url(BACK, "change"), data)
    assert answer.status_code == 422
    assert form_with(answer.content, group="film").values["film"] == "thick"
    assert b"<h1>back</h1>" in answer.content


def test_a_fault_of_another_key_names_that_key(bench: Bench) -> None:
    bench.send(BACK, "engagement", engagement="4")
    answer = bench.send(BACK, "fit", fit__kind="glued")
    assert answer.status_code == 422
    assert b"an engagement is given, and it is glued" in answer.content


def test_a_joint_that_cannot_be_made_is_kept_and_says_what_frees_it(bench: Bench) -> None:
    answer = bench.send(BACK, "groove_depth", groove_depth="60")
    assert (answer.status_code, answer.headers["HX-Retarget"]) == (200, "#trouble")
    assert b"It cannot be made so." in answer.content
    assert b"add a cutter for that" in answer.content
    assert b"It cannot be made so." in bench.page(BACK)


@pytest.mark.parametrize("name", ["charts", "seasons", "working", "row"])
def test_what_loads_later_is_a_part_of_the_page_and_a_page_of_its_own(
    bench: Bench, name: str
) -> None:
    for place in PLACES:
        url = bench.url(place, name)
        part, whole = bench.client.get(url, headers=HTMX), bench.client.get(url)
        assert (part.status_code, whole.status_code) == (200, 200)
        assert b"<html" not in part.content
        assert (b"<html" in whole.content) == (name != "row")


def test_every_chart_says_in_words_what_it_shows(bench: Bench) -> None:
    page = bench.client.get(bench.url(BACK, "charts"), headers=HTMX).content.decode()
    for described in re.findall("<desc>(.*?)</desc>", page):
        assert page.count(described[:60]) > 1


def test_every_number_to_set_shows_its_sum(bench: Bench) -> None:
    opened = open_piece(bench.piece)
    plan = desk().planner.joint(opened.ground, opened.ground.piece.joints[0])
    page = bench.client.get(bench.url(BACK, "working"), headers=HTMX).content.decode()
    assert page.count("<h2>") == len(plan.setups)
    for setup in plan.setups:
        assert writer(LengthStyle("mm"))(setup.height.true) in page


def test_a_joint_is_removed_with_the_panel_it_made_and_nothing_else(bench: Bench) -> None:
    data = {"base": str(bench.revision)}
    answer = bench.client.post(bench.url(BACK, "remove"), data)
    assert answer.headers["Location"] == f"/pieces/{bench.piece}"
    names = [joint.name for joint in open_piece(bench.piece).ground.piece.joints]
    assert (names, "[[panel]]" in bench.text) == (["drawer runner"], False)


def test_a_joint_that_is_not_there_is_told_as_missing(bench: Bench) -> None:
    assert bench.client.get(bench.url(9)).status_code == 404


def test_a_new_joint_has_a_name_from_what_meets_what(bench: Bench) -> None:
    url = f"/pieces/{bench.piece}/joints/new"
    form = form_with(bench.client.get(url).content, family="tongue and groove")
    form.values |= {"groove.part": "drawer side", "groove.edge": "head end"}
    form.values |= {"tongue.part": "back board", "tongue.edge": "head end"}
    answer = bench.client.post(url, form.values)
    assert answer.headers["Location"] == bench.url(3)
    assert b"<h1>back board in drawer side</h1>" in bench.page(3)


def test_a_new_joint_that_lacks_something_keeps_what_was_typed(bench: Bench) -> None:
    url = f"/pieces/{bench.piece}/joints/new"
    form = form_with(bench.client.get(url).content, family="tongue and groove")
    answer = bench.client.post(url, {**form.values, "groove.part": "", "fit": "glued"})
    assert answer.status_code == 422
    again = form_with(answer.content, family="tongue and groove")
    assert (again.values["fit"], "groove.part" in again.invalid) == ("glued", True)
