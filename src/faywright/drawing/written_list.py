"""The list of the drawings that were written to a folder, each with its fingerprint.

Its lines are those of ``sha256sum``: a SHA-256 in hexadecimal, two spaces, the name of the file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path

_LINE = re.compile(rb"(?m)^([0-9a-f]{64})  ([a-z0-9-]+\.(?:svg|dxf))\r?$")
"""Only names as the program gives them, so that no line can lead out of the folder."""


def listed(files: Mapping[str, bytes]) -> bytes:
    """The list of ``files``, in the order of their names."""
    lines = (f"{sha256(files[name]).hexdigest()}  {name}\n" for name in sorted(files))
    return "".join(lines).encode()


def read_list(path: Path) -> dict[str, str]:
    """Fingerprints by name; a line that was not written by ``listed`` tells of no file of ours."""
    if not path.is_file():
        return {}
    lines = _LINE.findall(path.read_bytes())
    return {name.decode(): fingerprint.decode() for fingerprint, name in lines}
