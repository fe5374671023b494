"""Pages in the browser: serve."""

from __future__ import annotations

from pathlib import Path

import click

from evenpick.cli.options import A_GARDEN


@click.command(short_help="The garden as pages in a browser.")
@A_GARDEN
@click.option("--port", type=click.IntRange(0, 65535), default=8430, show_default=True,
              help="Of this machine; 0 takes a free one.")
def serve(garden: Path, port: int) -> None:
    """Serve the garden as pages for a browser on this machine alone; stop it with Ctrl-C.

    Where there is no garden file yet, the pages begin one.
    """
    from evenpick.web.serve import serve_here

    serve_here(garden, port, lambda address: click.echo(f"Open {address} in a browser. Stop with Ctrl-C."))
