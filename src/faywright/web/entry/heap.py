"""Has the C library give memory back that was needed for a moment.

glibc keeps a heap for every thread, and in it the large blocks that plans and password hashes have
asked for, once some of them were freed: eight threads held 200 MB that nobody used. Two heaps are
enough where one thread runs Python at a time, and large blocks are better mapped and unmapped.
"""

from __future__ import annotations

import ctypes
import os

# Numbers of <malloc.h>.
_MMAP_THRESHOLD, _ARENA_MAX = -3, -8

LARGE = 1024 * 1024  # bytes
HEAPS = 2
_WANTED = ((_MMAP_THRESHOLD, LARGE), (_ARENA_MAX, HEAPS))


def give_back() -> bool:
    """Tell the allocator; whether it is one that can be told. To be called before threads start."""
    tell = getattr(ctypes.CDLL(None), "mallopt", None) if os.name == "posix" else None
    if tell is None:  # others have none, and keep no such heaps
        return False
    return all(tell(what, value) == 1 for what, value in _WANTED)
