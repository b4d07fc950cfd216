"""Trial cuts on a page: the same answers as on the command line, and no reading lost."""

from __future__ import annotations

import html
import re
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from django.http import HttpResponse
from django.test import Client

from faywright.app.records import KeptTrial
from faywright.app.trial_run import Asked, run_trial
from faywright.app.trial_told import done_by, turned
from faywright.lengths import Style
from faywright.piece.words import MILLIMETRES, finer
from faywright.setups.setup import Change
from faywright.web.desk import STYLES, Desk
from tests.web.forms_read import Sent, form_with

DEMO = Path(__file__).parents[2] / "examples" / "hall-bench"
READ = {"stock": "19.00 mm", "groove": "6.29 mm", "tongue": "6.03 mm"}
READINGS = ("stock", "groove", "wall", "depth", "tongue", "cheek", "length")
SLIP = {**READ, "groove": "62.9 mm"}
FIRST, SECOND = "0123456789abcdef", "fedcba9876543210"


@pytest.fixture(name="address")
def _address(bench_id: int) -> str:
    return f"/pieces/{bench_id}/joints/1/trial"


def fields(client: Client, address: str) -> Sent:
    """The form as it stands, nothing typed; of the words for the feel none is chosen."""
    values = form_with(client.get(address).content, called="back").values
    return {name: value for name, value in values.items() if name not in {"feel", "anew"}}


def send(client: Client, address: str, **typed: str) -> HttpResponse:
    answer = client.post(address, {**fields(client, address), **typed})
    assert isinstance(answer, HttpResponse)
    return answer


def text_of(answer: HttpResponse) -> str:
    page = re.sub(r"<svg.*?</svg>", " ", answer.content.decode(), flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", "", page)))


def fault(answer: HttpResponse, name: str) -> str:
    """What stands beside a field that is marked as wrong."""
    page = answer.content.decode()
    assert re.search(rf'id="field-{name}"[^>]*aria-invalid="true"', page)
    found = re.search(rf'<p class="fault" id="{name}-fault">(.*?)</p>', page)
    assert found is not None
    return html.unescape(found[1])


def kept(desk: Desk) -> tuple[KeptTrial, ...]:
    return desk.store.trials()


# The answer


@pytest.mark.parametrize("style", STYLES)
def test_a_page_says_what_the_command_line_says(
    client: Client, address: str, tmp_path: Path, style: Style
) -> None:
    command = Asked(
        piece=DEMO / "piece.toml",
        shop=None,
        store=str(tmp_path / "other.sqlite3"),
        style=style,
        joint="back",
        texts=READ,
    )
    told = run_trial(command)
    client.cookies["units"] = style
    answer = send(client, address, **READ)
    page = text_of(client.get(answer.headers["Location"]))  # type: ignore[arg-type] # a page
    expected = [line for line in told.lines if line.startswith(("Then:", "As it was", "Another"))]
    assert len(expected) == 3
    for line in [*expected, told.lines[0], "Remembered as trial 1."]:
        assert line in page
    moves = [line for line in told.lines if line.startswith("Move setup")]
    assert moves
    for move in moves:
        setup, shows = re.findall(
            r"Move (setup \d+ \(.*?\)): .*; the gauge then shows (.*)\.", move
        )[0]
        assert f"S{setup[1:]} " in page
        assert f"The gauge then shows {shows}." in page


def test_the_correction_stands_in_the_largest_letters(client: Client, address: str) -> None:
    answer = client.get(send(client, address, **READ).headers["Location"])
    huge = re.findall(r'<p class="setting huge">(.*?)</p>', answer.content.decode())
    assert huge[0] == "Raise the cutter 0.050\u00a0mm: 1/30\u00a0turn of the key"


@pytest.mark.parametrize(
    ("raised", "fence", "told"),
    [
        (0.06, 0.0, "Raise the cutter 0.060 mm: 1/25 turn of the key"),
        (
            -0.06,
            0.0,
            "Lower the cutter 0.060 mm: 0.54 turns of the key down, then 1/2 turn up",
        ),
        (0.0, 0.04, "Move the fence back, away from you, 0.040 mm: 0.080 mm at its free end"),
        (0.0, 0.0, ""),
    ],
)
def test_a_move_is_something_to_do(raised: float, fence: float, told: str) -> None:
    change = Change(
        raised=raised, turns=raised / 1.5, fence=fence, fence_way="back", fence_end=2 * fence
    )
    assert done_by(change, finer(MILLIMETRES)) == told


def test_a_lift_of_unknown_pitch_is_moved_by_its_length_alone() -> None:
    change = Change(raised=0.06, turns=None, fence=0.0, fence_way="back", fence_end=None)
    assert done_by(change, finer(MILLIMETRES)) == "Raise the cutter 0.060 mm"


@pytest.mark.parametrize(("turns", "told"), [(1.0, "1.00 turns"), (0.0001, "1/1000 turn")])
def test_turns_are_said_as_they_are_made(turns: float, told: str) -> None:
    assert turned(turns) == told


def test_the_next_piece_is_measured_with_what_the_gauges_show_after_the_moves(
    client: Client, address: str
) -> None:
    page = client.get(send(client, address, **READ).headers["Location"]).content.decode()
    link = html.unescape(re.findall(r'href="([^"]*set-height[^"]*)"', page)[0])
    (name, shows), *_ = [
        (name, values[0])
        for name, values in parse_qs(urlsplit(link).query).items()
        if name.startswith("set-")
    ]
    form = form_with(client.get(link).content, called="back")
    assert form.values[name] == shows


def test_the_first_field_is_the_piece_and_then_what_decides(client: Client, address: str) -> None:
    page = client.get(address).content.decode()
    names = re.findall(r'<input id="field-([a-z]+)"', page)
    assert names[:3] == ["stock", "groove", "wall"]
    assert names.index("tongue") < names.index("metres")
    assert page.count('inputmode="decimal"') >= 7
    assert "Where to measure the tongue thickness" in page


# What goes with it


def test_feel_metres_and_note_are_kept(client: Client, address: str, desk: Desk) -> None:
    send(client, address, **READ, feel="hand push", metres="40,5", note="end of the day")
    (trial,) = kept(desk)
    assert (trial.record.metres, trial.record.note) == (40.5, "end of the day")
    (feel,) = desk.store.feels(trial.record.shop)
    assert feel.record.word == "hand push"


def test_several_readings_of_one_thing_are_all_kept(
    client: Client, address: str, desk: Desk
) -> None:
    send(client, address, **{**READ, "tongue": "5.93; 5,95; "[:-2]})
    readings = {each.what: each.readings for each in kept(desk)[0].record.measurements}
    assert readings["tongue thickness"] == pytest.approx((5.93, 5.95))


def test_bare_numbers_are_in_the_unit_that_is_shown(
    client: Client, address: str, desk: Desk
) -> None:
    client.cookies["units"] = "decimal inch"
    send(client, address, stock="0.748", tongue="0.2335")
    readings = {each.what: each.readings for each in kept(desk)[0].record.measurements}
    assert readings["tongue thickness"] == pytest.approx((0.2335 * 25.4,))


def test_what_a_gauge_showed_counts(client: Client, address: str) -> None:
    answer = send(client, address, **READ, **{"set-height-8": "12.52 mm"})
    assert "height 12.52 mm" in text_of(client.get(answer.headers["Location"]))  # type: ignore[arg-type]


# Slips


def test_a_slip_is_a_question_and_nothing_is_lost_or_remembered(
    client: Client, address: str, desk: Desk
) -> None:
    answer = send(client, address, **SLIP, note="wet day")
    assert answer.status_code == 422
    assert "Did the decimal point slip?" in text_of(answer)
    form = form_with(answer.content, called="back")
    assert {name: form.values[name] for name in SLIP} == SLIP
    assert form.values["note"] == "wet day"
    assert not kept(desk)


def test_readings_that_stand_are_remembered(client: Client, address: str, desk: Desk) -> None:
    assert send(client, address, **{**READ, "groove": "6.49 mm"}).status_code == 422
    assert send(client, address, **{**READ, "groove": "6.49 mm"}, sure="yes").status_code == 302
    assert len(kept(desk)) == 1


# Twice, or late


def test_a_form_that_arrives_twice_is_one_trial(client: Client, address: str, desk: Desk) -> None:
    first = send(client, address, **READ, submission=FIRST)
    again = send(client, address, **READ, submission=FIRST)
    assert first.headers["Location"] == again.headers["Location"]
    assert len(kept(desk)) == 1
    send(client, address, **READ, submission=SECOND)
    assert len(kept(desk)) == 2


def test_a_part_of_the_page_comes_with_the_address_of_the_answer(
    client: Client, address: str
) -> None:
    typed = {**fields(client, address), **READ, "submission": FIRST}
    answer = client.post(address, typed, headers={"HX-Request": "true"})
    assert answer.headers["HX-Push-Url"] == f"{address}?told={FIRST}"
    assert answer.headers["HX-Trigger"] == '{"said": "Remembered as trial 1."}'
    assert answer.content.decode().startswith('<div id="trial">')


def test_readings_for_setups_that_are_others_now_wait_for_the_maker(
    client: Client, address: str, bench_id: int, desk: Desk
) -> None:
    typed = {**fields(client, address), **READ}
    sheet = desk.store.documents.sheet(bench_id)
    two = 'order = "as listed"\nmethod = { tongue = "tongue flat, from both faces" }'
    text = sheet.revision.text.replace('order = "free"', two)
    desk.store.documents.revise(
        bench_id, sheet.revision.number, text, title=sheet.title, what="another way"
    )
    answer = client.post(address, typed)
    assert answer.status_code == 409
    assert "Look at what the gauges are taken to have shown" in text_of(answer)  # type: ignore[arg-type]
    assert form_with(answer.content, called="back").values["tongue"] == READ["tongue"]
    assert not kept(desk)


def test_gauges_are_taken_to_have_shown_what_the_page_said_then(
    client: Client, address: str
) -> None:
    late = {**fields(client, address), **READ, "submission": SECOND}
    send(client, address, **{**READ, "groove": "6.34 mm"}, sure="yes")
    now = fields(client, address)
    heights = ("was-set-height-6", "was-set-height-8")  # of the tongue, which was measured
    moved = [name for name in heights if now[name] != late[name]]
    assert moved
    answer = client.post(address, late)
    page = text_of(client.get(answer.headers["Location"]))  # type: ignore[arg-type]
    taken = page[page.index("Taken as set:") :]
    for name in moved:
        assert f"height {late[name]}" in taken


def test_a_joint_is_found_by_its_name_wherever_it_stands_by_now(
    client: Client, bench_id: int, address: str, desk: Desk
) -> None:
    typed = {**fields(client, address), **READ}
    answer = client.post(f"/pieces/{bench_id}/joints/2/trial", typed)
    assert answer.headers["Location"].startswith(address)
    assert kept(desk)[0].record.joint == "back"


def test_an_answer_that_is_not_kept_any_more_gives_the_form(client: Client, address: str) -> None:
    page = client.get(f"{address}?told={FIRST}").content.decode()
    assert 'id="trial-form"' in page


# What cannot be used


@pytest.mark.parametrize(
    "name", [*READINGS, "set-height-4", "set-fence-4", "set-height-6", "set-height-8"]
)
@pytest.mark.parametrize("text", ["wide", "1,2,3,4", "6 mm mm", "<b>", "1e3 mm"])
def test_what_cannot_be_read_is_told_beside_its_field(
    client: Client, address: str, desk: Desk, name: str, text: str
) -> None:
    answer = send(client, address, **{**READ, name: text})
    assert answer.status_code == 422
    assert fault(answer, name)
    assert form_with(answer.content, called="back").values[name] == text
    assert not kept(desk)


@pytest.mark.parametrize("name", READINGS)
def test_a_reading_below_nought_is_told_beside_its_field(
    client: Client, address: str, name: str
) -> None:
    answer = send(client, address, **{**READ, name: "-6 mm"})
    assert answer.status_code == 422
    assert "a reading of -6 mm cannot be" in fault(answer, name)


def test_every_field_that_is_wrong_is_told_at_once(client: Client, address: str) -> None:
    answer = send(client, address, **{**READ, "groove": "wide", "tongue": "fat"})
    assert "'wide'" in fault(answer, "groove")
    assert "'fat'" in fault(answer, "tongue")


@pytest.mark.parametrize("metres", ["far", "-1", "nan", "1e9"])
def test_metres_that_cannot_be_are_told_beside_their_field(
    client: Client, address: str, metres: str
) -> None:
    answer = send(client, address, **READ, metres=metres)
    assert answer.status_code == 422
    assert fault(answer, "metres")


def test_metres_do_not_run_backwards(client: Client, address: str) -> None:
    send(client, address, **READ, metres="40", submission=FIRST)
    answer = send(client, address, **READ, metres="12", submission=SECOND)
    assert "fewer than the 40 m" in fault(answer, "metres")


def test_nothing_read_says_what_to_measure(client: Client, address: str) -> None:
    answer = send(client, address)
    assert answer.status_code == 422
    assert "nothing was read. Measure groove width, wall beside face A" in text_of(answer)


def test_a_feel_that_is_none_of_the_five_is_told(client: Client, address: str) -> None:
    assert send(client, address, **READ, feel="tight").status_code == 422


@pytest.mark.parametrize(
    "tail", ["joints/9/trial", "joints/0/trial", "joints/1/trial?group=Z", "joints/1/trial?group="]
)
def test_what_is_not_there_has_no_trial(client: Client, bench_id: int, tail: str) -> None:
    assert client.get(f"/pieces/{bench_id}/{tail}").status_code == 404


# Those there were


def test_trials_of_the_joint_are_listed_and_can_be_forgotten(
    client: Client, address: str, desk: Desk
) -> None:
    send(client, address, **READ)
    assert "Trial 1" in client.get(address).content.decode()
    assert client.post(address, {"forget": "1"}).status_code == 302
    assert "(forgotten)" in client.get(address).content.decode()
    assert not kept(desk)


@pytest.mark.parametrize("number", ["7", "one", ""])
def test_a_trial_that_is_not_there_cannot_be_forgotten(
    client: Client, address: str, number: str
) -> None:
    assert client.post(address, {"forget": number}).status_code in {404, 422}


@pytest.mark.parametrize("stock", ["1897 mm", "18.97 in", "0.5 mm"])
def test_a_piece_that_no_board_is_as_thick_as_is_not_remembered(
    client: Client, desk: Desk, address: str, stock: str
) -> None:
    answer = send(client, address, **{**READ, "stock": stock})
    assert answer.status_code == 422
    assert "is no thickness of a board" in fault(answer, "stock")
    assert not desk.store.trials()
