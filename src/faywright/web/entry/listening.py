"""The HTTP server, made fit for a network on which not everyone behaves.

Three things are done otherwise than the library does them. A new connection waits for its first
byte with the idle ones: browsers open spare ones, and each would keep a thread busy with nothing.
TLS is agreed on in a thread, not where connections are accepted: one slow device would hold up all
others. And a request whose length is not told in plain digits is refused: Django would read it as
empty, and what follows as the next request.
"""

from __future__ import annotations

import errno
import logging
import socket
import ssl
import sys
import traceback as tracebacks
from collections.abc import Mapping

from cheroot.makefile import MakeFile
from cheroot.server import HeaderReader, HTTPConnection, HTTPRequest
from cheroot.ssl import Adapter
from cheroot.wsgi import Server

from faywright.errors import InputError
from faywright.web.entry.security_settings import LARGEST_BODY

LARGEST_HEADER = 32 * 1024  # bytes
MOST_CONNECTIONS = 200  # idle ones
PATIENCE = 10  # s, for the next bytes of a request, and for the next request
HANDSHAKE = b"\x16"
"""The first byte of whoever speaks TLS: a handshake record (RFC 8446, 5.1)."""


class Headers(HeaderReader):
    """Drops those with underscores, for WSGI cannot tell them from dashes.

    The library's own class for it takes names for text, which they are not.
    """

    def _allow_header(self, key_name: bytes) -> bool:
        return b"_" not in key_name


class Request(HTTPRequest):
    """One request."""

    header_reader = Headers()

    def read_request_headers(self) -> bool:
        """Whether the headers can be used; if not, that was answered."""
        if not super().read_request_headers():  # type: ignore[no-untyped-call] # the library's
            return False
        length = self.inheaders.get(b"Content-Length", b"0")
        if b"Transfer-Encoding" in self.inheaders:
            self.simple_response("411 Length Required", "Say how long it is, and send it whole.")
        elif not (length.isascii() and length.isdigit()):
            self.simple_response("400 Bad Request", "Content-Length is not a number.")
        else:
            return True
        self.close_connection = True
        return False


class Connection(HTTPConnection):
    """One connection; what it has to say is read in a thread."""

    RequestHandlerClass = Request
    seen = False
    """Whether anything has come."""
    greeted = False
    """Whether TLS has been agreed on."""

    def communicate(self) -> bool:
        """Answer a request; whether the connection stays open."""
        context: ssl.SSLContext | None = getattr(self.server.ssl_adapter, "context", None)
        if context is not None and not self.greeted:
            if not self._greet(context):
                return False
            self.greeted = True
        return bool(super().communicate())  # type: ignore[no-untyped-call] # the library's

    def _greet(self, context: ssl.SSLContext) -> bool:
        try:
            if self.socket.recv(1, socket.MSG_PEEK) != HANDSHAKE:
                self._to_https()
                return False
            self.socket = context.wrap_socket(
                self.socket, server_side=True, do_handshake_on_connect=False
            )
            self.socket.do_handshake()
        except OSError:  # it went away, was too slow, or does not want our certificate
            return False
        self.rfile = MakeFile(self.socket, "rb", self.rbufsize)
        self.wfile = MakeFile(self.socket, "wb", self.wbufsize)
        return True

    def close(self) -> None:
        """Let it go; a peer that went first must not take the thread along."""
        try:
            super().close()
        except OSError:
            self.socket.close()

    def _to_https(self) -> None:
        """Show the way to who typed the address without "https"; not to be remembered."""
        self.socket.recv(LARGEST_HEADER)
        address, port = self.socket.getsockname()[:2]
        self.socket.sendall(
            "HTTP/1.1 302 Found\r\n"
            f"Location: https://{address}:{port}/\r\n"
            "Content-Length: 0\r\nCache-Control: no-store\r\nConnection: close\r\n\r\n".encode()
        )


class Tls(Adapter):
    """Leaves the agreement on TLS to the connection's thread."""

    def __init__(self, context: ssl.SSLContext) -> None:
        """``context`` holds the certificate."""
        self.context = context

    def bind(self, sock: socket.socket) -> socket.socket:
        """The listening socket stays as it is."""
        return sock

    def wrap(self, sock: socket.socket) -> tuple[socket.socket, Mapping[str, str]]:
        """A new connection, and what WSGI shall know of it."""
        return sock, self.get_environ()

    def get_environ(self) -> Mapping[str, str]:
        """What WSGI shall know."""
        return {"wsgi.url_scheme": "https", "HTTPS": "on"}

    def makefile(self, sock: socket.socket, mode: str = "r", bufsize: int = -1) -> object:
        """The connection as a file, until TLS is agreed on."""
        return MakeFile(sock, mode, bufsize)


class Listening(Server):
    """Listens at an address; TLS if there is a ``context`` for it."""

    ConnectionClass = Connection
    max_request_header_size = LARGEST_HEADER
    max_request_body_size = LARGEST_BODY
    keep_alive_conn_limit = MOST_CONNECTIONS

    def __init__(
        self, address: str, port: int, *, threads: int, context: ssl.SSLContext | None = None
    ) -> None:
        """Nothing is listened at before ``prepare``."""
        super().__init__(
            (address, port),
            None,
            numthreads=threads,
            max=threads,
            server_name="faywright",
            request_queue_size=64,
            timeout=PATIENCE,
            accepted_queue_size=MOST_CONNECTIONS,
            accepted_queue_timeout=1,
        )
        self.ssl_adapter = None if context is None else Tls(context)

    @staticmethod
    def bind_socket(socket_: socket.socket, bind_addr: tuple[str, int]) -> socket.socket:
        """Take the port.

        Raises
        ------
        InputError
            Somebody else has it, or it cannot be had.
        """
        try:
            socket_.bind(bind_addr)
        except OSError as error:
            socket_.close()
            taken = error.errno == errno.EADDRINUSE
            raise InputError(
                "another program uses it" if taken else f"it cannot be used ({error.strerror})",
                where=f"port {bind_addr[1]}",
                remedy="If that is Faywright, stop it or use its page; else give another --port",
            ) from error
        return socket_

    def process_conn(self, conn: Connection) -> None:
        """Give a connection that has something to say to a thread; let a new one wait for it."""
        if conn.seen:
            super().process_conn(conn)
        elif self.can_add_keepalive_connection:
            conn.seen = True
            self.put_conn(conn)
        else:
            conn.close()

    def error_log(
        self,
        msg: str = "",
        level: int = logging.INFO,
        traceback: bool = False,  # noqa: FBT001, FBT002 - the library's
    ) -> None:
        """Tell what went wrong on our side; that peers come and go is no news."""
        if level < logging.ERROR:
            return
        sys.stderr.write(f"{msg}\n")
        if traceback:
            sys.stderr.write(tracebacks.format_exc())
