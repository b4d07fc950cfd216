"""A joint while it is typed: drawn at once, kept when it is left, and never against another's."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest
from django.http import HttpResponse

from faywright.lengths import LengthStyle
from faywright.piece.words import writer
from faywright.web.changing import Put, change
from faywright.web.desk import desk, open_piece
from faywright.web.joint.joint_at import JointAt
from tests.web.forms_read import form_with
from tests.web.joint_form import HTMX, Bench, demo_open

BACK, RUNNER = 1, 2


@pytest.fixture(scope="module", autouse=True)
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    with demo_open(tmp_path_factory.mktemp("live")):
        yield


@pytest.fixture
def bench() -> Bench:
    return Bench.new()


def _at(bench: Bench, place: int) -> JointAt:
    opened = open_piece(bench.piece)
    return JointAt(opened, place, opened.ground.piece.joints[place - 1], LengthStyle("mm"))


def _described(answer: HttpResponse) -> str:
    found = re.search("<desc>(.*?)</desc>", answer.content.decode())
    return "" if found is None else found[1]


def test_what_is_typed_is_drawn_and_kept_nowhere(bench: Bench) -> None:
    text, revision = bench.text, bench.revision
    answer = bench.send(BACK, "bottom_gap", to="live", bottom_gap="2.25")
    assert "bottom 2.25 mm" in _described(answer)
    assert b"Not kept yet: bottom gap of joint back: 2.25 mm, was left out." in answer.content
    assert (bench.text, bench.revision) == (text, revision)
    assert form_with(bench.page(BACK), group="bottom_gap").values["bottom_gap"] == ""


@pytest.mark.parametrize(
    ("group", "typed"),
    [
        ("fit", {"fit__aim": "0.2"}),
        ("detail", {"detail__kind": "V", "detail__size": "2"}),
        ("meets", {"groove__edge": "opposite edge", "tongue__edge": "reference edge"}),
        ("film", {"film": "0.02"}),
    ],
)
def test_what_is_tried_is_drawn_as_it_is_when_it_is_kept(
    bench: Bench, group: str, typed: dict[str, str]
) -> None:
    tried = bench.send(BACK, group, to="live", **typed)
    kept = bench.send(BACK, group, **typed)
    assert (tried.status_code, kept.status_code) == (200, 200)
    assert _described(tried) == _described(kept) != ""


def test_a_change_answers_with_everything_that_follows_from_it(bench: Bench) -> None:
    answer = bench.send(BACK, "groove_depth", groove_depth="11.25")
    page = answer.content.decode()
    plan = desk().planner.joint(_at(bench, BACK).ground, _at(bench, BACK).wanted)
    assert f"{writer(LengthStyle('mm'))(plan.task.target.depth)} deep" in page
    assert f'id="base" name="at" value="{bench.revision}"' in page
    assert 'name="was:groove_depth" value="11.25" hx-swap-oob="true"' in page
    assert "Undo takes back: groove depth of joint back: 11.25 mm, was left out" in page
    said = json.loads(answer.headers["HX-Trigger"])["said"]
    assert said == "groove depth of joint back: 11.25 mm, was left out"


def test_a_field_that_is_left_as_it_was_changes_nothing(bench: Bench) -> None:
    revision = bench.revision
    assert bench.send(RUNNER, "groove_depth").status_code == 204
    assert bench.revision == revision


def test_a_text_that_cannot_be_read_yet_leaves_the_drawing_and_says_so(bench: Bench) -> None:
    answer = bench.send(BACK, "groove_depth", to="live", groove_depth="10 m m")
    assert (answer.status_code, answer.headers["HX-Reswap"]) == (200, "none")
    assert b"<svg" not in answer.content
    assert b'id="g-groove_depth-trial"' in answer.content
    assert b"10 m m" in answer.content


def test_what_cannot_be_made_leaves_the_drawing_and_says_what_frees_it(bench: Bench) -> None:
    answer = bench.send(BACK, "groove_depth", to="live", groove_depth="40")
    assert (answer.status_code, answer.headers["HX-Retarget"]) == (200, "#trouble")
    assert b"<svg" not in answer.content
    assert b"cuts 19.0 mm deep, the groove is 40.0" in answer.content
    beside = answer.content.decode().partition('id="g-groove_depth-trial"')[2]
    assert "or give groove width to suit one you own" in beside


def test_all_ways_are_asked_afterwards_and_another_that_is_better_is_told(bench: Bench) -> None:
    bench.page(BACK)
    quick = bench.send(BACK, "groove_width", groove_width="5.03")
    asked = re.search('hx-get="([^"]*)" hx-trigger="load delay:2500ms"', quick.content.decode())
    assert asked is not None
    thorough = bench.client.get(asked[1].replace("&amp;", "&"), headers=HTMX).content.decode()
    assert "load delay" not in thorough
    assert "Taken:" in thorough
    at = _at(bench, BACK)
    best = desk().planner.joint(at.ground, at.wanted).choice.chosen
    same = best.groove.name in quick.content.decode().partition("<details")[0]
    assert ("Another way ranks first now" in thorough) != same


def _someone_else(bench: Bench, key: str, value: float) -> None:
    sheet = desk().store.documents.sheet(bench.piece)
    change(
        desk().store.documents,
        bench.piece,
        sheet.revision.number,
        [Put(("joint", "back", key), value)],
        author="Anna",
        what=f"{key} of joint back: {value} mm",
    )


def test_a_change_is_put_on_top_of_anothers_and_both_are_told(bench: Bench) -> None:
    data = bench.filled(BACK, "film", film="0.03")
    _someone_else(bench, "groove_depth", 10.5)
    answer = bench.client.post(bench.url(BACK, "change"), data, headers=HTMX)
    assert (answer.status_code, bench.stored("back", "groove_depth")) == (200, 10.5)
    assert bench.stored("back", "film") == 0.03
    assert "Anna" in json.loads(answer.headers["HX-Trigger"])["said"]


def test_two_values_of_one_field_are_shown_and_either_can_be_taken(bench: Bench) -> None:
    data = bench.filled(BACK, "groove_depth", groove_depth="11")
    _someone_else(bench, "groove_depth", 10.5)
    answer = bench.client.post(bench.url(BACK, "change"), data, headers=HTMX)
    assert (answer.status_code, bench.stored("back", "groove_depth")) == (409, 10.5)
    assert b"Keep theirs" in answer.content
    form = form_with(answer.content, was="10.5")
    for value in ("10.5", "11"):
        mine = {**form.values, "value": value}
        kept = bench.client.post(bench.url(BACK, "change"), mine, headers=HTMX)
        assert kept.status_code == 200
        assert b'id="g-groove_depth"' in kept.content
        assert bench.stored("back", "groove_depth") == float(value)


def test_several_fields_that_differ_keep_all_that_was_typed(bench: Bench) -> None:
    data = bench.filled(BACK, "fit", fit__aim="0.3")
    documents = desk().store.documents
    edit = Put(("joint", "back", "fit"), "sliding")
    change(documents, bench.piece, bench.revision, [edit], author="Anna", what="fit")
    answer = bench.client.post(bench.url(BACK, "change"), data, headers=HTMX)
    assert (answer.status_code, bench.stored("back", "fit")) == (409, "sliding")
    again = form_with(answer.content, group="fit")
    assert again.values["fit.aim"] == "0.3"
    kept = bench.client.post(bench.url(BACK, "change"), again.values, headers=HTMX)
    assert kept.status_code == 200
    assert bench.stored("back", "fit") == {"aim": 0.3, "low": 0.25, "high": 0.5}


def test_the_joint_is_found_again_when_it_stands_elsewhere_by_now(bench: Bench) -> None:
    data = bench.filled(RUNNER, "groove_depth", groove_depth="6")
    bench.client.post(bench.url(BACK, "remove"), {"base": str(bench.revision)})
    answer = bench.client.post(bench.url(RUNNER, "change"), data, headers=HTMX)
    assert (answer.status_code, bench.stored("drawer runner", "groove_depth")) == (200, 6)


def test_a_joint_that_someone_removed_is_told_as_missing(bench: Bench) -> None:
    data = bench.filled(BACK, "film", film="0.03")
    bench.client.post(bench.url(BACK, "remove"), {"base": str(bench.revision)})
    answer = bench.client.post(bench.url(BACK, "change"), data, headers=HTMX)
    assert answer.status_code == 404
