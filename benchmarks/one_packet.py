"""Make one packet in a process of its own and print how long it took from a ready plan. [s]

``python -m benchmarks.one_packet ours 5`` makes the packet of a lining of five walls,
``plain 20`` the peer's of twenty pages. What a packet imports is counted.
"""

from __future__ import annotations

import sys
import time

from benchmarks.plain_packet import plain_packet


def main() -> None:
    """Make what the command line asks for."""
    whose, size = sys.argv[1], int(sys.argv[2])
    print(_plain(size) if whose == "plain" else _ours(size))


def _plain(pages: int) -> float:
    start = time.perf_counter()
    plain_packet(pages)
    return time.perf_counter() - start


def _ours(walls: int) -> float:
    from benchmarks.lining import lining  # noqa: PLC0415 - the peer must not pay for it

    ready = lining(walls)
    start = time.perf_counter()
    from faywright.drawing.packet import packet  # noqa: PLC0415 - counted

    packet(ready)
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
