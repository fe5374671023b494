"""The program that serves: this machine alone, or the house network behind a passphrase and TLS."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import uvicorn

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.web.app import create_app
from evenpick.web.keys import keys_of

if TYPE_CHECKING:
    from evenpick.web.certificate import Certificates, Names

HERE, EVERYWHERE = "127.0.0.1", "0.0.0.0"
BACKLOG = 64


def serve_here(garden: Path, port: int, ready: Callable[[str], None]) -> None:
    """Serve this machine alone until it is stopped; `ready` is told the address once it answers."""
    bound = bind(HERE, port)
    address = f"http://{HERE}:{bound.getsockname()[1]}/"
    app = create_app(garden)
    _run(uvicorn.Config(app, log_level="warning", access_log=False, server_header=False, lifespan="off"),
         bound, lambda: ready(address))


def serve_house(
    garden: Path, port: int, ready: Callable[[str, Certificates], None], names: Names | None = None
) -> None:
    """Serve the house network by TLS to those who have the passphrase. BadRequest where none was set."""
    from evenpick.web.certificate import (  # slow to load, and not for this machine alone
        certificates,
        own_names,
    )

    if keys_of(garden).passphrase is None:
        raise BadRequest(Problem(tell("the garden has no passphrase yet."),
                                 tell("Set one: evenpick serve --passphrase")))
    here = names or own_names()
    made = certificates(garden, here)
    bound = bind(EVERYWHERE, port)
    app = create_app(garden, here.every, sessions=True)
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False, lifespan="off",
        ssl_certfile=str(made.chain), ssl_keyfile=str(made.key),
    )
    address = f"https://{here.hosts[0]}:{bound.getsockname()[1]}/"
    _run(config, bound, lambda: ready(address, made))


def bind(host: str, port: int) -> socket.socket:
    """A listening socket; BadRequest where the port is taken or not allowed."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
    except OSError as error:
        made.close()
        what = tell("port {port} can't be had ({strerror}).", port=port, strerror=error.strerror)
        mend = tell("Is it being served already? Else name another: --port 8431")
        raise BadRequest(Problem(what, mend)) from error
    made.listen(BACKLOG)
    return made


def _run(config: uvicorn.Config, bound: socket.socket, ready: Callable[[], None]) -> None:
    server = uvicorn.Server(config)
    ready()
    server.run(sockets=[bound])
