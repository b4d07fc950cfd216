"""How often a passphrase or password may be tried.

Two counts are kept, in memory. Each address has a few tries at once; after that it waits, twice as
long each time, up to two minutes. All addresses together have more; after that, anyone waits up to
half a minute, so that many addresses do not add up. Tries that come too early are not looked at:
they neither count nor make the wait longer, so nobody can be shut out for longer than that.

Those who cannot be shut out by others at all: this computer itself, and an address that has got in
since the server started. They answer for their own tries only.

At the worst one try in two minutes comes from each address, and one in half a minute from all new
ones together: 2,900 a day, or a million in a year, against 2**40 passphrases.
"""

from __future__ import annotations

import time
from collections import OrderedDict, deque
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from ipaddress import IPv6Address, ip_address, ip_network
from math import ceil
from threading import Lock

from faywright.errors import InputError

FREE = 10
"""Wrong tries of one address before it waits. No fewer than the server has threads, or calls
that come at once, all of them right, would be made to wait for each other."""
FREE_OF_ALL = 40
LONGEST = 120.0  # [s]
LONGEST_OF_ALL = 30.0  # [s]
FORGOTTEN = 900.0
"""Without another wrong try for so long, those of an address are forgotten; and each of those of
all together is, once it is so old. [s]"""
REMEMBERED = 1024  # addresses


class TooManyTries(InputError):  # noqa: N818 - it says what is the matter, as the others do
    """Come back in ``seconds``."""

    def __init__(self, seconds: float) -> None:
        """Round up: a wait that is announced has to be enough."""
        self.seconds = max(1, ceil(seconds))
        again = "1 second" if self.seconds == 1 else f"{self.seconds} seconds"
        super().__init__(
            "there were too many wrong tries", where="sign-in", remedy=f"Try again in {again}"
        )


@dataclass(frozen=True, slots=True)
class Try:
    """One that was let through; it counts as wrong until it is told to be right."""

    source: str
    at: float
    before: float  # when the one before it was, by the same clock


@dataclass(slots=True)
class _Wrong:
    count: int
    last: float


class Attempts:
    """Counts tries; ``clock`` gives seconds from any start, and never runs backwards."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """Nobody has tried yet."""
        self._clock = clock
        self._lock = Lock()
        self._wrong: OrderedDict[str, _Wrong] = OrderedDict()
        self._all: deque[float] = deque(maxlen=FREE_OF_ALL + 8)
        self._known: OrderedDict[str, None] = OrderedDict()

    def begin(self, address: str) -> Try:
        """Let a try through; tries that come at the same time are counted too.

        Raises
        ------
        TooManyTries
            It comes too early.
        """
        with self._lock:
            now, source = self._clock(), source_of(address)
            wrong = self._of(source, now)
            wait = max(self._wait(wrong, now), self._wait_of_all(source, now))
            if wait > 0:
                raise TooManyTries(wait)
            made = Try(source, now, wrong.last)
            wrong.count, wrong.last = wrong.count + 1, now
            self._all.append(now)
            self._wrong[source] = wrong
            self._wrong.move_to_end(source)
            _keep(self._wrong)
            return made

    def right(self, made: Try) -> None:
        """Take back that it counted as wrong.

        Earlier wrong tries stay: with an account of one's own, one could guess at others for ever.
        """
        with self._lock:
            wrong = self._wrong.get(made.source)
            if wrong is not None:
                wrong.count -= 1
                if wrong.last == made.at:
                    wrong.last = made.before
                if wrong.count == 0:
                    del self._wrong[made.source]
            if made.at in self._all:
                self._all.remove(made.at)
            self._known[made.source] = None
            self._known.move_to_end(made.source)
            _keep(self._known)

    def __len__(self) -> int:
        """How many addresses are remembered."""
        return len(self._wrong)

    def _of(self, source: str, now: float) -> _Wrong:
        wrong = self._wrong.get(source)
        if wrong is None or now - wrong.last > FORGOTTEN:
            return _Wrong(0, now)
        return wrong

    def _wait(self, wrong: _Wrong, now: float) -> float:
        return wrong.last + _growing(wrong.count - FREE, LONGEST) - now

    def _wait_of_all(self, source: str, now: float) -> float:
        if source in self._known or _is_here(source):
            return 0.0
        while self._all and now - self._all[0] > FORGOTTEN:
            self._all.popleft()
        if not self._all:
            return 0.0
        return self._all[-1] + _growing(len(self._all) - FREE_OF_ALL, LONGEST_OF_ALL) - now


@cache
def attempts() -> Attempts:
    """The count of this server."""
    return Attempts()


def source_of(address: str) -> str:
    """What counts as one address: of IPv6 the first half, for a device has all of the rest.

    >>> source_of("2001:db8:0:7::1"), source_of("::ffff:192.0.2.1")
    ('2001:db8:0:7::/64', '192.0.2.1')
    """
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return ""
    if not isinstance(found, IPv6Address) or found.is_loopback:
        return str(found)
    if found.ipv4_mapped is not None:
        return str(found.ipv4_mapped)
    return str(ip_network((found, 64), strict=False))


def _is_here(source: str) -> bool:
    return source == "::1" or source.startswith("127.")


def _growing(beyond: int, longest: float) -> float:
    """Seconds to wait after so many wrong tries beyond those that are free."""
    return 0.0 if beyond < 0 else min(longest, 2.0 ** min(beyond, 16))


def _keep(remembered: OrderedDict[str, _Wrong] | OrderedDict[str, None]) -> None:
    """Forget those that were longest ago."""
    while len(remembered) > REMEMBERED:
        remembered.popitem(last=False)
