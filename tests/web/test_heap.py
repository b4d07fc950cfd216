"""Memory that was needed for a moment only is given back."""

from __future__ import annotations

import platform
import subprocess
import sys

import pytest

HASHING = """
import hashlib, sys, threading
from pathlib import Path
from faywright.web.entry.heap import give_back
assert sys.argv[1] == "as it is" or give_back()
meet = threading.Barrier(4)
def work():
    for _ in range(4):
        hashlib.scrypt(b"word", salt=b"salt", n=2**14, r=8, p=1, maxmem=2**26)
        meet.wait()
threads = [threading.Thread(target=work) for _ in range(4)]
for thread in threads:
    thread.start()
for thread in threads:
    thread.join()
print(Path("/proc/self/statm").read_text().split()[1])
"""


def pages_held(how: str) -> int:
    """Pages of memory that a process holds after its threads have hashed passwords."""
    return int(
        subprocess.run(  # noqa: S603 - Python itself
            [sys.executable, "-c", HASHING, how], capture_output=True, text=True, check=True
        ).stdout
    )


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="another C library")
def test_threads_do_not_hold_on_to_what_hashing_passwords_took() -> None:
    assert pages_held("give back") < pages_held("as it is") / 2
