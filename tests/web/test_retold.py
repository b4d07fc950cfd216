"""Errors on pages that show inches: their lengths are in inches as well."""

from __future__ import annotations

import pytest
from django.test import Client

from faywright.lengths import LengthStyle
from faywright.web.desk import UNITS_COOKIE
from faywright.web.retold import retold
from tests.web.forms_read import form_with

INCH = LengthStyle("decimal inch")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            "it cuts 12.7 mm deep, the groove is 25.4",
            "it cuts 0.500 in deep, the groove is 1.000 in",
        ),
        ("only -2.54 mm would be left", "only -0.100 in would be left"),
        ("clearances of 0.254 to 0.508 mm", "clearances of 0.010 in to 0.020 in"),
        ("not between 0 and 20,320 mm", "not between 0.000 in and 800.000 in"),
        ("speeds of 12000 rpm", "speeds of 12000 rpm"),
    ],
)
def test_lengths_are_said_in_the_unit_of_the_page(words: str, said: str) -> None:
    assert retold(words, INCH) == said
    assert retold(words, LengthStyle("mm")) == words


@pytest.mark.parametrize("words", ["'9.5 mm': too long", 'write "19.05 mm"', "9.5 mm2 overlap"])
def test_what_was_typed_and_what_is_no_length_stay_as_they_are(words: str) -> None:
    assert retold(words, INCH) == words


def test_a_fault_beside_a_field_is_in_inches(client: Client, bench_id: int) -> None:
    client.cookies[UNITS_COOKIE] = "decimal inch"
    address = f"/pieces/{bench_id}/joints/1"
    sent = form_with(client.get(address).content, group="groove_depth").values
    answer = client.post(f"{address}/change", {**sent, "groove_depth": "9.5"})
    assert answer.status_code == 422
    assert "9.500 in is not between 0.020 in and 3.937 in" in answer.content.decode()
