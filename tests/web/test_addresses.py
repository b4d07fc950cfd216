"""Where this computer is found, and who is near it."""

from __future__ import annotations

import socket
from ipaddress import IPv4Address

import pytest

from faywright.web.entry.addresses import host_names, is_local, is_loopback, lan_address


class Probe:
    """A socket on a network, or on none."""

    sent: tuple[str, ...] = ()

    def __init__(self, address: str | None) -> None:
        self.address = address

    def __enter__(self) -> Probe:
        return self

    def __exit__(self, *_: object) -> None:
        """Closed."""

    def connect(self, _: tuple[str, int]) -> None:
        if self.address is None:
            raise OSError("network is unreachable")

    def getsockname(self) -> tuple[str, int]:
        return str(self.address), 9


@pytest.mark.parametrize(
    ("address", "found"),
    [
        ("192.168.1.7", IPv4Address("192.168.1.7")),
        ("169.254.3.4", IPv4Address("169.254.3.4")),
        ("127.0.0.1", None),
        ("0.0.0.0", None),  # noqa: S104 - what a socket says that is bound to nothing
        (None, None),
    ],
)
def test_the_address_is_that_of_the_way_out(
    monkeypatch: pytest.MonkeyPatch, address: str | None, found: IPv4Address | None
) -> None:
    monkeypatch.setattr(socket, "socket", lambda *_: Probe(address))
    assert lan_address() == found


@pytest.mark.parametrize(
    ("own", "names"),
    [
        ("bench", ("bench", "bench.local")),
        ("Bench-2.Shop", ("bench-2.shop", "bench-2", "bench-2.local")),
        ("bench.local", ("bench.local", "bench")),
        ("our bench", ()),
        ("bänk", ()),
        ("", ()),
    ],
)
def test_names_are_as_networks_know_them(
    monkeypatch: pytest.MonkeyPatch, own: str, names: tuple[str, ...]
) -> None:
    monkeypatch.setattr(socket, "gethostname", lambda: own)
    assert host_names() == names


@pytest.mark.parametrize("address", ["127.0.0.1", "127.8.9.1", "::1", "::ffff:127.0.0.1"])
def test_loopback_is_here_and_near(address: str) -> None:
    assert is_loopback(address)
    assert is_local(address)


@pytest.mark.parametrize("address", ["10.1.2.3", "172.16.0.1", "192.168.0.9", "fd00::1", "fe80::1"])
def test_private_addresses_are_near_but_not_here(address: str) -> None:
    assert not is_loopback(address)
    assert is_local(address)


@pytest.mark.parametrize(
    "address", ["8.8.8.8", "2600::1", "::ffff:8.8.8.8", "", "127.0.0.1, 1.1.1.1"]
)
def test_all_others_are_far(address: str) -> None:
    assert not is_loopback(address)
    assert not is_local(address)
