"""The HTTP server, spoken to as no browser would."""

from __future__ import annotations

import os
import socket
import ssl
import struct
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from ipaddress import ip_address
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from faywright.errors import InputError
from faywright.web.entry.certificate import Certificate, Names, own_certificate
from faywright.web.entry.listening import LARGEST_HEADER, MOST_CONNECTIONS, Connection, Listening
from faywright.web.entry.security_settings import LARGEST_BODY

Told = dict[str, Any]
THREADS = 2


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def listening(seen: list[Told], context: ssl.SSLContext | None = None) -> Iterator[int]:
    """A server that answers with the length of what it was sent; its port."""

    def application(environ: Told, answer: Callable[..., object]) -> Iterable[bytes]:
        body = environ["wsgi.input"].read(int(environ.get("CONTENT_LENGTH") or 0))
        seen.append(environ)
        told = f"{len(body)} bytes".encode()
        answer("200 OK", [("Content-Type", "text/plain"), ("Content-Length", str(len(told)))])
        return [told]

    port = free_port()
    server = Listening("127.0.0.1", port, threads=THREADS, context=context)
    server.wsgi_app = application
    server.prepare()
    thread = Thread(target=server.serve)
    thread.start()
    try:
        yield port
    finally:
        server.stop()
        thread.join(10)
        assert not thread.is_alive()


@pytest.fixture
def seen() -> list[Told]:
    """What the application was told of each request that came to it."""
    return []


@pytest.fixture
def port(seen: list[Told]) -> Iterator[int]:
    with listening(seen) as found:
        yield found


@pytest.fixture
def certificate(tmp_path: Path) -> Certificate:
    names = Names(hosts=("localhost",), addresses=(ip_address("127.0.0.1"),))
    return own_certificate(tmp_path, names)


@pytest.fixture
def tls_port(seen: list[Told], certificate: Certificate) -> Iterator[int]:
    with listening(seen, certificate.context()) as found:
        yield found


def connected(port: int) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), timeout=8)


def all_of(connection: socket.socket) -> str:
    """What comes until the other side closes, or resets, as it may with something unread."""
    found = b""
    try:
        while part := connection.recv(65536):
            found += part
    except ConnectionResetError:
        pass
    return found.decode("latin-1")


def served(connection: socket.socket) -> bool:
    """Whether a request is answered; the connection stays open."""
    connection.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
    found = b""
    while not found.endswith(b"0 bytes"):
        found += connection.recv(65536) or b"closed: 0 bytes"
    return found.startswith(b"HTTP/1.1 200 OK\r\n")


def said(port: int, *lines: str, body: bytes = b"") -> str:
    """What is answered to a request of these lines."""
    with connected(port) as connection:
        head = "\r\n".join([*lines, "Host: localhost", "Connection: close", "", ""])
        connection.sendall(head.encode("latin-1") + body)
        return all_of(connection)


def test_a_plain_request_is_answered(port: int, seen: list[Told]) -> None:
    answer = said(port, "POST / HTTP/1.1", "Content-Length: 5", body=b"boards"[:5])
    assert answer.startswith("HTTP/1.1 200 OK\r\n")
    assert answer.endswith("\r\n\r\n5 bytes")
    assert "Server: faywright\r\n" in answer
    assert seen[0]["REMOTE_ADDR"] == "127.0.0.1"


def test_what_headers_claim_does_not_take_the_place_of_what_is(port: int, seen: list[Told]) -> None:
    said(port, "GET / HTTP/1.1", "X-Forwarded-For: 8.8.8.8", "Remote-Addr: 8.8.8.8", "X_Odd: 1")
    assert seen[0]["REMOTE_ADDR"] == "127.0.0.1"
    assert seen[0]["wsgi.url_scheme"] == "http"
    assert "HTTP_X_ODD" not in seen[0]


@pytest.mark.parametrize(
    ("lines", "status"),
    [
        (["Transfer-Encoding: chunked"], "411"),
        (["Transfer-Encoding: chunked", "Content-Length: 4"], "411"),
        (["Content-Length: -1"], "400"),
        (["Content-Length: +4"], "400"),
        (["Content-Length: 4_0"], "400"),
        (["Content-Length: four"], "400"),
        (["Content-Length: 4, 4"], "400"),
        ([f"Content-Length: {LARGEST_BODY + 1}"], "413"),
        (["X-Long: " + "x" * LARGEST_HEADER], "413"),
    ],
)
def test_a_request_whose_length_is_doubtful_is_refused(
    port: int, seen: list[Told], lines: list[str], status: str
) -> None:
    answer = said(port, "POST / HTTP/1.1", *lines, body=b"4\r\nGET / HTTP/1.1\r\n\r\n")
    assert answer.split(" ")[1] == status
    assert answer.count("HTTP/1.1 ") == 1  # what followed was not taken for another
    assert seen == []


def test_the_largest_body_is_taken(port: int) -> None:
    answer = said(
        port, "POST / HTTP/1.1", f"Content-Length: {LARGEST_BODY}", body=b"x" * LARGEST_BODY
    )
    assert f"{LARGEST_BODY} bytes" in answer


def test_too_long_an_address_is_refused(port: int, seen: list[Told]) -> None:
    assert said(port, f"GET /{'x' * LARGEST_HEADER} HTTP/1.1").split(" ")[1] == "414"
    assert seen == []


def test_silent_connections_keep_nobody_waiting(port: int) -> None:
    with ExitStack() as stack:
        for _ in range(5 * THREADS):
            stack.enter_context(connected(port))
        time.sleep(0.3)
        assert "200 OK" in said(port, "GET / HTTP/1.1")  # sooner than the silent ones are given up


def test_more_connections_than_can_be_kept_are_closed(port: int) -> None:
    with ExitStack() as stack:
        for _ in range(MOST_CONNECTIONS):
            stack.enter_context(connected(port))
        time.sleep(1)
        extra = stack.enter_context(connected(port))
        assert all_of(extra) == ""


def test_a_connection_serves_again(port: int) -> None:
    with connected(port) as connection:
        assert [served(connection) for _ in range(3)] == [True] * 3


def test_peers_that_go_at_once_take_no_thread_along(port: int) -> None:
    for _ in range(5 * THREADS):
        with connected(port) as connection:
            connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            connection.sendall(b"GET / HTTP/1.1\r\n")
    assert "200 OK" in said(port, "GET / HTTP/1.1")


def test_a_connection_whose_socket_is_gone_can_be_let_go() -> None:
    ours, theirs = socket.socketpair()
    with theirs:
        connection = Connection(Listening("127.0.0.1", 1, threads=1), ours)
        os.close(ours.detach())
        connection.close()


def test_a_port_that_is_taken_is_told(port: int) -> None:
    with pytest.raises(InputError, match=rf"^port {port}: another program uses it\. If that is"):
        Listening("127.0.0.1", port, threads=1).prepare()


# TLS.


def secured(port: int, certificate: Certificate) -> ssl.SSLSocket:
    context = ssl.create_default_context(cafile=str(certificate.certificate))
    return context.wrap_socket(connected(port), server_hostname="127.0.0.1")


def test_who_trusts_the_certificate_is_spoken_to(
    tls_port: int, certificate: Certificate, seen: list[Told]
) -> None:
    with secured(tls_port, certificate) as connection:
        assert served(connection)
        assert served(connection)
        assert connection.version() in ("TLSv1.2", "TLSv1.3")
    assert [one["wsgi.url_scheme"] for one in seen] == ["https", "https"]
    assert seen[0]["REMOTE_ADDR"] == "127.0.0.1"


def test_who_does_not_is_none_of_our_errors(
    tls_port: int, certificate: Certificate, capsys: pytest.CaptureFixture[str]
) -> None:
    for _ in range(2 * THREADS):
        with pytest.raises(ssl.SSLCertVerificationError), connected(tls_port) as connection:
            ssl.create_default_context().wrap_socket(connection, server_hostname="127.0.0.1")
    with secured(tls_port, certificate) as connection:
        assert served(connection)
    assert capsys.readouterr().err == ""


def test_old_tls_is_refused(tls_port: int) -> None:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
    with pytest.warns(DeprecationWarning, match=r"TLSv1_1"):
        context.maximum_version = ssl.TLSVersion.TLSv1_1
    with pytest.raises((ssl.SSLError, ConnectionResetError)), connected(tls_port) as connection:
        context.wrap_socket(connection)


def test_plain_http_is_shown_the_way_and_nothing_else(tls_port: int, seen: list[Told]) -> None:
    answer = said(tls_port, "GET /pieces/1 HTTP/1.1")
    assert answer.startswith("HTTP/1.1 302 Found\r\n")
    assert f"Location: https://127.0.0.1:{tls_port}/\r\n" in answer
    assert seen == []


def test_slow_hand_shakes_hold_nobody_up(tls_port: int, certificate: Certificate) -> None:
    with ExitStack() as stack:
        for _ in range(5 * THREADS):
            stack.enter_context(connected(tls_port))
        slow = stack.enter_context(connected(tls_port))
        slow.sendall(b"\x16")  # and nothing more: one thread waits for it, and one only
        time.sleep(0.3)
        connection = stack.enter_context(secured(tls_port, certificate))
        assert served(connection)  # sooner than the slow one is given up
