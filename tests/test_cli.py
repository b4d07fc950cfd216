import json
import re
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

import pytest
from typer.testing import CliRunner

from faywright import cli
from faywright.errors import DisagreementError

ROOT = Path(__file__).parents[1]
DEMO = ROOT / "examples" / "hall-bench"


PAGE = ROOT / "docs" / "commands.md"
RENEWED_BY = ".venv/bin/python -m tests.test_cli"
RENEW = f"docs/commands.md is stale. Renew it with: {RENEWED_BY}"
COMMANDS = [command.name or "" for command in cli.app.registered_commands]


def commands_page() -> str:
    """What ``docs/commands.md`` should be: the help of the program and of each command."""
    parts = [f"# Commands\n\nWritten from `--help`. To write it anew: `{RENEWED_BY}`\n"]
    for words in ([], *([name] for name in COMMANDS)):
        asked = CliRunner().invoke(
            cli.app, [*words, "--help"], prog_name="faywright", terminal_width=80
        )
        assert asked.exit_code == cli.DONE
        parts.append(f"## `{' '.join(['faywright', *words])}`\n\n```text\n{asked.output}```\n")
    return "\n".join(parts)


@dataclass(frozen=True)
class Run:
    """What a run of the command line left: its exit code, and what it wrote where."""

    code: int
    out: str
    err: str


Faywright = Callable[..., Run]


@pytest.fixture(name="faywright")
def _faywright(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Faywright:
    """Runs the command line in this process."""

    def run(*arguments: str | Path) -> Run:
        monkeypatch.setattr(sys, "argv", ["faywright", *map(str, arguments)])
        with pytest.raises(SystemExit) as caught:
            cli.main()
        assert isinstance(caught.value.code, int)
        return Run(caught.value.code, *capsys.readouterr())

    return run


@pytest.fixture(name="bench", autouse=True)
def _bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo in a folder of its own, from which the command line is run; a store of its own."""
    folder = tmp_path / "bench"
    shutil.copytree(DEMO, folder)
    monkeypatch.chdir(folder)
    monkeypatch.setenv("FAYWRIGHT_STORE", str(tmp_path / "trials.sqlite3"))
    return folder


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) > 0
    path.write_text(text.replace(old, new), encoding="utf-8")


FORCED = 'most_settings = 1\nmethod = { tongue = "tongue flat, from both faces" }'


# plan


def test_a_plan_leaves_json_a_summary_a_packet_and_its_drawings(
    faywright: Faywright, bench: Path
) -> None:
    run = faywright("plan", "piece.toml")
    written = sorted(path.name for path in (bench / "out").iterdir())
    assert run.code == cli.DONE
    assert written == ["drawings", "packet.pdf", "plan.json", "summary.txt"]
    drawings = {path.name for path in (bench / "out" / "drawings").iterdir()}
    for stem in ("joint-1-back", "joint-2-drawer-runner-groove", "setup-10-along-feed"):
        assert {f"{stem}.svg", f"{stem}.dxf"} <= drawings
    assert (bench / "out" / "packet.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("scale", ["1:1", "2:1"])
def test_sections_of_parts_come_at_the_scale_asked_for(
    faywright: Faywright, bench: Path, scale: str
) -> None:
    assert faywright("plan", "piece.toml", "--scale", scale).code == cli.DONE
    for part in ("joint-1-back-tongue", "joint-2-drawer-runner-groove"):
        drawn = (bench / "out" / "drawings" / f"{part}.svg").read_text(encoding="utf-8")
        assert f">{scale}, this line is 50 mm" in drawn


def test_a_smaller_plan_says_which_drawings_it_removed(faywright: Faywright, bench: Path) -> None:
    faywright("plan", "piece.toml")
    piece = (bench / "piece.toml").read_text(encoding="utf-8")
    (bench / "piece.toml").write_text(piece[: piece.rindex("[[joint]]")], encoding="utf-8")
    run = faywright("plan", "piece.toml")
    told = "joint-2-drawer-runner.svg: removed, for this plan has no such drawing"
    assert told in run.out
    assert not list((bench / "out" / "drawings").glob("joint-2*"))


def test_only_numbers_name_setups(faywright: Faywright, bench: Path) -> None:
    run = faywright("plan", "piece.toml", "--only", "first")
    assert run.code == cli.BAD_INPUT
    assert run.err == (
        "--only: 'first' is not a list of numbers. Give numbers of setups, as 3 or 5,8.\n"
    )
    assert not (bench / "out").exists()


def test_a_plan_shows_its_summary_and_what_it_wrote(faywright: Faywright, bench: Path) -> None:
    run = faywright("plan", "piece.toml", "-o", bench / "sheets" / "today")
    summary, written = run.out.split("\nWritten:\n")
    assert summary == (bench / "sheets" / "today" / "summary.txt").read_text(encoding="utf-8")
    *files, drawings = [line.strip() for line in written.splitlines()]
    assert [Path(file).is_file() for file in files] == [True] * 3
    folder, _, told = drawings.partition(": ")
    kinds = [path.suffix for path in Path(folder).iterdir()]
    assert told == f"{kinds.count('.svg') + kinds.count('.dxf')} files"
    assert run.err == ""


def test_json_is_all_that_is_printed_where_it_is_asked_for(
    faywright: Faywright, bench: Path
) -> None:
    run = faywright("plan", "piece.toml", "--json")
    assert json.loads(run.out)["format"] == "faywright plan 1"
    assert json.loads((bench / "out" / "plan.json").read_bytes()) == json.loads(run.out)
    assert run.err == ""


def test_a_board_that_does_not_fit_wants_a_decision(faywright: Faywright, bench: Path) -> None:
    change(bench / "piece.toml", 'order = "free"', FORCED)
    change(bench / "boards.csv", "19.16,19.17,19.18,19.19,19.16", "20.1,20.1,20.1,20.1,20.1")
    run = faywright("plan", "piece.toml")
    assert run.code == cli.DECIDE
    assert re.search(r"B04: will (not go|be loose)", run.out)


def test_where_there_is_no_safe_way_it_says_why_and_writes_nothing(
    faywright: Faywright, bench: Path
) -> None:
    change(
        bench / "shop.toml",
        "speeds_rpm = [10000, 13000, 16000, 19000, 22000]",
        "speeds_rpm = [30000]",
    )
    run = faywright("plan", "piece.toml")
    assert run.code == cli.NO_PLAN
    assert "joint 'back'" in run.err
    assert "turns no slower than 30000 rpm" in run.err
    assert run.out == ""
    assert not (bench / "out").exists()


def test_an_error_of_ours_is_no_fault_of_the_documents(
    faywright: Faywright, monkeypatch: pytest.MonkeyPatch
) -> None:
    def disagrees(*_: object, **__: object) -> None:
        raise DisagreementError("two numbers", where="joint 'back'", remedy="Report it")

    monkeypatch.setattr(import_module("faywright.app.bench"), "plan", disagrees)
    run = faywright("plan", "piece.toml")
    assert (run.code, run.out) == (cli.OUR_FAULT, "")
    assert run.err == "joint 'back': two numbers. Report it.\n"


def test_a_folder_that_cannot_be_written_is_told_with_the_way_to_another(
    faywright: Faywright, bench: Path
) -> None:
    (bench / "out").write_text("a file, not a folder", encoding="utf-8")
    run = faywright("plan", "piece.toml")
    assert run.code == cli.BAD_INPUT
    assert run.err.startswith("out: output folder: it cannot be written (Not a directory)")
    assert "-o DIR" in run.err


# Documents


@pytest.mark.parametrize("command", ["plan", "check"])
def test_a_fault_is_told_on_stderr_with_its_file_and_line(
    faywright: Faywright, bench: Path, command: str
) -> None:
    change(bench / "piece.toml", "thickness = [13.06, 13.02, 13.04]", 'thickness = "13.O6"')
    number = (
        (bench / "piece.toml").read_text(encoding="utf-8").splitlines().index('thickness = "13.O6"')
    )
    run = faywright(command, "piece.toml")
    assert (run.code, run.out) == (cli.BAD_INPUT, "")
    assert run.err.startswith(f"piece.toml:{number + 1}: board 1 (D1): thickness:")


def test_every_fault_has_a_line_of_its_own(faywright: Faywright, bench: Path) -> None:
    change(bench / "piece.toml", "width = 96", 'width = "wide"')
    lines = faywright("check", "piece.toml").err.splitlines()
    assert [bool(re.match(r"piece\.toml:\d+: board \d", line)) for line in lines] == [True, True]


@pytest.mark.parametrize("command", ["plan", "check"])
def test_a_shop_on_the_command_line_stands_in_for_the_one_that_is_named(
    faywright: Faywright, bench: Path, command: str
) -> None:
    (bench / "shop.toml").rename(bench / "mine.toml")
    assert faywright(command, "piece.toml").code == cli.BAD_INPUT
    assert faywright(command, "piece.toml", "--shop", "mine.toml").code != cli.BAD_INPUT


def test_no_shop_named_anywhere_says_both_ways_to_name_one(
    faywright: Faywright, bench: Path
) -> None:
    change(bench / "piece.toml", 'shop = "shop.toml"\n', "")
    run = faywright("plan", "piece.toml")
    assert run.code == cli.BAD_INPUT
    assert 'shop = "shop.toml"' in run.err
    assert "--shop SHOP.toml" in run.err


def test_a_piece_file_that_is_not_there_is_bad_input(faywright: Faywright) -> None:
    run = faywright("plan", "stool.toml")
    assert run.code == cli.BAD_INPUT
    assert run.err.startswith("stool.toml: the file: it cannot be opened")


# check


def test_sound_documents_raise_no_question(faywright: Faywright) -> None:
    run = faywright("check", "piece.toml")
    assert run.code == cli.DONE
    assert "16 boards, 2 joints, 5 cutters" in run.out
    assert "Nothing looks suspect." in run.out


def test_a_slipped_decimal_is_asked_about(faywright: Faywright, bench: Path) -> None:
    change(bench / "boards.csv", "18.85,18.81,18.85,18.82,18.83", "18.85,1.881,18.85,18.82,18.83")
    run = faywright("check", "piece.toml")
    assert run.code == cli.DECIDE
    assert "board B01, reading 2" in run.out
    assert "18.81 mm would fit" in run.out


def test_check_tells_the_same_as_json(faywright: Faywright, bench: Path) -> None:
    change(bench / "boards.csv", "18.85,18.81,18.85,18.82,18.83", "18.85,1.881,18.85,18.82,18.83")
    told = json.loads(faywright("check", "piece.toml", "--json").out)
    assert told["format"] == "faywright check 1"
    assert [sorted(each) for each in told["suspect"]] == [["ask", "what", "where"]]


# help


def test_help_names_every_command(faywright: Faywright) -> None:
    run = faywright("--help")
    assert run.code == cli.DONE
    assert COMMANDS == ["plan", "check", "timber", "trial", "shop", "serve", "account"]
    assert all(re.search(rf"^  {name}  ", run.out, re.MULTILINE) for name in COMMANDS)


@pytest.mark.parametrize("arguments", [["plan"], ["plan", "piece.toml", "--sohp", "x"], ["mend"]])
def test_a_command_written_wrongly_is_bad_input(faywright: Faywright, arguments: list[str]) -> None:
    run = faywright(*arguments)
    assert (run.code, run.out) == (cli.BAD_INPUT, "")
    assert "Usage: faywright" in run.err


def test_the_page_of_commands_is_what_help_says() -> None:
    assert PAGE.read_text(encoding="utf-8") == commands_page(), RENEW


def test_exit_codes_are_told_in_the_order_of_their_numbers() -> None:
    codes = (cli.DONE, cli.DECIDE, cli.BAD_INPUT, cli.NO_PLAN, cli.OUR_FAULT)
    assert re.findall(r"(?:codes: |; )(\d) ", cli.EXITS.replace("\n", " ")) == list(map(str, codes))


# The command as it is installed


def installed(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # noqa: S603 - our own command
        arguments, capture_output=True, text=True, check=False
    )


def test_the_command_that_is_installed_runs() -> None:
    run = installed(Path(sys.executable).with_name("faywright"), "check", "piece.toml")
    assert run.stdout.startswith("Hall bench with a boarded back")
    assert run.returncode in (cli.DONE, cli.DECIDE)


def test_help_waits_for_no_heavy_import() -> None:
    code = "import sys, faywright.cli; print({'numpy', 'shapely', 'rich'} & sys.modules.keys())"
    assert installed(sys.executable, "-c", code).stdout == "set()\n"


# timber


def test_the_common_question_is_answered_at_once(faywright: Faywright) -> None:
    run = faywright(
        "timber", "white oak", "--from", "8 %", "--to", "12 %", "--width", "4 in", "--rings", "flat"
    )
    assert run.code == cli.DONE
    # 4 in. x 0.00365 for each of 4 %, over the size at 10 % (Wood Handbook, FPL-GTR-190, 13-5).
    assert "grows 0.059 in" in run.out
    assert "Table 13-5" in run.out


def test_without_two_airs_the_rooms_are_gone_through(faywright: Faywright) -> None:
    run = faywright("timber", "black walnut")
    assert run.code == cli.DONE
    assert "unheated porch" in run.out
    assert "The rooms are invented" in run.out


def test_timber_answers_programs_too(faywright: Faywright) -> None:
    run = faywright("timber", "black walnut", "--from", "68 F 35 %", "--to", "20 C 65 %", "--json")
    told = json.loads(run.out)
    assert told["format"] == "faywright timber 1"
    assert [board["rings"] for board in told["boards"]] == ["flat", "rift", "quarter"]
    assert told["moisture_to_percent"] == pytest.approx(12.0, abs=0.1)


def test_a_maker_s_own_species_is_known_with_the_shop(faywright: Faywright, bench: Path) -> None:
    own = '\n[[species]]\nname = "Home larch"\nlike = "western larch"\nc_tangential = 0.004\n'
    shop = bench / "shop.toml"
    shop.write_text(shop.read_text(encoding="utf-8") + own, encoding="utf-8")
    run = faywright("timber", "home larch", "--from", "8", "--to", "9", "--shop", "shop.toml")
    assert run.code == cli.DONE
    assert "c_tangential 0.004: your own figure" in run.out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["oak"], "'oak' may mean"),
        (["wite oak"], "Did you mean"),
        (["white oak", "--from", "8"], "--to: only one end is given"),
        (["white oak", "--from", "20 C 150 %", "--to", "8"], "--from: relative humidity of 150 %"),
        (["white oak", "--from", "8", "--to", "40"], "--to: moisture content of 40 %"),
        (["white oak", "--rings", "sideways"], "--rings: 'sideways' is not known"),
        (["white oak", "--width", "wide"], "--width: 'wide'"),
    ],
)
def test_what_timber_cannot_read_is_told(faywright: Faywright, words: list[str], told: str) -> None:
    run = faywright("timber", *words)
    assert run.code == cli.BAD_INPUT
    assert told in run.err
    assert not run.out


# trial and shop

READ = ("--tongue", "5.93", "--groove", "6.33", "--stock", "19.00")


def store(bench: Path) -> Path:
    return bench.parent / "trials.sqlite3"


def test_a_trial_is_remembered_for_the_next_plan(faywright: Faywright, bench: Path) -> None:
    run = faywright("trial", "piece.toml", "back", *READ)
    assert run.code == cli.DONE
    assert run.out.rstrip().endswith("Remembered as trial 1.")
    told = faywright("plan", "piece.toml").out
    assert "Reckoned with what trial cuts have taught:" in told
    assert "cutter C1: 0.0" in told
    plan = json.loads((bench / "out" / "plan.json").read_bytes())
    assert {"kind": "cutter", "of": "C1"}.items() <= plan["learned"][0].items()


def test_a_slip_is_a_decision_until_it_is_said_to_stand(faywright: Faywright, bench: Path) -> None:
    slip = ("--tongue", "6.23", "--groove", "6.29", "--stock", "19")
    run = faywright("trial", "piece.toml", "back", *slip)
    assert run.code == cli.DECIDE
    assert "or say --sure if the readings stand" in run.out
    assert not store(bench).exists()
    assert faywright("trial", "piece.toml", "back", *slip, "--sure").code == cli.DONE
    assert store(bench).exists()


def test_a_look_and_a_plan_leave_no_store(faywright: Faywright, bench: Path) -> None:
    assert faywright("trial", "piece.toml", "back", *READ, "--look").code == cli.DONE
    assert faywright("plan", "piece.toml").code == cli.DONE
    assert faywright("shop", "shop.toml").code == cli.DONE
    assert not store(bench).exists()


def test_a_trial_answers_programs_too(faywright: Faywright) -> None:
    told = json.loads(faywright("trial", "piece.toml", "back", *READ, "--json").out)
    assert (told["format"], told["trial"], told["questions"]) == ("faywright trial 1", 1, [])
    assert told["advice"]["as_set"]["chance"] > 0.9


def test_what_is_useful_is_asked_for(bench: Path) -> None:
    run = CliRunner().invoke(
        cli.app,
        ["trial", str(bench / "piece.toml"), "back", "--ask", "--tongue", "5.93"],
        input="19\n6.29\n\n\n\n\n\n",
    )
    assert run.exit_code == cli.DONE, run.output
    assert "thickness of the trial piece (Enter if not measured): " in run.output
    assert "tongue thickness (Enter" not in run.output
    assert "Remembered as trial 1." in run.output


def test_nothing_given_and_nothing_asked_says_what_to_measure(faywright: Faywright) -> None:
    run = faywright("trial", "piece.toml", "back")
    assert (run.code, run.out) == (cli.BAD_INPUT, "")
    assert "nothing was read. Measure --groove, --wall" in run.err


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["trial", "piece.toml", "lid", *READ], "no joint called 'lid'"),
        (["trial", "piece.toml", "back", *READ, "--group", "Q"], "there is no group 'Q'"),
        (["trial", "piece.toml", "back", *READ, "--feel", "tight"], "--feel: 'tight'"),
        (["trial", "piece.toml", "back", *READ, "--metres", "-3"], "--metres: -3 m"),
        (["trial", "piece.toml", "back", "--groove", "wide"], "--groove: 'wide'"),
        (["trial", "piece.toml", "back", *READ, "--store", ""], "store: it is empty"),
        (["shop", "shop.toml", "--forget", "3"], "there is no trial 3"),
        (["shop", "shop.toml", "--sharpened", "C9"], "no cutter called 'C9'"),
        (["shop", "shop.toml", "--chart", "drift.svg"], "nothing is remembered yet"),
    ],
)
def test_what_trial_and_shop_cannot_use_is_told(
    faywright: Faywright, bench: Path, words: list[str], told: str
) -> None:
    run = faywright(*words)
    assert (run.code, run.out) == (cli.BAD_INPUT, "")
    assert told in run.err
    assert not store(bench).exists()


def test_the_shop_tells_forgets_draws_and_hands_on(faywright: Faywright, bench: Path) -> None:
    faywright("trial", "piece.toml", "back", *READ)
    assert "cutter C1: 0.0" in faywright("shop", "shop.toml").out
    assert faywright("shop", "shop.toml", "--chart", "drift.svg").code == cli.DONE
    assert (bench / "drift.svg").read_text(encoding="utf-8").startswith("<svg")
    assert faywright("shop", "shop.toml", "--export", "all.json").code == cli.DONE
    told = json.loads(faywright("shop", "shop.toml", "--forget", "1", "--json").out)
    assert (told["known"], told["trials"][0]["forgotten"]) == ([], True)
    other = ("--store", bench / "other.sqlite3")
    run = faywright("shop", "shop.toml", *other, "--import", "all.json")
    assert "Taken in from all.json: 1 new" in run.out
    assert "cutter C1: 0.0" in run.out


@pytest.mark.parametrize(
    "command", [("trial", "piece.toml", "back", *READ), ("plan", "piece.toml")]
)
def test_a_store_that_is_none_is_told(
    faywright: Faywright, bench: Path, command: tuple[str, ...]
) -> None:
    store(bench).write_text("a list of screws", encoding="utf-8")
    run = faywright(*command)
    assert run.code == cli.BAD_INPUT
    assert "trials.sqlite3: it is not an SQLite database" in run.err


@pytest.mark.parametrize(
    "command",
    [("trial", "piece.toml", "back", *READ), ("plan", "piece.toml"), ("shop", "shop.toml")],
)
def test_a_store_that_was_cut_off_in_the_middle_is_told(
    faywright: Faywright, bench: Path, command: tuple[str, ...]
) -> None:
    faywright("trial", "piece.toml", "back", *READ)
    with closing(sqlite3.connect(store(bench))) as kept:
        kept.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    whole = store(bench).read_bytes()
    store(bench).write_bytes(whole[: len(whole) // 3])
    run = faywright(*command)
    assert (run.code, run.out) == (cli.BAD_INPUT, "")
    assert "trials.sqlite3: it cannot be used (" in run.err


def test_a_store_that_is_locked_is_told(
    faywright: Faywright, bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faywright("trial", "piece.toml", "back", *READ)
    for module in ("files", "connecting"):
        monkeypatch.setattr(import_module(f"faywright.app.{module}"), "PATIENCE", 0.1)
    with closing(sqlite3.connect(store(bench), isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        run = faywright("trial", "piece.toml", "back", *READ)
    assert run.code == cli.BAD_INPUT
    assert "it cannot be used (database is locked). Close the other program" in run.err


if __name__ == "__main__":
    PAGE.write_text(commands_page(), encoding="utf-8")
