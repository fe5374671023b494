"""A certificate authority of the garden's own, good for this machine's names alone, and its leaves.

docs/design/security.md, S7. RFC 5280, section 4.2.1.10 (name constraints).
"""

from __future__ import annotations

import ipaddress
import os
import socket
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from evenpick.base.whole import write_whole
from evenpick.web.keys import folder

AUTHORITY_DAYS, LEAF_DAYS = 3650, 397
"""a leaf that is good for longer is refused by phones"""
RENEW_DAYS = 30
EARLIER = timedelta(days=1)
"""before now, for a phone whose clock is behind"""


@dataclass(frozen=True, slots=True)
class Names:
    """What this machine goes by on the house network."""

    hosts: tuple[str, ...]
    addresses: tuple[str, ...]

    @property
    def every(self) -> tuple[str, ...]:
        return (*self.hosts, *self.addresses)


@dataclass(frozen=True, slots=True)
class Certificates:
    authority: Path
    """to be installed on a phone"""
    chain: Path
    key: Path
    fingerprint: str
    """SHA-256 of the authority, to be compared on the phone"""
    new: bool
    """the authority was made just now, so that phones set up before must be set up again"""


def own_names() -> Names:
    """The machine's name, that name as the house network announces it, and its addresses there."""
    host = socket.gethostname().split(".")[0].casefold() or "garden"
    return Names((f"{host}.local", host), _addresses())


def _addresses() -> tuple[str, ...]:
    """IPv4 addresses by which others in the house reach this machine; nothing is sent to learn them."""
    found = set()
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address that no machine has (RFC 5737)
            found.add(probe.getsockname()[0])
        except OSError:  # no network: the names alone
            pass
    return tuple(sorted(one for one in found if not ipaddress.ip_address(one).is_loopback))


def certificates(garden: Path, names: Names, now: datetime | None = None) -> Certificates:
    """The garden's authority and a leaf for these names; each made anew where it is missing, runs out soon,
    or does not cover a name."""
    when, place = now or datetime.now(UTC), folder(garden)
    place.mkdir(mode=0o700, exist_ok=True)
    files = [place / name for name in ("authority.pem", "authority.key", "leaf.pem", "leaf.key")]
    new = not _covers(files[0], names, when, authority=True) or not files[1].exists()
    if new:
        _write(*_authority(names, when), files[0], files[1])
    if new or not _covers(files[2], names, when, authority=False) or not files[3].exists():
        authority = x509.load_pem_x509_certificate(files[0].read_bytes())
        key = serialization.load_pem_private_key(files[1].read_bytes(), None)
        assert isinstance(key, ec.EllipticCurvePrivateKey)
        _write(*_leaf(names, when, authority, key), files[2], files[3])
    authority = x509.load_pem_x509_certificate(files[0].read_bytes())
    told = authority.fingerprint(hashes.SHA256()).hex(":").upper()
    return Certificates(files[0], files[2], files[3], told, new)


def _covers(file: Path, names: Names, when: datetime, authority: bool) -> bool:
    """Whether a certificate is there, good for a while yet, and for all these names."""
    if not file.exists():
        return False
    made = x509.load_pem_x509_certificate(file.read_bytes())
    if made.not_valid_after_utc < when + timedelta(days=RENEW_DAYS):
        return False
    if authority:
        constraint = made.extensions.get_extension_for_class(x509.NameConstraints).value
        return set(_general(names, networks=True)) <= set(constraint.permitted_subtrees or ())
    held = made.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return set(_general(names)) <= set(held)


def _general(names: Names, networks: bool = False) -> Sequence[x509.GeneralName]:
    """The names as a certificate has them; `networks` as constraints: an address is a network of one."""
    def address(one: str) -> x509.GeneralName:
        made = ipaddress.ip_address(one)
        return x509.IPAddress(ipaddress.ip_network(made) if networks else made)

    return [*map(x509.DNSName, names.hosts), *map(address, names.addresses)]


def _authority(names: Names, when: datetime) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    key = ec.generate_private_key(ec.SECP256R1())
    own = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    made = (
        _begun(f"evenpick garden on {names.hosts[-1]}", key, when, AUTHORITY_DAYS)
        .issuer_name(_called(f"evenpick garden on {names.hosts[-1]}"))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.NameConstraints(list(_general(names, networks=True)), None), critical=True)
        .add_extension(own, critical=False)
        .sign(key, hashes.SHA256())
    )
    return made, key


def _leaf(
    names: Names, when: datetime, authority: x509.Certificate, signer: ec.EllipticCurvePrivateKey
) -> tuple[x509.Certificate, ec.EllipticCurvePrivateKey]:
    key = ec.generate_private_key(ec.SECP256R1())
    by = authority.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    made = (
        _begun(names.hosts[0], key, when, LEAF_DAYS)
        .issuer_name(authority.subject)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.SubjectAlternativeName(list(_general(names))), critical=False)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(by), critical=False)
        .sign(signer, hashes.SHA256())
    )
    return made, key


def _begun(
    called: str, key: ec.EllipticCurvePrivateKey, when: datetime, days: int
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder().subject_name(_called(called)).public_key(key.public_key())
        .serial_number(x509.random_serial_number()).not_valid_before(when - EARLIER)
        .not_valid_after(when - EARLIER + timedelta(days=days))
    )


def _called(name: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name[:64])])


def _usage(signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates, content_commitment=False, key_encipherment=False,
        data_encipherment=False, key_agreement=False, key_cert_sign=signs_certificates,
        crl_sign=signs_certificates, encipher_only=False, decipher_only=False,
    )


def _write(made: x509.Certificate, key: ec.EllipticCurvePrivateKey, file: Path, key_file: Path) -> None:
    """The key for its owner's eyes alone, and the certificate."""
    secret = key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8,
                               serialization.NoEncryption())
    write_whole(key_file, secret)
    os.chmod(key_file, 0o600)
    write_whole(file, made.public_bytes(serialization.Encoding.PEM))
