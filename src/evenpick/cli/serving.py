"""Pages in the browser: serve."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenpick.cli.options import A_GARDEN
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from evenpick.web.certificate import Certificates


@click.command(cls=Speaking, short_help="The garden as pages in a browser.")
@A_GARDEN
@click.option("--port", type=click.IntRange(0, 65535), default=8430, show_default=True,
              help="Of this machine; 0 takes a free one.")
@click.option("--lan", is_flag=True, help="Serve the house network too: passphrase, TLS.")
@click.option("--passphrase", is_flag=True, help="Set the passphrase for --lan; it is asked for.")
def serve(garden: Path, port: int, lan: bool, passphrase: bool) -> None:
    """Serve the garden as pages for a browser on this machine alone; stop it with Ctrl-C.

    Where there is no garden file yet, the pages begin one.
    """
    from evenpick.web.keys import keys_of, set_passphrase
    from evenpick.web.serve import serve_here, serve_house

    if passphrase:
        said: str = click.prompt("Passphrase", hide_input=True, confirmation_prompt=True, err=True)
        set_passphrase(keys_of(garden), said)
        click.echo("The passphrase is set; who had signed in signs in again.", err=True)
        if not lan:
            return
    if lan:
        serve_house(garden, port, _house)
    else:
        serve_here(garden, port, _here)


def _here(address: str) -> None:
    click.echo(f"Open {address} in a browser. Stop with Ctrl-C.")


def _house(address: str, made: Certificates) -> None:
    """Where it is, and how a phone is set up."""
    click.echo(f"Open {address} on a phone or computer in the house. Stop with Ctrl-C.")
    click.echo(f"""
To set a phone up, once:
1. Bring this file to it, by cable or a message to yourself: {made.authority}
2. Open it there and install it as a certificate authority (in the phone's settings under security,
   certificates; on an iPhone then also under General, About, Certificate Trust Settings).
3. Compare its SHA-256 fingerprint with this one:
   {made.fingerprint}
It is good for this machine's own names and addresses alone. Then open the address, sign in, and add the page
to the home screen: Today and the pickings can be read out of reach, and what you write there goes when you
are back. Without that the browser warns, and nothing works out of reach.""")
    if made.new:
        click.echo("The certificate is new: phones that were set up before must be set up again.")
