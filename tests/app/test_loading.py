"""Django is loaded when a store is opened, and not before."""

import subprocess
import sys
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command

from faywright.app.opening import open_store, set_up_django
from tests.app.strategies import a_trial

LOADED = "\nimport sys\nprint('django' in sys.modules, 'psycopg' in sys.modules)"


def loaded(code: str, *arguments: str) -> str:
    command = [sys.executable, "-c", code + LOADED, *arguments]
    ran = subprocess.run(  # noqa: S603 - Python itself
        command, check=True, capture_output=True, text=True
    )
    return ran.stdout.splitlines()[-1]


@pytest.mark.parametrize(
    "code", ["import faywright", "import faywright.cli", "import faywright.app"]
)
def test_importing_does_not_load_django(code: str) -> None:
    assert loaded(code) == "False False"


def test_a_look_does_not_load_django(tmp_path: Path) -> None:
    path = tmp_path / "trials.sqlite3"
    with open_store(path) as store:
        store.add_trial(a_trial(0.03))
    code = "import sys\nfrom faywright.app import recall\n"
    code += "assert recall('Mill Lane', sys.argv[1]).values[0].mean == 0.03"
    assert loaded(code, str(path)) == "False False"


def test_migrations_make_the_tables_that_the_models_tell() -> None:
    set_up_django()
    told = StringIO()
    call_command("makemigrations", "--check", "--dry-run", stdout=told)
    assert told.getvalue().strip() == "No changes detected"
