"""The program that serves: this machine alone, or the house network behind a passphrase and TLS."""

from __future__ import annotations

import socket
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import uvicorn
from starlette.types import ASGIApp, Receive, Scope, Send

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.service.setups import is_cooperative
from evenpick.web.app import app_of, app_together, create_app
from evenpick.web.guard import LOOPBACK
from evenpick.web.keys import keys_of
from evenpick.web.soon import AT_ONCE

if TYPE_CHECKING:
    from evenpick.web.certificate import Certificates, Names

HERE, EVERYWHERE = "127.0.0.1", "0.0.0.0"
BACKLOG = 64


@dataclass(frozen=True, slots=True)
class Opened:
    """What is served and where."""

    name: str
    """of a farm; empty of the garden or the cooperative itself"""
    address: str


class ByPort:
    """One server over several applications, each at a port of its own, so that no two share a page's address,
    what a device keeps of it, or what waits on it."""

    def __init__(self, apps: Mapping[int, ASGIApp]) -> None:
        self._apps = apps

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        await self._apps[scope["server"][1]](scope, receive, send)


@dataclass(frozen=True, slots=True)
class _Bound:
    """Applications on their listening sockets, the garden's or the cooperative's first."""

    names: tuple[str, ...]
    sockets: tuple[socket.socket, ...]
    app: ASGIApp

    def opened(self, scheme: str, host: str) -> tuple[Opened, ...]:
        return tuple(Opened(name, f"{scheme}://{host}:{port}/")
                     for name, port in zip(self.names, map(port_of, self.sockets), strict=True))


def serve_here(garden: Path, port: int, ready: Callable[[Sequence[Opened]], None]) -> None:
    """Serve this machine alone until it is stopped; `ready` is told the addresses once they answer."""
    bound = _bound(garden, HERE, port)
    _run(bound, lambda: ready(bound.opened("http", HERE)))


def serve_house(
    garden: Path, port: int, ready: Callable[[Sequence[Opened], Sequence[str], Certificates], None],
    names: Names | None = None,
) -> None:
    """Serve the house network by TLS to those who have the passphrase. `ready` is told the addresses by name
    and, of the garden itself, by number. BadRequest where no passphrase was set."""
    from evenpick.web.certificate import (  # slow to load, and not for this machine alone
        certificates,
        own_names,
    )

    if keys_of(garden).passphrase is None:
        raise BadRequest(Problem(tell("the garden has no passphrase yet."),
                                 tell("Set one: evenpick serve --passphrase")))
    here = names or own_names()
    made = certificates(garden, here)
    bound = _bound(garden, EVERYWHERE, port, here.every, sessions=True)
    addresses = [each.address for one in here.addresses for each in bound.opened("https", one)[:1]]
    _run(bound, lambda: ready(bound.opened("https", here.hosts[0]), addresses, made), made)


def _bound(
    garden: Path, host: str, port: int, names: Iterable[str] = LOOPBACK, sessions: bool = False
) -> _Bound:
    """A garden at its port; a cooperative at its port, and its farms at those that follow."""
    if not is_cooperative(garden):
        app = create_app(garden, names, sessions)
        app.state.served.soon.patience = AT_ONCE
        return _Bound(("",), (bind(host, port),), app)
    from evenpick.service.cooperative_files import cooperative_of  # slow to load, and not for one garden
    from evenpick.web.together import served_together

    farms = cooperative_of(garden).own.farms
    sockets = tuple(bind(host, port and port + at) for at in range(len(farms) + 1))
    ports = [port_of(each) for each in sockets]
    about = served_together(garden, ports, sessions)
    for farm in about.farms.values():
        farm.soon.patience = AT_ONCE
    apps = [app_together(about, names), *(app_of(about.farms[farm.file], names) for farm in farms)]
    return _Bound(("", *(farm.name for farm in farms)), sockets, ByPort(dict(zip(ports, apps, strict=True))))


def port_of(bound: socket.socket) -> int:
    found: int = bound.getsockname()[1]
    return found


def bind(host: str, port: int) -> socket.socket:
    """A listening socket; BadRequest where the port is taken or not allowed."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
    except (OSError, OverflowError) as error:
        made.close()
        strerror = getattr(error, "strerror", None) or error
        what = tell("port {port} can't be had ({strerror}).", port=port, strerror=strerror)
        mend = tell("Is it being served already? Else name another: --port 8431")
        raise BadRequest(Problem(what, mend)) from error
    made.listen(BACKLOG)
    return made


def _run(bound: _Bound, ready: Callable[[], None], tls: Certificates | None = None) -> None:
    pair: dict[str, Any] = {} if tls is None else {"ssl_certfile": tls.chain, "ssl_keyfile": tls.key}
    config = uvicorn.Config(bound.app, log_level="warning", access_log=False, server_header=False,
                            lifespan="off", **pair)
    server = uvicorn.Server(config)
    ready()
    server.run(sockets=list(bound.sockets))
