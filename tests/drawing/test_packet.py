"""The packet: sheets, figures to set, and faithful words."""

from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from faywright.drawing.packet import PacketOptions, identity_of, packet
from faywright.errors import InputError
from faywright.lengths import LengthStyle
from faywright.piece.opened import open_documents
from faywright.piece.plan import Plan, plan
from faywright.piece.words import final_setups, writer

DEMO = Path(__file__).parents[2] / "examples" / "hall-bench" / "piece.toml"
MM = LengthStyle("mm")


@cache
def demo() -> Plan:
    documents = open_documents(DEMO)
    return plan(documents.piece, documents.shop)


@cache
def sheets(options: PacketOptions | None = None) -> tuple[str, ...]:
    reader = PdfReader(BytesIO(packet(demo(), options)))
    return tuple(page.extract_text() for page in reader.pages)


def test_every_final_setup_has_a_sheet_with_the_numbers_that_are_set() -> None:
    write = writer(MM)
    for setup, clearing in final_setups(demo().setups):
        numbers = f"{clearing[0].number} to {setup.number}" if clearing else str(setup.number)
        (sheet,) = [text for text in sheets() if f"Setup {numbers} " in text]
        for value in (setup.height.true, setup.places.far_edge):
            assert write(value).removesuffix(" mm") in sheet
        for each in clearing:
            assert write(each.height.true) in sheet
        for reading in setup.readings:
            assert write(reading.shows) in sheet


def test_a_setup_of_the_demo_keeps_to_one_sheet() -> None:
    # First pages, a sheet for each final setup, and the pages of trials, charts and sources.
    finals = len(list(final_setups(demo().setups)))
    starts = [k for k, text in enumerate(sheets()) if text.lstrip().startswith("Setup")]
    assert len(starts) == finals
    assert starts == list(range(starts[0], starts[0] + finals))


@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("us-letter", (215.9, 279.4))])
def test_the_packet_is_on_the_paper_asked_for(paper: str, size: tuple[float, float]) -> None:
    options = PacketOptions(paper="a4" if paper == "a4" else "us-letter")
    page = PdfReader(BytesIO(packet(demo(), options))).pages[0]
    found = tuple(float(side) / 72 * 25.4 for side in (page.mediabox.width, page.mediabox.height))
    assert found == pytest.approx(size, abs=0.1)


def test_lengths_are_written_in_the_units_asked_for() -> None:
    text = "\n".join(sheets(PacketOptions(style=LengthStyle("decimal inch"))))
    first = next(setup for setup, _ in final_setups(demo().setups))
    assert writer(LengthStyle("decimal inch"))(first.height.true).removesuffix(" in") in text


def test_only_the_setups_asked_for_have_sheets() -> None:
    setups = [
        text for text in sheets(PacketOptions(only=(9,))) if "Check" in text or "CHECK" in text
    ]
    assert len(setups) == 1


def test_a_setup_that_is_not_there_is_refused() -> None:
    with pytest.raises(InputError, match=r"there is no setup 99\. Give numbers from 1 to"):
        packet(demo(), PacketOptions(only=(99,)))


def test_the_same_plan_gives_the_same_packet_and_mark() -> None:
    assert packet(demo()) == packet(demo())
    assert identity_of(demo()) in sheets()[0]


def test_a_cutter_is_called_by_what_it_really_cuts_runout_and_all() -> None:
    (sheet,) = [
        text for text in sheets() if "drawer runner: groove" in text and "Setup" in text[:9]
    ]
    assert "C4 (straight 7.94 mm)" in sheet  # 7.91 by calipers, 0.03 runout


def test_only_the_number_that_decides_the_fit_is_said_to() -> None:
    told = "this one decides the fit"
    for setup, _ in final_setups(demo().setups):
        (sheet,) = [
            t for t in sheets() if t.lstrip().startswith("Setup") and f"to {setup.number} " in t
        ]
        decides = setup.height.start is not None or setup.fence.start is not None
        assert (told in sheet) is decides
