"""storystick bench: a page to work at, in the browser."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.argument("folder", type=click.Path(path_type=Path, exists=True, file_okay=False), default=".")
@click.option("--port", type=click.IntRange(0, 65535), show_default="the folder's own", help="Where to be; 0 is any.")
@click.option("--no-open", "opens", flag_value=False, default=True, help="Only say the address, and open no browser.")
def command(folder: Path, port: int | None, opens: bool) -> None:
    """Open a page to work at, for the jobs in a folder.

    It is served from this machine to this machine only, reads and writes the same job files, and ends with Ctrl-C or
    by the page itself.

    Example: storystick bench my-jobs
    """
    from storystick.bench.serving import serve  # needs the web server, which no other command does

    serve(folder, port, Path(click.get_app_dir("storystick")), opens, click.echo)
