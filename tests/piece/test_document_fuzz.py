"""Documents spoilt at random: they are read, or refused with a DocumentError, and nothing else."""

import io
import random
from collections.abc import Callable
from pathlib import Path

import pytest

from faywright.errors import DocumentError, Fault
from faywright.piece.boards_csv import boards_from_csv
from faywright.piece.model import Part
from faywright.piece.piece_file import piece_from_text
from faywright.piece.shop_file import shop_from_text
from faywright.piece.suspects import suspects
from tests.piece.examples import BOARDS, PIECE, SHOP, edited

Spoil = Callable[[random.Random, str], str]

VALUES = [
    *[
        "0",
        "-1",
        "1e308",
        "-1e308",
        "1e-308",
        "nan",
        "-inf",
        "9" * 30,
        "9" * 5000,
        "0x" + "f" * 400,
    ],
    *["true", '""', '"x"', '"3/4"', '"1/0 in"', '"5 ft 13 in"', '"' + "9" * 70 + '"', "'''\n'''"],
    *["[]", "{}", "[[]]", "[[1], 2]", "[{}]", "{ a = 1 }", "{ part = 1 }", "{ marked = [] }"],
    *[
        "[" * 40 + "]" * 40,
        "[" * 3000 + "]" * 3000,
        "2026-09-14",
        "07:30:00",
        "1979-05-27T07:32:00Z",
    ],
    *['"\\u0000"', '"\\U0001F6AA"', '"board"', '"A"', "[1e400]", "[19.05, 1905, 0.75]"],
]
SIGNS = "\"'[]{}=.,;#\\-_ \n\r\t0159aBmé\u2028\x00\x1c\ufeff\U0001f6aa"


def drop_line(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines)


def repeat_line(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    lines.insert(chance.randrange(len(lines)), chance.choice(lines))
    return "\n".join(lines)


def swap_lines(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


def change_sign(chance: random.Random, text: str) -> str:
    at = chance.randrange(len(text) + 1)
    return text[:at] + chance.choice(SIGNS) + text[at + chance.randrange(3) :]


def cut_off(chance: random.Random, text: str) -> str:
    return text[: chance.randrange(len(text) + 1)]


def change_value(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    key, equals, _ = lines[at].partition("=")
    lines[at] = f"{key}= {chance.choice(VALUES)}" if equals else chance.choice(VALUES)
    return "\n".join(lines)


def change_word(chance: random.Random, text: str) -> str:
    """Put a word, number or sign of the text in place of another."""
    words = text.replace(",", " , ").replace('"', ' " ').split(" ")
    words[chance.randrange(len(words))] = chance.choice([*words, *VALUES])
    return " ".join(words)


def drop_key(chance: random.Random, text: str) -> str:
    return text.replace(chance.choice(["mark", "name", "part", "kind", "thickness", "t1"]), "x", 1)


SPOILS: list[Spoil] = [
    drop_line,
    repeat_line,
    swap_lines,
    change_sign,
    cut_off,
    change_value,
    change_value,
    change_word,
    drop_key,
]
DOOR_AT_HAND = edited(PIECE, '[boards]\ncsv = "boards.csv"\nunits = "mm"\npart = "ledge"\n', "")
DOOR_AT_HAND = edited(DOOR_AT_HAND, 'mark = "S1"', 'mark = "L1"').replace("ledge", "board")
DOOR_AT_HAND = edited(
    DOOR_AT_HAND, 'name = "board"\ntimber = "hardwood"', 'name = "ledge"\ntimber = "hardwood"'
)
# The ledges' joint goes to the boards as well, which have their long edges cut already.
for _old, _new in (("reference edge", "head end"), ("opposite edge", "foot end")):
    _head, _joint = DOOR_AT_HAND.split('name = "boards"')
    DOOR_AT_HAND = f'{_head}name = "boards"{_joint.replace(_old, _new)}'
SOUND_SHOP = shop_from_text(SHOP, file="shop.toml")
PARTS = {name: Part(name=name, timber="softwood", boards=()) for name in ("ledge", "board")}
EXAMPLES = {"shop": SHOP, "piece": DOOR_AT_HAND, "with list": PIECE, "boards": BOARDS}


def read(kind: str, text: str, folder: Path) -> None:
    if kind == "shop":
        shop_from_text(text, file="shop.toml")
    elif kind == "boards":
        part = PARTS["ledge"]
        boards_from_csv(text, file="boards.csv", units="mm", parts=PARTS, part=part)
    else:
        piece = piece_from_text(text, file="piece.toml", folder=folder).piece
        suspects(piece, SOUND_SHOP)


def spoilt(seed: int) -> tuple[str, str]:
    """The kind of a document, and its text after a few changes."""
    chance = random.Random(seed)  # noqa: S311 - nothing secret
    kind = chance.choice(list(EXAMPLES))
    text = EXAMPLES[kind]
    for _ in range(chance.choice([1, 1, 2, 4])):
        text = chance.choice(SPOILS)(chance, text)
    return kind, text


def refused(seed: int, folder: Path) -> bool:
    """Whether a spoilt document is refused; other errors than DocumentError pass through."""
    kind, text = spoilt(seed)
    faults: tuple[Fault, ...] = ()
    try:
        read(kind, text, folder)
    except DocumentError as error:
        faults = error.faults
    last = io.StringIO(text, newline=None).read().count("\n") + 1
    for fault in faults:
        assert fault.what
        assert fault.remedy
        assert str(fault).isprintable(), seed
        assert fault.line is None or 1 <= fault.line <= last, seed
    return bool(faults)


@pytest.fixture(name="folder")
def _folder(tmp_path: Path) -> Path:
    (tmp_path / "boards.csv").write_text(BOARDS, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("kind", list(EXAMPLES))
def test_the_examples_are_sound_before_they_are_spoilt(kind: str, folder: Path) -> None:
    read(kind, EXAMPLES[kind], folder)


def test_spoilt_documents_are_read_or_refused(folder: Path) -> None:
    count = sum(refused(seed, folder) for seed in range(300))
    assert 150 < count < 300  # some changes do no harm


@pytest.mark.soak
def test_very_many_spoilt_documents_are_read_or_refused(folder: Path) -> None:
    count = sum(refused(seed, folder) for seed in range(300, 100_300))
    assert 50_000 < count < 100_000
