"""`clothwise open`: the app."""

from __future__ import annotations

import os
from pathlib import Path

import click


@click.command("open")
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.option("--port", type=click.IntRange(1, 65535), help="Usual: 8765, or the next free one.")
@click.option(
    "--host",
    default="127.0.0.1",
    help="Let other machines in, such as a tablet at the cutting table: 0.0.0.0. Asks for a "
    "password (or takes CLOTHWISE_PASSWORD). The link is not encrypted.",
)
@click.option("--no-browser", is_flag=True, help="Only tell the address.")
def open_(folder: Path | None, port: int | None, host: str, no_browser: bool) -> int:
    """Open the app in your browser: the whole job in a window.

    FOLDER holds your designs, one folder each; usual is Clothwise in your home folder. It is made,
    with a dress to begin with, if it is not there. It may also be the folder of one design.
    """
    password = os.environ.pop("CLOTHWISE_PASSWORD", "")  # before workers get what is left
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before anything loads numpy
    from clothwise.app.work import start_workers

    start_workers()  # before the rest is imported: the first board is drafted on the other core
    from clothwise.app.opened_folder import SHORTEST_PASSWORD, open_folder
    from clothwise.app.settings import is_loopback

    if not is_loopback(host):
        password = password or click.prompt(
            f"A password for other machines, at least {SHORTEST_PASSWORD} characters",
            hide_input=True,
            confirmation_prompt=True,
        )
    open_folder(
        folder,
        host=host,
        port=port or 0,
        password=password,
        opens_browser=not no_browser,
        tell=click.echo,
    )
    return 0
