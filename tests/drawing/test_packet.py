"""The packet: sheets, figures to set, and faithful words."""

import json
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from faywright.drawing.packet import PacketOptions, identity_of, packet
from faywright.drawing.packet_letters import breakable, fonts_for_words, unprintable
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.opened import open_documents
from faywright.piece.plan import Plan, plan
from faywright.piece.plan_json import plan_json
from faywright.piece.words import Write, final_setups, finer, tolerance, working, writer
from tests.drawing.packets_read import Page, read
from tests.drawing.packets_to_print import drawer, eight_groups, lining, screen

DEMO = Path(__file__).parents[2] / "examples" / "hall-bench" / "piece.toml"
STYLES = (LengthStyle("mm"), LengthStyle("decimal inch"), LengthStyle("fraction inch"))


@cache
def demo() -> Plan:
    documents = open_documents(DEMO)
    return plan(documents.piece, documents.shop)


PLANS: dict[str, Callable[[], Plan]] = {
    "bench": demo,
    "drawer": drawer,
    "lining": eight_groups,
    "screen": screen,
}


@cache
def pages(piece: str, options: PacketOptions | None = None) -> tuple[Page, ...]:
    """The packet of one of ``PLANS``."""
    return read(PLANS[piece](), options)


def numbers_of(planned: Plan) -> list[tuple[str, dict[str, Any]]]:
    """What each sheet is headed with, and its final setup as in plan.json."""
    setups = {each["number"]: each for each in plan_json(planned)["setups"]}
    return [
        (
            f"{first[0].number} to {final.number}" if first else f"{final.number}",
            setups[final.number],
        )
        for final, first in final_setups(planned.setups)
    ]


def sheet(found: tuple[Page, ...], numbers: str) -> Page:
    """The first page of a setup's sheet."""
    (page,) = [page for page in found if page.words.startswith(f"Setup {numbers} ")]
    return page


def words_of(found: Iterable[Page]) -> str:
    """All that a packet says."""
    return " ".join(page.words for page in found)


def digits_of(length: float, write: Write) -> list[str]:
    return [part for part in write(length).split() if any(c.isdigit() for c in part)]


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.style)
@pytest.mark.parametrize("piece", PLANS)
def test_what_is_set_and_read_stands_on_the_setup_s_own_sheet(
    piece: str, style: LengthStyle
) -> None:
    write = writer(style)
    found = pages(piece, PacketOptions(style=style))
    for numbers, setup in numbers_of(PLANS[piece]()):
        page = sheet(found, numbers)
        large = [figure for figure, _ in page.large]
        height, fence = setup["height"]["true_mm"], setup["fence_as_measured_mm"]
        assert large == digits_of(height, write) + digits_of(fence, write)
        for reading in setup["check_readings"]:
            assert write(reading["calipers_show_mm"]) in page.words
            thick = f"{write(reading['calipers_show_for_trial_piece_mm'])}"
            assert f"{thick} {reading['trial_piece_is_so']}" in page.words
        for mark in setup["boards"]:
            assert mark in page.words


@pytest.mark.parametrize("piece", PLANS)
def test_every_number_to_set_has_its_sum_and_how_far_off_it_may_be(piece: str) -> None:
    planned = PLANS[piece]()
    write, fine = writer(STYLES[0]), finer(STYLES[0])
    for setup, first in final_setups(planned.setups):
        numbers = f"{first[0].number} to {setup.number}" if first else f"{setup.number}"
        words = sheet(pages(piece), numbers).words
        reference = setup.reference(planned.shop.habits.reference)
        shift = setup.places.to(reference) - setup.places.far_edge
        for setting, by in ((setup.height, 0.0), (setup.fence, shift)):
            assert working(setting, fine).replace("- ", "-") in words
            assert tolerance(setting, by, write) in words
        assert any(tolerance(each, 0.0, write) for each in (setup.height, setup.fence))


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.style)
@pytest.mark.parametrize("piece", PLANS)
def test_digits_to_set_are_at_least_14_mm_high(piece: str, style: LengthStyle) -> None:
    figures = [each for page in pages(piece, PacketOptions(style=style)) for each in page.large]
    assert figures
    assert min(high for _, high in figures) >= 14.0


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("style", STYLES[:2], ids=lambda style: style.style)
@pytest.mark.parametrize("piece", PLANS)
def test_every_final_setup_has_one_sheet_in_the_order_of_work(
    piece: str, style: LengthStyle, paper: Any
) -> None:
    found = [page.words for page in pages(piece, PacketOptions(paper=paper, style=style))]
    headed = [text for text in found if text.startswith("Setup ")]
    expected = [numbers for numbers, _ in numbers_of(PLANS[piece]())]
    assert len(headed) == len(expected)
    for text, numbers in zip(headed, expected, strict=True):
        assert text.startswith(f"Setup {numbers} ")


def test_a_sheet_that_does_not_hold_all_is_continued_under_its_own_head() -> None:
    planned = lining(
        tuple(19 + 0.01 * k for k in range(60)),
        joint="Rückwandbretter, von der Treppe aus gesehen links unten neben der Kellertür",
        mark="third plank from the left of the loft, number {}",
    )
    found = read(planned)
    first = numbers_of(planned)[0][0]
    rest = [page.words for page in found if page.words.startswith(f"Setup {first}, continued")]
    assert rest
    assert "number 60" in "".join(rest)


def test_names_too_long_for_a_line_stay_on_the_sheet() -> None:
    long = "Donaudampfschifffahrtsgesellschaftskapitänskajütenschrankrückwandbrett" * 2
    (page, *_) = read(lining((19.0, 19.02), title=long))
    assert long in page.words.replace(" ", "")
    assert page.right < page.size[0] - 5


@pytest.mark.parametrize("title", ["Скамья в прихожей", "Πάγκος εισόδου", "Låda nº 4, große Bank"])
def test_a_title_that_the_fonts_have_is_printed_as_it_is(title: str) -> None:
    (page, *_) = read(lining((19.0, 19.02), title=title))
    assert page.words.startswith(title)
    assert "cannot be printed" not in page.words


def test_letters_without_a_font_stand_as_their_numbers_and_the_first_page_says_so() -> None:
    strange = "\U00010600\U00014400"  # scripts of the Aegean and of Anatolia, out of use since
    (first, *rest) = read(lining((19.0, 19.02), title=f"Bench {strange}", mark="\U00014400{}"))
    assert "Bench [U+10600 U+14400]" in first.words
    assert "Some letters cannot be printed here" in first.words
    assert any("[U+14400]2" in page.words for page in rest)
    assert not any(letter in page.words for page in (first, *rest) for letter in strange)


def test_the_compiler_says_which_letters_no_font_has() -> None:
    texts = ("plain", "é ß Я\u0301 \U00014400", "\U00010600 ж")
    assert unprintable(texts, fonts_for_words()) == {"\U00010600", "\U00014400"}
    assert unprintable(("plain", "é"), fonts_for_words()) == frozenset()


def test_only_words_longer_than_a_column_are_broken() -> None:
    assert breakable("third plank from the left") == "third plank from the left"
    assert breakable("a" * 50).replace("\u200b", "|") == "|".join(("a" * 24, "a" * 24, "aa"))


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("us-letter", (215.9, 279.4))])
def test_the_packet_is_on_the_paper_asked_for(paper: Any, size: tuple[float, float]) -> None:
    for page in pages("bench", PacketOptions(paper=paper, style=STYLES[0])):
        assert page.size == pytest.approx(size, abs=0.1)
        assert page.right < size[0] - 5


@pytest.mark.parametrize("piece", ["bench", "drawer", "screen"])
def test_what_fits_and_what_there_is_to_do_stand_on_the_first_page(piece: str) -> None:
    first = pages(piece)[0].words
    assert "pieces fit." in first
    assert "SETUPS IN ORDER OF WORK" in first
    for caution in PLANS[piece]().cautions:
        assert caution.text.split("{")[0].strip() in first


def test_every_final_setup_has_a_trial_piece_of_its_size_to_prepare() -> None:
    (page,) = [p.words for p in pages("lining") if p.words.startswith("Trial pieces to prepare")]
    assert "at least 300 mm long" in page
    for numbers, setup in numbers_of(eight_groups()):
        size = setup["check_readings"][0]["calipers_show_for_trial_piece_mm"]
        assert f"{numbers} lining: {setup['stage']} {writer(STYLES[0])(size)} thick" in page


def test_rough_lengths_are_whole_inches_for_a_maker_in_inches() -> None:
    words = words_of(pages("bench", PacketOptions(style=STYLES[2])))
    assert "at least 12 in long" in words
    assert "hands 4 in away" in words


@pytest.mark.parametrize("piece", PLANS)
def test_each_part_of_a_joint_is_drawn_at_true_scale_with_its_check_line(piece: str) -> None:
    words = words_of(pages(piece))
    for joint in PLANS[piece]().joints:
        roles = ["groove", "strip" if joint.wanted.strip else "tongue"]
        roles += ["second groove"] if joint.wanted.second_groove else []
        for role in roles:
            assert f"{joint.wanted.name}: {role} of " in words
    assert "1:1, this line is 50 mm" in words


def test_the_sum_says_that_it_is_to_the_far_edge_where_another_is_measured_to() -> None:
    ((numbers, setup),) = numbers_of(drawer())
    words = sheet(pages("drawer"), numbers).words
    assert setup["fence_measured_to"] == "near edge"
    assert "the sum, to the far edge: (groove width" in words


def test_the_worst_hazards_stand_first() -> None:
    for numbers, setup in numbers_of(eight_groups()):
        words = sheet(pages("lining"), numbers).words
        places = [
            words.index(each["text"][:40])
            for each in sorted(
                setup["hazards"],
                key=lambda each: ("never", "danger", "care").index(each["severity"]),
            )
        ]
        assert places == sorted(places)


def test_passes_say_how_much_wood_they_take() -> None:
    for numbers, setup in numbers_of(demo()):
        words = sheet(pages("bench"), numbers).words
        for each in setup["passes"]:
            up, across = each["bite_up_mm"], each["bite_across_mm"]
            assert f"takes {writer(STYLES[0])(up)} up, {writer(STYLES[0])(across)} across" in words


def test_only_the_setups_asked_for_have_sheets() -> None:
    found = [page.words for page in pages("bench", PacketOptions(only=(9,)))]
    assert len([text for text in found if text.startswith("Setup ")]) == 1
    (trials,) = [text for text in found if text.startswith("Trial pieces")]
    assert "drawer runner: groove" in trials
    assert "back: groove 1" not in trials


def test_a_setup_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match=r"there is no setup 99\. Give numbers from 1 to"):
        packet(demo(), PacketOptions(only=(99,)))


def test_the_same_plan_gives_the_same_packet_and_mark() -> None:
    told = json.loads(json.dumps(plan_json(demo())))
    assert packet(demo()) == packet(demo(), told=told)
    assert identity_of(demo()) == identity_of(demo(), told)
    assert all(identity_of(demo()) in page.words for page in pages("bench"))


def test_a_cutter_is_called_by_what_it_really_cuts_runout_and_all() -> None:
    numbers, _ = numbers_of(demo())[-1]
    assert "C4 (straight 7.94 mm)" in sheet(pages("bench"), numbers).words  # 7.91 and runout 0.03


@pytest.mark.parametrize("piece", PLANS)
def test_only_the_number_that_decides_the_fit_is_said_to(piece: str) -> None:
    for numbers, setup in numbers_of(PLANS[piece]()):
        told = sheet(pages(piece), numbers).words.count("this one decides the fit")
        starts = [setup[each]["first_trial_at_mm"] for each in ("height", "fence")]
        assert told == sum(start is not None for start in starts)
