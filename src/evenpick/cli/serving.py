"""Pages in the browser: serve."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenpick.base.language import tell
from evenpick.cli.options import A_GARDEN
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from evenpick.web.certificate import Certificates
    from evenpick.web.serve import Opened


@click.command(cls=Speaking, short_help="The garden as pages in a browser.")
@A_GARDEN
@click.option("--port", type=click.IntRange(0, 65535), default=8430, show_default=True,
              help="Of this machine; 0 takes a free one.")
@click.option("--lan", is_flag=True, help="Serve the house network too: passphrase, TLS.")
@click.option("--passphrase", is_flag=True, help="Set the passphrase for --lan; it is asked for.")
def serve(garden: Path, port: int, lan: bool, passphrase: bool) -> None:
    """Serve the garden as pages for a browser on this machine alone; stop it with Ctrl-C.

    Where there is no garden file yet, the pages begin one. Of a cooperative the
    pages tell what all farms do; each farm's own are at the ports that follow.
    """
    from evenpick.web.keys import keys_of, set_passphrase
    from evenpick.web.serve import serve_here, serve_house

    if passphrase:
        said: str = click.prompt(tell("Passphrase"), hide_input=True, confirmation_prompt=True, err=True)
        set_passphrase(keys_of(garden), said)
        click.echo(tell("The passphrase is set; who had signed in signs in again."), err=True)
        if not lan:
            return
    if lan:
        serve_house(garden, port, _house)
    else:
        serve_here(garden, port, _here)


def _here(opened: Sequence[Opened]) -> None:
    click.echo(tell("Open {address} in a browser. Stop with Ctrl-C.", address=opened[0].address))
    _farms(opened[1:])


def _farms(opened: Sequence[Opened]) -> None:
    for farm in opened:
        click.echo(tell("The pages of {farm} alone: {address}", farm=farm.name, address=farm.address))


def _house(opened: Sequence[Opened], numbers: Sequence[str], made: Certificates) -> None:
    """Where it is, and how a phone is set up."""
    click.echo(tell("Open {address} on a phone or computer in the house. Stop with Ctrl-C.",
                    address=opened[0].address))
    if numbers:
        click.echo(tell("Where that name is not found: {address}", address=" ".join(numbers)))
    _farms(opened[1:])
    click.echo(tell("\nTo set a phone up, once:\n1. Bring this file to it, by cable or a message to "
                    "yourself: {authority}\n2. Open it there and install it as a certificate authority "
                    "(in the phone's settings under security,\n   certificates; on an iPhone then also "
                    "under General, About, Certificate Trust Settings).\n3. Compare its SHA-256 "
                    "fingerprint with this one:\n   {fingerprint}\nIt is good for this machine's own "
                    "names and addresses alone. Then open the address, sign in, and add the page\nto the "
                    "home screen: Today and the pickings can be read out of reach, and what you write "
                    "there goes when you\nare back. Without that the browser warns, and nothing works "
                    "out of reach.", authority=made.authority, fingerprint=made.fingerprint))
    if made.new:
        click.echo(tell("The certificate is new: phones that were set up before must be set up again."))
