"""Where this computer can be reached on the shop's network; nothing is sent to find out."""

from __future__ import annotations

import socket
from ipaddress import IPv4Address, IPv6Address, ip_address

LOOPBACK = "127.0.0.1"

_FAR = "192.0.2.1"
"""An address set aside for writing about networks (RFC 5737): nobody has it."""


def lan_address() -> IPv4Address | None:
    """The address by which others on the network reach this computer; None if it is on none.

    It is the one that a datagram to the outside would be sent from. Connecting a socket of that
    kind sends none. IPv6 is left out: its addresses change by the day, and each change would want
    a new certificate.
    """
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            probe.connect((_FAR, 9))
            found = IPv4Address(probe.getsockname()[0])
    except OSError:  # no way leads out: an answer, not a failure
        return None
    return None if found.is_loopback or found.is_unspecified else found


def host_names() -> tuple[str, ...]:
    """Names by which the network may know this computer; with ``.local`` as of RFC 6762."""
    name = socket.gethostname().lower().rstrip(".")
    short = name.partition(".")[0]
    if not (name.isascii() and name.replace("-", "").replace(".", "").isalnum()):
        return ()
    return tuple(dict.fromkeys([name, short, f"{short}.local"]))


def is_loopback(address: str) -> bool:
    """Whether a peer of this address is on this computer.

    >>> is_loopback("127.0.0.1"), is_loopback("::ffff:127.0.0.1"), is_loopback("192.168.1.7")
    (True, True, False)
    """
    found = _read(address)
    return found is not None and found.is_loopback


def is_local(address: str) -> bool:
    """Whether a peer is on this computer or a private network, not somewhere beyond it.

    >>> is_local("192.168.1.7"), is_local("fe80::1%eth0"), is_local("8.8.8.8")
    (True, True, False)
    """
    found = _read(address)
    return found is not None and (found.is_private or found.is_link_local or found.is_loopback)


def _read(address: str) -> IPv4Address | IPv6Address | None:
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return None
    mapped = found.ipv4_mapped if isinstance(found, IPv6Address) else None
    return mapped or found
