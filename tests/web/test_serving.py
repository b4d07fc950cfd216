"""A server started as a maker starts it, spoken to over the network, and told to stop."""

from __future__ import annotations

import base64
import http.client
import os
import re
import signal
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from hashlib import sha256
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlencode

import pytest

from faywright.app.places import FilePlace
from faywright.errors import InputError
from faywright.web.entry.addresses import lan_address
from faywright.web.entry.certificate import Certificate, Names, own_certificate
from faywright.web.entry.serving import told
from faywright.web.entry.wishes import Serving
from tests.web.test_listening import all_of, connected, free_port

PROGRAM = [sys.executable, "-W", "error", "-c", "from faywright.cli import main; main()"]
STATIC = "/static/faywright/reveal.js"

on_a_network = pytest.mark.skipif(lan_address() is None, reason="this computer is on no network")


@dataclass(frozen=True)
class Server:
    """One that runs, and what its terminal shows."""

    port: int
    shown: str
    process: subprocess.Popen[str]


@contextmanager
def serving(folder: Path, *options: str, store: str = "", typed: str = "") -> Iterator[Server]:
    port = free_port()
    words = ["--port", str(port), "--store", store or str(folder / "shop.sqlite3"), *options]
    process = subprocess.Popen(  # noqa: S603 - our own program
        [*PROGRAM, "serve", *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "XDG_DATA_HOME": str(folder / "data")},
    )
    assert process.stdin is not None
    try:
        process.stdin.write(typed)
        process.stdin.flush()
        yield Server(port, _until_ready(process), process)
    finally:
        process.kill()
        process.communicate(timeout=20)


def _until_ready(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    shown = ""
    for line in process.stdout:
        shown += line
        if line.startswith("Stop with"):
            return shown
    return shown


def get(port: int, path: str, **headers: str) -> tuple[int, str, bytes]:
    """Status, content security policy and body of the answer."""
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=20)) as connection:
        connection.request("GET", path, headers=headers)
        with connection.getresponse() as answer:
            policy = answer.getheader("Content-Security-Policy") or ""
            return answer.status, policy, answer.read()


def test_pages_are_served_to_this_computer_until_it_is_told_to_stop(tmp_path: Path) -> None:
    with serving(tmp_path) as server:
        assert f"Faywright is at http://127.0.0.1:{server.port}/ for this computer" in server.shown
        status, policy, body = get(server.port, STATIC)
        assert status == 200
        assert "default-src 'none'" in policy
        assert body.startswith(b"// Shows what is typed")
        assert get(server.port, STATIC, Host="evil.example")[0] == 200  # everyone may have it
        assert get(server.port, "/", Host="evil.example")[0] == 400
        server.process.send_signal(signal.SIGTERM)
        out, _ = server.process.communicate(timeout=20)
        assert out == "Stopping.\n"
        assert server.process.returncode == 0


@on_a_network
def test_other_computers_do_not_reach_it(tmp_path: Path) -> None:
    with serving(tmp_path) as server, pytest.raises(ConnectionRefusedError):
        http.client.HTTPConnection(str(lan_address()), server.port, timeout=5).connect()


def test_an_answer_that_is_under_way_is_given_before_it_stops(tmp_path: Path) -> None:
    with serving(tmp_path) as server, connected(server.port) as connection:
        connection.sendall(f"GET {STATIC} HTTP/1.1\r\nHost: localhost\r\n".encode())
        time.sleep(0.5)
        server.process.send_signal(signal.SIGINT)
        time.sleep(1)
        connection.sendall(b"\r\n")
        assert "200 OK" in all_of(connection)
        server.process.communicate(timeout=20)
        assert server.process.returncode == 0


def test_a_taken_port_is_told_before_anything_is_made(
    tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    with serving(tmp_path_factory.mktemp("first")) as first:
        run = refused(tmp_path, "--port", str(first.port))
    assert f"port {first.port}: another program uses it" in run.stderr
    assert list(tmp_path.iterdir()) == []


def refused(folder: Path, *options: str, store: str = "") -> subprocess.CompletedProcess[str]:
    run = command(folder, "serve", "--store", store or str(folder / "shop.sqlite3"), *options)
    assert run.returncode == 2
    return run


def command(folder: Path, *words: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    """A command that comes to an end by itself."""
    return subprocess.run(  # noqa: S603 - our own program
        [*PROGRAM, *words],
        input=typed,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
        env={**os.environ, "XDG_DATA_HOME": str(folder / "data")},
    )


def test_a_store_that_cannot_be_is_told_and_nothing_left_behind(tmp_path: Path) -> None:
    run = refused(tmp_path, "--port", str(free_port()), store=str(tmp_path / "no" / "shop.sqlite3"))
    assert "its folder does not exist" in run.stderr
    assert list(tmp_path.iterdir()) == []


# The shop's network.


@dataclass
class Phone:
    """A browser that trusts the certificate, and keeps cookies."""

    port: int
    certificate: Path
    cookies: dict[str, str]

    def ask(
        self, method: str, path: str, form: dict[str, str] | None = None, **headers: str
    ) -> tuple[int, http.client.HTTPMessage, str]:
        """Status, headers and body of the answer."""
        context = ssl.create_default_context(cafile=str(self.certificate))
        if form is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
            headers["Origin"] = f"https://127.0.0.1:{self.port}"
        headers["Cookie"] = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        with closing(
            http.client.HTTPSConnection("127.0.0.1", self.port, timeout=20, context=context)
        ) as connection:
            connection.request(method, path, urlencode(form or {}) or None, headers)
            with connection.getresponse() as answer:
                for cookie in answer.headers.get_all("Set-Cookie") or []:
                    name, _, value = cookie.partition(";")[0].partition("=")
                    self.cookies[name] = value
                return answer.status, answer.headers, answer.read().decode()

    def sign_in(self, passphrase: str) -> tuple[int, str]:
        """Status of the answer, and where it leads."""
        _, _, page = self.ask("GET", "/sign-in?next=/nothing")
        token = re.findall(r'name="csrfmiddlewaretoken" value="(\w+)"', page)[0]
        form = {"password": passphrase, "next": "/nothing", "csrfmiddlewaretoken": token}
        status, headers, _ = self.ask("POST", "/sign-in", form)
        return status, headers["Location"]


def passphrase_in(shown: str) -> str:
    return str(re.findall(r"signs in with the passphrase: ([a-z ]+)$", shown, re.MULTILINE)[0])


@on_a_network
def test_the_shops_network_is_served_over_tls_by_passphrase(tmp_path: Path) -> None:
    kept = tmp_path / "data" / "faywright" / "certificate.pem"
    with serving(tmp_path, "--lan") as server:
        assert f"Faywright is at https://{lan_address()}:{server.port}/ for" in server.shown
        assert "\u2580" in server.shown  # the code for cameras
        shown = "".join(re.findall(r"^  ([0-9A-F:]+)$", server.shown, re.MULTILINE))
        peer = ssl.PEM_cert_to_DER_cert(ssl.get_server_certificate(("127.0.0.1", server.port)))
        assert shown.replace(":", "").lower() == sha256(peer).hexdigest()
        phone = Phone(server.port, kept, {})
        status, headers, _ = phone.ask("GET", "/nothing")
        assert (status, headers["Location"]) == (302, "/sign-in?next=%2Fnothing")
        assert phone.ask("GET", STATIC)[0] == 200
        assert phone.ask("GET", "/api/none")[0] == 401
        words = passphrase_in(server.shown)
        basic = base64.b64encode(f"shop:{words}".encode()).decode()
        assert phone.ask("GET", "/api/none", Authorization=f"Basic {basic}")[0] == 404
        assert phone.sign_in(words) == (302, "/nothing")
        assert phone.ask("GET", "/nothing")[0] == 404
        server.process.send_signal(signal.SIGTERM)
        assert server.process.communicate(timeout=20)[1] == ""
    with serving(tmp_path, "--lan") as server:
        assert "passphrase of last time" in server.shown
        assert words not in server.shown
        assert "This certificate is new" not in server.shown
        phone.port = server.port
        assert phone.ask("GET", "/nothing")[0] == 404  # signed in still
    with serving(tmp_path, "--lan", "--passphrase", "new") as server:
        assert passphrase_in(server.shown) != words
        phone.port = server.port
        assert phone.ask("GET", "/nothing")[0] == 302


@on_a_network
def test_a_typed_passphrase_and_a_certificate_of_ones_own_are_used(tmp_path: Path) -> None:
    names = Names(hosts=("bench.shop.example",), addresses=(ip_address("127.0.0.1"),))
    own = own_certificate(tmp_path / "own", names)
    options = (
        "--passphrase",
        "typed",
        "--certificate",
        str(own.certificate),
        "--key",
        str(own.key),
    )
    with serving(tmp_path, "--lan", *options, typed="Chisel plane kerf\n") as server:
        assert f"https://bench.shop.example:{server.port}/" in server.shown
        assert "kerf" not in server.shown
        phone = Phone(server.port, own.certificate, {})
        assert phone.sign_in("chisel plane kerf") == (302, "/nothing")
        assert phone.ask("GET", "/nothing", Host="bench.shop.example")[0] == 404


# What is shown and what is refused.


def test_the_fingerprint_is_shown_as_browsers_show_it(tmp_path: Path) -> None:
    fingerprint = ":".join(f"{number:02X}" for number in range(32))
    made = Certificate(tmp_path, tmp_path, fingerprint, made=True)
    lines = list(told("192.168.1.7:8417", FilePlace(tmp_path / "shop"), made, ("Words.",)))
    halves = [line for line in lines if line.startswith("  ")]
    assert "".join(half.strip() for half in halves) == fingerprint
    assert all(len(half) < 60 for half in halves)
    assert "Words." in lines
    assert any("is new" in line for line in lines)
    assert max(len(line) for line in lines[0].splitlines()) < 50  # fits a small terminal


@pytest.mark.parametrize(
    ("wish", "why"),
    [
        ({"port": 0}, "0 is no port"),
        ({"port": 65536}, "65536 is no port"),
        ({"threads": 0}, "0 threads cannot be used"),
        ({"threads": 11}, "11 threads cannot be used"),
        ({"lan": True, "key": Path("k")}, "one is there without the other"),
        ({"key": Path("k"), "certificate": Path("c")}, "talks to itself without one. Add --lan"),
        ({"passphrase": "oak"}, "nobody is asked for one on this computer. Add --lan"),
        ({"new_passphrase": True}, "nobody is asked for one on this computer"),
    ],
)
def test_what_does_not_go_together_is_refused(wish: dict[str, object], why: str) -> None:
    with pytest.raises(InputError, match=why):
        Serving(**wish)  # type: ignore[arg-type] # as the table has them


def test_people_with_accounts_have_no_passphrase(tmp_path: Path) -> None:
    run = refused(
        tmp_path, "--lan", "--passphrase", "new", store="postgresql://ann@127.0.0.1:1/shop"
    )
    assert "people have accounts in this store" in run.stderr
