"""A certificate of one's own: for the right names, for the right time, with a key nobody reads."""

from __future__ import annotations

import ssl
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from ipaddress import ip_address
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID

from faywright.errors import InputError
from faywright.web.entry.certificate import Certificate, Names, given_certificate, own_certificate

NOW = datetime(2030, 5, 6, 7, 8, tzinfo=UTC)
NAMES = Names(
    hosts=("localhost", "bench", "bench.local"),
    addresses=(ip_address("127.0.0.1"), ip_address("192.168.1.7")),
)


def read(made: Certificate) -> x509.Certificate:
    return x509.load_pem_x509_certificate(made.certificate.read_bytes())


def test_it_is_for_the_names_and_addresses_of_this_computer(tmp_path: Path) -> None:
    listed = read(own_certificate(tmp_path, NAMES, NOW)).extensions.get_extension_for_class(
        x509.SubjectAlternativeName
    )
    assert listed.value.get_values_for_type(x509.DNSName) == list(NAMES.hosts)
    assert listed.value.get_values_for_type(x509.IPAddress) == list(NAMES.addresses)


def test_it_lasts_397_days_and_can_vouch_for_no_other(tmp_path: Path) -> None:
    found = read(own_certificate(tmp_path, NAMES, NOW))
    assert found.not_valid_after_utc - found.not_valid_before_utc == timedelta(days=397)
    assert found.not_valid_before_utc < NOW
    assert not found.extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    assert not found.extensions.get_extension_for_class(x509.KeyUsage).value.key_cert_sign
    usage = found.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]


def test_its_key_is_on_p256_and_only_its_owner_reads_it(tmp_path: Path) -> None:
    made = own_certificate(tmp_path, NAMES, NOW)
    key = read(made).public_key()
    assert isinstance(key, ec.EllipticCurvePublicKey)
    assert key.curve.name == "secp256r1"
    assert made.key.stat().st_mode & 0o777 == 0o600


def test_it_is_kept_from_start_to_start(tmp_path: Path) -> None:
    first = own_certificate(tmp_path, NAMES, NOW)
    second = own_certificate(tmp_path, NAMES, NOW + timedelta(days=300))
    assert first.made
    assert not second.made
    assert second.fingerprint == first.fingerprint


def test_fewer_names_make_no_new_one(tmp_path: Path) -> None:
    own_certificate(tmp_path, NAMES, NOW)
    fewer = Names(hosts=("localhost",), addresses=NAMES.addresses[1:])
    assert not own_certificate(tmp_path, fewer, NOW).made


@pytest.mark.parametrize(
    ("names", "days"),
    [
        (Names(hosts=(*NAMES.hosts, "saw"), addresses=NAMES.addresses), 0),
        (Names(hosts=NAMES.hosts, addresses=(ip_address("192.168.1.8"),)), 0),
        (NAMES, 370),
        (NAMES, 500),
        (NAMES, -10),
    ],
)
def test_it_is_made_anew_for_new_names_and_near_its_end(
    tmp_path: Path, names: Names, days: int
) -> None:
    first = own_certificate(tmp_path, NAMES, NOW)
    second = own_certificate(tmp_path, names, NOW + timedelta(days=days))
    assert second.made
    assert second.fingerprint != first.fingerprint
    second.context()


@pytest.mark.parametrize("name", ["certificate.pem", "certificate.key"])
@pytest.mark.parametrize("content", [None, b"", b"something else"])
def test_broken_or_missing_halves_are_made_anew(
    tmp_path: Path, name: str, content: bytes | None
) -> None:
    own_certificate(tmp_path, NAMES, NOW)
    (tmp_path / name).unlink()
    if content is not None:
        (tmp_path / name).write_bytes(content)
    made = own_certificate(tmp_path, NAMES, NOW)
    assert made.made
    made.context()


def test_a_key_of_another_certificate_is_not_used(tmp_path: Path) -> None:
    other = own_certificate(tmp_path / "other", NAMES, NOW)
    own_certificate(tmp_path, NAMES, NOW).key.write_bytes(other.key.read_bytes())
    assert own_certificate(tmp_path, NAMES, NOW).made


def test_the_fingerprint_is_what_browsers_show(tmp_path: Path) -> None:
    made = own_certificate(tmp_path, NAMES, NOW)
    der = ssl.PEM_cert_to_DER_cert(made.certificate.read_text())
    assert made.fingerprint.replace(":", "").lower() == sha256(der).hexdigest()
    assert made.fingerprint.count(":") == 31


def test_old_versions_of_tls_are_not_spoken(tmp_path: Path) -> None:
    context = own_certificate(tmp_path, NAMES, NOW).context()
    assert context.minimum_version >= ssl.TLSVersion.TLSv1_2


def test_a_certificate_of_ones_own_is_taken(tmp_path: Path) -> None:
    made = own_certificate(tmp_path, NAMES, NOW)
    given = given_certificate(made.certificate, made.key)
    assert given.fingerprint == made.fingerprint
    assert not given.made
    assert given.hosts == NAMES.hosts


def test_browsers_do_not_come_by_a_pattern_of_names(tmp_path: Path) -> None:
    names = Names(hosts=("*.shop.example", "bench.shop.example"), addresses=())
    made = own_certificate(tmp_path, names, NOW)
    assert given_certificate(made.certificate, made.key).hosts == ("bench.shop.example",)


def test_a_key_of_something_else_is_refused(tmp_path: Path) -> None:
    one = own_certificate(tmp_path / "one", NAMES, NOW)
    other = own_certificate(tmp_path / "other", NAMES, NOW)
    with pytest.raises(InputError, match=r"cannot be used with .+ the key it was made for"):
        given_certificate(one.certificate, other.key)


@pytest.mark.parametrize("content", [None, b"no certificate"])
def test_what_is_no_certificate_is_refused(tmp_path: Path, content: bytes | None) -> None:
    path = tmp_path / "given.pem"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(InputError, match=r"it is no certificate that can be read .+ PEM file"):
        given_certificate(path, path)
