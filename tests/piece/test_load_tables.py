"""``load`` of a joint and ``[[shelf]]``: what can be told, and what is said of each mistake."""

from __future__ import annotations

import pytest

from faywright.errors import DocumentError
from faywright.joints.loads import DrawerLoad, Load
from faywright.piece.load_tables import Shelf
from faywright.piece.piece_file import piece_from_text
from faywright.timber.beams import CREEP, Beam
from faywright.timber.members import LineLoad
from faywright.timber.strength import Service

HEAD = 'faywright = "piece 1"\ntitle = "Bench"\n'
JOINT = (
    HEAD + '[[part]]\nname = "lid"\ntimber = "softwood"\n'
    '[[board]]\nmark = "L1"\npart = "lid"\nwidth = 120\nlength = 600\nthickness = 19\n'
    '[[joint]]\nname = "lid"\nfamily = "tongue and groove"\nfit = "snug"\n'
    'groove = { part = "lid", edge = "reference edge" }\n'
    'tongue = { part = "lid", edge = "opposite edge" }\n'
)
"""The load stands on line 18."""

SHELF = '[[shelf]]\nname = "upper"\nspecies = "white oak"\nspan = 800\nwidth = 250\n'
THICK = "thickness = 18\n"
LOADED = "load_kg = 20\n"


def load(text: str) -> Load | None:
    document = f"{JOINT}{text}\n"
    return piece_from_text(document, file="piece.toml", folder=None).piece.joints[0].load


def shelf(text: str) -> Shelf:
    return piece_from_text(HEAD + text, file="piece.toml", folder=None).piece.shelves[0]


def fault(document: str) -> str:
    with pytest.raises(DocumentError) as caught:
        piece_from_text(document, file="piece.toml", folder=None)
    (found,) = caught.value.faults
    return str(found).removeprefix("piece.toml:")


# Loads of joints


def test_a_joint_may_carry_nothing_that_is_told() -> None:
    assert load("") is None


def test_a_force_pushes_along_a_length() -> None:
    found = load('load = { force = 300, along = "40 cm" }')
    assert found == Load(carries=LineLoad(force=300.0, along=400.0), service=Service())


def test_a_drawer_hangs_with_its_mass() -> None:
    found = load("half = true\nload = { drawer_kg = 8 }")
    assert found == Load(carries=DrawerLoad(mass_kg=8.0), service=Service())


def test_a_drawer_may_be_leant_on_and_pulled_out() -> None:
    found = load(
        "half = true\nload = { drawer_kg = 8, lean = 100, pulled_out = 250, projection = 12 }"
    )
    assert found is not None
    assert found.carries == DrawerLoad(mass_kg=8.0, lean=100.0, pulled_out=250.0, projection=12.0)


def test_a_drawer_does_not_hang_on_a_whole_tongue() -> None:
    with pytest.raises(DocumentError, match="hangs on a runner or on a half tongue"):
        load("load = { drawer_kg = 8 }")


def test_how_long_a_load_lasts_and_what_knots_leave_are_kept() -> None:
    found = load('load = { force = 9, along = 9, duration = "ten minutes", strength_ratio = 0.5 }')
    assert found is not None
    assert found.service == Service(duration="ten minutes", strength_ratio=0.5)


UNCLEAR = (
    "18: joint 1 (lid): load: it is not clear what the joint carries. Write load = { force = 300, "
    "along = 400 } for newtons pushing along that length, or load = { drawer_kg = 8 } for a "
    "drawer hanging on runners."
)


@pytest.mark.parametrize(
    ("told", "start"),
    [
        ("{ force = 300 }", UNCLEAR),
        ("{ along = 300 }", UNCLEAR),
        ("{}", UNCLEAR),
        ("{ force = 300, along = 400, drawer_kg = 8 }", UNCLEAR),
        (
            "{ force = 300, along = 400, lean = 20, pulled_out = 5 }",
            "18: joint 1 (lid): load: lean and pulled_out belong to a drawer, and a force is given",
        ),
        ("{ force = -300, along = 400 }", "18: joint 1 (lid): load: force is -300. Give a finite"),
        ("{ force = 300, along = 0 }", "18: joint 1 (lid): load: length loaded is 0. Give a fin"),
        ("{ drawer_kg = -8 }", "18: joint 1 (lid): load: drawer kg is -8. Give a finite load of 0"),
        ("{ drawer_kg = 8, lean = -1 }", "18: joint 1 (lid): load: lean is -1. Give"),
        ("{ drawer_kg = 8, pulled_out = -1 }", "18: joint 1 (lid): load: pulled out is -1. Give"),
        ("{ drawer_kg = 8, projection = 0 }", "18: joint 1 (lid): load: projection is 0. Give"),
        ('{ drawer_kg = "8 kg" }', "18: joint 1 (lid): load.drawer_kg: '8 kg' is text, where"),
        (
            '{ drawer_kg = 8, duration = "for ever" }',
            "18: joint 1 (lid): load.duration: 'for ever' is not known. Use one of \"permanent\"",
        ),
        (
            "{ drawer_kg = 8, strength_ratio = 1.2 }",
            "18: joint 1 (lid): load: a strength ratio of 1.2. Give a share above 0 and at most 1",
        ),
        ("{ drawer = 8 }", "18: joint 1 (lid): load.drawer: it is not a known key"),
        ("300", "18: joint 1 (lid): load: 300 where a table belongs. Write load = { ... }."),
    ],
)
def test_a_load_that_is_none_says_where_what_and_what_to_write(told: str, start: str) -> None:
    assert fault(f"{JOINT}load = {told}\n").startswith(start)


# Shelves


def test_a_shelf_is_read_whole() -> None:
    assert shelf(SHELF + THICK + LOADED) == Shelf(
        name="upper",
        species="white oak",
        beam=Beam(span=800, width=250, thickness=18),
        mass_kg=20.0,
        spread="even",
        creep=CREEP,
        service=Service(),
    )


def test_a_shelf_may_be_loaded_in_its_middle_and_built_of_green_wood() -> None:
    found = shelf(SHELF + THICK + LOADED + 'spread = "centre"\ncreep = 2\n')
    assert (found.spread, found.creep) == ("centre", 2.0)


@pytest.mark.parametrize(
    ("text", "start"),
    [
        (SHELF + THICK, "3: shelf 1 (upper): load_kg: it is missing. Add it."),
        (SHELF + LOADED, "3: shelf 1 (upper): thickness: it is missing. Add it."),
        (
            SHELF + THICK + "load_kg = 2000\n",
            "3: shelf 1 (upper): a load of 2000 kg. Give 0 to 1000 kg.",
        ),
        (SHELF + THICK + "load_kg = -2\n", "3: shelf 1 (upper): a load of -2 kg. Give 0 to"),
        (
            SHELF + "thickness = 500\n" + LOADED,
            "3: shelf 1 (upper): a span of 800 mm on a thickness of 500 mm. Give a span of at",
        ),
        (SHELF + "thickness = 0\n" + LOADED, "3: shelf 1 (upper): thickness is 0. Give a finite"),
        (
            SHELF + THICK + LOADED + 'spread = "ends"\n',
            '10: shelf 1 (upper): spread: \'ends\' is not known. Use one of "centre", "even".',
        ),
        (
            SHELF + THICK + LOADED + "strength_ratio = 0\n",
            "3: shelf 1 (upper): a strength ratio of 0. Give a share above 0",
        ),
        (
            2 * (SHELF + THICK + LOADED),
            '11: shelf 2 (upper): name: "upper" is that of line 3 already. Give each its own.',
        ),
    ],
)
def test_a_shelf_that_is_none_says_where_what_and_what_to_write(text: str, start: str) -> None:
    assert fault(HEAD + text).startswith(start)
