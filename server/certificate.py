"""A certificate authority of one's own, for trying the program on a phone in the same network."""

from __future__ import annotations

import ipaddress
import os
import socket
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

_YEARS_OF_AUTHORITY = 5
_DAYS_OF_SERVER = 397  # browsers refuse server certificates that run longer (common practice, no source)


def prepare(folder: Path, host: str) -> tuple[Path, Path, Path, str]:
    """(server certificate, its key, the authority's certificate to trust on the phone, its SHA-256 fingerprint).

    The authority is made once and kept in the folder; the server's certificate is made anew for the present addresses.
    """
    folder.mkdir(parents=True, exist_ok=True)
    authority_file, authority_key_file = folder / "authority.pem", folder / "authority.key"
    if not (authority_file.is_file() and authority_key_file.is_file()):
        _make_authority(authority_file, authority_key_file)
    authority = x509.load_pem_x509_certificate(authority_file.read_bytes())
    key = serialization.load_pem_private_key(authority_key_file.read_bytes(), None)
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        raise ValueError(f"{authority_key_file} is not a key made here; remove the folder {folder}")
    certificate_file, key_file = folder / "server.pem", folder / "server.key"
    own_key = ec.generate_private_key(ec.SECP256R1())
    certificate = (
        _begin("Dewbook on this machine", authority.subject, own_key, timedelta(days=_DAYS_OF_SERVER))
        .add_extension(x509.SubjectAlternativeName(_names(host)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    _write_key(key_file, own_key)
    certificate_file.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
    return certificate_file, key_file, authority_file, authority.fingerprint(hashes.SHA256()).hex(":").upper()


def _make_authority(certificate_file: Path, key_file: Path) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Dewbook trial authority of this machine")])
    certificate = (
        _begin("Dewbook trial authority of this machine", name, key, timedelta(days=365 * _YEARS_OF_AUTHORITY))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .sign(key, hashes.SHA256())
    )
    _write_key(key_file, key)
    certificate_file.write_bytes(certificate.public_bytes(serialization.Encoding.PEM))


def _begin(
    subject: str, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, lasts: timedelta
) -> x509.CertificateBuilder:
    now = datetime.now(UTC)
    return (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, subject)]))
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + lasts)
    )


def _names(host: str) -> list[x509.GeneralName]:
    """Every name and address under which this machine is likely to be reached."""
    names = {"localhost", socket.gethostname()}
    addresses = {"127.0.0.1", "::1", *reachable_addresses()}
    try:
        addresses.add(str(ipaddress.ip_address(host)))
    except ValueError:
        names.add(host)
    return [x509.DNSName(name) for name in sorted(names)] + [
        x509.IPAddress(ipaddress.ip_address(one)) for one in sorted(addresses)
    ]


def reachable_addresses() -> list[str]:
    """Addresses of this machine in its network."""
    found: set[str] = set()
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737); a UDP connect sends nothing
            found.add(probe.getsockname()[0])
        except OSError:
            return []
    return sorted(found - {"0.0.0.0"})


def _write_key(path: Path, key: ec.EllipticCurvePrivateKey) -> None:
    text = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(text)
