"""Serving the pages: from the first look at the port to the last answer.

Nothing is changed in a store or shown in the terminal before the port is ours.
"""

from __future__ import annotations

import io
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from ipaddress import ip_address
from threading import Event, Thread
from types import FrameType

import segno

from faywright.app.places import Place, data_folder, place_of
from faywright.errors import InputError
from faywright.web.entry.addresses import LOOPBACK, host_names, lan_address
from faywright.web.entry.certificate import Certificate, Names, given_certificate, own_certificate
from faywright.web.entry.heap import give_back
from faywright.web.entry.listening import Listening
from faywright.web.entry.mode import Mode
from faywright.web.entry.starting import make_ready, mode_for
from faywright.web.entry.wishes import Serving

_EVERYWHERE = "0.0.0.0"  # noqa: S104 - the shop's network, which is what --lan asks for

Say = Callable[[str], None]


def serve(serving: Serving, say: Say = print) -> None:
    """Serve until the terminal, or whoever started it, says stop.

    Raises
    ------
    InputError
        The port is taken, or store, certificate or passphrase cannot be used.
    """
    give_back()
    place = place_of(serving.store)
    mode = mode_for(place, lan=serving.lan)
    if mode is not Mode.LAN and (serving.passphrase is not None or serving.new_passphrase):
        what = "people have accounts in this store"
        raise InputError(what, where="--passphrase", remedy="Leave it out")
    address = _address() if serving.lan else LOOPBACK
    certificate = _certificate(serving, address)
    server = Listening(
        _EVERYWHERE if serving.lan else LOOPBACK,
        serving.port,
        threads=serving.threads,
        context=None if certificate is None else certificate.context(),
    )
    server.prepare()
    try:
        others = () if certificate is None else (address, *host_names(), *certificate.hosts)
        make_ready(place, mode, others=others, tls=certificate is not None)
        name = certificate.hosts[0] if certificate is not None and certificate.hosts else address
        _run(server, serving, place, f"{name}:{serving.port}", certificate, say)
    finally:
        server.stop()


def _run(
    server: Listening,
    serving: Serving,
    place: Place,
    at: str,
    certificate: Certificate | None,
    say: Say,
) -> None:
    """Open the store, say where it is, and answer until stopped."""
    # These have tables, which Django can load only now.
    from faywright.web.entry.entrances import entrance  # noqa: PLC0415
    from faywright.web.entry.opened import opened  # noqa: PLC0415

    with opened(serving.store, demo=serving.demo) as application:
        server.wsgi_app = application
        words = entrance(serving.passphrase, new=serving.new_passphrase)
        for line in told(at, place, certificate, words):
            say(line)
        with _told_to_stop() as stop:
            thread = Thread(target=server.serve, name="accepting")
            thread.start()
            while thread.is_alive() and not stop.wait(0.5):
                pass
            say("Stopping.")
            server.stop()
            thread.join()


def told(
    at: str, place: Place, certificate: Certificate | None, entrance: tuple[str, ...]
) -> Iterator[str]:
    """What the terminal shows once all is ready."""
    if certificate is None:
        yield f"Faywright is at http://{at}/ for this computer only. The store is {place}."
    else:
        yield _qr(f"https://{at}/")
        yield f"Faywright is at https://{at}/ for the shop's network. The store is {place}."
    yield from entrance
    if certificate is not None:
        new = "This certificate is new. " if certificate.made else ""
        yield f"{new}Its fingerprint (SHA-256) is"
        middle = len(certificate.fingerprint) // 2 + 1
        yield f"  {certificate.fingerprint[:middle]}"
        yield f"  {certificate.fingerprint[middle:]}"
        yield (
            "Browsers warn of a certificate that a computer made for itself: compare the "
            "fingerprint, and go on if it is this one."
        )
    yield "Stop with Ctrl+C."


@contextmanager
def _told_to_stop() -> Iterator[Event]:
    """Set when the terminal or the system says stop; the second time, at once."""
    stop = Event()

    def handle(number: int, frame: FrameType | None) -> None:
        stop.set()
        for one, before in kept.items():
            signal.signal(one, before)

    kept = {one: signal.signal(one, handle) for one in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield stop
    finally:
        for one, before in kept.items():
            signal.signal(one, before)


def _address() -> str:
    found = lan_address()
    if found is None:
        what = "this computer is on no network"
        raise InputError(what, where="--lan", remedy="Join the shop's network first")
    return str(found)


def _certificate(serving: Serving, address: str) -> Certificate | None:
    if not serving.lan:
        return None
    if serving.certificate is not None and serving.key is not None:
        return given_certificate(serving.certificate, serving.key)
    names = Names(
        hosts=("localhost", *host_names()),
        addresses=(ip_address(LOOPBACK), ip_address(address)),
    )
    return own_certificate(data_folder(), names)


def _qr(address: str) -> str:
    """The address for the cameras of phones, as blocks of text."""
    out = io.StringIO()
    segno.make(address, micro=False).terminal(out, border=2, compact=True)
    return out.getvalue()
