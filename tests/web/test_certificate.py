"""The garden's own authority: good for this machine alone, checked by a verifier and by TLS itself."""

from __future__ import annotations

import ipaddress
import ssl
import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder, Store, VerificationError

from evenpick.web.certificate import LEAF_DAYS, Names, certificates
from evenpick.web.keys import folder

NAMES = Names(("shed.local", "shed"), ("192.168.1.20",))
NOW = datetime(2027, 2, 3, tzinfo=UTC)


def load(file: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(file.read_bytes())


def verified(garden: Path, name: x509.GeneralName, when: datetime = NOW) -> bool:
    made = certificates(garden, NAMES, NOW)
    policy = PolicyBuilder().store(Store([load(made.authority)])).time(when)
    assert isinstance(name, x509.DNSName | x509.IPAddress)
    try:
        policy.build_server_verifier(name).verify(load(made.chain), [])
    except VerificationError:
        return False
    return True


def test_s7_a_leaf_is_good_for_the_machines_names_alone(tmp_path: Path) -> None:
    garden = tmp_path / "garden.toml"
    assert verified(garden, x509.DNSName("shed.local"))
    assert verified(garden, x509.IPAddress(ipaddress.ip_address("192.168.1.20")))
    assert not verified(garden, x509.DNSName("bank.example"))
    assert not verified(garden, x509.IPAddress(ipaddress.ip_address("192.168.1.21")))
    assert not verified(garden, x509.DNSName("shed.local"), NOW + timedelta(days=LEAF_DAYS))


def test_s7_the_authority_can_sign_for_nobody_else(tmp_path: Path) -> None:
    made = certificates(tmp_path / "garden.toml", NAMES, NOW)
    constraint = load(made.authority).extensions.get_extension_for_class(x509.NameConstraints)
    assert constraint.critical
    assert set(constraint.value.permitted_subtrees or ()) == {
        x509.DNSName("shed.local"), x509.DNSName("shed"),
        x509.IPAddress(ipaddress.ip_network("192.168.1.20/32")),
    }
    basic = load(made.authority).extensions.get_extension_for_class(x509.BasicConstraints).value
    assert (basic.ca, basic.path_length) == (True, 0)


def test_s7_kept_while_it_serves_and_made_anew_for_another_name(tmp_path: Path) -> None:
    garden = tmp_path / "garden.toml"
    first = certificates(garden, NAMES, NOW)
    again = certificates(garden, NAMES, NOW + timedelta(days=100))
    assert (first.new, again.new) == (True, False)
    assert again.fingerprint == first.fingerprint
    before = first.chain.read_bytes()
    late = certificates(garden, NAMES, NOW + timedelta(days=LEAF_DAYS - 20))
    assert (late.new, late.chain.read_bytes() != before) == (False, True)  # a new leaf, the same authority
    moved = certificates(garden, Names(NAMES.hosts, ("10.0.0.7",)), NOW)
    assert moved.new


def test_s7_keys_are_for_their_owner_alone(tmp_path: Path) -> None:
    garden = tmp_path / "garden.toml"
    made = certificates(garden, NAMES, NOW)
    for key in (made.key, folder(garden) / "authority.key"):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600


@pytest.mark.parametrize("trusted", [True, False])
def test_s7_tls_takes_it_once_the_authority_is_installed(tmp_path: Path, trusted: bool) -> None:
    """A handshake in memory."""
    made = certificates(tmp_path / "garden.toml", NAMES)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(made.chain, made.key)
    client = ssl.create_default_context(cafile=str(made.authority) if trusted else None)
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    far = server.wrap_bio(to_server, to_client, server_side=True)
    near = client.wrap_bio(to_client, to_server, server_hostname="shed.local")
    done = set()
    try:
        for _ in range(6):
            for side in (near, far):
                try:
                    side.do_handshake()
                    done.add(side)
                except ssl.SSLWantReadError:
                    continue
    except ssl.SSLCertVerificationError:
        assert not trusted
        return
    assert trusted
    assert len(done) == 2
