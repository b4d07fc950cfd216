"""A certificate that this computer makes for itself, so that the shop's network cannot listen in.

No authority vouches for it. Browsers therefore warn once on every device; whoever compares the
fingerprint they show with the one in the terminal knows that nobody stands between.
"""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, IPv6Address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from faywright.errors import InputError
from faywright.web.entry.secret_files import read_secret, write_secret

LASTS = timedelta(days=397)
"""From memory: browsers refuse certificates that are good for more than 398 days."""
RENEWED_BEFORE_END = timedelta(days=30)
_CLOCKS_DIFFER = timedelta(days=1)

NAME = "Faywright on this shop's computer"


@dataclass(frozen=True, slots=True)
class Names:
    """What a browser may have typed into its address line to get here."""

    hosts: tuple[str, ...]
    addresses: tuple[IPv4Address | IPv6Address, ...]


@dataclass(frozen=True, slots=True)
class Certificate:
    """Two files, PEM both; ``made`` if it is new, so that devices will warn anew.

    ``hosts`` are names it was given for elsewhere, by which browsers will then come.
    """

    certificate: Path
    key: Path
    fingerprint: str
    made: bool = False
    hosts: tuple[str, ...] = ()

    def context(self) -> ssl.SSLContext:
        """What a server needs to speak TLS with it, 1.2 or later.

        Raises
        ------
        InputError
            Certificate and key do not belong together, or cannot be read.
        """
        context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        try:
            # A password would be asked for in the terminal; there is nobody to be asked.
            context.load_cert_chain(self.certificate, self.key, password=lambda: b"")
        except (OSError, ValueError) as error:
            raise InputError(
                f"it cannot be used with {self.key} ({error})",
                where=str(self.certificate),
                remedy="Give a certificate and the key it was made for, without a password",
            ) from error
        return context


def own_certificate(folder: Path, names: Names, now: datetime | None = None) -> Certificate:
    """The one kept in ``folder``; made anew if it misses a name or is near its end.

    Raises
    ------
    InputError
        The files cannot be read or written.
    """
    now = now or datetime.now(UTC)
    path, key_path = folder / "certificate.pem", folder / "certificate.key"
    kept, key = read_secret(path), read_secret(key_path)
    if kept is not None and key is not None:
        found = _usable(kept, key, names, now)
        if found is not None:
            return Certificate(path, key_path, fingerprint(found))
    private = ec.generate_private_key(ec.SECP256R1())
    made = _made(private, names, now)
    # The key first: a certificate without its key is made anew at the next start.
    write_secret(key_path, private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    write_secret(path, made.public_bytes(Encoding.PEM))
    return Certificate(path, key_path, fingerprint(made), made=True)


def given_certificate(certificate: Path, key: Path) -> Certificate:
    """One that the maker has from elsewhere.

    Raises
    ------
    InputError
        It is not one, or not the key's.
    """
    try:
        first = x509.load_pem_x509_certificates(certificate.read_bytes())[0]
    except (OSError, ValueError) as error:
        raise InputError(
            f"it is no certificate that can be read ({error})",
            where=str(certificate),
            remedy="Give a PEM file, the server's own certificate first",
        ) from error
    hosts = tuple(name for name in _hosts(first) if "*" not in name)
    given = Certificate(certificate, key, fingerprint(first), hosts=hosts)
    given.context()
    return given


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 of the certificate, as browsers show it."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


def _hosts(certificate: x509.Certificate) -> list[str]:
    try:
        listed = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName)
    except x509.ExtensionNotFound:
        return []
    return listed.value.get_values_for_type(x509.DNSName)


def _made(key: ec.EllipticCurvePrivateKey, names: Names, now: datetime) -> x509.Certificate:
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, NAME)])
    start = now - _CLOCKS_DIFFER
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + LASTS)
        .add_extension(_alternatives(names), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_SIGNS_ONLY, critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )


def _alternatives(names: Names) -> x509.SubjectAlternativeName:
    return x509.SubjectAlternativeName(
        [
            *(x509.DNSName(name) for name in names.hosts),
            *(x509.IPAddress(address) for address in names.addresses),
        ]
    )


_SIGNS_ONLY = x509.KeyUsage(
    digital_signature=True,
    content_commitment=False,
    key_encipherment=False,
    data_encipherment=False,
    key_agreement=False,
    key_cert_sign=False,
    crl_sign=False,
    encipher_only=False,
    decipher_only=False,
)


def _usable(kept: bytes, key: bytes, names: Names, now: datetime) -> x509.Certificate | None:
    """The kept certificate, unless it has to be made anew."""
    try:
        found = x509.load_pem_x509_certificate(kept)
        private = load_pem_private_key(key, password=None)
        listed = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, TypeError, x509.ExtensionNotFound):
        return None
    if private.public_key() != found.public_key():
        return None
    addresses = set(listed.get_values_for_type(x509.IPAddress))
    covered = set(_hosts(found)) >= set(names.hosts) and addresses >= set(names.addresses)
    lasting = found.not_valid_before_utc <= now < found.not_valid_after_utc - RENEWED_BEFORE_END
    return found if covered and lasting else None
